"""The demo's transitions: every verdict on some plant, one overruled, one without a forecast, and a settling curve."""

from __future__ import annotations

from greenhouse_desk.domain.courses_forecast import NoOutlook
from greenhouse_desk.domain.courses_values import End, Verdict
from greenhouse_desk.services import transitions, transitions_start
from greenhouse_desk.services.desk import Desk
from tests.builders import NOW


def test_every_verdict_is_shown_by_some_plant(demo_desk: Desk) -> None:
    shown = demo_desk.read(transitions.overview, NOW)
    running = [row for row in shown.rows if row.course.end is End.RUNNING]
    assert {row.course.verdict for row in running} == set(Verdict)
    assert any(row.course.end is End.SETTLED for row in shown.rows)
    assert any(row.course.looks and row.course.looks[-1].overruled for row in running)
    thin = [row.course.plant for row in running if isinstance(row.outlook, NoOutlook)]
    assert 0 < len(thin) < len(running) / 2
    assert shown.curve.settled >= 30
    assert any(week.minutes for week in shown.weeks)


def test_there_is_a_doubt_on_both_sides_and_plants_with_the_move_before_them(demo_desk: Desk) -> None:
    told = demo_desk.read(transitions.overview, NOW).outcomes
    assert told.stepped.courses
    assert told.alone.courses
    assert len(demo_desk.read(transitions_start.waiting)) >= 3
