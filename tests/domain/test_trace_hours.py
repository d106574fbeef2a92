"""The order within one day, from what was recorded: by instants where they are known, in any order where not."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from greenhouse_desk.domain.care_day import care_day, care_second
from greenhouse_desk.domain.contacts import (
    NOTHING_HANDLED,
    Handled,
    Share,
    Stay,
    Touch,
    Worked,
    blades_of,
    by_blades,
    contacts,
)
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.domain.trace import DAY_S, Contact, trace
from greenhouse_desk.services.quarantine import unordered

RULES = HouseRules()
DAY = datetime(2026, 11, 10, tzinfo=UTC)


def at(hour: float) -> datetime:
    return DAY + timedelta(hours=hour)


def met(handled: Handled = NOTHING_HANDLED, stays: tuple[Stay, ...] = (), shares: tuple[Share, ...] = ()
        ) -> list[Contact]:
    return contacts(stays, handled, lambda when: care_day(when, UTC, RULES), at(24 * 30), {}, "mealybug", shares,
                    second=lambda when: care_second(when, UTC, RULES))


def back(*every: Contact) -> set[int]:
    return {one.plant for one in trace(every, 101, DAY.date(), 30).back}


def cuts(*touches: tuple[str, int, float]) -> Handled:
    return Handled(tuple(Touch(tool, plant, at(hour), 1) for tool, plant, hour in touches))


def test_a_blade_that_cut_the_third_only_after_the_second_carried_nothing_of_it() -> None:
    early = met(cuts(("A", 103, 9), ("A", 102, 10), ("B", 102, 11), ("B", 101, 12)))
    assert back(*early) == {102, 103}
    late = met(cuts(("B", 102, 9), ("B", 101, 10), ("A", 103, 11), ("A", 102, 12)))
    assert back(*late) == {102}, "103 came to 102 when 102 had been done with"
    between = met(cuts(("B", 102, 9), ("A", 103, 9.5), ("A", 102, 9.75), ("B", 101, 10)))
    assert back(*between) == {102}, "B was done with 102 before A came to it from 103"


def test_moves_of_one_day_go_by_their_hours() -> None:
    together = (Stay(103, 1, at(6), at(9)), Stay(102, 1, at(6), at(9)), Stay(102, 2, at(9), at(12)),
                Stay(101, 2, at(6), at(12)))
    assert back(*met(stays=together)) == {102, 103}
    other_way = (Stay(102, 2, at(6), at(9)), Stay(101, 2, at(6), at(9)), Stay(102, 1, at(9), at(12)),
                 Stay(103, 1, at(6), at(12)))
    assert back(*met(stays=other_way)) == {102}


@pytest.mark.parametrize(("spans", "reached"), [
    (((103, 8, 9), (102, 10, 11), (101, 12, 13)), {102, 103}),
    (((101, 8, 9), (102, 10, 11), (103, 12, 13)), set()),
    (((102, 8, 12), (101, 8, 9), (103, 10, 12)), {102})])
def test_a_sitting_goes_by_when_hands_were_on_each(spans: tuple[tuple[int, float, float], ...],
                                                   reached: set[int]) -> None:
    sat = Handled(worked=tuple(Worked(1, plant, at(first), at(last)) for plant, first, last in spans))
    assert back(*met(sat)) == reached


def test_what_is_known_by_the_day_alone_goes_in_any_order_and_says_so() -> None:
    shared = Share((103, 102), "wash water", at(20), at(20))
    cut = cuts(("A", 102, 9), ("A", 101, 10))
    every = met(cut, shares=(shared,))
    assert back(*every) == {102, 103}, "nobody knows that the water came after the cut"
    (path,) = [one.path for one in trace(every, 101, DAY.date(), 30).back if one.plant == 103]
    assert [unordered(contact, path) for contact in path] == [", at what time of that day is not known", ""]
    alone = met(shares=(shared,))
    assert unordered(alone[0], alone) == ""


def test_where_hands_and_a_blade_went_the_same_way_the_blade_is_named() -> None:
    touches = (Touch("A", 102, at(9), 1), Touch("A", 101, at(10), 1))
    sat = Handled(touches, (), (Worked(1, 102, at(8), at(12)), Worked(1, 101, at(8), at(12))))
    every = met(sat)
    (path,) = [one.path for one in trace(every, 101, DAY.date(), 30).back]
    assert path[0].how == "worked on in one bench session"
    assert by_blades(path, 102, blades_of(every))[0].how == "A, not disinfected in between"
    late = Contact(103, 102, DAY.date(), DAY.date(), "met", from_s=5 * 3600 + 1, to_s=5 * 3600 + 1)
    kept = by_blades((late, *path), 103, blades_of(every))
    assert kept == (late, *path), "the blade had left 102 before it met 103"


def test_seconds_of_a_care_day_rise_through_the_change_of_clocks() -> None:
    zone = ZoneInfo("Europe/Madrid")
    first = datetime(2026, 10, 24, 2, tzinfo=UTC)
    told = [(care_day(when, zone, RULES), care_second(when, zone, RULES))
            for when in (first + timedelta(minutes=10 * nth) for nth in range(200))]
    assert told == sorted(told)
    assert len(set(told)) == len(told)
    assert 0 <= max(second for _, second in told) < DAY_S
