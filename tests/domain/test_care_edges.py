"""The ends of care's windows, each on its last day and on the first one past it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from greenhouse_desk.domain.care import Care, CareKind
from greenhouse_desk.domain.courses_values import Verdict
from greenhouse_desk.domain.journal import (
    Cut,
    Facts,
    Looked,
    Overruled,
    Part,
    Potted,
    ProtocolCheck,
    Reply,
    Roots,
    Step,
    Treated,
    Unpotted,
    Wetted,
)
from greenhouse_desk.domain.journal_words import Purpose
from greenhouse_desk.domain.settings import HouseRules
from tests.builders import NOW, ago
from tests.domain.care_asking import answered, days, owed, text, told

SPIKE, CROWN = Cut(Part.SPIKE), Wetted((Part.CROWN,))
MOVED = Potted("expanded clay", "12 cm", transition=True)


def windows(cares: tuple[Care, ...]) -> list[tuple[int, int, int]]:
    """Days from today until each opens, is due, and at the latest."""
    every = [days(tuple(replace(one, due=moment) for moment in (one.opens, one.due, one.latest or one.due)))
             for one in cares]
    return [(opens, due, latest) for opens, due, latest in every]


@pytest.mark.parametrize(("facts", "kind", "rules", "found"), [
    (SPIKE, CareKind.CUT_CHECK, HouseRules(), [(3, 3, 6), (7, 7, 10)]),
    (CROWN, CareKind.CROWN_CHECK, HouseRules(), [(2, 2, 4), (5, 5, 7)]),
    (SPIKE, CareKind.CUT_CHECK, HouseRules(cut_check_second=3), [(3, 3, 5)]),
    (SPIKE, CareKind.CUT_CHECK, HouseRules(cut_check_second=4), [(3, 3, 3), (4, 4, 4)]),
    (MOVED, CareKind.ROOT_CHECK, HouseRules(), [(11, 14, 27), (25, 28, 55), (53, 56, 83), (81, 84, 111),
                                                (109, 112, 139)]),
    (MOVED, CareKind.ROOT_CHECK, HouseRules(root_check_first=1, root_check_early_days=14),
     [(1, 7, 27), (14, 28, 55), (42, 56, 83), (70, 84, 111), (98, 112, 139)])])
def test_a_look_may_wait_until_the_day_before_the_next(facts: Facts, kind: CareKind, rules: HouseRules,
                                                       found: list[tuple[int, int, int]]) -> None:
    assert windows(owed(told((ago(), facts)), kind, rules=rules)) == found


@pytest.mark.parametrize(("counted_on", "left"), [(10, 5), (11, 4), (24, 4), (25, 3)])
def test_a_look_ends_what_has_opened_by_that_day(counted_on: int, left: int) -> None:
    counted = told((ago(days=counted_on), MOVED), (ago(), Roots(4, 1)))
    assert len(owed(counted, CareKind.ROOT_CHECK)) == left


def test_the_day_of_the_potting_itself_is_no_look_however_early_looks_may_be() -> None:
    rules = HouseRules(root_check_first=1, root_check_early_days=14)
    assert len(owed(told((ago(days=1), MOVED), (ago(days=1), Roots(4, 1))), CareKind.ROOT_CHECK, rules=rules)) == 5
    assert len(owed(told((ago(days=1), MOVED), (ago(), Roots(4, 1))), CareKind.ROOT_CHECK, rules=rules)) == 4


@pytest.mark.parametrize(("between", "due"), [(2, [3, 7]), (3, [3, 7]), (4, [-1, 3, 7])])
def test_what_falls_due_on_the_day_of_a_newer_cause_or_later_is_dropped(between: int, due: list[int]) -> None:
    """The older cut's first look falls due three days after it."""
    assert days(owed(told((ago(days=between), SPIKE), (ago(), SPIKE)), CareKind.CUT_CHECK)) == due


@pytest.mark.parametrize(("back", "due"), [(2, [1, 5]), (3, [0, 4]), (4, [-1, 3]), (6, [-3, 1]), (7, [0]), (40, [-33]),
                                           (41, [])])
def test_of_those_fallen_due_the_newest_is_shown_until_it_lapses(back: int, due: list[int]) -> None:
    assert days(owed(told((ago(days=back), SPIKE)), CareKind.CUT_CHECK)) == due


def test_an_answered_look_lapses_counted_from_where_it_was_put_off_to() -> None:
    (first, _) = owed(told((ago(days=45), SPIKE)), CareKind.CUT_CHECK, now=ago(days=42))
    for put_off_to, owing in ((33, 1), (34, 0)):
        said = answered(first, Reply.PUT_OFF, ago(days=42), days=42 - put_off_to)
        found = [one for one in owed(told((ago(days=45), SPIKE), said), CareKind.CUT_CHECK) if one.nth == 0]
        assert len(found) == owing, "three days it may wait, thirty until it lapses"


def test_of_two_answered_looks_the_later_ends_what_came_before_it() -> None:
    first, _, third, *_ = owed(told((ago(days=1), MOVED)), CareKind.ROOT_CHECK)
    said = [answered(one, Reply.DONE, ago()) for one in (third, first)]
    assert days(owed(told((ago(days=1), MOVED), *said), CareKind.ROOT_CHECK)) == [83, 111]


@pytest.mark.parametrize(("back", "due"), [(130, [-18]), (169, [-57]), (170, [])])
def test_the_last_look_at_the_roots_is_owed_until_it_lapses_too(back: int, due: list[int]) -> None:
    assert days(owed(told((ago(days=back), MOVED)), CareKind.ROOT_CHECK)) == due


