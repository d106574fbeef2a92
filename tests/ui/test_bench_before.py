"""The page before the start on a real collection: the evening, the kit, the queue, faults."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QScrollBar, QWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.faults import Fault
from greenhouse_desk.services import collection, shelf
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui.bench.before import gathered
from tests.ui.bench_opened import Opened, furnished, press, type_number, words_of

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



@pytest.fixture
def opened(qtbot: QtBot, desk: Desk, clock: SteppedClock, tmp_path: Path) -> Iterator[Opened]:
    furnished(desk, clock)
    made = Opened(desk, clock, tmp_path)
    yield made
    made.close()


def test_before_the_start_everything_is_said(opened: Opened) -> None:
    for number in (104, 101):
        type_number(opened, number)
    press(opened.screen.chooser.go_button)
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
    type_number(opened, 104)
    opened.screen.chooser.chosen.rows[104].box.setCurrentText("Pest wash")
    press(opened.screen.chooser.go_button)
    verdict = opened.screen.before.verdict
    assert not verdict.reasons.isVisibleTo(verdict)
    press(verdict.why)
    assert verdict.reasons.isVisibleTo(verdict)
    assert verdict.reasons.text().startswith("1. ")


def test_the_kit_is_ticked_off_and_stays_ticked(opened: Opened) -> None:
    for number in (101, 102):
        type_number(opened, number)
    press(opened.screen.chooser.go_button)
    kit = opened.screen.before.kit
    press(kit.rows[0].box)
    press(kit.rows[2])
    assert kit.count.text() == f"2 of {len(kit.rows)} laid out"
    press(opened.screen.before.later)
    assert kit.count.text() == f"2 of {len(kit.rows)} laid out"


def test_the_grower_overrules_the_queue_by_keys_and_buttons(opened: Opened) -> None:
    for number in (101, 102, 103):
        type_number(opened, number)
    press(opened.screen.chooser.go_button)
    before = opened.screen.before
    before.chart.pick(101)
    press(before.later)
    QTest.keyClick(before.chart, K.Key_Down, Qt.KeyboardModifier.AltModifier)
    press(before.begin_button)
    mode = opened.screen.mode
    assert mode is not None
    assert [row.plant for row in mode.board.queue] == [102, 103, 101]
    assert mode.board.instruction.plant == 102


def test_a_queue_of_ones_own_says_what_it_does_and_calls_itself_so(opened: Opened) -> None:
    for number in (101, 104):
        type_number(opened, number)
    press(opened.screen.chooser.go_button)
    before = opened.screen.before
    assert "Queue: cleanest first" in before.sub.text()
    before.chart.pick(104)
    press(before.earlier)
    assert "104 (infested) is worked on before 101, by your own order" in before.notes.text()
    assert "Queue: in your own order; hands stay on" in before.sub.text()
    press(before.later)
    assert "by your own order" not in before.notes.text()
    press(before.earlier)
    press(before.begin_button)
    mode = opened.screen.mode
    assert mode is not None
    assert mode.face.queue.accessibleName() == "Queue, in your own order"


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
    press(opened.screen.chooser.go_button)
    before = opened.screen.before
    assert not before.begin_button.isEnabled()
    assert "Cannot be started: " in words_of(before.faults)
    assert "clashing.toml" in words_of(before.faults)
    opened.close()


def test_the_screen_is_usable_at_twice_the_text_size(opened: Opened) -> None:
    """Twice the text on the smallest screen leaves 683 by 384: page and side stand under each other then."""
    opened.screen.resize(683, 384)
    type_number(opened, 101)
    side = opened.screen.chooser.go_button
    assert side.mapTo(opened.screen.chooser, side.rect().topRight()).x() <= 683
    press(side)
    QApplication.processEvents()
    begin_button = opened.screen.before.begin_button
    assert begin_button.mapTo(opened.screen.before, begin_button.rect().topRight()).x() <= 683
    assert opened.screen.before.kit.width() > 500


def test_a_plan_that_has_stood_a_while_is_made_anew_and_keeps_the_queue_and_the_ticks(opened: Opened) -> None:
    for number in (101, 102):
        type_number(opened, number)
    press(opened.screen.chooser.go_button)
    before = opened.screen.before
    before.chart.pick(101)
    press(before.later)
    press(before.kit.rows[0].box)
    row = before.kit.rows[0]
    assert "15:30 to about " in before.sub.text()
    opened.wait(60)
    assert "15:30 to about " in before.sub.text()
    opened.wait(20 * 60)
    assert "15:51 to about " in before.sub.text()
    chart = before.chart.accessibleDescription()
    assert chart.startswith("From 15:51 to ")
    assert chart.index("hands on 102") < chart.index("hands on 101")
    assert before.kit.rows[0] is row
    assert row.box.isChecked()


def _in_sight(part: QWidget) -> bool:
    """Whether all of `part` is seen, cut by nothing."""
    return part.isVisible() and part.visibleRegion().boundingRect() == part.rect()


@pytest.mark.parametrize("size", [(1214, 640), (1214, 700), (2400, 1300), (683, 300)])
def test_the_start_is_in_sight_and_nothing_is_squeezed_however_much_is_said(opened: Opened,
                                                                          size: tuple[int, int]) -> None:
    """1366 by 768 under a title bar leaves about 1214 by 640; twice the text leaves half of it."""
    opened.screen.resize(*size)
    for number in (101, 102, 103, 104):
        type_number(opened, number)
    press(opened.screen.chooser.go_button)
    before = opened.screen.before
    press(before.verdict.why)
    before.faults.show_faults([Fault("own.toml", f"step[{n}]", "A long word on what is wrong. " * 6) for n in range(4)])
    QApplication.processEvents()
    for bar in before.findChildren(QScrollBar):
        bar.setValue(bar.maximum())
    QApplication.processEvents()
    for part in (before.begin_button, before.back_button, before.earlier, before.later):
        assert _in_sight(part), part.text()
    for label in before.verdict.findChildren(QLabel):
        assert label.height() >= label.heightForWidth(label.width()), label.text()
    assert before.chart.height() >= before.chart.sizeHint().height()
    assert before.chart.mapTo(before.columns, QPoint(0, 0)).y() > before.verdict.mapTo(
        before.columns, QPoint(0, before.verdict.height() - 1)).y()


def test_times_stay_in_sight_when_the_plan_is_scrolled(opened: Opened) -> None:
    opened.screen.resize(1214, 500)
    for number in (101, 102, 103, 104):
        type_number(opened, number)
    press(opened.screen.chooser.go_button)
    before = opened.screen.before
    QApplication.processEvents()
    before.chart.pick(104)
    QApplication.processEvents()
    top, high = before.chart.lane_place()
    seen = before.chart.visibleRegion().boundingRect()
    assert seen.top() > 0
    assert seen.top() <= top
    assert top + high <= seen.bottom() + 1
    times = before.chart.grab(QRect(0, seen.top(), before.chart.width(), 30)).toImage()
    lanes = before.chart.grab(QRect(0, seen.top() + 40, before.chart.width(), 30)).toImage()
    assert times != lanes


def test_the_same_verdict_on_several_plants_is_said_once() -> None:
    said = "101: It will be wet at dusk. Blot it. 104: It will be wet at dusk. Blot it. 107: Dry by 16:00."
    assert gathered(said) == "101, 104: It will be wet at dusk. Blot it.\n107: Dry by 16:00."
    late = "it is past dusk: do not wet it then. Another day, wet it by 16:09."
    assert gathered(f"125: At 18:27 {late} 126: At 18:53 {late} 136: At 20:57 it is past lights-out: do not.") == (
        f"125, 126: From 18:27 on {late}\n136: At 20:57 it is past lights-out: do not.")
    assert gathered("Nothing that has to dry is made wet.") == "Nothing that has to dry is made wet."


def test_opened_anew_it_shows_its_top_with_the_reasoning_folded(opened: Opened) -> None:
    """It had been scrolled to its end, its reasoning open, when the grower went back to choose something else."""
    before = opened.screen.before
    opened.screen.resize(900, 420)
    for number in (104, 101):
        type_number(opened, number)
    press(opened.screen.chooser.go_button)
    before.verdict.why.setChecked(True)
    QApplication.processEvents()
    bar = before.columns.left.verticalScrollBar()
    bar.setValue(bar.maximum())
    assert bar.value() > 0
    press(before.back_button)
    press(opened.screen.chooser.go_button)
    assert bar.value() == 0
    assert not before.verdict.why.isChecked()
