"""A press at the bench works out anew what its own plants are owed, and leaves what is asked of all for afterwards."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from greenhouse_desk import app
from greenhouse_desk.domain import care as rules_of_care
from greenhouse_desk.domain import courses as rules_of_courses
from greenhouse_desk.domain.bench_values import Ring
from greenhouse_desk.domain.plants import History
from greenhouse_desk.services import care, collection, shelf, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.treatments import Choice
from greenhouse_desk.ui.bench.mode import BenchMode
from tests.ui.house import wet


class Asked:
    """Whose care and whose courses were worked out."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.care: list[int] = []
        self.courses: list[int] = []
        real, real_courses = rules_of_care.owed, rules_of_courses.under_way

        def owed(history: History, *rest: Any) -> Any:
            self.care.append(history.plant.number)
            return real(history, *rest)

        def under_way(history: History, *rest: Any) -> Any:
            self.courses.append(history.plant.number)
            return real_courses(history, *rest)

        monkeypatch.setattr(rules_of_care, "owed", owed)
        monkeypatch.setattr(rules_of_courses, "under_way", under_way)

    def forget(self) -> None:
        self.care.clear()
        self.courses.clear()


@pytest.fixture
def mode(running: app.Program, clock: SteppedClock) -> Iterator[BenchMode]:
    """Bench mode on 101, the bell awake."""
    running.window.show_titled("Bench")
    running.tick(clock.now())
    running.bench.open_session(running.desk.run(treatments.start, (Choice(101, "pest-wash"),), shelf.shelf(None)))
    assert running.bench.mode is not None
    clock.advance(1)
    running.tick(clock.now())
    yield running.bench.mode
    if running.bench.mode is not None:
        running.bench.mode.close()


def test_a_press_and_the_second_after_it_ask_of_no_other_plant(
        running: app.Program, mode: BenchMode, clock: SteppedClock, monkeypatch: pytest.MonkeyPatch) -> None:
    asked = Asked(monkeypatch)
    for _ in range(3):
        QTest.keyClick(mode, Qt.Key.Key_Space)
        clock.advance(1)
        running.tick(clock.now())
    assert set(asked.care) == {101}
    assert asked.courses == []


def test_the_bell_still_rings_at_the_bench_for_a_plant_written_on_meanwhile(
        running: app.Program, mode: BenchMode, clock: SteppedClock, monkeypatch: pytest.MonkeyPatch) -> None:
    rung: list[Ring] = []
    monkeypatch.setattr(running.alarm, "ring", lambda ring, _source: rung.append(ring))
    wet(running.desk, 103)
    clock.advance(1)
    running.tick(clock.now())
    due = running.desk.read(care.of_plant, 103, clock.now())[0].due
    assert isinstance(due, datetime)
    for before in (5, -1):
        clock.advance((due - clock.now()).total_seconds() - before)
        assert running.watch.bell.ringing == ()
        running.tick(clock.now())
    assert [one.plant for one in running.watch.bell.ringing] == [103]
    assert rung == [Ring.CHIME]
    running.watch.bell.dismiss()


def test_what_waited_is_shown_once_the_bench_is_left(
        running: app.Program, mode: BenchMode, clock: SteppedClock) -> None:
    plates = {plate.accessibleName().partition(",")[0]: plate for plate in running.window.navigation.plates}
    before = plates["Transitions"].accessibleName()
    running.desk.run(collection.repot, 102, "clay pellets", "12 cm", True)
    assert plates["Transitions"].accessibleName() == before
    assert running.window.undo_panel.undo_button.toolTip().startswith("Undo: Repot 102"), "undo never waits"
    mode.close()
    clock.advance(1)
    running.tick(clock.now())
    assert plates["Transitions"].accessibleName() != before