def test_a_look_put_off_to_before_it_opens_waits_until_it_does() -> None:
    (first, *_) = owed(told((ago(days=1), MOVED)), CareKind.ROOT_CHECK)
    moved = owed(told((ago(days=1), MOVED), answered(first, Reply.PUT_OFF, ago(), days=2)), CareKind.ROOT_CHECK)
    assert windows(moved)[0] == (10, 10, 23), "it opens eleven days after the move, as long as it was"


def test_protocol_looks_have_their_slack_too() -> None:
    checked = told((ago(), Step("Wash")))
    looks = (ProtocolCheck("Look for mites", (4, 9)), ProtocolCheck("Weigh it", (1,)))
    entry = replace(checked.entries[0], checks=looks)
    assert windows(owed(replace(checked, entries=(entry,)), CareKind.CHECK)) == [(1, 1, 3), (4, 4, 8), (9, 9, 13)]


GRAVE = Roots(3, 5)


@pytest.mark.parametrize(("back", "owing"), [(0, 1), (32, 1), (33, 0)])
def test_stepping_in_is_owed_at_once_within_two_days_and_lapses(back: int, owing: int) -> None:
    found = owed(told((ago(days=back + 14), MOVED), (ago(days=back), GRAVE)), CareKind.STEP_IN)
    assert len(found) == owing
    assert windows(found) == [(-back, -back, 2 - back)][:owing]


@pytest.mark.parametrize(("hands", "ends"), [(Unpotted(), True), (Potted("bark"), True), (Looked(True), False),
                                             (Treated("hydrogen-peroxide", Purpose.ROOT_DISINFECTION), True)])
def test_hands_on_the_plant_after_the_look_end_it_and_hands_before_do_not(hands: Facts, ends: bool) -> None:
    seen = ((ago(days=14), MOVED), (ago(hours=2), GRAVE))
    assert (owed(told(*seen, (ago(hours=1), hands)), CareKind.STEP_IN) == ()) is ends
    assert owed(told(*seen, (ago(hours=3), hands)), CareKind.STEP_IN)


def test_seven_days_after_stepping_in_it_is_looked_at_again() -> None:
    seen = ((ago(days=20), MOVED), (ago(days=6), GRAVE))
    (again,) = owed(told(*seen), CareKind.LOOK_AGAIN)
    assert windows((again,)) == [(1, 1, 3)]
    assert "The look of 12 Nov says: step in, 5 of 8 roots dead. Another is due 7 days after it." in text(again)
    for at, owing in ((ago(), 1), (NOW + timedelta(days=1), 0)):
        later = owed(told(*seen, (at, Unpotted())), CareKind.LOOK_AGAIN, now=NOW + timedelta(days=1))
        assert len(later) == owing, "hands on it before its day are no look, on its day they are"


def test_a_verdict_overruled_without_days_asks_for_no_other_look() -> None:
    seen = ((ago(days=20), MOVED), (ago(days=6), GRAVE))
    over = Overruled("verdict", "step in", Verdict.AGAIN.value, "a new root", 9)
    (again,) = owed(told(*seen, (ago(days=5), over)), CareKind.LOOK_AGAIN)
    assert again.due == date(2026, 11, 22), "nine days from the day it was overruled"
    assert "You went another way: look again instead of step in, because a new root" in text(again)
    assert "Step in now" not in text(again), "that is what was overruled"
    assert owed(told(*seen, (ago(days=5), replace(over, days=0))), CareKind.LOOK_AGAIN) == ()
    assert owed(told(*seen, (ago(days=5), over)), CareKind.STEP_IN) == ()


@pytest.mark.parametrize(("facts", "kind", "said"), [
    (SPIKE, CareKind.CUT_CHECK, "Due on 21 Nov, at the latest on 24 Nov."),
    (SPIKE, CareKind.DRESS_CUT, "Due on 18 Nov."),
    (Treated("hydrogen-peroxide", Purpose.ROOT_DISINFECTION), CareKind.HALF_FEED,
     "Due from 2 Dec, at the latest on 9 Dec.")])
def test_the_reasoning_ends_in_the_days(facts: Facts, kind: CareKind, said: str) -> None:
    assert owed(told((ago(), facts)), kind)[0].why[-1].text == said


def test_one_day_is_told_as_one() -> None:
    rules = HouseRules(cut_check_first=1, root_check_first=1)
    cut = text(owed(told((ago(), SPIKE)), CareKind.CUT_CHECK, rules=rules)[0])
    assert "A cut is looked at 1 day after" in cut
    assert "First look at a cut: 1 day, set in this house" in cut
    assert "First look at the roots: 1 week," in text(owed(told((ago(), MOVED)), CareKind.ROOT_CHECK, rules=rules)[0])
    assert "The day ends at: 4 o'clock" in text(owed(told((ago(hours=12), SPIKE)), CareKind.CUT_CHECK)[0])


def test_several_looks_not_taken_are_told_as_several() -> None:
    (look, *_) = owed(told((ago(days=56), MOVED)), CareKind.ROOT_CHECK)
    assert "The looks due on 7 and 21 Oct were not taken; this one stands for them." in text(look)
    (look, *_) = owed(told((ago(days=28), MOVED)), CareKind.ROOT_CHECK)
    assert "The look due on 4 Nov was not taken; this one stands for it." in text(look)
