"""Printing: true size, a printer's error put right on every sheet, keys heard meanwhile, stopped, window closed."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.paper import Correction, Item, Page, Shape, few_at_once
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.page_flow import SHEETS, Flow
from greenhouse_desk.store.engine import Store
from greenhouse_desk.ui import paper
from greenhouse_desk.ui.labels.screen import LabelsScreen
from greenhouse_desk.ui.page_box import PageBox, Sheet, opened
from greenhouse_desk.ui.printer import Print, Printing
from tests.benchmarks.label_codes import drawn
from tests.ui.house import program, words_of
from tests.ui.test_labels_screen import entries, take_layout, type_numbers
from tests.ui.test_paper_files import DOTS, dark, ink

SQUARE = Shape(((20, 25), (50, 25), (50, 55), (20, 55)))
WRONG = Correction(1.02, 0.98, 1, -2)


class Study(QPrinter):
    """A printer with a name that prints into a file."""

    def __init__(self, path: Path) -> None:
        super().__init__(QPrinter.PrinterMode.HighResolution)
        self.setOutputFileName(str(path))

    def printerName(self) -> str:
        return "Study"


def put(pages: Sequence[Page], path: Path, *put_right: float, as_it_is: bool = False) -> Path:
    """Print pages to a file on a printer with this correction, all at once."""
    printing = Printing({"Study": put_right} if put_right else {})
    printing.begin(Print("Pages", tuple(pages), Study(path), as_it_is))
    printing.close()
    assert not printing.busy
    return path


def squares(path: Path, pages: Sequence[Page]) -> list[tuple[float, ...]]:
    """Where the ink of each page of a PDF lies, in mm."""
    found = drawn(path, DOTS)
    for page, picture in zip(pages, found, strict=True):
        assert picture.size == pytest.approx((page.width / 25.4 * DOTS, page.height / 25.4 * DOTS), abs=8)
    return [ink(dark(picture), 0, 0, page.width, page.height) for page, picture in zip(pages, found, strict=True)]


def test_a_printer_gets_every_page_at_true_size_its_error_put_right(tmp_path: Path, qapp: object) -> None:
    """Measured on what the printer was given: two pages of two sizes, a square of 30 mm at 20, 25 mm."""
    pages = [Page(100, 80, (SQUARE,)), Page(148, 210, (SQUARE,))]
    kept = (WRONG.across, WRONG.down, WRONG.shift_x, WRONG.shift_y)
    for at in squares(put(pages, tmp_path / "plain.pdf"), pages):
        assert at == pytest.approx((20, 25, 50, 55), abs=0.2)
    for at in squares(put(pages, tmp_path / "right.pdf", *kept), pages):
        assert at == pytest.approx((21.4, 22.5, 52, 51.9), abs=0.2)
    for at in squares(put(pages, tmp_path / "ruler.pdf", *kept, as_it_is=True), pages):
        assert at == pytest.approx((20, 25, 50, 55), abs=0.2), "the ruler page shows the error"


def test_a_page_across_goes_through_the_printer_turned(tmp_path: Path, qapp: object) -> None:
    """Its sides trade what is wrong with them; its middle, at 148.5, 105 mm, stays."""
    pages = [Page(297, 210, (SQUARE,))]
    kept = (WRONG.across, WRONG.down, WRONG.shift_x, WRONG.shift_y)
    (at,) = squares(put(pages, tmp_path / "turned.pdf", *kept), pages)
    assert at == pytest.approx((148.5 - 128.5 * 0.98, 105 - 80 * 1.02, 148.5 - 98.5 * 0.98, 105 - 50 * 1.02), abs=0.2)


def sheet(lines: int) -> tuple[Page, ...]:
    """A sheet of so many lines."""
    paper.ready()
    flow = Flow(paper.measure, SHEETS["A5"])
    for nth in range(lines):
        flow.line(f"Line {nth} of a long sheet")
    return flow.done("A long sheet")


def test_any_sheet_from_its_box_is_put_right_for_its_printer(running: app.Program, tmp_path: Path,
                                                            qtbot: QtBot) -> None:
    pages = (Page(148, 210, (SQUARE,)),)
    running.printing.keep_correction("Study", (WRONG.across, WRONG.down, WRONG.shift_x, WRONG.shift_y))
    box = opened(PageBox(Sheet("A sheet", "", "a.pdf", lambda: lambda _size: pages), running.window), running.signals)
    qtbot.waitUntil(lambda: bool(box.pages))
    with qtbot.waitSignal(running.printing.noted):
        box.send(Study(tmp_path / "a.pdf"))
    (at,) = squares(tmp_path / "a.pdf", pages)
    assert at == pytest.approx((21.4, 22.5, 52, 51.9), abs=0.2)
    assert "A sheet sent to Study." in words_of(running.window.messages)


def test_keys_are_heard_while_labels_are_printed_and_what_came_to_paper_is_written_down(
        running: app.Program, labels: LabelsScreen, tmp_path: Path, qtbot: QtBot) -> None:
    type_numbers(labels, "101-103")
    labels.layouts.copies.setValue(40)
    labels.work_out()
    pages = len(labels.printed.pages)
    with qtbot.waitSignal(running.printing.noted, timeout=20_000):
        labels.print_on(Study(tmp_path / "a.pdf"))
        assert entries(labels) == [], "nothing is on paper yet"
        QApplication.processEvents()
        assert running.printing.busy
        assert f"Labels: page 1 of {pages} goes to Study." in words_of(running.window.printed)
        type_numbers(labels, "106")  # what is asked for afterwards is not what is printed
    assert entries(labels) == [101, 102, 103]
    assert len(PdfReader(tmp_path / "a.pdf").pages) == pages
    assert not running.window.printed.isVisible()
    assert "3 labels printed; it is in the journal." in words_of(running.window.messages)


def test_printing_is_stopped_after_the_page_in_hand_and_only_its_labels_are_written_down(
        running: app.Program, labels: LabelsScreen, tmp_path: Path, qtbot: QtBot) -> None:
    take_layout(labels, "roll-57x32")
    type_numbers(labels, "101-106")
    labels.layouts.copies.setValue(2)
    labels.work_out()
    assert len(labels.printed.pages) == 12
    told: list[str] = []

    def press(words: str) -> None:
        told.append(words)
        if "page 4 of 12" in words and running.window.printed.stop.isEnabled():
            running.window.printed.stop.click()

    running.printing.told.connect(press)
    with qtbot.waitSignal(running.printing.noted, timeout=20_000):
        labels.print_on(Study(tmp_path / "a.pdf"))
    assert any("The page in hand is the last." in words for words in told)
    assert len(PdfReader(tmp_path / "a.pdf").pages) == 4
    assert entries(labels) == [101, 102]
    assert "2 labels of 6 printed; it is in the journal." in words_of(running.window.messages)
    assert running.window.printed.stop.isEnabled(), "for what is printed next"


@pytest.mark.qt_log_ignore(r"QPainter::begin\(\): Returned false")  # Qt says it too
def test_a_printer_that_takes_no_page_is_said_and_nothing_is_written_down(running: app.Program, labels: LabelsScreen,
                                                                          tmp_path: Path, qtbot: QtBot) -> None:
    (tmp_path / "a file").write_text("no folder")
    with qtbot.waitSignal(running.printing.refused):
        labels.print_on(Study(tmp_path / "a file" / "a.pdf"))
    assert "The printer takes no page" in words_of(running.window.messages)
    assert entries(labels) == []
    assert not running.window.printed.isVisible()


def test_what_cannot_be_written_down_is_told_and_the_banner_goes(running: app.Program, tmp_path: Path,
                                                                qtbot: QtBot) -> None:
    """As where the collection is open for reading only."""
    def ended(_pages: int) -> str:
        raise Refused("The collection cannot be written", "It is read-only.")

    running.printing.begin(Print("Labels", sheet(9), Study(tmp_path / "a.pdf"), ended=ended))
    qtbot.waitUntil(lambda: not running.printing.busy)
    assert "The collection cannot be written" in words_of(running.window.messages)
    assert not running.window.printed.isVisible()


def test_one_job_is_printed_after_the_other(running: app.Program, tmp_path: Path, qtbot: QtBot) -> None:
    told: list[str] = []
    running.printing.noted.connect(told.append)
    for name in ("one", "two"):
        running.printing.begin(Print(name, sheet(60), Study(tmp_path / f"{name}.pdf")))
    assert "1 more to print after it." in words_of(running.window.printed)
    qtbot.waitUntil(lambda: not running.printing.busy)
    assert told == ["one sent to Study.", "two sent to Study."]
    assert [len(PdfReader(tmp_path / f"{name}.pdf").pages) for name in ("one", "two")] == [len(sheet(60))] * 2


@pytest.mark.parametrize("name", ["a.pdf", "printed"])
def test_a_window_closed_while_labels_are_written_goes_after_that_and_the_journal_has_them(
        running: app.Program, labels: LabelsScreen, tmp_path: Path, qtbot: QtBot, name: str) -> None:
    running.window.closing.connect(lambda: closed.append(entries(labels)))
    closed: list[list[int | None]] = []
    type_numbers(labels, "101-103")
    if name == "printed":
        labels.print_on(Study(tmp_path / name))
    else:
        labels.save(tmp_path / name)
    running.window.close()
    assert running.window.isVisible()
    what = "the pages are printed" if name == "printed" else "the file is written"
    assert f"Closes as soon as {what}." in words_of(running.window.messages)
    qtbot.waitUntil(lambda: not running.window.isVisible(), timeout=20_000)
    assert closed == [[101, 102, 103]]
    assert len(PdfReader(tmp_path / name).pages) == 1


def test_a_window_about_to_close_stays_where_the_file_could_not_be_written(
        running: app.Program, labels: LabelsScreen, tmp_path: Path, qtbot: QtBot) -> None:
    with qtbot.waitSignal(labels.saving.busy_changed, timeout=20_000, check_params_cb=lambda: not labels.saving.busy):
        labels.save(tmp_path / "a.txt")
        running.window.close()
    assert running.window.isVisible()
    assert "a.txt is none of our kinds of file" in words_of(running.window.messages)


@pytest.mark.parametrize("name", ["a.pdf", "printed"])
def test_a_program_that_ends_at_once_brings_both_to_their_end(
        places: dict[str, int], store: Store, clock: SteppedClock, tmp_path: Path, qtbot: QtBot, name: str) -> None:
    made, written = program(store, clock), list[list[int | None]]()
    qtbot.addWidget(made.window)
    made.window.show_titled("Labels")
    if name == "printed":
        made.labels.print_on(Study(tmp_path / name))
    else:
        made.labels.save(tmp_path / name)
    made.desk.listeners.append(lambda _changed: written.append(entries(made.labels)))
    made.close()
    assert written == [[101, 102, 103, 104, 105, 106]]
    assert len(PdfReader(tmp_path / name).pages) == 1


def test_a_page_is_painted_a_few_words_at_a_time_and_whole() -> None:
    items: tuple[Item, ...] = (SQUARE, *(Shape(((nth, 0), (nth, 1), (0, 0))) for nth in range(7)))
    runs = list(few_at_once(items, 3))
    assert [len(run) for run in runs] == [3, 3, 2]
    assert tuple(item for run in runs for item in run) == items
    assert list(few_at_once((), 3)) == []
