"""Washes dated by the place's own temperatures, with their reasons; and the first wash that was never given."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from greenhouse_desk.domain.care import Care, CareKind
from greenhouse_desk.domain.journal import Facts, Looked, Reply, Sighted, Step
from greenhouse_desk.domain.journal_words import NOT_TRIED
from greenhouse_desk.domain.pests import Repeat
from greenhouse_desk.domain.pests_climate import Climate, climate
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.services.shelf import shelf
from tests.builders import NOW, ago
from tests.domain.care_asking import LONDON, MITES, WASH, answered, days, owed, pest, text, told

SHIPPED = shelf(None).pests
THRIPS, MITE, MEALY, APHID = (Sighted(key) for key in ("thrips", "two-spotted-mite", "mealybug", "aphid"))
Told = list[tuple[datetime, Facts]]


def read(low: float, high: float, back: int = 9, place: str = "East sill", asked: str = "") -> Climate:
    """Two readings a day for so many days back, the newest an hour old."""
    taken = [(ago(days=day, hours=part), temp) for day in range(back, -1, -1) for part, temp in ((7, low), (1, high))]
    found = climate(taken, NOW.date(), LONDON, place, asked)
    assert found is not None
    return found


def repeat(written: Told, around: Climate | None, now: datetime = NOW) -> Care:
    (found,) = owed(told(*written), CareKind.WASH_REPEAT, now=now, pests=SHIPPED, climate=around)
    return found


def test_thrips_are_washed_again_sooner_where_it_is_warmer() -> None:
    seen: Told = [(ago(days=1), THRIPS), (ago(), WASH)]
    assert [days((repeat(seen, read(low, low + 5)),)) for low in (16.0, 17.5, 20.0)] == [[5], [4], [3]]


def test_two_species_of_thrips_give_a_span_inside_the_published_days_and_that_is_said() -> None:
    seen: Told = [(ago(days=1), THRIPS), (ago(), WASH)]
    for temp, window, said in ((16.0, (5, 5), "Worked out: 14 days after a wash, later than is published, so 5 days."),
                               (20.0, (4, 5), "Worked out: 4 days after a wash, so 4 to 5 days."),
                               (26.0, (3, 5), "Worked out: 2 days after a wash, sooner than is published")):
        again = repeat(seen, read(temp, temp))
        assert tuple(days((replace(again, due=moment or NOW),))[0] for moment in (again.due, again.latest)) == window
        assert said in text(again)
        assert "which species sits here is not known" in text(again)
        assert "published: 3 to 5 times in 10 days" in text(again)


def test_a_new_reading_moves_the_date() -> None:
    seen: Told = [(ago(days=1), THRIPS), (ago(hours=2), WASH)]
    before = [(ago(days=1), 18.0)]
    after = [*before, (ago(hours=1), 24.0)]
    dates = [repeat(seen, climate(taken, NOW.date(), LONDON, "East sill")).due for taken in (before, after)]
    assert dates[0] > dates[1]


def test_the_reasons_show_readings_age_temperatures_formula_result_and_source() -> None:
    why = text(repeat([(ago(days=6), THRIPS), (ago(days=2), WASH)], read(17.5, 22.5)))
    for words in ("20 readings at East sill, the newest 1 h old (18 Nov 14:30)", "from 17.5 to 22.5 C",
                  "on a sine from its low to its high", "hatches after 9.2 days: egg 78 degree-days above 11.5 C",
                  "can lay after 4.8 days", "measured at 16 to 31 C", "from egg to adult takes 18.5 to 22.1 days",
                  "before those can lay", "until the last egg laid before the first has hatched",
                  "this course has had 1", "Edelson and Magaro 1988", "melon thrips", "McDonald, Bale and Walters 1998",
                  "air readings of East sill"):
        assert words in why, words


def test_gaps_single_readings_and_a_borrowed_place_are_said() -> None:
    taken = [(ago(days=4), 20.0), (ago(days=2), 20.0), (ago(days=1, hours=5), 18.0), (ago(days=1), 21.0)]
    around = climate(taken, NOW.date(), LONDON, "Landing", "Stair ledge")
    why = text(repeat([(ago(days=6), THRIPS), (ago(days=4), WASH)], around))
    assert "Stair ledge has no readings of its own lately. 4 readings at Landing, the newest 24 h old" in why
    assert "No reading on 2 of the 5 days since the wash: a usual day of the last 14 days stands in" in why
    assert "A single reading on 2 of the days: taken as the same all day" in why
    assert "For the days to come" in text(repeat([(ago(days=6), THRIPS), (ago(days=2), WASH)], read(17.5, 22.5)))


def test_mites_at_20_c_are_told_that_the_constants_do_not_reach() -> None:
    again = repeat([(ago(days=1), MITE), (ago(), WASH)], read(18.0, 22.0))
    published = SHIPPED["two-spotted-mite"].repeat
    assert published is not None
    assert days((again,)) == [published.low]
    assert "Outside the measured temperatures: 18.0 to 22.0 C on 18 Nov, egg measured at 26 to 30 C." in text(again)
    assert "For two-spotted mite the usual interval is used" in text(again)
    assert published.source in text(again)


def test_mites_in_the_heat_follow_it() -> None:
    seen: Told = [(ago(days=1), MITE), (ago(), WASH)]
    assert days((repeat(seen, read(26.0, 26.0)),)) == [5]
    assert days((repeat(seen, read(30.0, 30.0)),)) == [4]


def test_without_readings_the_published_interval_stands_and_says_so() -> None:
    again = repeat([(ago(days=1), THRIPS), (ago(), WASH)], None)
    assert days((again,)) == [3]
    assert "No temperature was read around this plant lately." in text(again)
    assert "readings at" not in text(again)


def test_an_old_wash_is_no_longer_dated_by_temperatures() -> None:
    """Readings are fetched 60 days back: what was not fetched must not be called a gap."""
    seen: Told = [(ago(days=62), THRIPS), (ago(days=61), WASH)]
    (old,) = owed(told(*seen), CareKind.WASH_REPEAT, pests=SHIPPED, climate=read(17.5, 22.5),
                  rules=HouseRules(lapse_days=90))
    assert "readings at" not in text(old)
    (newer,) = owed(told(*seen), CareKind.WASH_REPEAT, now=NOW - timedelta(days=2), pests=SHIPPED,
                    climate=read(17.5, 22.5), rules=HouseRules(lapse_days=90))
    assert "readings at" in text(newer)


def test_mealybugs_keep_the_published_interval_and_say_what_is_missing() -> None:
    again = repeat([(ago(days=1), MEALY), (ago(), WASH)], read(20.0, 20.0))
    assert days((again,)) == [10]
    assert "How long its eggs take was not measured" in text(again)
    assert "One that hatches just after it can lay after 64.1 days" in text(again)


def test_aphids_are_washed_twice_by_their_nymphs_though_no_interval_is_published() -> None:
    seen: Told = [(ago(days=8), APHID), (ago(days=7), WASH)]
    again = repeat(seen, read(20.0, 20.0))
    assert days((again,)) == [0]
    assert "The studies span 7.7 to 7.9 days" in text(again)
    assert owed(told(*seen), CareKind.WASH_REPEAT, pests=SHIPPED) == ()
    assert owed(told(*seen, (ago(), WASH)), CareKind.WASH_REPEAT, pests=SHIPPED, climate=read(20.0, 20.0)) == ()


def test_seen_again_after_a_whole_course_the_next_wash_begins_another() -> None:
    course: Told = [(ago(days=20), MITE), (ago(days=12), WASH), (ago(days=8), WASH), (ago(days=4), WASH)]
    again: Told = [*course, (ago(days=2), MITE), (ago(), WASH)]
    assert owed(told(*course, (ago(), WASH)), CareKind.WASH_REPEAT) == (), "a fourth wash, nothing seen: it is over"
    (found,) = owed(told(*again), CareKind.WASH_REPEAT)
    assert "has had 1" in text(found)


def first(*written: tuple[datetime, Facts], now: datetime = NOW) -> tuple[Care, ...]:
    return owed(told(*written), CareKind.FIRST_WASH, now=now, pests=TWO)


TWO = {**MITES, "mealybug": pest("mealybug", Repeat(10, 14, 2, 3, "another published interval"))}


def test_a_pest_seen_and_not_washed_owes_one_first_wash_two_days_later() -> None:
    (wash,) = first((ago(hours=1), MITE))
    assert days((wash,)) == [2]
    assert wash.what == "Wash against two spotted mite, or decline it"
    assert "No wash and no clean look is written down since." in text(wash)
    assert "First wash after a pest is seen: 2 days" in text(wash)
    rules = HouseRules(first_wash_days=5)
    (later,) = owed(told((ago(hours=1), MITE)), CareKind.FIRST_WASH, rules=rules)
    assert days((later,)) == [5]


def test_seen_again_it_is_still_one_care_counted_from_the_first_sighting() -> None:
    (wash,) = first((ago(days=3), MITE), (ago(days=1), MITE), (ago(), Sighted("mealybug")))
    assert days((wash,)) == [-1]
    assert wash.what.startswith("Wash against mealybug and two spotted mite")


@pytest.mark.parametrize("after", [WASH, Looked(True)])
def test_a_wash_or_a_clean_look_ends_it(after: Facts) -> None:
    assert first((ago(days=7), MITE), (ago(days=2), after)) == ()
    assert first((ago(days=7), MITE), (ago(days=2), after), (ago(days=1), MITE)) or after is WASH


@pytest.mark.parametrize(("apart", "owed_still"), [(0, True), (4, True), (5, False)])
def test_a_clean_look_too_soon_after_the_sighting_to_count_ends_no_wash(apart: int, owed_still: bool) -> None:
    """The same days apart that quarantine asks for, so that both say the same of the plant."""
    looked = (ago(days=6 - apart, hours=-1), Looked(True))
    assert bool(first((ago(days=6), MITE), looked)) is owed_still


def test_a_wash_of_the_same_day_counts_even_when_written_first() -> None:
    course: Told = [(ago(days=8), WASH), (ago(days=4), WASH), (ago(hours=2), WASH)]
    assert first((ago(days=9), MITE), *course, (ago(hours=1), MITE)) == ()
    assert owed(told((ago(days=9), MITE), *course, (ago(hours=1), MITE)), CareKind.WASH_REPEAT) == ()
    assert first((ago(hours=2), Looked(False)), (ago(hours=1), MITE))


def test_a_course_that_goes_on_owes_the_repeat_and_no_first_wash_beside_it() -> None:
    running = ((ago(days=9), MITE), (ago(days=3), WASH), (ago(days=1), MITE))
    assert first(*running) == ()
    assert owed(told(*running), CareKind.WASH_REPEAT)
    over = ((ago(days=20), MITE), (ago(days=12), WASH), (ago(days=8), WASH), (ago(days=4), WASH), (ago(days=1), MITE))
    assert days(first(*over)) == [1]


def test_declined_it_is_not_asked_again_in_that_spell_but_in_the_next() -> None:
    seen: Told = [(ago(days=8), MITE)]
    (wash,) = first(*seen)
    declined = [*seen, answered(wash, Reply.DECLINED, ago(days=7), reason="wiped off")]
    assert first(*declined) == ()
    assert first(*declined, (ago(days=2), MITE)) == (), "seen again, declined already"
    assert first(*declined, (ago(days=3), Looked(True)), (ago(days=2), MITE)), "clean in between: another spell"
    (other,) = first(*declined, (ago(days=2), Sighted("mealybug")))
    assert "mealybug" in other.what
    assert "mite" not in other.what


def test_put_off_it_waits_and_unanswered_it_lapses() -> None:
    (wash,) = first((ago(days=5), MITE))
    moved = first((ago(days=5), MITE), answered(wash, Reply.PUT_OFF, ago(), days=3))
    assert days(moved) == [3]
    assert first((ago(days=33), MITE)) == ()
    assert first((ago(days=31), MITE))


def test_what_has_no_published_repeat_owes_no_first_wash() -> None:
    assert first((ago(days=1), Sighted("little green ones"))) == ()
    assert owed(told((ago(days=1), APHID)), CareKind.FIRST_WASH, pests=SHIPPED) == ()
    assert owed(told((ago(days=1), Sighted("soft-rot"))), CareKind.FIRST_WASH, pests=SHIPPED) == ()
    silent = {"two-spotted-mite": replace(MITES["two-spotted-mite"], repeat=None)}
    assert owed(told((ago(days=1), MITE)), CareKind.FIRST_WASH, pests=silent) == ()


def test_a_later_now_makes_the_newest_reading_older() -> None:
    around = read(17.5, 22.5)
    why = text(repeat([(ago(days=1), THRIPS), (ago(), WASH)], around, now=NOW + timedelta(days=3)))
    assert "the newest 3 days old" in why
    assert "No reading on 3 of the 4 days since the wash" in why
    assert "the newest 20 min old" in text(repeat([(ago(days=1), THRIPS), (ago(hours=2), WASH)], around,
                                                  now=NOW - timedelta(minutes=40)))


LEFT_OUT = Step(f"Left out: Wash leaves and axils: {NOT_TRIED}")


def test_a_wash_left_out_for_a_drop_to_be_tried_is_due_two_days_after_the_drop() -> None:
    (wash,) = first((ago(days=9), MITE), (ago(hours=1), LEFT_OUT))
    assert days((wash,)) == [2]
    assert "mite" in wash.what
    assert "the wash was left out, a drop put on one leaf" in text(wash)
    (unseen,) = first((ago(days=1), LEFT_OUT))
    assert days((unseen,)) == [1]
    assert unseen.what == "Give the wash that was left out, or decline it"
    assert first((ago(days=1), LEFT_OUT), (ago(), WASH)) == ()
    assert first((ago(days=1), LEFT_OUT), answered(unseen, Reply.DECLINED, ago(), reason="pale spot")) == ()
    assert first((ago(days=1), Step("Left out: Wash leaves and axils: it is not at hand"))) == ()


def test_a_repeat_left_out_stays_owed_as_a_repeat() -> None:
    written = ((ago(days=9), MITE), (ago(days=4), WASH), (ago(hours=1), LEFT_OUT))
    assert first(*written) == ()
    assert owed(told(*written), CareKind.WASH_REPEAT)
