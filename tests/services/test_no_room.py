"""No room on the disk: each deed refuses with where and what to do, changes nothing, leaves no half file, goes on."""

from __future__ import annotations

import errno
import resource
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from PIL import Image

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Note
from greenhouse_desk.domain.paper import Page
from greenhouse_desk.services import backup, collection, exchange, files, photos, records
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import disk, journal
from greenhouse_desk.ui import paper
from tests.builders import NOW

ROOM = 4096


@contextmanager
def no_room() -> Iterator[None]:
    """No file of this process grows past a few kilobytes: the system itself stops the writing."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (ROOM, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


@pytest.fixture
def desk(desk: Desk, tmp_path: Path, qapp: object) -> Desk:
    """A collection with 101, and a picture to take in."""
    desk.run(collection.add_plant, NewPlant("Stelis gelida", 101))
    Image.effect_noise((200, 200), 90).save(tmp_path / "a.png")
    return desk


def _note(desk: Desk, out: Path) -> object:
    return desk.run(records.add, 101, Note("x" * 300_000))


def _photo(desk: Desk, out: Path) -> object:
    return desk.run(photos.add, 101, out.parent / "a.png")


def _backup(desk: Desk, out: Path) -> object:
    return backup.make(desk.store, NOW)


def _export(desk: Desk, out: Path) -> object:
    exchange.write_file(out / "list.csv", desk.read(exchange.plants_out) * 200)
    return None


def _page(desk: Desk, out: Path) -> object:
    paper.to_pdf([Page(210, 297, ())] * 60, out / "page.pdf", "Pages")
    return None


DEEDS = {"a note": _note, "a photo": _photo, "a backup": _backup, "a list": _export, "pages": _page}


@pytest.mark.parametrize("deed", DEEDS.values(), ids=DEEDS.keys())
def test_it_is_refused_leaves_nothing_and_works_once_there_is_room(desk: Desk, tmp_path: Path,
                                                                   deed: Callable[[Desk, Path], object]) -> None:
    (tmp_path / "out").mkdir()
    before = _files(tmp_path), desk.read(journal.everything)
    with no_room(), pytest.raises(Refused) as caught:
        deed(desk, tmp_path / "out")
    assert str(tmp_path) in caught.value.detail
    assert caught.value.next_step
    assert (_files(tmp_path), desk.read(journal.everything)) == before
    deed(desk, tmp_path / "out")
    assert (_files(tmp_path), desk.read(journal.everything)) != before
    assert backup.check(desk.store) == ()


def _files(folder: Path) -> set[str]:
    return {str(path.relative_to(folder)) for path in folder.rglob("*")
            if path.is_file() and not path.name.endswith("-wal")}


@pytest.mark.parametrize("code", [errno.ENOSPC, errno.EDQUOT])
def test_a_full_disk_is_called_so_with_the_file_it_has_no_room_for(tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
                                                                  code: int) -> None:
    def half(path: Path, data: bytes) -> int:
        with path.open("wb") as file:
            file.write(data[:3])
        raise OSError(code, "the system's words")

    monkeypatch.setattr(Path, "write_bytes", half)
    target = tmp_path / "list.csv"
    with pytest.raises(Refused, match="The disk is full") as by_hand:
        exchange.write_file(target, b"number,name\n")
    with pytest.raises(Refused, match="The disk is full") as kept, disk.disk_refusals("Keeping the layout"):
        files.put(target, b"number,name\n")
    for refused in (by_hand.value, kept.value):
        assert f"There is no room left for {target}." in refused.detail
        assert refused.next_step.startswith("Make room on the disk")
    assert not list(tmp_path.iterdir())
