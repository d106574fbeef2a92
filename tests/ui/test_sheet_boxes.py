"""The sheets from the window: chosen where the grower looks, seen, saved off the window's thread, read back as PDF."""

from __future__ import annotations

import subprocess
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from unicodedata import normalize

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QDate, Qt
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu, QWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.domain.care import TONIGHT
from greenhouse_desk.domain.paper import SIZES
from greenhouse_desk.services import collection, photos, round_sheet, sitter_looks, sitter_pages
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.page_flow import SHEETS, Flow
from greenhouse_desk.store.engine import Store
from greenhouse_desk.ui import paper
from greenhouse_desk.ui.collection.sheets import SitterBox
from greenhouse_desk.ui.page_box import PageBox, Sheet
from greenhouse_desk.ui.paper_faces import font_of
from greenhouse_desk.ui.printer import Printing
from tests.ui.house import disinfect, furnish, picture, pressed, shown, wet, words_of
from tests.ui.test_spoken_names import unnamed

INCH, POINTS = 25.4, 72


@pytest.fixture
def running(store: Store, clock: SteppedClock, qtbot: QtBot) -> Iterator[app.Program]:
    """101 and 106 were wetted two days ago, 102 has its roots disinfected."""
    desk = Desk(store, clock.now)
    furnish(desk)
    wet(desk, 101)
    wet(desk, 106)
    disinfect(desk, 102)
    with shown(store, clock, qtbot) as made:
        yield made


def ready(box: PageBox, qtbot: QtBot) -> PageBox:
    qtbot.waitUntil(lambda: bool(box.pages))
    return box


def saved(box: PageBox, path: Path, qtbot: QtBot) -> list[str]:
    """The words of the PDF a box writes, page by page."""
    with qtbot.waitSignal(box.told):
        box.write(path)
    return texts(path)


def texts(path: Path) -> list[str]:
    return [normalize("NFKC", " ".join(page.extract_text().split())) for page in PdfReader(path).pages]


def fonts(path: Path) -> list[list[str]]:
    """What poppler says of each face of a PDF: its name, kind, encoding, whether it is embedded, ..."""
    told = subprocess.run(["pdffonts", str(path)], capture_output=True, text=True, check=True).stdout
    return [line.split() for line in told.splitlines()[2:]]


def chosen(running: app.Program, words: str) -> PageBox:
    """Press "Print…" on the Collection screen and choose a sheet; the box that opens."""
    pressed(running.collection.toolbar, "Print…")
    (menu,) = [one for one in QApplication.topLevelWidgets() if isinstance(one, QMenu) and one.isVisible()]
    next(action for action in menu.actions() if action.text() == words).trigger()
    menu.close()
    (box,) = [one for one in QApplication.topLevelWidgets() if isinstance(one, PageBox) and one.isVisible()]
    return box


def test_the_round_is_chosen_seen_and_saved(running: app.Program, tmp_path: Path, qtbot: QtBot) -> None:
    box = ready(chosen(running, "Today's round…"), qtbot)
    assert list(unnamed(box)) == []
    box.grab()
    (text,) = saved(box, tmp_path / "round.pdf", qtbot)
    owed = dict(running.desk.read(collection.overview, running.desk.clock()).turns)
    for number in {one.plant for turn in TONIGHT for one in owed.get(turn, ())}:
        assert str(number) in text
    assert "crown dry by" in text or "crown dry?" in text
    assert text.index("Long bench") < text.index("Isolation shelf, isolation")
    assert "Plain water only, no feed, besides: 102." in text
    faces = fonts(tmp_path / "round.pdf")
    assert len(faces) >= 3, "serif, sans, italics"
    assert all(face[-5] == "yes" for face in faces), faces
    assert "Today's round written to round.pdf" in words_of(running.window.messages)
    assert not box.isVisible()


def test_the_map_is_set_on_the_paper_chosen(running: app.Program, tmp_path: Path, qtbot: QtBot) -> None:
    box = chosen(running, "Shelf map…")
    for name in ("Letter", "A4", "A5"):
        box.sizes.setCurrentText(name)
        (page, *_) = ready(box, qtbot).pages
        assert (page.width, page.height) == SHEETS[name]
    said = " ".join(saved(box, tmp_path / "map.pdf", qtbot))
    assert all(str(number) in said for number in range(101, 107))
    sides = PdfReader(tmp_path / "map.pdf").pages[0].mediabox
    found = float(sides.width) / POINTS * INCH, float(sides.height) / POINTS * INCH
    assert found == pytest.approx(SIZES["A5"], abs=0.01), "as ISO 216 has it"


def test_the_sitters_sheet_holds_pictures_and_says_what_comes_before(running: app.Program, tmp_path: Path,
                                                                     qtbot: QtBot) -> None:
    running.desk.run(photos.add, 101, picture(tmp_path / "a.png"))
    box = ready(chosen(running, "Sitter's sheet…"), qtbot)
    assert isinstance(box, SitterBox)
    assert "See to these before you go, they are not for a sitter: 101" in box.note.text()
    assert list(unnamed(box)) == []
    (text,) = saved(box, tmp_path / "sitter.pdf", qtbot)
    assert "While I am away: 18 Nov 2026 to 1 Dec 2026" in text
    assert "102 until" in text
    assert "page 1 of 1" in text
    drawn = [one.image for one in PdfReader(tmp_path / "sitter.pdf").pages[0].images]
    assert drawn
    assert all(one is not None and max(one.size) <= 220 for one in drawn)


