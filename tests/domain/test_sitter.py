"""What a sitter may do: looks and nothing else, each on a day of the stretch; all other work is left to the grower."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from greenhouse_desk.domain import sitter
from greenhouse_desk.domain.care_values import Care, CareKind, Reason
from greenhouse_desk.domain.faults import Refused

FIRST = date(2026, 11, 18)
LAST = date(2026, 12, 1)
HANDS = (CareKind.FIRST_WASH, CareKind.WASH_REPEAT, CareKind.DRESS_CUT, CareKind.POT_UP, CareKind.STEP_IN,
         CareKind.HALF_FEED, CareKind.AIR, CareKind.CHECK, CareKind.REPOT_WINDOW,
         CareKind.RINSE)


def care(kind: CareKind, plant: int = 101, hold: bool = False) -> Care:
    return Care(plant, kind, kind.value, kind.value, FIRST, FIRST, None, (Reason("so", "house rule"),), 1, hold=hold)


def after(days: int) -> date:
    return FIRST + timedelta(days=days)


def test_looks_stand_on_their_day_late_ones_on_the_first_and_later_ones_nowhere() -> None:
    told = [(care(CareKind.CROWN_CHECK, 103), after(3)), (care(CareKind.CUT_CHECK, 102), after(-9)),
            (care(CareKind.ROOT_CHECK, 101), after(14)), (care(CareKind.PEST_LOOK, 104), after(13))]
    assert [(one.day, one.plant) for one in sitter.visits(told, FIRST, LAST)] == [
        (FIRST, 102), (after(3), 103), (LAST, 104)]


def test_two_cares_that_ask_for_the_same_look_are_one() -> None:
    told = [(care(CareKind.ROOT_CHECK), FIRST), (care(CareKind.LOOK_AGAIN), after(-1))]
    assert len(sitter.visits(told, FIRST, LAST)) == 1


@pytest.mark.parametrize("kind", HANDS)
def test_what_needs_hands_or_judgement_is_left_to_the_grower(kind: CareKind) -> None:
    told = [(care(kind), after(2)), (care(kind, 102), after(14))]
    assert sitter.visits(told, FIRST, LAST) == ()
    assert sitter.left_to_grower(told, LAST) == ((told[0]),)


def test_every_kind_of_care_is_either_a_look_or_left_or_a_hold() -> None:
    assert set(CareKind) == {*sitter.LOOKS, *HANDS, CareKind.PLAIN_WATER, CareKind.DRY_REST}


def test_a_dry_rest_is_told_as_plants_that_water_passes_by() -> None:
    goes_on, begins = care(CareKind.DRY_REST, 105, hold=True), care(CareKind.DRY_REST, 106, hold=True)
    told = [(day, replace(goes_on, due=after(40))) for day in sitter.days_of(FIRST, LAST)]
    told += [(after(nth), replace(begins, due=after(60))) for nth in (5, 4, 6)]
    assert sitter.resting(told) == (sitter.Rest(105, FIRST, after(40)), sitter.Rest(106, after(4), after(60)))
    (unsure,) = sitter.resting([(FIRST, replace(goes_on, usual=True))])
    assert unsure.usual
    assert not sitter.visits([(goes_on, FIRST), (begins, FIRST)], FIRST, LAST)
    assert not sitter.left_to_grower([(goes_on, FIRST), (begins, FIRST)], LAST)


def test_plain_water_is_told_with_its_end_and_is_no_visit() -> None:
    told = [(care(CareKind.PLAIN_WATER, 105, hold=True), after(4)), (care(CareKind.PLAIN_WATER, 106, hold=True), FIRST)]
    assert sitter.held(told, FIRST) == ((105, after(4)),), "feed may resume on the first day for the other"
    assert sitter.visits(told, FIRST, LAST) == ()
    assert sitter.left_to_grower(told, LAST) == ()


@pytest.mark.parametrize(("first", "last", "said"), [
    (after(-1), LAST, "over"), (after(2), after(1), "backwards"), (FIRST, after(14), "too long")])
def test_a_stretch_that_no_sheet_covers_is_refused(first: date, last: date, said: str) -> None:
    with pytest.raises(Refused, match=said):
        sitter.checked(first, last, FIRST)


def test_a_fortnight_and_a_day_are_covered() -> None:
    sitter.checked(FIRST, after(13), FIRST)
    sitter.checked(FIRST, FIRST, FIRST)
    assert sitter.days_of(FIRST, after(2)) == (FIRST, after(1), after(2))
