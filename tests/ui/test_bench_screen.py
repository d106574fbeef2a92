"""The bench screen on a real collection: choose, look over the evening, begin, leave, take up, read the record."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from functools import cache
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot
from shiboken6 import isValid

from greenhouse_desk.domain.bench import Key, Ring
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Sighted
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services import collection, records, shelf, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.shelf import Shelf
from greenhouse_desk.ui import style
from greenhouse_desk.ui.bench.screen import BenchScreen, Equipment
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.ticker import Ticker

K = Qt.Key
CLASHING = """
title = "Two that must not meet"
purpose = "A test."
[[step]]
id = "first"
say = "Spray bleach"
page = "Spray."
deed = "scrub"
on = ["pot"]
agent = "bleach"
strength = 0.5
[[step]]
id = "second"
say = "Spray peroxide on the same pot"
page = "Spray."
deed = "scrub"
on = ["pot"]
agent = "hydrogen-peroxide"
strength = 3
after = ["first"]
"""


@cache
def shipped() -> Shelf:
    return shelf.shelf(None)


class Opened:
    """The screen with what it told the window."""

    def __init__(self, desk: Desk, clock: SteppedClock, tmp_path: Path, shown: Shelf | None = None) -> None:
        self.desk, self.clock = desk, clock
        self.signals = Signals()
        desk.listeners.append(self.signals.changed.emit)
        self.refused: list[Refused] = []
        self.noted: list[str] = []
        self.signals.refused.connect(self.refused.append)
        self.signals.noted.connect(self.noted.append)
        self.rings: list[Ring] = []
        self.ticker = Ticker(clock)
        self.screen = BenchScreen(desk, self.signals, style.palette(False), lambda: shown or shipped(), Equipment(
            clock, self.ticker, self.rings.append, lambda on: "", tmp_path / "keys.toml", 96.0, False))
        self.screen.resize(1214, 768)
        self.screen.show()
        self.screen.show_now()

    def wait(self, seconds: float) -> None:
        self.clock.advance(seconds)
        self.ticker.tick()

    def close(self) -> None:
        if self.screen.mode is not None and isValid(self.screen.mode):
            self.screen.mode.close()
        self.screen.close()


@pytest.fixture
def opened(qtbot: QtBot, desk: Desk, clock: SteppedClock, tmp_path: Path) -> Iterator[Opened]:
    shelf_ = desk.run(collection.save_place, Place(0, "North sill"))
    apart = desk.run(collection.save_place, Place(0, "Apart", isolation=True))
    for number, name, place in ((101, "Phalaenopsis amabilis", shelf_), (102, "Laelia anceps", shelf_),
                                (103, "Masdevallia veitchiana", shelf_), (104, "Cymbidium lowianum", apart)):
        desk.run(collection.add_plant, NewPlant(name, number, medium="clay pellets", place=place))
    desk.run(records.add, 104, Sighted("mealybug", count=3), clock.now() - timedelta(days=4))
    made = Opened(desk, clock, tmp_path)
    yield made
    made.close()


def words_of(widget: QWidget) -> str:
    return " ".join(label.text() for label in widget.findChildren(QLabel) if label.isVisibleTo(widget))


def type_number(opened: Opened, number: int) -> None:
    opened.screen.chooser.search.setText(str(number))
    QTest.keyClick(opened.screen.chooser.search, K.Key_Return)


def press(opened: Opened, button: QWidget) -> None:
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


def begin(opened: Opened, *numbers: int) -> None:
    for number in numbers:
        type_number(opened, number)
    press(opened, opened.screen.chooser.go_button)
    press(opened, opened.screen.before.begin_button)


def test_each_plant_stands_with_its_past(opened: Opened) -> None:
    rows = {row.candidate.plant: row.words for row in opened.screen.chooser.list.rows.rows}
    assert set(rows) == {101, 102, 103, 104}
    assert "infested" in rows[104]
    assert "mealybug" in rows[104]
    assert "not chosen" in rows[101]


def test_the_list_is_a_sound_model(opened: Opened) -> None:
    tester = QAbstractItemModelTester(opened.screen.chooser.list.rows)
    opened.screen.chooser.search.setText("Laelia")
    assert [row.candidate.plant for row in opened.screen.chooser.list.rows.rows] == [102]
    opened.screen.chooser.search.setText("nothing like it")
    assert "No plant here answers to" in words_of(opened.screen.chooser)
    opened.screen.chooser.search.clear()
    assert tester.model() is opened.screen.chooser.list.rows


def test_the_search_finds_pests_and_numbers(opened: Opened) -> None:
    for text, found in (("mealybug", [104]), ("103", [103]), ("infested", [104]), ("MASDE", [103])):
        opened.screen.chooser.search.setText(text)
        assert [row.candidate.plant for row in opened.screen.chooser.list.rows.rows] == found


def test_the_wash_is_proposed_for_the_plant_with_pests(opened: Opened) -> None:
    type_number(opened, 104)
    row = opened.screen.chooser.chosen.rows[104]
    assert row.box.currentText() == "Pest wash"
    assert "Proposed: Pest wash, because: " in words_of(row)


def test_space_chooses_and_drops_in_the_list(opened: Opened) -> None:
    plants = opened.screen.chooser.list
    plants.setCurrentIndex(plants.rows.index(1))
    QTest.keyClick(plants, K.Key_Space)
    assert list(opened.screen.chooser.chosen.rows) == [102]
    QTest.keyClick(plants, K.Key_Space)
    assert not opened.screen.chooser.chosen.rows
    assert not opened.screen.chooser.go_button.isEnabled()


def test_the_keyboard_stays_where_it_is_when_a_protocol_is_picked(opened: Opened) -> None:
    for number in (101, 102):
        type_number(opened, number)
    box = opened.screen.chooser.chosen.rows[101].box
    box.setCurrentIndex(box.findText("Spike cut"))
    box.activated.emit(box.currentIndex())
    type_number(opened, 103)
    assert opened.screen.chooser.chosen.rows[101].box is box
    assert box.currentText() == "Spike cut"
    assert list(opened.screen.chooser.chosen.rows) == [101, 102, 103]


def test_a_number_nobody_has_is_refused(opened: Opened) -> None:
    type_number(opened, 999)
    assert opened.refused[-1].title == "There is no growing plant 999"


def test_plants_sent_from_another_screen_are_chosen(opened: Opened) -> None:
    opened.signals.to_bench.emit((103, 101))
    assert list(opened.screen.chooser.chosen.rows) == [103, 101]


def test_before_the_start_everything_is_said(opened: Opened) -> None:
    for number in (104, 101):
        type_number(opened, number)
    press(opened, opened.screen.chooser.go_button)
    before = opened.screen.before
    assert opened.screen.pages.currentWidget() is before
    chart = before.chart.accessibleDescription()
    assert "hands on 101" in chart
    assert chart.index("hands on 101") < chart.index("hands on 104")
    assert "roots in hydrogen peroxide, 10 to 12 min: least at " in chart
    assert "dusk" in chart
    side = words_of(before.kit)
    assert f"0 of {len(before.kit.rows)} laid out" in side
    assert "Never with" in side
    assert "Cautions" in side
    assert before.verdict.words.text()


def test_the_why_of_drying_gives_its_reasons(opened: Opened) -> None:
    type_number(opened, 101)
    press(opened, opened.screen.chooser.go_button)
    verdict = opened.screen.before.verdict
    assert not verdict.reasons.isVisibleTo(verdict)
    press(opened, verdict.why)
    assert verdict.reasons.isVisibleTo(verdict)
    assert verdict.reasons.text().startswith("1. ")


def test_the_kit_is_ticked_off_and_stays_ticked(opened: Opened) -> None:
    for number in (101, 102):
        type_number(opened, number)
    press(opened, opened.screen.chooser.go_button)
    kit = opened.screen.before.kit
    press(opened, kit.rows[0].box)
    press(opened, kit.rows[2])
    assert kit.count.text() == f"2 of {len(kit.rows)} laid out"
    press(opened, opened.screen.before.later)
    assert kit.count.text() == f"2 of {len(kit.rows)} laid out"


def test_the_grower_overrules_the_queue_by_keys_and_buttons(opened: Opened) -> None:
    for number in (101, 102, 103):
        type_number(opened, number)
    press(opened, opened.screen.chooser.go_button)
    before = opened.screen.before
    before.chart.pick(101)
    press(opened, before.later)
    QTest.keyClick(before.chart, K.Key_Down, Qt.KeyboardModifier.AltModifier)
    press(opened, before.begin_button)
    mode = opened.screen.mode
    assert mode is not None
    assert [row.plant for row in mode.board.queue] == [102, 103, 101]
    assert mode.board.instruction.plant == 102


def test_a_protocol_that_breaks_a_do_not_mix_rule_cannot_be_begun(
        qtbot: QtBot, desk: Desk, clock: SteppedClock, tmp_path: Path) -> None:
    folder = tmp_path / "own" / "protocols"
    folder.mkdir(parents=True)
    (folder / "clashing.toml").write_text(CLASHING, "utf-8")
    desk.run(collection.add_plant, NewPlant("Laelia anceps", 101))
    opened = Opened(desk, clock, tmp_path, shelf.shelf(folder.parent))
    type_number(opened, 101)
    box = opened.screen.chooser.chosen.rows[101].box
    box.setCurrentIndex(box.findText("Two that must not meet (own)"))
    box.activated.emit(box.currentIndex())
    press(opened, opened.screen.chooser.go_button)
    before = opened.screen.before
    assert not before.begin_button.isEnabled()
    assert "Cannot be started: " in words_of(before.faults)
    assert "clashing.toml" in words_of(before.faults)
    opened.close()


def test_begin_leave_and_take_up_again(opened: Opened) -> None:
    begin(opened, 101)
    mode = opened.screen.mode
    assert mode is not None
    QTest.keyClick(mode, K.Key_Space)
    at = mode.board.instruction
    QTest.keyClick(mode, K.Key_Escape)
    QTest.keyClick(mode, K.Key_Space)
    assert opened.screen.mode is None
    rows = opened.screen.chooser.open_rows
    assert len(rows) == 1
    assert "Session of 15:30, left 15:30: 1 plant" in words_of(rows[0])
    press(opened, rows[0].button)
    again = opened.screen.mode
    assert again is not None
    assert again.board.instruction == at


def test_the_screen_is_usable_at_twice_the_text_size(opened: Opened) -> None:
    """Twice the text on the smallest screen leaves 683 by 384: page and side stand under each other then."""
    opened.screen.resize(683, 384)
    type_number(opened, 101)
    side = opened.screen.chooser.go_button
    assert side.mapTo(opened.screen.chooser, side.rect().topRight()).x() <= 683
    press(opened, side)
    QApplication.processEvents()
    begin_button = opened.screen.before.begin_button
    assert begin_button.mapTo(opened.screen.before, begin_button.rect().topRight()).x() <= 683
    assert opened.screen.before.kit.width() > 500


def test_the_record_is_shown_after_the_end(opened: Opened) -> None:
    begin(opened, 101)
    mode = opened.screen.mode
    assert mode is not None
    session = opened.desk.read(treatments.open_sittings)[0].id
    opened.desk.run(treatments.end, session, sure=True)
    mode.read()
    assert opened.screen.mode is None
    assert opened.screen.pages.currentWidget() is opened.screen.record
    assert opened.screen.record.lines[0].startswith("Bench session of 18 Nov 2026 15:30, ended 15:30")
    press(opened, opened.screen.record.back_button)
    assert opened.screen.pages.currentWidget() is opened.screen.chooser


def test_bench_mode_hears_the_second_hand(opened: Opened) -> None:
    begin(opened, 101)
    mode = opened.screen.mode
    assert mode is not None
    opened.wait(60)
    assert mode.board.clock.startswith("15:31")


def test_a_soak_left_running_rings_while_bench_mode_is_closed(opened: Opened) -> None:
    begin(opened, 104)
    mode = opened.screen.mode
    assert mode is not None
    for _ in range(40):
        if mode.board.cells:
            break
        mode.press(Key.SOAK if mode.board.instruction.action.value == "start soak" else Key.NEXT)
    left = mode.board.cells[0]
    QTest.keyClick(mode, K.Key_Escape)
    QTest.keyClick(mode, K.Key_Space)
    opened.wait(left.soak.most_s + 5)
    assert opened.rings[-1] is Ring.LOUD
    assert "over its most. Take the session up again." in opened.noted[-1]
    opened.screen.on_alarm_gave_up("bench")
    record = opened.desk.read(treatments.record, opened.desk.read(treatments.open_sittings)[0].id)
    assert any("rang unanswered" in line for line in record)
