"""The Labels screen: plants, layout and start are chosen, what is shown is what is printed, and it is written down."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QObject, QPointF, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QListWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.domain.journal import Labelled
from greenhouse_desk.domain.paper import Words, flat
from greenhouse_desk.services import collection, labels_shelf, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.store import journal
from greenhouse_desk.ui import paper
from greenhouse_desk.ui.labels.choosing import TYPED
from greenhouse_desk.ui.labels.screen import LabelsScreen
from greenhouse_desk.ui.labels.setting import AT_ONCE, SetLabels
from tests.domain.label_builders import told
from tests.ui.house import words_of
from tests.ui.test_spoken_names import unnamed

LEFT = Qt.MouseButton.LeftButton


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
    assert "6 labels on 1 page, 70 x 30 mm each." in words_of(labels)
    assert "The date is the day of the last potting" in words_of(labels)
    assert labels.preview.accessibleName() == "Preview: page 1 of 1, A4 sheet, 27 labels of 70 x 30"


@pytest.mark.parametrize(("words", "numbers"), [
    ("Long bench", [101, 102, 103, 104]), ("Isolation shelf", [106]), ("All that grow", list(range(101, 107))),
    ("Newest bench session", [])])
def test_plants_by_bench_session_or_all(labels: LabelsScreen, words: str, numbers: list[int]) -> None:
    choose(labels, words)
    assert printed_numbers(labels) == numbers


def test_plants_of_an_older_bench_session(running: app.Program, labels: LabelsScreen, clock: SteppedClock) -> None:
    began = clock.now()
    for plants in ((101, 103), (102,)):
        choices = [treatments.Choice(plant, "arrival-check") for plant in plants]
        running.desk.run(treatments.end, running.desk.run(treatments.start, choices, shelf(None)))
        clock.advance(3600)
    labels.show_now()
    choose(labels, "Newest bench session (1)")
    assert printed_numbers(labels) == [102]
    choose(labels, f"Bench session of {began.day} ")
    assert labels.choosing.which.currentText().endswith("(2)")
    labels.show_now()
    assert sorted(printed_numbers(labels)) == [101, 103], "read anew the choice stays"


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


def test_many_labels_are_set_a_few_at_a_time_so_that_keys_are_heard(qapp: object, qtbot: QtBot) -> None:
    parent = QObject()
    setting, words = SetLabels(parent), list[str]()
    setting.told.connect(words.append)
    layout, other = labels_shelf.layouts(None).all[:2]
    tolds = [told(number=number) for number in range(101, 101 + 2 * AT_ONCE + 1)]
    setting.begin(other, tolds)
    with qtbot.waitSignal(setting.ready, timeout=20_000):
        setting.begin(layout, tolds)  # what is asked for next takes the place of what was
    assert words == [f"{AT_ONCE + 1} labels still to be set.", "1 label still to be set."]
    with qtbot.waitSignal(setting.ready, timeout=20_000):
        setting.begin(layout, tolds)
    assert len(words) == 2, "once set they are at hand"


def test_what_is_chosen_is_shown_without_asking(labels: LabelsScreen, qtbot: QtBot) -> None:
    with qtbot.waitSignal(labels._setting.ready, timeout=20_000):
        labels.layouts.copies.setValue(2)
    assert "12 labels on 1 page" in words_of(labels)


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


def test_a_wide_window_gives_its_room_to_the_names_too(labels: LabelsScreen) -> None:
    labels.resize(1214, 700)
    assert labels.layouts.maximumWidth() == 300
    labels.resize(2400, 1300)
    assert labels.layouts.maximumWidth() == labels._side.maximumWidth() == 480
