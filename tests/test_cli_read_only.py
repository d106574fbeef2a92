"""The command line on a collection that cannot be written: what reads works, what writes says what to do."""

from __future__ import annotations

import codecs
import os
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import icalendar
import pytest

from greenhouse_desk import cli
from greenhouse_desk.domain.journal import Cut, Part
from greenhouse_desk.services import calendar, collection, records
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import open_store
from greenhouse_desk.ui import paper
from tests.builders import NOW
from tests.rights import opened, public_folder, shut, unprivileged

Said = pytest.CaptureFixture[str]
LOADED = (icalendar, paper, codecs.lookup("utf-8-sig"))
"""Loaded while everything may be read: another user may not reach the libraries."""


@pytest.fixture
def folder(qapp: object) -> Iterator[Path]:
    """A closed collection with a cut on 101, that others may only read; beside it they may write."""
    with public_folder() as folder:
        store = open_store(folder, create=True)
        desk = Desk(store, lambda: NOW)
        desk.run(collection.add_plant, NewPlant("Stelis gelida", 101))
        desk.run(records.add, 101, Cut(Part.SPIKE), NOW - timedelta(days=1))
        store.close()
        (folder.parent / "out").mkdir()
        (folder.parent / "out").chmod(0o777)
        shut(folder)
        yield folder
        opened(folder)


def run(capsys: Said, folder: Path, *words: object) -> tuple[int, str, str]:
    """One verb, as a user who may not write in the collection."""
    before = sorted(os.listdir(folder))
    with unprivileged():
        code = cli.main(["--now", NOW.isoformat(), "--store", str(folder), *map(str, words)])
    assert sorted(os.listdir(folder)) == before
    said = capsys.readouterr()
    return code, said.out, said.err


@pytest.mark.parametrize(("words", "told"), [
    (("due",), "101"), (("due", "--json"), "cut check"), (("check",), "Whole."), (("record", "101"), "101"),
    (("sources",), "["), (("record", "101", "-o", "out/record.txt"), "is in"),
    (("export", "out/list.csv"), "1 growing"),
    (("due", "-o", "out/round.pdf"), "The round of"), (("record", "101", "-o", "out/record.pdf"), "is in"),
    (("labels", "--no-entry", "-o", "out/labels.pdf"), "1 label on 1 page")])
def test_what_only_reads_works(folder: Path, capsys: Said, words: tuple[str, ...], told: str) -> None:
    placed = [folder.parent / word if word.startswith("out/") else word for word in words]
    code, out, err = run(capsys, folder, *placed)
    assert (code, err) == (0, "")
    assert told in out
    assert all(path.stat().st_size for path in placed if isinstance(path, Path))


@pytest.mark.parametrize("words", [("import", "out/list.csv"), ("backup",), ("labels", "-o", "out/labels.pdf"),
                                   ("import", "out/air.csv", "--air", "Shelf")])
def test_what_writes_says_what_to_do(folder: Path, capsys: Said, words: tuple[str, ...]) -> None:
    for name in ("list.csv", "air.csv"):
        (folder.parent / "out" / name).write_text("number,name\n102,Stelis gelida\n", encoding="utf-8")
        (folder.parent / "out" / name).chmod(0o644)
    code, out, err = run(capsys, folder, *(folder.parent / word if word.startswith("out/") else word for word in words))
    assert (code, out) == (2, "")
    assert "The collection cannot be written." in err
    assert "is read-only" in err
    assert "right to write" in err
    assert not (folder.parent / "out" / "labels.pdf").exists()


def test_a_first_calendar_says_why_not_and_a_later_one_is_written(folder: Path, capsys: Said) -> None:
    out = folder.parent / "out" / "care.ics"
    code, _, err = run(capsys, folder, "calendar", "-o", out)
    assert code == 2
    assert "Write the first calendar where the collection can be written" in err
    assert not out.exists()
    opened(folder)
    store = open_store(folder)
    Desk(store, lambda: NOW).run(calendar.mark)
    store.close()
    shut(folder)
    assert run(capsys, folder, "calendar", "-o", out)[0] == 0
    assert b"BEGIN:VCALENDAR" in out.read_bytes()
