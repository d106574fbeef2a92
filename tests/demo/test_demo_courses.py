"""The demo's transitions: every verdict on some plant, one overruled, one without a forecast, and a settling curve."""

from __future__ import annotations

from datetime import datetime

import pytest

from greenhouse_desk.domain.courses_forecast import NoOutlook
from greenhouse_desk.domain.courses_values import End, Verdict
from greenhouse_desk.services import transitions, transitions_start
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.transitions import Row
from tests.builders import NOW
from tests.demo_built import Built


def told_by(desk: Desk, now: datetime) -> tuple[Row, ...]:
    """The courses under way, after what must hold of them whenever the demo is built."""
    shown = desk.read(transitions.overview, now)
    running = tuple(row for row in shown.rows if row.course.end is End.RUNNING)
    assert {row.course.verdict for row in running} == set(Verdict)
    assert any(row.course.end is End.SETTLED for row in shown.rows)
    (overruled,) = [row.course.looks[-1] for row in running if row.course.looks and row.course.looks[-1].overruled]
    assert (overruled.rule, overruled.verdict) == (Verdict.STEP_IN, Verdict.AGAIN)
    thin = [row.course.plant for row in running if isinstance(row.outlook, NoOutlook)]
    assert 0 < len(thin) < len(running) / 2
    assert shown.curve.settled >= 30
    assert any(week.minutes for week in shown.weeks)
    return running


@pytest.mark.parametrize("at", ["2026-06-21T20:00:00+00:00", "2027-03-28T03:01:00+02:00", "2028-02-29T12:00:00+00:00",
                                "2031-12-31T23:59:59+00:00"])
def test_every_verdict_is_shown_by_some_plant_whenever_it_is_built(at: str, built: Built) -> None:
    now = datetime.fromisoformat(at)
    with built(now) as desk:
        told_by(desk, now)


def test_every_verdict_is_shown_by_some_plant(demo_desk: Desk) -> None:
    assert len(told_by(demo_desk, NOW)) >= 8


def test_there_is_a_doubt_on_both_sides_and_plants_with_the_move_before_them(demo_desk: Desk) -> None:
    told = demo_desk.read(transitions.overview, NOW).outcomes
    assert told.stepped.courses
    assert told.alone.courses
    assert len(demo_desk.read(transitions_start.waiting)) >= 3
