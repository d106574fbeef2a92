"""Doubtful places for a collection are noticed."""

from __future__ import annotations

from pathlib import Path

import pytest

from greenhouse_desk.store.folder import warnings_for

TABLE = """/dev/sda1 / ext4 rw 0 0
tmpfs /tmp tmpfs rw 0 0
host:/export {0}/far nfs4 rw,vers=4.2 0 0
//host/share {0}/my\\040share cifs rw 0 0
user@host: {0}/mounted fuse.sshfs rw 0 0
/dev/sdb1 {0}/stick fuseblk rw 0 0
/dev/sdc1 {0}/far/near ext4 rw 0 0
"""


@pytest.fixture
def mounts(tmp_path: Path) -> Path:
    table = tmp_path / "mounts"
    table.write_text(TABLE.format(tmp_path), encoding="utf-8")
    return table


@pytest.mark.parametrize(("inside", "kind"), [
    ("far/collection", "nfs4"), ("my share/collection", "cifs"), ("mounted", "fuse.sshfs")])
def test_a_network_drive_is_warned_of(tmp_path: Path, mounts: Path, inside: str, kind: str) -> None:
    (warning,) = warnings_for(tmp_path / inside, mounts)
    assert kind in warning
    assert "a disk of this computer" in warning


@pytest.mark.parametrize("inside", ["home/collection", "stick/collection", "far/near/collection", "farther"])
def test_a_disk_of_this_computer_is_not(tmp_path: Path, mounts: Path, inside: str) -> None:
    assert warnings_for(tmp_path / inside, mounts) == ()


def test_a_network_path_without_a_table_of_mounts_is_warned_of(tmp_path: Path) -> None:
    (warning,) = warnings_for(Path("\\\\host\\share\\collection"), tmp_path / "none")
    assert "network path" in warning


@pytest.mark.parametrize("mark", [".sync", ".sync_state.db", "collection (conflicted copy 2).db",
                                  "collection.sync-conflict-1.db"])
def test_a_folder_copied_between_computers_is_warned_of(tmp_path: Path, mounts: Path, mark: str) -> None:
    folder = tmp_path / "shared" / "collection"
    folder.mkdir(parents=True)
    (folder / mark).touch()
    (warning,) = warnings_for(folder, mounts)
    assert mark in warning
    assert "backups" in warning


def test_a_mark_above_the_folder_counts_too(tmp_path: Path, mounts: Path) -> None:
    (tmp_path / "shared" / "orchids").mkdir(parents=True)
    (tmp_path / "shared" / ".sync").mkdir()
    assert warnings_for(tmp_path / "shared" / "orchids", mounts)
    assert warnings_for(tmp_path / "shared" / "not yet there", mounts)


def test_a_link_is_followed_to_where_the_collection_lies(tmp_path: Path, mounts: Path) -> None:
    (tmp_path / "far").mkdir()
    (tmp_path / "to the network").symlink_to(tmp_path / "far")
    (tmp_path / "shared" / "orchids").mkdir(parents=True)
    (tmp_path / "shared" / ".syncstate").touch()
    (tmp_path / "orchids").symlink_to(tmp_path / "shared" / "orchids")
    (warning,) = warnings_for(tmp_path / "to the network", mounts)
    assert "nfs4" in warning
    (warning,) = warnings_for(tmp_path / "orchids", mounts)
    assert ".syncstate" in warning


def test_an_ordinary_folder_is_quiet(tmp_path: Path) -> None:
    (tmp_path / "collection.db").touch()
    assert warnings_for(tmp_path) == ()
