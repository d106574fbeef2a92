"""Where a few lanes leave room under them, what lies in view stands there as a list; where they do not, no list is."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.journal import Note
from greenhouse_desk.domain.timeline_sorts import Sort
from greenhouse_desk.services import records
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import Store
from greenhouse_desk.ui.timeline.in_view import MOST
from greenhouse_desk.ui.timeline.screen import TimelineScreen
from tests.builders import NOW
from tests.ui.house import disinfect, furnish, program, words_of


@pytest.fixture(params=[20])
def screen(store: Store, clock: SteppedClock, qtbot: QtBot, request: pytest.FixtureRequest) -> Iterator[TimelineScreen]:
    """The furnished house with notes on 101, five days apart, and care that is owed to it."""
    desk = Desk(store, clock.now)
    furnish(desk)
    for nth in range(request.param):
        desk.run(records.add, 101, Note(f"line {nth}"), NOW - timedelta(days=5 * nth, hours=1))
    disinfect(desk, 101)
    made = program(store, clock)
    qtbot.addWidget(made.window)
    made.window.resize(1366, 900)
    with qtbot.waitExposed(made.window):
        made.window.show()
    made.window.show_titled("Timeline")
    made.timeline.head.plants.setText("101")
    made.timeline.chart.span("Month")
    yield made.timeline
    made.close()


def lines(screen: TimelineScreen) -> list[str]:
    screen.listed.write()
    return [screen.listed.list.item(nth).text() for nth in range(screen.listed.list.count())]


def test_what_is_in_view_stands_under_the_lane_and_goes_with_it(screen: TimelineScreen, qtbot: QtBot) -> None:
    assert screen.listed.list.isVisible()
    assert screen.chart.height() == 68 + 178, "the lane keeps all it can use"
    told = [line for line in lines(screen) if "line " in line]
    assert [line.rsplit(" ", 1)[1] for line in told] == ["0", "1", "2", "3", "4"]
    screen.chart.span("Ten years")
    qtbot.waitUntil(lambda: screen.listed.list.count() >= 20, timeout=5_000)
    owed = [line.startswith("101   due ") for line in lines(screen)]
    assert owed == sorted(owed, reverse=True), "what is owed stands first"
    assert any(owed)
    screen.head.sorts.emit(frozenset({Sort.PHOTO}))
    assert "Nothing in view." in words_of(screen)


def test_one_of_the_list_opens_by_return_and_is_chosen_on_its_lane(screen: TimelineScreen) -> None:
    at = next(nth for nth, line in enumerate(lines(screen)) if line.endswith("line 3"))
    screen.listed.list.setFocus()
    screen.listed.list.setCurrentRow(at)
    QTest.keyClick(screen.listed.list, Qt.Key.Key_Return)
    assert "line 3" in words_of(screen.detail)
    chosen = screen.chart.chosen()
    assert chosen is not None
    assert any("line 3" in f"{item.title} {item.detail}" for item in screen.chart.lanes.lane(0).of(chosen))


def test_many_lanes_keep_all_the_room(screen: TimelineScreen) -> None:
    screen.head.plants.setText("")
    assert not screen.listed.list.isVisible()
    assert screen.chart.maximumHeight() > 10_000


@pytest.mark.parametrize("screen", [MOST + 5], indirect=True)
def test_a_list_that_would_be_endless_says_what_it_leaves_out(screen: TimelineScreen) -> None:
    screen.chart.span("Ten years")
    told = lines(screen)
    assert len(told) == MOST + 1
    assert told[-1].startswith("and ")
    assert told[-1].endswith("older entries: zoom in to see them")
