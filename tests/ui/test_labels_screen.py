"""The Labels screen: plants, layout and start are chosen, what is shown is what is printed, and it is written down."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QListWidget

from greenhouse_desk import app
from greenhouse_desk.domain.journal import Labelled
from greenhouse_desk.domain.paper import Correction, Page, Shape, Words, flat
from greenhouse_desk.services import collection, labels_shelf
from greenhouse_desk.store import journal
from greenhouse_desk.ui import paper, window_settings
from greenhouse_desk.ui.labels import printing
from greenhouse_desk.ui.labels.choosing import TYPED
from greenhouse_desk.ui.labels.screen import LabelsScreen
from greenhouse_desk.ui.window_settings import WindowSettings
from tests.benchmarks.label_codes import drawn
from tests.ui.house import words_of
from tests.ui.test_paper_files import DOTS, dark, ink
from tests.ui.test_spoken_names import unnamed

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def labels(running: app.Program) -> LabelsScreen:
    """The screen in front."""
    running.window.show_titled("Labels")
    return running.labels


def printed_numbers(screen: LabelsScreen) -> list[int]:
    return [one.number for one in screen.printed.made]


def choose(screen: LabelsScreen, words: str) -> None:
    """Choose a row of the box of plants by how it begins."""
    box = screen.choosing.which
    box.setCurrentIndex(next(row for row in range(box.count()) if box.itemText(row).startswith(words)))
    screen.work_out()


def take_layout(screen: LabelsScreen, id: str) -> None:
    ids = [layout.id for layout in labels_shelf.layouts(screen._desk.store.folder).all]
    screen.layouts.list.setCurrentRow(ids.index(id))
    screen.work_out()


def type_numbers(screen: LabelsScreen, text: str) -> None:
    screen.choosing.typed.clear()
    QTest.keyClicks(screen.choosing.typed, text)
    screen.work_out()


def tick(list_: QListWidget, row: int) -> None:
    """Click the tick box of a row."""
    room = list_.visualItemRect(list_.item(row))
    QTest.mouseClick(list_.viewport(), LEFT, pos=room.topLeft() + QPointF(14, room.height() / 2).toPoint())


def entries(screen: LabelsScreen) -> list[int | None]:
    return [one.plant for one in screen._desk.read(journal.everything) if isinstance(one.facts, Labelled)]


def test_it_opens_on_what_is_out_of_date_and_the_navigation_counts_it(running: app.Program,
                                                                      labels: LabelsScreen) -> None:
    assert printed_numbers(labels) == [101, 102, 103, 104, 105, 106]
    assert labels.count() == "6"
    assert "6 labels on 1 page, 70 x 30 mm each" in words_of(labels)
    assert labels.preview.accessibleName() == "Preview: page 1 of 1, A4 sheet, 27 labels of 70 x 30"


@pytest.mark.parametrize(("words", "numbers"), [
    ("Long bench", [101, 102, 103, 104]), ("Isolation shelf", [106]), ("All that grow", list(range(101, 107))),
    ("Newest bench session", [])])
def test_plants_by_bench_session_or_all(labels: LabelsScreen, words: str, numbers: list[int]) -> None:
    choose(labels, words)
    assert printed_numbers(labels) == numbers


@pytest.mark.parametrize(("typed", "numbers"), [
    ("101-103, 106", [101, 102, 103, 106]), ("cattleya", [102]), ("Long bench", [101, 102, 103, 104]), ("zzz", [])])
def test_plants_by_numbers_or_words(labels: LabelsScreen, typed: str, numbers: list[int]) -> None:
    type_numbers(labels, typed)
    assert labels.choosing.which.currentData() == TYPED
    assert printed_numbers(labels) == numbers


def test_numbers_nobody_has_are_said_beside_the_field(labels: LabelsScreen) -> None:
    type_numbers(labels, "101, 999")
    assert "There is no plant 999" in words_of(labels)
    assert printed_numbers(labels) == []
    assert labels.preview.accessibleName() == "Preview: No plant is chosen."
    assert not labels.print_button.isEnabled()
    assert not labels.save_button.isEnabled()


def test_where_nothing_is_chosen_one_button_chooses_all(labels: LabelsScreen) -> None:
    choose(labels, "Newest bench session")
    assert labels.fill_button.isVisible()
    labels.fill_button.click()
    labels.work_out()
    assert printed_numbers(labels) == list(range(101, 107))
    assert not labels.fill_button.isVisible()


def test_single_plants_are_ticked_off_by_mouse_and_by_keyboard(labels: LabelsScreen) -> None:
    tick(labels.choosing.list, 1)
    labels.work_out()
    assert printed_numbers(labels) == [101, 103, 104, 105, 106]
    labels.choosing.list.setCurrentRow(2)
    QTest.keyClick(labels.choosing.list, Qt.Key.Key_Space)
    labels.work_out()
    assert printed_numbers(labels) == [101, 104, 105, 106]
    assert "4 of 6 plants" in words_of(labels)


def test_starting_at_a_label_of_a_used_sheet_by_click_and_by_keys(labels: LabelsScreen) -> None:
    cells = labels.layouts.cells
    QTest.mouseClick(cells, LEFT, pos=cells.cell(5).center().toPoint())
    labels.work_out()
    assert cells.accessibleName() == "First free label of the sheet: 5 of 27"
    (page,) = labels.printed.pages
    assert (page.items[0].x, page.items[0].y) == (70, 43.5)  # type: ignore[union-attr]
    QTest.keyClick(cells, Qt.Key.Key_Down)
    QTest.keyClick(cells, Qt.Key.Key_Left)
    assert cells.start == 7
    for _ in range(3):
        QTest.keyClick(cells, Qt.Key.Key_Up)
    assert cells.start == 1, "not past the first row"


def test_a_start_beyond_the_next_layouts_sheet_is_pulled_in(labels: LabelsScreen) -> None:
    labels.layouts.cells.chosen.emit(27)
    take_layout(labels, "a5-70x38")
    assert labels.layouts.cells.start == 10
    take_layout(labels, "roll-57x32")
    assert len(labels.printed.pages) == 6
    assert "each label is a page of its own" in words_of(labels)


def test_pages_are_turned(labels: LabelsScreen) -> None:
    labels.layouts.copies.setValue(9)
    labels.work_out()
    assert "54 labels on 2 pages" in words_of(labels)
    labels.pager.on.click()
    assert labels.preview.accessibleName().startswith("Preview: page 2 of 2")
    assert not labels.pager.on.isEnabled()


def test_own_lines_are_on_every_label_where_the_layout_has_room(labels: LabelsScreen) -> None:
    assert not labels.layouts.lines.isEnabled()
    take_layout(labels, "tag")
    assert labels.layouts.lines.isEnabled()
    labels.layouts.lines.setPlainText("keep warm\n\n  please ")
    labels.work_out()
    said = [item.text for item in flat(labels.printed.pages[0].items) if isinstance(item, Words)]
    assert said.count("keep warm") == said.count("please") == 6


def test_what_could_not_be_made_is_said(running: app.Program, labels: LabelsScreen) -> None:
    running.desk.run(collection.edit_plant, 102, name="Vanda " + "longissime" * 9)
    labels.work_out()
    assert "Not printed: 102: the name does not fit" in words_of(labels)
    assert printed_numbers(labels) == [101, 103, 104, 105, 106]


def test_the_preview_is_the_print(labels: LabelsScreen) -> None:
    """The same page, painted by the same painter: the preview's paper has the picture's ink, dot for dot."""
    take_layout(labels, "roll-57x32")
    preview, page = labels.preview, labels.printed.pages[0]
    picture = paper.image(page, preview.scale * 25.4)
    shown = preview.grab().toImage().convertToFormat(QImage.Format.Format_Grayscale8)
    left = round((preview.width() - page.width * preview.scale + 26 - 10) / 2)
    ratio = preview.devicePixelRatioF()
    assert ratio == 1
    differing = sum(abs((picture.pixel(x, y) & 255) - (shown.pixel(x + left, y + 26) & 255)) > 130
                    for x in range(4, picture.width() - 4, 3) for y in range(4, picture.height() - 4, 3))
    dark = sum((picture.pixel(x, y) & 255) < 128 for x in range(4, picture.width() - 4, 3)
               for y in range(4, picture.height() - 4, 3))
    assert dark > 500
    assert differing < dark / 20


@pytest.mark.parametrize("name", ["a.pdf", "a.png", "a.svg"])
def test_saving_writes_the_file_and_the_journal(labels: LabelsScreen, tmp_path: Path, name: str) -> None:
    type_numbers(labels, "101-103")
    assert labels.save(tmp_path / name)
    assert (tmp_path / name).stat().st_size > 1000
    assert entries(labels) == [101, 102, 103]
    labels.show_now()
    choose(labels, "Label out of date (3)")
    assert printed_numbers(labels) == [104, 105, 106]


def test_a_file_that_cannot_be_written_writes_no_journal(running: app.Program, labels: LabelsScreen,
                                                         tmp_path: Path) -> None:
    assert not labels.save(tmp_path / "a.txt")
    assert running.window.messages.isVisible()
    assert entries(labels) == []


def test_a_printer_gets_every_page_at_true_size_its_error_put_right(tmp_path: Path, qapp: object) -> None:
    """Measured on what the printer was given: two pages of two sizes, a square of 30 mm at 20, 25 mm."""
    square = Shape(((20, 25), (50, 25), (50, 55), (20, 55)))
    pages = [Page(100, 80, (square,)), Page(148, 210, (square,))]
    for name, put_right, wanted in (("plain", Correction(), (20, 25, 50, 55)),
                                    ("right", Correction(1.02, 0.98, 1, -2), (21.4, 22.5, 52, 51.9))):
        printer = printing.printer_for(pages[0])
        printer.setOutputFileName(str(tmp_path / f"{name}.pdf"))
        printing.print_pages(printer, pages, put_right)
        for page, picture in zip(pages, drawn(tmp_path / f"{name}.pdf", DOTS), strict=True):
            assert picture.size == pytest.approx((page.width / 25.4 * DOTS, page.height / 25.4 * DOTS), abs=8)
            assert ink(dark(picture), 0, 0, page.width, page.height) == pytest.approx(wanted, abs=0.2)


def test_printing_writes_the_journal(labels: LabelsScreen, tmp_path: Path) -> None:
    printer = printing.printer_for(labels.printed.pages[0])
    printer.setOutputFileName(str(tmp_path / "a.pdf"))
    assert labels.print_on(printer)
    assert (tmp_path / "a.pdf").stat().st_size > 1000
    assert entries(labels) == [101, 102, 103, 104, 105, 106]


def test_what_was_measured_is_kept_for_that_printer(labels: LabelsScreen) -> None:
    told: list[object] = []
    labels.corrections_changed.connect(told.append)
    form = printing.ask_measured(labels, labels.keep_correction)
    for name, value in (("printer", "Study"), ("across", 98.0), ("down", 101.0), ("left", 19.0), ("top", 22.0)):
        form.set(name, value)
    form.accept_button.click()
    assert not form.isVisible()
    put_right = printing.correction_of(labels.corrections, "Study")
    assert put_right.across == pytest.approx(100 / 98)
    assert printing.correction_of(labels.corrections, "another") == Correction()
    assert told == [labels.corrections]


def test_sizes_are_edited_beside_the_live_picture_and_kept_as_ones_own(labels: LabelsScreen) -> None:
    labels.layouts.edit.click()
    editor = labels.editor
    assert "while it is edited" in labels.preview.accessibleName()
    editor.sizes["label", "width"].setValue(50)
    assert "part" not in editor.faults.text()
    assert "code: it reaches over the edge" in editor.faults.text()
    assert not editor.keep.isEnabled()
    editor.sizes["label", "width"].setValue(70)
    editor.sizes["sheet", "top"].setValue(12.5)
    editor.box.setCurrentIndex(2)
    editor.sizes["box", "letter_mm"].setValue(2.6)
    assert editor.keep.isEnabled()
    editor.title.setText("Mine")
    editor.keep.click()
    own = labels.layouts.layout_chosen
    assert (own.title, own.own, own.grid.top if own.grid else 0, own.boxes[2].letter_mm) == ("Mine", True, 12.5, 2.6)
    assert labels_shelf.layouts(labels._desk.store.folder).named("mine") == own
    labels.layouts.edit.click()
    editor.remove.click()
    assert labels.layouts.layout_chosen.id == labels_shelf.FIRST


def test_closing_the_editor_keeps_nothing(labels: LabelsScreen) -> None:
    before = labels.layouts.layout_chosen
    labels.layouts.edit.click()
    labels.editor.sizes["label", "height"].setValue(40)
    labels.editor.close_button.click()
    assert labels.layouts.layout_chosen == before
    assert labels.layouts.isEnabled()
    assert replace(before, own=True) not in labels_shelf.layouts(labels._desk.store.folder).all


def test_a_layout_file_at_fault_is_told_and_the_others_are_offered(running: app.Program, labels: LabelsScreen) -> None:
    own = running.desk.store.folder / "labels"
    own.mkdir()
    (own / "bad.toml").write_text("title = 3", "utf-8")
    labels.show_now()
    assert running.window.messages.isVisible()
    assert "labels/bad.toml" in words_of(running.window.messages)
    assert labels.layouts.list.count() == len(labels_shelf.layouts(None).all)


def test_every_control_has_a_name(labels: LabelsScreen) -> None:
    assert list(unnamed(labels)) == []


@pytest.mark.parametrize(("kept", "read"), [
    ([1.02, 0.98, 1.5, -2.0], [1.02, 0.98, 1.5, -2.0]), ([1.0, 1.0, 0.0], None), ([5.0, 1.0, 0.0, 0.0], None),
    (["a", 1.0, 0.0, 0.0], None), ([1, 1, 0, 99], None)])
def test_a_printers_correction_outlasts_the_window_and_nonsense_is_dropped(tmp_path: Path, kept: list[float],
                                                                           read: list[float] | None) -> None:
    path = tmp_path / "window.toml"
    window_settings.write(path, WindowSettings(printers={"Study": kept}))
    assert window_settings.read(path).printers == ({} if read is None else {"Study": read})
