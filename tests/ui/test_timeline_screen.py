"""The Timeline screen as a grower presses it: plants given lanes, time gone along and zoomed, marks opened and read."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QListWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.domain.journal import Note, Photo, Potted, Poured
from greenhouse_desk.domain.timeline_sorts import Sort
from greenhouse_desk.domain.timeline_values import DAY
from greenhouse_desk.services import records
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import Store
from greenhouse_desk.ui.timeline.screen import TimelineScreen
from tests.builders import NOW
from tests.ui.house import disinfect, dragged, furnish, picture, pressed, program, words_of
from tests.ui.test_spoken_names import unnamed
from tests.ui.timeline_hands import boxes, group, press, said, wheel, where

AT = NOW.timestamp()
Keys = Qt.Key
SHIFT = Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def running(store: Store, clock: SteppedClock, qtbot: QtBot) -> Iterator[app.Program]:
    """The furnished house with a year of pours on 101, a crowded evening, and care that rests on it."""
    desk = Desk(store, clock.now)
    furnish(desk)
    for days in range(20, 600, 45):
        desk.run(records.add, 101, Poured(200, feed=True), NOW - timedelta(days=days))
    for minutes in range(14):
        desk.run(records.add, 101, Note(f"line {minutes}"), NOW - timedelta(days=80, minutes=2 * minutes))
    desk.run(records.add, 102, Potted("bark"), NOW - timedelta(days=400))
    disinfect(desk, 101)
    made = program(store, clock)
    qtbot.addWidget(made.window)
    with qtbot.waitExposed(made.window):
        made.window.show()
    made.window.show_titled("Timeline")
    yield made
    made.close()


@pytest.fixture
def screen(running: app.Program) -> TimelineScreen:
    running.timeline.head.plants.setText("101")
    running.timeline.chart.setFocus()
    return running.timeline


def test_every_plant_has_a_lane_and_every_control_a_name(running: app.Program) -> None:
    screen = running.timeline
    assert [head.number for head in screen.chart.lanes.heads] == [101, 102, 103, 104, 105, 106]
    assert "6 plants" in words_of(screen)
    assert "11 Feb 2026 to 11 Feb 2027" in words_of(screen)
    assert said(screen) == "Timeline. 6 lanes. 11 Feb 2026 to 11 Feb 2027."
    assert list(unnamed(screen)) == []


def test_plants_are_chosen_by_number_and_by_name(screen: TimelineScreen) -> None:
    screen.head.plants.setText("102, 104-105")
    assert [head.number for head in screen.chart.lanes.heads] == [102, 104, 105]
    screen.head.plants.setText("cattleya")
    assert [head.number for head in screen.chart.lanes.heads] == [102]
    screen.head.plants.setText("zzz")
    assert "No plant answers to “zzz”." in said(screen)
    screen.grab()
    pressed(screen, "Show all plants")
    assert len(screen.chart.lanes.heads) == 6


def test_the_plants_chosen_in_the_collection_come_as_lanes(running: app.Program) -> None:
    running.window.show_titled("Collection")
    view = running.collection.view
    view.choose(101)
    for _ in range(2):
        QTest.keyClick(view, Keys.Key_Right, SHIFT)
    pressed(running.collection.chosen_bar, "On the timeline")
    assert running.window.current_title() == "Timeline"
    assert running.timeline.head.plants.text() == "101, 102, 103"
    assert [head.number for head in running.timeline.chart.lanes.heads] == [101, 102, 103]


def test_tab_goes_through_the_marks_and_return_opens_one(screen: TimelineScreen) -> None:
    press(screen, Keys.Key_Tab)
    assert said(screen).startswith("Timeline. 101 Phalaenopsis schilleriana, Long bench. ")
    assert "poured, with feed; 200 ml; 1 of" in said(screen)
    press(screen, Keys.Key_Return)
    told = words_of(screen.detail)
    assert "101 Phalaenopsis schilleriana" in told
    assert "poured, with feed\n200 ml" in told
    press(screen, Keys.Key_Tab, Keys.Key_Tab)
    assert "; 3 of" in said(screen)
    QTest.keyClick(screen.chart, Keys.Key_Tab, SHIFT)
    assert "; 2 of" in said(screen)
    press(screen, Keys.Key_Escape)
    assert not screen.detail.isVisible()
    assert "in view" in said(screen)


def test_after_the_last_mark_tab_leaves_the_lane(screen: TimelineScreen) -> None:
    for _ in boxes(screen):
        press(screen, Keys.Key_Tab)
        assert screen.chart.hasFocus()
    press(screen, Keys.Key_Tab)
    assert not screen.chart.hasFocus()


def test_care_lies_right_of_now_and_is_opened_with_its_reasons(screen: TimelineScreen) -> None:
    (hold,) = [box for box in boxes(screen) if box.ahead and box.item.mark == "hold"]
    assert hold.left > screen.chart.room.line
    QTest.mouseClick(screen.chart, Qt.MouseButton.LeftButton, pos=where(screen, hold))
    told = words_of(screen.detail)
    assert "2 things owed" in told
    assert "Zoom in on them" not in told, "they fall due at one instant, and no zoom parts them"
    (listed,) = screen.detail.findChildren(QListWidget)
    lines = [listed.item(nth).text() for nth in range(listed.count())]
    assert lines[0].startswith("due 2 Dec")
    assert lines[0].endswith(": plain water until 2 Dec")
    QTest.mouseClick(listed.viewport(), Qt.MouseButton.LeftButton, pos=listed.visualItemRect(listed.item(0)).center())
    told = words_of(screen.detail)
    assert "plain water until 2 Dec" in told
    assert "Why?" in told
    assert "house rule" in told


def test_a_group_tells_its_number_lists_its_entries_and_is_gone_into(screen: TimelineScreen) -> None:
    far = group(screen)
    assert (far.count, far.told) == (14, "14 notes")
    QTest.mouseClick(screen.chart, Qt.MouseButton.LeftButton, pos=where(screen, far))
    assert "14 entries" in words_of(screen.detail)
    (listed,) = screen.detail.findChildren(QListWidget)
    lines = [listed.item(nth).text() for nth in range(listed.count())]
    assert (len(lines), lines[0], lines[-1]) == (14, "30 Aug 16:04: note", "30 Aug 16:30: note")
    listed.setCurrentRow(0)
    QTest.keyClick(listed, Keys.Key_Return)
    assert "line 13" in words_of(screen.detail)
    pressed(screen.detail, "All of the group")
    pressed(screen.detail, "Zoom in on them")
    assert [box.count for box in boxes(screen)] == [1] * 14
    assert "Sun 30 Aug 2026, 15:5" in words_of(screen)


def test_a_double_click_goes_into_a_group(screen: TimelineScreen) -> None:
    QTest.mouseDClick(screen.chart, Qt.MouseButton.LeftButton, pos=where(screen, group(screen)))
    assert [box.count for box in boxes(screen)] == [1] * 14


def test_plus_and_minus_zoom_about_the_now_line_and_home_comes_back_to_it(screen: TimelineScreen) -> None:
    chart, line = screen.chart, screen.chart.room.line
    before = chart.room.view
    press(screen, Keys.Key_Plus)
    assert before.per_px / chart.room.view.per_px == pytest.approx(1.35)
    assert chart.room.line == pytest.approx(line)
    press(screen, Keys.Key_Minus)
    assert chart.room.view.per_px == pytest.approx(before.per_px)
    press(screen, *[Keys.Key_PageUp] * 2)
    assert chart.room.line > chart.room.view.width
    press(screen, Keys.Key_Home)
    assert chart.room.line == pytest.approx(0.72 * chart.room.view.width)


def test_arrows_and_page_keys_go_along_the_time_but_not_off_it(screen: TimelineScreen) -> None:
    chart = screen.chart
    start, wide = chart.room.view.start, chart.room.view.end - chart.room.view.start
    press(screen, Keys.Key_Left)
    assert chart.room.view.start == pytest.approx(start - 0.12 * wide)
    press(screen, Keys.Key_Right)
    assert chart.room.view.start == pytest.approx(start)
    press(screen, Keys.Key_PageDown)
    assert chart.room.view.start == pytest.approx(start + 0.9 * wide)
    press(screen, *[Keys.Key_PageUp] * 60)
    assert chart.room.view.end > chart.first, "the record does not go out of sight"


def test_the_wheel_zooms_about_the_pointer_and_with_shift_goes_along(screen: TimelineScreen) -> None:
    chart = screen.chart
    x = chart.space.left + 300
    under, scale = chart.room.view.moment(300), chart.room.view.per_px
    wheel(screen, x, 120, Qt.KeyboardModifier.NoModifier)
    assert chart.room.view.moment(300) == pytest.approx(under)
    assert chart.room.view.per_px < scale
    start = chart.room.view.start
    wheel(screen, x, 120, SHIFT)
    assert chart.room.view.start == pytest.approx(start - 120 * chart.room.view.per_px)


def test_a_drag_takes_the_time_along(screen: TimelineScreen) -> None:
    chart = screen.chart
    at, x = chart.room.view.moment(200), chart.space.left + 200
    dragged(chart, QPoint(round(x), 300), QPoint(round(x) + 150, 300))
    assert chart.room.view.x(at) == pytest.approx(350, abs=1)
    assert not screen.detail.isVisible(), "a drag opens nothing"


@pytest.mark.parametrize(("name", "days"), [("Ten years", 3652.5), ("Year", 365), ("Month", 30), ("Evening", 10 / 24)])
def test_the_zooms_show_ten_years_to_one_evening(screen: TimelineScreen, name: str, days: float) -> None:
    pressed(screen, name)
    view = screen.chart.room.view
    assert (view.end - view.start) / DAY == pytest.approx(days)
    assert view.start < AT < view.end
    screen.grab()


def test_kinds_that_are_not_ticked_go(screen: TimelineScreen) -> None:
    screen.head.kinds[Sort.NOTE].click()
    assert {box.item.sort for box in boxes(screen) if box.count == 1} >= {Sort.WATER}
    assert all(item.sort is not Sort.NOTE for box in boxes(screen) for item in screen.chart.lanes.lane(0).of(box))
    pressed(screen, "All kinds")
    assert group(screen).count == 14


def test_it_jumps_to_the_entries_in_which_a_word_stands_one_after_the_other(screen: TimelineScreen) -> None:
    screen.head.kinds[Sort.NOTE].click()
    screen.head.jump.setText("line 12")
    QTest.keyClick(screen.head.jump, Keys.Key_Return)
    assert "1 of 1 found" in words_of(screen)
    assert "line 12" in words_of(screen.detail)
    assert screen.chart.chosen() is not None
    screen.head.jump.setText("poured")
    for count in ("1 of 13 found", "2 of 13 found"):
        QTest.keyClick(screen.head.jump, Keys.Key_Return)
        assert count in words_of(screen)
    screen.head.jump.setText("sphinx")
    QTest.keyClick(screen.head.jump, Keys.Key_Return)
    assert "Nothing found" in words_of(screen)


def test_up_and_down_choose_a_lane_and_bring_it_into_sight(running: app.Program) -> None:
    screen = running.timeline
    running.window.resize(1366, 560)
    screen.chart.setFocus()
    press(screen, *[Keys.Key_Down] * 6)
    assert said(screen).startswith("Timeline. 106 ")
    assert screen.chart.bar.value() == screen.chart.bar.maximum()
    press(screen, Keys.Key_Up)
    assert said(screen).startswith("Timeline. 105 ")


def test_the_count_at_the_edge_is_pressed_to_go_there(screen: TimelineScreen) -> None:
    pressed(screen, "Evening")
    space, row = screen.chart.space, screen.chart.row(0)
    assert row.earlier > 20
    QTest.mouseClick(screen.chart, Qt.MouseButton.LeftButton,
                     pos=QPoint(round(space.left - 20), round(space.top(0, 0) + space.middle)))
    assert [box.item.title for box in boxes(screen)] == ["poured, with feed"]


def test_an_entry_written_elsewhere_comes_onto_its_lane(running: app.Program, screen: TimelineScreen) -> None:
    assert not [box for box in boxes(screen) if box.item.title == "potted in pumice"]
    running.desk.run(records.add, 101, Potted("pumice"), NOW - timedelta(days=200))
    lane = screen.chart.lanes.lane(0)
    assert "potted in pumice" in [item.title for item in lane.past.items]
    running.desk.undo()
    assert "potted in pumice" not in [item.title for item in screen.chart.lanes.lane(0).past.items]


def test_the_now_line_moves_on_and_late_care_stays_at_it(running: app.Program, clock: SteppedClock,
                                                         screen: TimelineScreen) -> None:
    pressed(screen, "Evening")
    line = screen.chart.room.line
    clock.advance(300)
    running.ticker.tick()
    assert screen.chart.room.line == pytest.approx(line + 300 / screen.chart.room.view.per_px)
    clock.advance(3 * DAY)
    running.ticker.tick()
    assert screen.chart.lanes.now == clock.now().timestamp()


def test_a_photo_stands_on_its_lane(running: app.Program, screen: TimelineScreen, tmp_path: Path, qtbot: QtBot) -> None:
    with qtbot.waitSignal(running.signals.changed, timeout=20_000):
        running.collection.entries.take_photos(101, [picture(tmp_path / "leaf.png")])
    running.window.show_titled("Timeline")
    taken = next(item for item in screen.chart.lanes.lane(0).past.items if item.photo)
    running.desk.run(records.correct, taken.entry, NOW - timedelta(days=10), Photo(taken.photo, "leaf.png"), "")
    pressed(screen, "Month")
    (photo,) = [box for box in boxes(screen) if box.item.photo]
    assert photo.picture > 0
    with qtbot.waitSignal(running.thumbs.ready, timeout=20_000):
        screen.grab()
    green = screen.chart.grab().toImage().pixelColor(where(screen, photo) + QPoint(30, -4))
    assert (green.red(), green.green(), green.blue()) == pytest.approx((0x5F, 0x8F, 0x45), abs=6)
    QTest.mouseClick(screen.chart, Qt.MouseButton.LeftButton, pos=where(screen, photo))
    with qtbot.waitSignal(running.thumbs.ready, timeout=20_000):
        screen.grab()
