"""The pool of photo copies: each is read to its last byte when there is reason to, and not at every backup."""

from __future__ import annotations

import hashlib
import os
from datetime import timedelta
from pathlib import Path

import pytest

from greenhouse_desk.store import photos, pool
from greenhouse_desk.store.disk import put
from tests.builders import NOW

HALF_HOUR = timedelta(minutes=30)


@pytest.fixture
def three(tmp_path: Path) -> list[str]:
    """A collection folder's photos, by SHA-256."""
    names = []
    for data in (b"one", b"two", b"three"):
        names.append(hashlib.sha256(data).hexdigest())
        put(photos.path(tmp_path / "photos", names[-1]), data)
    return names


@pytest.fixture
def read(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The photos that were read to their last byte."""
    names: list[str] = []
    sound = photos.sound

    def counted(folder: Path, sha256: str) -> bool:
        names.append(sha256)
        return sound(folder, sha256)

    monkeypatch.setattr(photos, "sound", counted)
    return names


def copy_of(folder: Path, sha256: str) -> Path:
    return photos.path(folder / "backups" / "photos", sha256)


def test_what_was_found_whole_is_not_read_at_the_next_backup(tmp_path: Path, three: list[str], read: list[str]) -> None:
    assert pool.fill(tmp_path, three, NOW) == sorted(three)
    assert set(read) == set(three)
    read.clear()
    assert pool.fill(tmp_path, three, NOW + HALF_HOUR) == sorted(three)
    assert read == []


def test_a_copy_is_read_again_when_it_was_written_to(tmp_path: Path, three: list[str], read: list[str]) -> None:
    pool.fill(tmp_path, three, NOW)
    copy = copy_of(tmp_path, three[0])
    times = (copy.stat().st_atime_ns, copy.stat().st_mtime_ns)
    copy.write_bytes(b"eno")
    os.utime(copy, ns=times)
    read.clear()
    assert pool.fill(tmp_path, three, NOW + HALF_HOUR) == sorted(three)
    assert set(read) == {three[0]}, "as long as before and as old as before, and seen all the same"
    assert copy.read_bytes() == b"one"


@pytest.mark.parametrize("after", [timedelta(days=7), -HALF_HOUR])
def test_rot_is_found_within_a_week_though_nobody_wrote(
        tmp_path: Path, three: list[str], read: list[str], after: timedelta) -> None:
    """A clock set back proves nothing about when a copy was read."""
    pool.fill(tmp_path, three, NOW)
    read.clear()
    pool.fill(tmp_path, three, NOW + after)
    assert set(read) == set(three)


def test_a_photo_that_is_nowhere_is_not_held_and_one_that_turns_up_is(tmp_path: Path, three: list[str]) -> None:
    lost = photos.path(tmp_path / "photos", three[1])
    data = lost.read_bytes()
    lost.unlink()
    assert pool.fill(tmp_path, three, NOW) == sorted({three[0], three[2]})
    put(lost, data)
    assert pool.fill(tmp_path, three, NOW + HALF_HOUR) == sorted(three)


@pytest.mark.parametrize("spoilt", [b"{", b"[]", b'{"x": 1}', None])
def test_without_its_notes_it_reads_them_all(
        tmp_path: Path, three: list[str], read: list[str], spoilt: bytes | None) -> None:
    pool.fill(tmp_path, three, NOW)
    notes = tmp_path / "backups" / "photos-read.json"
    if spoilt is None:
        told = notes.read_text("utf-8")
        notes.write_text(told.replace('"read"', '"heard"'), "utf-8")
    else:
        notes.write_bytes(spoilt)
    read.clear()
    assert pool.fill(tmp_path, three, NOW + HALF_HOUR) == sorted(three)
    assert set(read) == set(three)
