"""Looks due on one day moved on the calendar of courses: all of them, in one deed, and what comes after is said."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.domain.care import Care
from greenhouse_desk.domain.journal import Potted, Roots, Signs
from greenhouse_desk.domain.journal_course import Leaves
from greenhouse_desk.services import care, collection, transitions
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import Store
from greenhouse_desk.ui.transitions.screen import TransitionsScreen
from tests.ui.house import LEFT, furnish, mouse, shown, words_of
from tests.ui.test_transitions_screen import choose, tell

BOTH = ["look again", "root check"]


@pytest.fixture
def running(store: Store, clock: SteppedClock, qtbot: QtBot) -> Iterator[app.Program]:
    """107 owes two looks today and a root check in four weeks' time; 108 only its first root check, in ten days."""
    desk = Desk(store, clock.now)
    furnish(desk)
    for plant, ago in ((107, 28), (108, 4)):
        desk.run(collection.add_plant, NewPlant("Stelis gelida", plant))
        tell(desk, plant, ago + 200, Potted("bark"))
        tell(desk, plant, ago, Potted("clay pellets", transition=True))
    tell(desk, 107, 7, Roots(9, 1, 2))
    tell(desk, 107, 7, Signs(Leaves.LIMP))
    with shown(store, clock, qtbot) as made:
        made.window.show_titled("Transitions")
        choose(made.transitions, 107)
        yield made


def owed(screen: TransitionsScreen, plant: int = 107) -> list[Care]:
    found = screen._desk.read(care.of_plant, plant, screen._desk.clock())
    return sorted((one for one in found if one.kind in transitions.LOOKS), key=lambda one: (str(one.due), one.short))


def days(screen: TransitionsScreen, plant: int = 107) -> list[tuple[str, date]]:
    return [(one.short, one.due) for one in owed(screen, plant)]


def today(screen: TransitionsScreen) -> date:
    assert screen.shown is not None
    return screen.shown.today


def pull(screen: TransitionsScreen, to: date, drop: bool = True) -> None:
    """Press on the ring of the course chosen and go to the day `to`, where it is let go."""
    chart = screen.chart
    ring = chart.look_place(chart.row.course.origin)  # type: ignore[union-attr]
    assert ring is not None
    start, end = ring.toPoint(), QPoint(round(chart.day_place(to)), round(ring.y()))
    mouse(chart, QEvent.Type.MouseButtonPress, start)
    mouse(chart, QEvent.Type.MouseMove, end)
    if drop:
        mouse(chart, QEvent.Type.MouseButtonRelease, end, Qt.MouseButton.NoButton)


def ring_day(screen: TransitionsScreen) -> float:
    place = screen.chart.look_place(screen.chart.row.course.origin)  # type: ignore[union-attr]
    assert place is not None
    return place.x()


def test_all_looks_under_one_ring_are_dragged_and_one_undo_takes_them_back(running: app.Program) -> None:
    screen = running.transitions
    before = days(screen)
    assert [(short, due) for short, due in before if due <= today(screen)] == [(one, today(screen)) for one in BOTH]
    to = today(screen) + timedelta(days=5)
    pull(screen, to)
    assert days(screen)[:2] == [(one, to) for one in BOTH]
    assert days(screen)[2:] == before[2:]
    assert ring_day(screen) == pytest.approx(screen.chart.day_place(to)), "the ring stays where it was put"
    told = screen._desk.next_undo()
    assert told is not None
    assert told.label.startswith("107: root check and look again, put off until 23 Nov")
    screen._desk.undo()
    assert days(screen) == before


def test_the_tag_names_the_looks_the_day_and_what_the_next_one_becomes(running: app.Program) -> None:
    screen = running.transitions
    after = next(one for one in owed(screen) if one.due > today(screen))
    due, opens = after.due, after.opens
    assert type(due) is date
    assert type(opens) is date
    for to, said in ((opens - timedelta(days=1), "stays."), (opens, "Taken then, it counts as the root check due"),
                     (due + timedelta(days=1), "then comes first.")):
        pull(screen, to, drop=False)
        named, follows = screen.chart._moving()
        assert named.lower().startswith("root check and look again: ")
        assert f"{to.day} " in named
        assert said in follows
        assert named in screen.chart.accessibleName(), "told to those who do not see the tag"
        screen.chart.grab()
        mouse(screen.chart, QEvent.Type.MouseButtonRelease, QPoint(0, 0), LEFT)
        QTest.keyClick(screen.chart, Qt.Key.Key_Escape)
        screen._desk.undo()


@pytest.mark.parametrize(("past", "stay"), [(-1, True), (0, False)])
def test_what_is_said_of_the_next_look_is_what_becomes_of_it(running: app.Program, clock: SteppedClock, past: int,
                                                              stay: bool) -> None:
    """Looks taken on the day they were moved to end the root check after it only where it was open by then."""
    screen = running.transitions
    after = next(one for one in owed(screen) if one.due > today(screen))
    assert type(after.opens) is date
    to = after.opens + timedelta(days=past)
    pull(screen, to)
    assert ("stays." if stay else "counts as") in words_of(running.window.messages)
    clock.advance((to - today(screen)).days * 86_400.0)
    screen._desk.run(transitions.write_look, 107, Roots(9, 1, 3), Signs(Leaves.FIRM))
    assert (("root check", after.due) in days(screen)) is stay


def test_both_are_moved_by_keys_and_told_while_they_are(running: app.Program) -> None:
    screen, alt = running.transitions, Qt.KeyboardModifier.AltModifier
    for _ in range(3):
        QTest.keyClick(screen.chart, Qt.Key.Key_Right, alt)
    assert "look again" in screen.chart.accessibleName().split(".")[1]
    QTest.keyClick(screen.chart, Qt.Key.Key_Return)
    assert days(screen)[:2] == [(one, today(screen) + timedelta(days=3)) for one in BOTH]


def test_a_look_put_off_goes_back_to_its_own_day(running: app.Program) -> None:
    screen = running.transitions
    choose(screen, 108)
    ((_, own), *_) = days(screen, 108)
    pull(screen, own + timedelta(days=8))
    pull(screen, own)
    assert days(screen, 108)[0] == ("root check", own)
