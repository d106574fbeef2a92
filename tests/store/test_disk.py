"""Files are whole or not there, whatever stops the writing."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from greenhouse_desk.services import files
from greenhouse_desk.store import disk


def test_a_file_is_written_with_its_folder_and_nothing_beside_it(tmp_path: Path) -> None:
    target = tmp_path / "new" / "file"
    disk.put(target, b"one")
    disk.put(target, b"two")
    assert [path.name for path in target.parent.iterdir()] == ["file"]
    assert target.read_bytes() == b"two"


@pytest.mark.parametrize("lasting", [True, False])
def test_what_was_there_stays_when_the_writing_stops(tmp_path: Path, lasting: bool) -> None:
    target = tmp_path / "file"
    target.write_bytes(b"old")
    with pytest.raises(KeyboardInterrupt), files.whole(target, lasting) as part:  # noqa: PT012
        part.write_bytes(b"half")
        raise KeyboardInterrupt
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("file", b"old")]


def test_a_lasting_file_and_its_name_reach_the_disk_in_that_order(
        tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    done: list[str] = []
    replace = os.replace

    def synced(path: Path) -> None:
        done.append("folder" if path.is_dir() else "file")

    def replaced(one: Path, other: Path) -> None:
        done.append("rename")
        replace(one, other)

    monkeypatch.setattr(disk, "sync", synced)
    monkeypatch.setattr(os, "replace", replaced)
    disk.put(tmp_path / "kept", b"x")
    disk.put(tmp_path / "cached", b"x", lasting=False)
    assert done == ["file", "rename", "folder", "rename"]


def test_a_file_may_be_read_by_whom_the_grower_allows(tmp_path: Path) -> None:
    """A list exported for somebody else must not be shut away from them."""
    mask = os.umask(0o022)
    try:
        disk.put(tmp_path / "list", b"x")
    finally:
        os.umask(mask)
    if os.name == "posix":
        assert (tmp_path / "list").stat().st_mode & 0o777 == 0o644