def test_the_sitters_pictures_are_kept_on_more_pages_when_that_is_ticked(
        running: app.Program, tmp_path: Path, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    running.desk.run(photos.add, 101, picture(tmp_path / "a.png"))
    monkeypatch.setattr(sitter_looks, "WAYS", (sitter_looks.Way(200, once=True), sitter_looks.WAYS[-1]))
    monkeypatch.setattr(sitter_pages, "WAYS", sitter_looks.WAYS)
    box = ready(chosen(running, "Sitter's sheet…"), qtbot)
    assert isinstance(box, SitterBox)
    assert len(box.pages) == 1, "pictures that large have no room on it"
    box.over.click()
    assert len(ready(box, qtbot).pages) == 2
    box.reject()


def test_print_is_at_hand_by_key_where_the_window_is_too_narrow_for_its_button(running: app.Program,
                                                                               qtbot: QtBot) -> None:
    running.window.resize(560, 700)
    assert not running.collection.toolbar.paper_button.isVisible()
    running.window.activateWindow()
    QTest.keyClick(running.window, Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier)
    (menu,) = [one for one in QApplication.topLevelWidgets() if isinstance(one, QMenu) and one.isVisible()]
    assert [action.text() for action in menu.actions()] == ["Today's round…", "Shelf map…", "Sitter's sheet…"]
    menu.close()


def test_days_that_no_sheet_covers_are_refused_in_the_box(running: app.Program, qtbot: QtBot) -> None:
    box = running.collection.sheets.sitter()
    ready(box, qtbot)
    box.last.setDate(QDate(2026, 12, 20))
    assert "That is too long for one sheet" in box.fault.text()
    assert not box.save.isEnabled()
    box.last.setDate(QDate(2026, 11, 20))
    ready(box, qtbot)
    assert not box.fault.isVisible()
    assert box.save.isEnabled()
    box.reject()


def test_a_file_that_cannot_be_written_is_said_and_the_box_stays(running: app.Program, tmp_path: Path,
                                                                 qtbot: QtBot) -> None:
    box = ready(running.collection.sheets.map(), qtbot)
    (tmp_path / "a file").write_text("no folder")
    with qtbot.waitSignal(box.refused):
        box.write(tmp_path / "a file" / "map.pdf")
    assert "map.pdf cannot be written" in words_of(running.window.messages)
    assert box.isVisible()
    assert box.save.isEnabled()
    box.reject()


@pytest.mark.parametrize("folder", ["a file", "a folder"])
def test_a_box_closed_while_its_file_is_written_still_tells_what_came_of_it(
        folder: str, tmp_path: Path, qtbot: QtBot) -> None:
    paper.ready()
    (tmp_path / "a file").write_text("no folder")
    (tmp_path / "a folder").mkdir()
    flow = Flow(paper.measure, SHEETS["A5"])
    flow.line("One line")
    pages = flow.done("A sheet")
    parent = QWidget()
    qtbot.addWidget(parent)
    box = PageBox(Sheet("A sheet", "", "sheet.pdf", lambda: lambda _size: pages), parent)
    box.open()
    ready(box, qtbot)
    told: list[str] = []
    box.told.connect(told.append)
    box.refused.connect(lambda refusal: told.append(refusal.title))
    box.write(tmp_path / folder / "sheet.pdf")
    box.close_it.click()
    assert not box.close_it.isEnabled()
    assert "Closes as soon as the file is written." in words_of(box)
    with qtbot.waitSignal(box.finished):
        pass
    assert told == [{"a file": "sheet.pdf cannot be written", "a folder": "A sheet written to sheet.pdf."}[folder]]


def test_pages_are_turned_and_all_of_them_printed(tmp_path: Path, qtbot: QtBot) -> None:
    paper.ready()
    flow = Flow(paper.measure, SHEETS["A5"])
    for nth in range(100):
        flow.line(f"Line {nth} of a long sheet")
    pages = flow.done("A long sheet")
    parent = QWidget()
    qtbot.addWidget(parent)
    box = ready(PageBox(Sheet("A long sheet", "", "long.pdf", lambda: lambda _size: pages), parent), qtbot)
    assert box.count.text() == f"1 of {len(pages)}"
    assert not box.back.isEnabled()
    box.on.click()
    assert box.count.text() == f"2 of {len(pages)}"
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFileName(str(tmp_path / "printed.pdf"))
    printing = Printing({})
    box.to_printer.connect(printing.begin)
    box.send(printer)
    assert not box.isVisible()
    printing.close()
    printed = texts(tmp_path / "printed.pdf")
    assert len(printed) == len(pages) > 1
    assert printed[1].endswith(f"page 2 of {len(printed)}")
    assert "Line 99" in printed[-1]


def test_a_page_comes_out_the_same_from_any_thread(running: app.Program) -> None:
    """Fonts and painter off the window's thread, several at once: the file is the same to the byte but for its date."""
    told = running.desk.read(round_sheet.round_of_looks, running.desk.clock())

    def drawn(_nth: int) -> bytes:
        data = paper.pdf_bytes(round_sheet.pages(told, paper.measure))
        return b"\n".join(line for line in data.split(b"\n") if b"Date" not in line and b"/ID" not in line
                          and b"uuid" not in line)

    with ThreadPoolExecutor(4) as pool:
        assert pool.submit(font_of, "serif", True, False).result() is not font_of("serif", True, False)
        made = list(pool.map(drawn, range(12)))
    here = drawn(0)
    assert made == [here] * 12
