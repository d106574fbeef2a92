"""Whose turn it is: what needs hands now, today, tomorrow, this week or later, and who comes first inside a turn."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest

from greenhouse_desk.domain import care
from greenhouse_desk.domain.care import Care, CareKind, Moment, Reason, Turn
from greenhouse_desk.domain.journal import Aired, Cut, Part, Unpotted, Wetted
from greenhouse_desk.domain.settings import HouseRules
from tests.builders import NOW, ago
from tests.domain.care_asking import LONDON, owed, told

RULES = HouseRules()
TODAY = NOW.date()


def one(kind: CareKind = CareKind.CUT_CHECK, due: int = 0, latest: int | None = None, plant: int = 101,
        hold: bool = False) -> Care:
    """A care due so many days from today, its last day likewise."""
    day = TODAY + timedelta(days=due)
    last = None if latest is None else TODAY + timedelta(days=latest)
    return Care(plant, kind, kind.value, kind.value, day, day, last, (Reason("so", ""),), 1, hold=hold)


def turn(of: Care) -> Turn:
    """Its turn now."""
    return care.turn_of(of, NOW, LONDON, RULES)


def first(*cares: Care) -> list[int]:
    """The plants in order of need."""
    return [given.plant for given in care.by_need(cares, NOW, LONDON, RULES)]


@pytest.mark.parametrize(("due", "latest", "said"), [
    (-3, -1, Turn.NOW), (-3, 0, Turn.TODAY), (0, 0, Turn.TODAY), (0, 2, Turn.TODAY), (0, 3, Turn.WEEK),
    (0, 7, Turn.WEEK), (0, 8, Turn.LATER), (-6, 1, Turn.TOMORROW), (1, 1, Turn.TOMORROW), (1, 3, Turn.TOMORROW),
    (4, 5, Turn.WEEK), (9, 9, Turn.LATER), (0, None, Turn.TODAY)])
def test_a_short_window_asks_for_its_day_and_a_long_one_may_wait_until_its_last(due: int, latest: int | None,
                                                                                said: Turn) -> None:
    assert turn(one(due=due, latest=latest)) is said


def test_a_hold_asks_for_no_hands_however_old() -> None:
    assert turn(one(CareKind.PLAIN_WATER, due=-9, hold=True)) is Turn.HOLD


def test_bare_roots_and_an_open_cut_are_owed_now_from_the_first_hour() -> None:
    bare = owed(told((ago(hours=1), Unpotted())), CareKind.POT_UP)[0]
    cut = owed(told((ago(hours=1), Cut(Part.SPIKE))), CareKind.DRESS_CUT)[0]
    assert (turn(bare), turn(cut)) == (Turn.NOW, Turn.NOW)
    later = TODAY + timedelta(days=2)
    assert turn(replace(bare, due=later, latest=later)) is Turn.WEEK, "put off by the grower, it waits for its new day"


def test_a_wet_crown_then_bare_roots_then_an_open_cut_then_the_longest_overdue() -> None:
    wet = replace(owed(told((ago(hours=1), Wetted((Part.CROWN,)))), CareKind.AIR)[0], plant=140)
    cares = (one(due=-20, latest=-10, plant=104), one(due=-9, latest=-8, plant=105),
             one(CareKind.DRESS_CUT, plant=103), one(CareKind.POT_UP, plant=102), wet, one(plant=106),
             one(CareKind.PLAIN_WATER, due=2, plant=108, hold=True), one(due=3, latest=4, plant=107))
    assert first(*cares) == [140, 102, 103, 104, 105, 106, 107, 108]


def test_a_wet_crown_with_hours_left_lets_bare_roots_and_open_cuts_go_first() -> None:
    """NOW is 36 minutes before dusk; five hours before dusk the same crown can wait, a pool in it never."""
    wet = owed(told((ago(hours=1), Wetted((Part.CROWN,)))), CareKind.AIR)[0]
    assert wet.drying is not None
    late, calm = ((replace(wet, plant=plant, drying=replace(wet.drying, limit=NOW + left))) for plant, left in (
        (140, timedelta(hours=2)), (141, timedelta(hours=2, minutes=1))))
    pool = replace(calm, plant=139, drying=replace(wet.drying, limit=NOW + timedelta(hours=5), pool=True))
    blown = replace(calm, plant=142, drying=replace(wet.drying, limit=NOW + timedelta(hours=5), aired=True))
    bare, cut = one(CareKind.POT_UP, plant=102), one(CareKind.DRESS_CUT, plant=103)
    assert first(one(plant=106), blown, calm, cut, bare, late, pool) == [139, 140, 102, 103, 141, 142, 106]


def test_of_wet_crowns_a_pool_comes_first_then_still_air_then_moving_air() -> None:
    wet = owed(told((ago(hours=1), Wetted((Part.CROWN,)))), CareKind.AIR)[0]
    pool = owed(told((ago(hours=1), Wetted((Part.CROWN,), True))), CareKind.AIR)[0]
    aired = owed(told((ago(hours=1), Wetted((Part.CROWN,))), (ago(minutes=5), Aired())), CareKind.AIR)[0]
    assert first(replace(aired, plant=101), replace(wet, plant=102), replace(pool, plant=103)) == [103, 102, 101]


def test_an_instant_this_afternoon_comes_before_the_work_of_the_whole_day_and_after_what_was_due_before() -> None:
    def due(moment: Moment, plant: int) -> Care:
        return replace(one(plant=plant), due=moment, latest=moment)

    afternoon: datetime = NOW + timedelta(hours=1)
    cares = (due(TODAY, 101), due(afternoon, 102), due(date(2026, 11, 17), 103))
    assert [given.plant for given in care.soonest(cares, LONDON, RULES)] == [103, 102, 101]
