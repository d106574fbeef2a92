"""An outbreak followed: whom it concerns, who is washed and who watched, the dates of its washes, who was last."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from greenhouse_desk.domain.outbreak import Concerned, Followed, Wash, concerned, last_to_clear, open_status, wash_plan
from greenhouse_desk.domain.pests_repeat import Interval
from greenhouse_desk.domain.quarantine import CLEAR, EXPOSED, INFESTED, NEWCOMER, TREATED, Standing, Status

BUG = "mealybug"
DAY = date(2026, 11, 20)


def stands(*statuses: Status) -> Standing:
    return Standing("", "", 0, statuses=statuses)


def status(rank: int, what: str = BUG) -> Status:
    return Status(what, {CLEAR: "clear", EXPOSED: "exposed", TREATED: "under treatment"}.get(rank, "infested"), "why",
                  rank, next="next", earliest=DAY)


def days(washes: tuple[Wash, ...]) -> list[tuple[int, int, bool]]:
    return [((one.opens - DAY).days, (one.latest - DAY).days, one.given) for one in washes]


def test_only_what_holds_a_plant_back_because_of_it_is_open() -> None:
    assert open_status(None, BUG) is None
    assert open_status(stands(), BUG) is None
    assert open_status(stands(status(CLEAR)), BUG) is None
    assert open_status(stands(status(INFESTED, "thrips")), BUG) is None
    kept = status(EXPOSED)
    assert open_status(stands(status(INFESTED, "thrips"), kept), BUG) is kept


def test_those_it_was_found_on_come_first_then_by_number() -> None:
    now = {105: stands(status(INFESTED)), 101: stands(status(EXPOSED)), 103: stands(status(TREATED)),
           102: stands(status(EXPOSED)), 104: stands(status(CLEAR))}
    found = concerned(now, {}, frozenset(now), BUG)
    assert [(one.plant, one.found) for one in found] == [(103, True), (105, True), (101, False), (102, False)]
    assert [(one.word, one.why, one.next, one.earliest) for one in found[2:]] == [("exposed", "why", "next", DAY)] * 2


def test_who_was_held_back_at_the_opening_stays_concerned_and_is_clear() -> None:
    then = {101: stands(status(INFESTED)), 102: stands(status(EXPOSED)), 103: stands(status(INFESTED))}
    now = {101: stands(status(CLEAR)), 102: stands(), 103: stands(status(INFESTED)), 104: stands(status(EXPOSED))}
    found = concerned(now, then, frozenset({101, 102, 104}), BUG)
    assert [(one.plant, one.word, one.found, one.open) for one in found] == [
        (101, "clear", True, False), (103, "clear", True, False), (102, "clear", False, False),
        (104, "exposed", False, True)]
    assert [one.why for one in found[:3]] == ["clear since", "it has left the collection", "clear since"]
    assert [one.earliest for one in found[:3]] == [None, None, None]


def test_who_left_before_anything_was_found_here_is_not_concerned() -> None:
    assert concerned({103: stands(status(INFESTED))}, {}, frozenset({101}), BUG) == ()


def test_one_exposed_at_the_opening_and_found_later_counts_as_found() -> None:
    then, now = {101: stands(status(EXPOSED))}, {101: stands(status(INFESTED))}
    assert [one.found for one in concerned(now, then, frozenset({101}), BUG)] == [True]
    assert [one.found for one in concerned(then, now, frozenset({101}), BUG)] == [True]


def test_a_newcomer_is_no_exposed_plant() -> None:
    assert EXPOSED < NEWCOMER, "whatever stands above exposed was found on the plant itself"


def test_the_open_ones_are_washed_or_watched() -> None:
    then = {101: stands(status(INFESTED)), 102: stands(status(EXPOSED))}
    now = {103: stands(status(INFESTED)), 104: stands(status(EXPOSED))}
    outbreak = Followed(1, 101, BUG, DAY, concerned(now, then, frozenset(range(101, 105)), BUG), None, "")
    assert (outbreak.washed, outbreak.watched) == ((103,), (104,))


def test_a_wash_is_owed_only_where_the_plan_still_wants_one() -> None:
    wanted, given = Wash(DAY, DAY), Wash(DAY, DAY, True)
    those = tuple(Concerned(number, word, "", found, "", None, washes) for number, word, found, washes in (
        (101, "under watch", True, (given, given)), (102, "under treatment", True, (given, wanted)),
        (103, "infested", True, ()), (104, "under treatment", True, ()), (105, "exposed", False, (wanted,)),
        (106, "clear", True, (wanted,))))
    outbreak = Followed(1, 101, BUG, DAY, those, None, "")
    assert (outbreak.washed, outbreak.owing) == ((101, 102, 103, 104), (102, 103))


@pytest.mark.parametrize(("given", "least", "planned"), [
    ([], 1, [(0, 0, False)]),
    ([], 3, [(0, 0, False), (10, 14, False), (20, 28, False)]),
    ([-3], 3, [(-3, -3, True), (7, 11, False), (17, 25, False)]),
    ([-12, -3], 3, [(-12, -12, True), (-3, -3, True), (7, 11, False)]),
    ([-20, -12, -3], 3, [(-20, -20, True), (-12, -12, True), (-3, -3, True)]),
    ([-20, -12, -3], 2, [(-20, -20, True), (-12, -12, True), (-3, -3, True)]),
    ([], 0, [])])
def test_a_plan_goes_on_from_the_last_wash_up_to_the_least_number(given: list[int], least: int,
                                                                 planned: list[tuple[int, int, bool]]) -> None:
    washes = wash_plan([DAY + timedelta(days=one) for one in given], Interval(10, 14, least, 5, False), DAY, True)
    assert days(washes) == planned


@pytest.mark.parametrize(("given", "planned"), [
    ([], [(0, 0, False), (10, 14, False)]),
    ([-3], [(-3, -3, True), (7, 11, False)]),
    ([-12, -3], [(-12, -12, True), (-3, -3, True), (7, 11, False)]),
    ([-20, -12, -3], [(-20, -20, True), (-12, -12, True), (-3, -3, True)])])
def test_without_a_clean_look_one_wash_more_is_wanted_up_to_the_most(given: list[int],
                                                                    planned: list[tuple[int, int, bool]]) -> None:
    washes = wash_plan([DAY + timedelta(days=one) for one in given], Interval(10, 14, 2, 3, False), DAY, False)
    assert days(washes) == planned


def test_the_last_to_clear_are_those_held_back_the_day_before() -> None:
    then = {101: stands(status(INFESTED)), 102: stands(status(EXPOSED)), 103: stands(status(EXPOSED))}
    those = concerned({}, then, frozenset(then), BUG)
    before = {101: stands(status(CLEAR)), 103: stands(status(EXPOSED)), 102: stands(status(EXPOSED, "thrips"))}
    assert last_to_clear(before, those, BUG, frozenset(then)) == (103,)


def test_one_that_left_uncured_did_not_become_clear() -> None:
    """103 died with the pest on it: how it stood then stays written, and it became clear of nothing."""
    then = {number: stands(status(INFESTED)) for number in (101, 103)}
    growing = frozenset((101,))
    those = concerned({}, then, growing, BUG)
    assert last_to_clear(then, those, BUG, growing) == (101,)
    assert last_to_clear({103: then[103]}, those, BUG, growing) == ()
