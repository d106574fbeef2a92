"""The first and the last moment of the quarantine rules: of a spell, an exposure, a newcomer's days, a release."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from greenhouse_desk.domain.contacts import Handled, Touch, Worked
from greenhouse_desk.domain.journal import Arrived, Facts, Looked, Placed, Purpose, Released, Sighted, Treated
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.quarantine import Standing, standings
from greenhouse_desk.domain.settings import HouseRules
from tests.builders import NOW, ago, history, plant

MITE, VIRUS = Sighted("flat-mite"), Sighted("virus-signs", "streaks")
CLEAN, WASH = Looked(True, "10x"), Treated("soap", Purpose.PEST_WASH)
SECOND = timedelta(seconds=1)
APART = 9
WATCHED = ((ago(days=60), MITE), (ago(days=59), WASH), (ago(days=30), CLEAN), (ago(days=20), CLEAN))
"""Could pass mites on from 180 days before the find until the second clean look."""
Written = tuple[datetime, Facts]


def one(number: int, *written: Written, place: int = 1) -> History:
    return history(*written, of=plant(number, place=place))


def told(*every: History, handled: Handled | None = None, rules: HouseRules | None = None) -> dict[int, Standing]:
    return standings(every, frozenset({APART}), NOW, rules or HouseRules(), handled=handled or Handled())


def tool(*uses: tuple[int, datetime]) -> Handled:
    return Handled(tuple(Touch("cutter A", number, at, 1) for number, at in uses))


def worked(*pairs: tuple[int, datetime, datetime]) -> Handled:
    return Handled(worked=tuple(Worked(1, number, first, last) for number, first, last in pairs))


def since(standing: Standing) -> datetime | None:
    return standing.statuses[0].since if standing.statuses else None


@pytest.mark.parametrize(("touched", "word"), [
    (ago(days=20) - SECOND, "exposed"), (ago(days=20), "clear")])
def test_a_spell_ends_with_the_look_that_was_the_last_one_needed(touched: datetime, word: str) -> None:
    watched = one(102, *WATCHED, place=2)
    assert told(watched, one(101), handled=tool((102, touched), (101, touched + SECOND)))[101].word == word


def test_a_spell_is_not_over_with_the_first_of_two_looks_nor_only_with_a_third() -> None:
    rules = HouseRules(clean_looks=3)
    looks = (*WATCHED, (ago(days=10), CLEAN), (ago(days=4), CLEAN))
    sick = one(102, *looks, place=2)
    for touched, word in ((ago(days=15), "exposed"), (ago(days=10) - SECOND, "exposed"), (ago(days=10), "clear")):
        at = tool((102, touched), (101, touched + SECOND))
        assert told(sick, one(101), handled=at, rules=rules)[101].word == word


def test_a_third_look_does_not_draw_a_spell_out() -> None:
    looks = ((ago(days=40), MITE), (ago(days=39), WASH), (ago(days=25), CLEAN), (ago(days=15), CLEAN))
    watched = one(102, *looks, (ago(days=5), CLEAN), place=2)
    assert told(watched, one(101), handled=tool((102, ago(days=10)), (101, ago(days=9))))[101].word == "clear"


@pytest.mark.parametrize(("first", "word"), [(ago(days=182), "exposed"), (ago(days=182) - SECOND, "clear")])
def test_a_spell_begins_as_long_before_the_find_as_contacts_are_followed(first: datetime, word: str) -> None:
    sick = one(102, (ago(days=2), MITE), place=2)
    assert told(sick, one(101), handled=tool((102, first), (101, ago(days=170))))[101].word == word


@pytest.mark.parametrize(("last", "word"), [(ago(days=182), "exposed"), (ago(days=182) - SECOND, "clear")])
def test_work_that_ended_before_the_spell_began_exposes_nobody(last: datetime, word: str) -> None:
    sick = one(102, (ago(days=2), MITE), place=2)
    sat = worked((102, ago(days=190), last), (101, ago(days=190), ago(days=170)))
    assert told(sick, one(101), handled=sat)[101].word == word


def test_a_spell_that_ended_before_the_trace_days_exposes_whom_nobody_looked_at_since() -> None:
    cured = ((ago(days=300), MITE), (ago(days=290), WASH), (ago(days=250), CLEAN), (ago(days=240), CLEAN))
    assert told(one(102, *cured), one(101))[101].word == "exposed"
    assert told(one(102, *cured), one(101, (ago(days=241), CLEAN)))[101].word == "exposed"
    assert told(one(102, *cured), one(101, (ago(days=239), CLEAN)))[101].word == "clear"


def test_who_left_before_the_sick_one_came_met_nobody() -> None:
    sick = one(102, (ago(days=150), Placed(2, 1.0)), (ago(days=30), Placed(1, 1.0)), (ago(days=2), MITE))
    gone = one(101, (ago(days=300), Placed(1, 1.0)), (ago(days=40), Placed(3, 1.0)), place=3)
    assert told(sick, gone)[101].word == "clear"


@pytest.mark.parametrize(("second", "word"), [(ago(days=180), "exposed"), (ago(days=181), "clear")])
def test_a_contact_of_one_looked_at_counts_for_the_trace_days(second: datetime, word: str) -> None:
    sick, looked = one(102, (ago(days=2), MITE), place=2), one(101, (ago(days=100), CLEAN))
    assert told(sick, looked, handled=tool((102, ago(days=182)), (101, second)))[101].word == word
    sat = worked((102, ago(days=182), ago(days=182)), (101, ago(days=182), second))
    assert told(sick, looked, handled=sat)[101].word == word


@pytest.mark.parametrize(("gone", "word"), [(ago(days=182), "clear"), (ago(days=182) + SECOND, "exposed")])
def test_a_shared_place_counts_when_the_other_could_pass_it_on(gone: datetime, word: str) -> None:
    moved = one(101, (ago(days=300), Placed(1, 1.0)), (gone, Placed(2, 1.0)), place=2)
    assert told(one(102, (ago(days=2), MITE)), moved)[101].word == word


@pytest.mark.parametrize(("came", "word"), [(ago(days=40), "clear"), (ago(days=40) - SECOND, "exposed")])
def test_who_comes_as_the_other_goes_met_nobody(came: datetime, word: str) -> None:
    gone = one(102, (ago(days=90), Placed(1, 1.0)), (ago(days=40), Placed(2, 1.0)), (ago(days=2), MITE), place=2)
    other = one(101, (ago(days=300), Placed(3, 1.0)), (came, Placed(1, 1.0)))
    found = told(gone, other)[101]
    assert found.word == word
    assert since(found) == (ago(days=40) if word == "exposed" else None), "the last moment they stood together"


def test_an_exposure_that_goes_on_is_of_today() -> None:
    found = told(one(102, (ago(days=2), MITE)), one(101, (ago(days=1), CLEAN)))[101]
    assert (found.word, since(found)) == ("exposed", NOW)
    assert found.statuses[0].counted == 0, "a look while it goes on is none after it"


@pytest.mark.parametrize(("other", "word"), [
    ((ago(days=3), ago(days=2)), "exposed"),
    ((ago(days=9), ago(days=5)), "exposed"),
    ((ago(days=9), ago(days=5) - SECOND), "clear")])
def test_a_sitting_exposes_whom_work_went_on_once_the_other_was_begun(other: tuple[datetime, datetime],
                                                                    word: str) -> None:
    sick = one(102, (ago(days=30), MITE), place=2)
    sat = worked((102, ago(days=5), ago(days=4)), (101, *other))
    assert told(sick, one(101), handled=sat)[101].word == word


def test_work_to_come_exposes_nobody_yet_and_work_of_this_moment_does() -> None:
    sick = one(102, (ago(days=30), MITE), place=2)
    for last, word in ((NOW, "exposed"), (NOW + SECOND, "clear")):
        sat = worked((102, ago(days=1), ago(days=1)), (101, ago(days=1), last))
        assert told(sick, one(101), handled=sat)[101].word == word
        assert told(sick, one(101), handled=tool((102, ago(days=1)), (101, last)))[101].word == word


@pytest.mark.parametrize(("began", "word"), [(ago(days=20) - SECOND, "exposed"), (ago(days=20), "clear")])
def test_a_sitting_begun_as_the_spell_ended_exposes_nobody(began: datetime, word: str) -> None:
    watched = one(102, *WATCHED, place=2)
    sat = worked((102, began, ago(days=19)), (101, ago(days=20), ago(days=19)))
    assert told(watched, one(101), handled=sat)[101].word == word


def test_a_tool_names_the_contact_and_a_sitting_of_the_same_work_does_not_hide_it() -> None:
    sick = one(102, (ago(days=30), MITE), place=2)
    sat = worked((102, ago(days=5), ago(days=5)), (101, ago(days=4), ago(days=3)))
    both = Handled(tool((102, ago(days=5)), (101, ago(days=4))).touches, worked=sat.worked)
    assert told(sick, one(101), handled=both)[101].why.startswith("cutter A came from 102")
    earlier = Handled(tool((102, ago(days=5)), (101, ago(days=4) - SECOND)).touches, worked=sat.worked)
    assert told(sick, one(101), handled=earlier)[101].why.startswith("worked on after 102")


def test_three_plants_at_most_are_named_of_one_exposure() -> None:
    sick = [one(number, (ago(days=30), MITE)) for number in (102, 103, 104, 105)]
    assert len(told(*sick, one(101))[101].statuses[0].sources) == 3


@pytest.mark.parametrize(("days", "word"), [(0, "newcomer"), (41, "newcomer"), (42, "clear")])
def test_a_plant_never_set_apart_is_a_newcomer_for_the_days_of_the_house(days: int, word: str) -> None:
    found = told(one(101, (ago(days=days), Arrived())))[101]
    assert found.word == word
    if word == "newcomer":
        assert found.earliest == (NOW + timedelta(days=42 - days)).date()
        assert found.why == f"arrived {'today' if days == 0 else '41 days ago'} and was never in an isolation place"


def test_yesterday_is_told_as_one_day() -> None:
    assert told(one(101, (ago(days=1), Arrived())))[101].why.startswith("arrived 1 day ago")


@pytest.mark.parametrize(("out", "word"), [(41, "newcomer"), (42, "clear"), (43, "clear")])
def test_out_of_isolation_a_day_too_early_is_told_and_on_its_day_not(out: int, word: str) -> None:
    came = ago(days=60)
    moves = ((came, Arrived()), (came, Placed(APART, 1.0)), (came + timedelta(days=out), Placed(1, 1.0)))
    found = told(one(101, *moves))[101]
    assert found.word == word
    if word == "newcomer":
        assert found.why == "taken out of isolation on day 41 of 42, not released"
        assert since(found) == came + timedelta(days=41)


@pytest.mark.parametrize(("came", "word"), [(179, "newcomer"), (180, "clear")])
def test_one_that_left_too_early_is_told_until_the_trace_days_are_over(came: int, word: str) -> None:
    moves = ((ago(days=came), Arrived()), (ago(days=came), Placed(APART, 1.0)), (ago(days=came - 9), Placed(1, 1.0)))
    assert told(one(101, *moves))[101].word == word


def test_only_a_way_out_after_it_came_is_a_way_out_too_early() -> None:
    before = ((ago(days=90), Placed(APART, 1.0)), (ago(days=80), Placed(1, 1.0)), (ago(days=60), Arrived()))
    assert told(one(101, *before))[101].word == "clear"


@pytest.mark.parametrize(("released", "word"), [(ago(days=20), "clear"), (ago(days=20) - SECOND, "newcomer")])
def test_a_release_counts_from_the_moment_it_came(released: datetime, word: str) -> None:
    there = (ago(days=20), Placed(APART, 1.0))
    assert told(one(101, there, (released, Released("looked well")), place=APART))[101].word == word
    arrived = (ago(days=20), Arrived())
    assert told(one(101, arrived, (released, Released("looked well"))))[101].word == word


@pytest.mark.parametrize(("released", "word"), [(ago(days=5), "clear"), (ago(days=5) - SECOND, "exposed")])
def test_a_release_ends_an_exposure_that_was_over_by_then(released: datetime, word: str) -> None:
    sick, handled = one(102, (ago(days=30), MITE), place=2), tool((102, ago(days=6)), (101, ago(days=5)))
    for what in ("", "flat-mite"):
        assert told(sick, one(101, (released, Released("", what))), handled=handled)[101].word == word
    assert told(sick, one(101, (ago(days=1), Released("", "thrips"))), handled=handled)[101].word == "exposed"


def test_a_release_ends_no_exposure_that_goes_on() -> None:
    assert told(one(102, (ago(days=30), MITE)), one(101, (NOW, Released())))[101].word == "exposed"


def test_a_release_from_one_thing_leaves_the_other() -> None:
    both = ((ago(days=9), MITE), (ago(days=8), VIRUS), (ago(days=1), Released("tested", "virus-signs")))
    found = told(one(101, *both))[101]
    assert [(status.what, status.word) for status in found.statuses] == [("flat-mite", "infested")]


@pytest.mark.parametrize(("freed", "word"), [(ago(days=5), "clear"), (ago(days=5) + SECOND, "exposed")])
def test_a_virus_passes_until_the_release_and_no_longer(freed: datetime, word: str) -> None:
    sick = one(102, (ago(days=30), VIRUS), (freed, Released("tested", "virus-signs")), place=2)
    assert told(sick, one(101), handled=tool((102, ago(days=5)), (101, ago(days=4))))[101].word == word


@pytest.mark.parametrize(("last", "word"), [(19, "under watch"), (18, "clear")])
def test_a_find_is_over_with_a_look_on_its_last_day_and_not_the_day_before(last: int, word: str) -> None:
    looks = ((ago(days=60), MITE), (ago(days=59), WASH), (ago(days=40), CLEAN), (ago(days=last), CLEAN))
    assert told(one(101, *looks))[101].word == word


@pytest.mark.parametrize(("apart", "word"), [(4, "under treatment"), (5, "under watch")])
def test_a_second_look_counts_on_the_day_it_may(apart: int, word: str) -> None:
    looks = ((ago(days=40), MITE), (ago(days=39), WASH), (ago(days=20), CLEAN), (ago(days=20 - apart), CLEAN))
    assert told(one(101, *looks))[101].word == word


@pytest.mark.parametrize(("after", "counted"), [(6, 0), (7, 1)])
def test_a_look_counts_on_the_day_a_wash_no_longer_masks_it(after: int, counted: int) -> None:
    looks = ((ago(days=40), MITE), (ago(days=20), WASH), (ago(days=20 - after), CLEAN))
    assert told(one(101, *looks))[101].statuses[0].counted == counted


FOUND = (ago(days=60), MITE)


@pytest.mark.parametrize(("written", "next"), [
    ((FOUND, (ago(days=59), WASH), (ago(days=40), CLEAN), (ago(days=30), CLEAN)),
     "a last clean look on or after 18 Nov"),
    ((FOUND, (ago(days=59), WASH), (ago(days=10), CLEAN)),
     "1 more clean look at least 5 days apart; clear on 18 Nov at the earliest"),
    ((FOUND, (ago(days=59), WASH), (ago(days=4), CLEAN)),
     "1 more clean look at least 5 days apart, the next counts from 19 Nov; clear on 19 Nov at the earliest"),
    ((FOUND, (ago(days=59), WASH)), "2 more clean looks at least 5 days apart; clear on 23 Nov at the earliest"),
    ((FOUND, (ago(days=2), WASH)),
     "2 more clean looks at least 5 days apart, the next counts from 23 Nov; clear on 28 Nov at the earliest"),
    ((FOUND,), "wash it and keep it apart; clear on 30 Nov at the earliest")])
def test_what_must_happen_is_said_with_its_day(written: tuple[Written, ...], next: str) -> None:
    assert told(one(101, *written))[101].next == next


@pytest.mark.parametrize(("washes", "words"), [
    ((50,), "treated once since, 0 of 2 clean looks"), ((50, 40), "treated 2 times since, 0 of 2 clean looks")])
def test_how_often_it_was_treated_is_said(washes: tuple[int, ...], words: str) -> None:
    assert told(one(101, FOUND, *((ago(days=days), WASH) for days in washes)))[101].why.endswith(words)


def test_what_is_over_is_not_told_beside_what_is_not() -> None:
    cured = ((ago(days=100), MITE), (ago(days=90), WASH), (ago(days=60), CLEAN), (ago(days=50), CLEAN))
    found = told(one(101, *cured, (ago(days=3), Sighted("mealybug"))))[101]
    assert found.why == "mealybug seen on 15 Nov 2026, not treated since"
    assert [status.word for status in found.statuses] == ["infested", "clear"]


def test_a_plant_cured_of_it_can_be_exposed_to_it_again() -> None:
    cured = ((ago(days=100), MITE), (ago(days=90), WASH), (ago(days=60), CLEAN), (ago(days=50), CLEAN))
    found = told(one(101, *cured), one(102, (ago(days=3), MITE)))[101]
    assert [status.word for status in found.statuses] == ["exposed", "clear"]


@pytest.mark.parametrize(("looks", "needed", "words"), [
    ((), 2, "day 30, 0 of 2 clean looks"), ((20,), 2, "day 30, 1 of 2 clean looks"),
    ((20, 10), 2, "day 30, 2 clean looks"), ((20,), 1, "day 30, 1 clean look")])
def test_in_isolation_the_looks_that_count_are_told(looks: tuple[int, ...], needed: int, words: str) -> None:
    there = one(101, (ago(days=30), Placed(APART, 1.0)), *((ago(days=days), CLEAN) for days in looks), place=APART)
    found = told(there, rules=HouseRules(clean_looks=needed))[101]
    assert found.why.endswith(words)
    assert found.next == "look at it weekly; release on 30 Nov at the earliest"
