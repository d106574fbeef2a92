"""Repeats of a pest wash by the published interval."""

from __future__ import annotations

from datetime import datetime, timedelta

from greenhouse_desk.domain import care
from greenhouse_desk.domain.care import CareKind
from greenhouse_desk.domain.journal import Facts, Looked, Reply, Sighted
from greenhouse_desk.domain.pests import Repeat
from greenhouse_desk.domain.settings import HouseRules
from tests.builders import NOW, ago
from tests.domain.care_asking import LONDON, MITES, WASH, answered, days, owed, pest, text, told

MITE = Sighted("two-spotted-mite", count=5)
MEALY = Sighted("mealybug")
BOTH = {**MITES, "mealybug": pest("mealybug", Repeat(10, 14, 2, 3, "another published interval"))}


def test_a_wash_after_a_sighting_is_repeated_by_the_published_interval() -> None:
    (again,) = owed(told((ago(days=1), MITE), (ago(), WASH)), CareKind.WASH_REPEAT)
    assert days((again,)) == [4]
    assert (again.latest, again.opens) == (care.day_of(ago(days=-5), LONDON, HouseRules()), again.due)
    assert "a published interval" in text(again)
    assert "two spotted mite seen 1 time, last on 17 Nov" in text(again)
    assert care.words(again, NOW, LONDON).text == "repeat wash 22 Nov"


def test_another_interval_gives_another_window_and_another_reasoning() -> None:
    slower = {"two-spotted-mite": pest("two-spotted-mite", Repeat(7, 9, 3, 3, "a cooler room's"))}
    (again,) = owed(told((ago(days=1), MITE), (ago(), WASH)), CareKind.WASH_REPEAT, pests=slower)
    assert days((again,)) == [7]
    assert "7 to 9 days apart" in text(again)
    assert "a cooler room's" in text(again)


def test_no_sighting_or_no_published_interval_owes_no_repeat() -> None:
    assert owed(told((ago(), WASH)), CareKind.WASH_REPEAT) == ()
    assert owed(told((ago(days=1), Sighted("little green ones")), (ago(), WASH)), CareKind.WASH_REPEAT) == ()
    assert owed(told((ago(days=1), MITE), (ago(), WASH)), CareKind.WASH_REPEAT, pests={}) == ()
    no_interval = {"two-spotted-mite": pest("two-spotted-mite", None)}
    assert owed(told((ago(days=1), MITE), (ago(), WASH)), CareKind.WASH_REPEAT, pests=no_interval) == ()


def test_an_old_sighting_does_not_count_against_a_new_wash() -> None:
    assert owed(told((ago(days=91), MITE), (ago(), WASH)), CareKind.WASH_REPEAT) == ()
    assert owed(told((ago(days=89), MITE), (ago(), WASH)), CareKind.WASH_REPEAT)
    assert owed(told((ago(days=91), MITE), (ago(), WASH)), CareKind.WASH_REPEAT, rules=HouseRules(sighting_days=100))


def test_the_course_ends_after_the_published_number_of_washes() -> None:
    two = told((ago(days=9), MITE), (ago(days=4), WASH), (ago(), WASH))
    assert days(owed(two, CareKind.WASH_REPEAT)) == [4]
    assert "has had 2" in text(owed(two, CareKind.WASH_REPEAT)[0])
    assert owed(told((ago(days=9), MITE), (ago(days=8), WASH), (ago(days=4), WASH), (ago(), WASH)),
                CareKind.WASH_REPEAT) == ()


def test_past_the_least_number_a_clean_look_ends_it_and_a_find_does_not() -> None:
    course: list[tuple[datetime, Facts]] = [(ago(days=25), MEALY), (ago(days=20), WASH), (ago(days=9), WASH)]
    assert owed(told(*course), CareKind.WASH_REPEAT, pests=BOTH)
    masked = (ago(days=9) + timedelta(hours=2), Looked(True))
    assert owed(told(*course, masked), CareKind.WASH_REPEAT, pests=BOTH), "so soon after a wash a look tells nothing"
    assert owed(told(*course, (ago(days=1), Looked(True))), CareKind.WASH_REPEAT, pests=BOTH) == ()
    assert owed(told(*course, (ago(days=2), Looked(True)), (ago(days=1), MEALY)), CareKind.WASH_REPEAT, pests=BOTH)


def test_two_washes_on_one_day_are_one_and_long_apart_are_two_courses() -> None:
    same = told((ago(days=1), MITE), (ago(hours=3), WASH), (ago(hours=2), WASH), (ago(hours=1), WASH))
    assert "has had 1" in text(owed(same, CareKind.WASH_REPEAT)[0])
    apart = told((ago(days=40), MITE), (ago(days=39), WASH), (ago(), WASH))
    assert "has had 1" in text(owed(apart, CareKind.WASH_REPEAT)[0])


def test_several_pests_share_the_tightest_window() -> None:
    (one,) = owed(told((ago(days=1), MITE), (ago(days=1), MEALY), (ago(), WASH)), CareKind.WASH_REPEAT, pests=BOTH)
    assert days((one,)) == [4]
    assert "mealybug and two spotted mite" in one.what
    assert "another published interval" in text(one)


def test_answers_put_off_and_end_it() -> None:
    seen: list[tuple[datetime, Facts]] = [(ago(days=5), MITE), (ago(days=4), WASH)]
    (again,) = owed(told(*seen), CareKind.WASH_REPEAT)
    moved = told(*seen, answered(again, Reply.PUT_OFF, ago(), days=3))
    assert days(owed(moved, CareKind.WASH_REPEAT)) == [3]
    declined = told(*seen, answered(again, Reply.DECLINED, ago(), reason="in bud"))
    assert owed(declined, CareKind.WASH_REPEAT) == ()
