"""Labels from the command line: what is written, what is refused, and that what was printed is in the journal."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from PySide6.QtGui import QImage

from greenhouse_desk import cli
from greenhouse_desk.domain.journal import Labelled, Leaving
from greenhouse_desk.services import collection
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import journal
from greenhouse_desk.store.engine import open_store
from tests.builders import NOW

Labels = Callable[..., tuple[int, str, str]]


@pytest.fixture(autouse=True)
def _qt(qapp: object) -> None:
    """One application for all tests of a process."""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """101 to 130 grow, but for 110, which left; 131 has a name that no small label holds."""
    store = open_store(tmp_path / "plants", create=True)
    desk = Desk(store, lambda: NOW)
    for number in range(101, 131):
        desk.run(collection.add_plant, NewPlant("Phalaenopsis amabilis", number))
    desk.run(collection.add_plant, NewPlant("Vanda " + "longissime" * 8, 131))
    desk.run(collection.part_with, 110, Leaving.TRADED, "for a Stelis")
    store.close()
    return store.folder


@pytest.fixture
def labels(folder: Path, capsys: pytest.CaptureFixture[str]) -> Labels:
    """Run the verb on that collection; returns the exit code, what was said and what was complained of."""
    def run(*words: object) -> tuple[int, str, str]:
        now = (NOW + timedelta(minutes=1)).isoformat()
        code = cli.main(["--store", str(folder), "--now", now, "labels", *map(str, words)])
        said = capsys.readouterr()
        return code, said.out, said.err
    return run


def entries(folder: Path) -> dict[int | None, Labelled]:
    store = open_store(folder)
    found = {entry.plant: entry.facts for entry in Desk(store, lambda: NOW).read(journal.everything)
             if isinstance(entry.facts, Labelled)}
    store.close()
    return found


def test_numbers_and_ranges_from_a_used_sheet_on(labels: Labels, folder: Path, tmp_path: Path) -> None:
    code, out, err = labels("--plants", "101-125,110", "--start", 5, "-o", tmp_path / "a.pdf")
    assert (code, err) == (0, "")
    assert "25 labels on 2 pages" in out
    pages = PdfReader(tmp_path / "a.pdf").pages
    assert [sum("Phalaenopsis" in line for line in page.extract_text().splitlines()) for page in pages] == [23, 2]
    assert "110" in pages[1].extract_text(), "one that left, named by itself, comes last as it was named last"
    assert set(entries(folder)) == set(range(101, 126))


def test_as_json(labels: Labels, tmp_path: Path) -> None:
    code, out, _ = labels("--plants", "101,102", "--layout", "roll-57x32", "-o", tmp_path / "a.pdf", "--json")
    told: dict[str, Any] = json.loads(out)
    assert (code, told) == (0, {"files": [str(tmp_path / "a.pdf")], "layout": "roll-57x32", "pages": 2,
                                "labels": [101, 102], "notes": [], "refused": []})


def test_a_picture_for_each_label_of_a_roll_at_the_printers_dots(labels: Labels, tmp_path: Path) -> None:
    code, _, _ = labels("--plants", "101-103", "--layout", "roll-57x32", "--dpi", 203, "-o", tmp_path / "a.png")
    assert code == 0
    sizes = [QImage(str(tmp_path / f"a-{nth}.png")).size().toTuple() for nth in (1, 2, 3)]
    assert sizes == [(round(57 / 25.4 * 203), round(32 / 25.4 * 203))] * 3


def test_copies_are_counted_as_labels(labels: Labels, tmp_path: Path) -> None:
    _, out, _ = labels("--plants", "101-103,128", "--copies", 2, "-o", tmp_path / "a.pdf")
    assert "8 labels, 2 of each plant, on 1 page" in out
    text = PdfReader(tmp_path / "a.pdf").pages[0].extract_text()
    assert sum("Phalaenopsis" in line for line in text.splitlines()) == 8


def test_as_svg(labels: Labels, tmp_path: Path) -> None:
    assert labels("--plants", "101", "-o", tmp_path / "a.svg")[0] == 0
    assert "<svg" in (tmp_path / "a.svg").read_text("utf-8")


def test_only_what_is_out_of_date(labels: Labels, tmp_path: Path) -> None:
    out = tmp_path / "a.pdf"
    assert labels("--plants", "101-129", "--changed", "-o", out)[0] == 0
    code, _, err = labels("--plants", "101-129", "--changed", "-o", out)
    assert (code, "No label is out of date" in err) == (2, True)
    assert "1 label on 1 page" in labels("--plants", "101-130", "--changed", "-o", out)[1]


def test_the_journal_can_be_left_alone(labels: Labels, folder: Path, tmp_path: Path) -> None:
    assert labels("--plants", "101", "--no-entry", "-o", tmp_path / "a.pdf")[0] == 0
    assert entries(folder) == {}


def test_a_label_that_cannot_be_made_is_told_and_the_others_are_made(labels: Labels, folder: Path,
                                                                    tmp_path: Path) -> None:
    code, out, err = labels("--plants", "129-131", "-o", tmp_path / "a.pdf")
    assert (code, err) == (2, "Not made: 131: the name does not fit, even in the smallest letters.\n")
    assert "2 labels on 1 page" in out
    assert set(entries(folder)) == {129, 130}


@pytest.mark.parametrize(("words", "said"), [
    (["--plants", "105-101"], "runs backwards"), (["--plants", "101-"], "no plant number"),
    (["--plants", "999"], "There is no plant 999"), (["--plants", "200-210"], "no growing plant from 200 to 210"),
    (["--plants", ""], "No plant was chosen"), (["--layout", "nix"], "There is no layout 'nix'"),
    (["--start", "28"], "27 on a page"), (["--start", "0"], "There is no label 0"), (["--start", "x"], "invalid int"),
    (["--layout", "roll-57x32", "--start", "2"], "1 on a page"), (["--copies", "100"], "1 to 99"),
    (["--dpi", "5"], "50 to 2400"), (["--plants", "131"], "nothing to print")])
def test_what_cannot_be_printed_is_refused_and_nothing_is_written(labels: Labels, folder: Path, tmp_path: Path,
                                                                  words: list[str], said: str) -> None:
    code, out, err = labels(*words, "-o", tmp_path / "a.pdf")
    assert (code, out) == (2, "")
    assert said in err
    assert not (tmp_path / "a.pdf").exists()
    assert entries(folder) == {}


@pytest.mark.parametrize("name", ["a.txt", "a", "gone/a.pdf"])
def test_a_file_that_cannot_be_written_is_refused(labels: Labels, folder: Path, tmp_path: Path, name: str) -> None:
    (tmp_path / "gone").write_text("a file, no folder", "utf-8")
    code, _, err = labels("--plants", "101", "-o", tmp_path / name)
    assert (code, bool(err)) == (2, True)
    assert entries(folder) == {}


def test_a_layout_of_the_growers_own(labels: Labels, folder: Path, tmp_path: Path) -> None:
    (folder / "labels").mkdir()
    (folder / "labels" / "mine.toml").write_text(
        "title = 'Mine'\nform = 'plain'\nwidth_mm = 40\nheight_mm = 20\n[[box]]\nwhat = 'number'\nx_mm = 2\n"
        "y_mm = 2\nwidth_mm = 36\nheight_mm = 12\nletter_mm = 8\n", "utf-8")
    assert labels("--plants", "101", "--layout", "mine", "-o", tmp_path / "a.pdf")[0] == 0
    box = PdfReader(tmp_path / "a.pdf").pages[0].mediabox
    assert (float(box.width) / 72 * 25.4, float(box.height) / 72 * 25.4) == pytest.approx((40, 20), abs=0.2)
