"""The repeat window worked out from temperatures: what is waited for, what is missing, what cannot be told."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from greenhouse_desk.domain.figures import Span
from greenhouse_desk.domain.pests import Covers, Pest, Repeat, Thermal
from greenhouse_desk.domain.pests_climate import Climate, climate
from greenhouse_desk.domain.pests_repeat import interval
from greenhouse_desk.services.shelf import shelf
from tests.domain.care_asking import pest

NOON = datetime(2026, 11, 18, 12, tzinfo=UTC)
STUDY = "published: a study"
SHIPPED = shelf(None).pests


def thermal(covers: Covers, dd: float, source: str = STUDY) -> Thermal:
    return Thermal(covers.value, covers, dd, 10.0, Span(12.0, 30.0), source)


def steady(temp_c: float) -> Climate:
    found = climate([(NOON, temp_c)], NOON.date(), UTC, "bench")
    assert found is not None
    return found


SLOW = replace(pest("slow", Repeat(9, 12, 2, 4, "published: a sheet")),
               thermal=(thermal(Covers.EGG, 48.0), thermal(Covers.YOUNG, 63.0)))
"""At 20 C eggs take 4.8 days, and from hatching to adult it is 6.3."""


def test_the_next_wash_waits_for_the_last_old_egg_and_not_for_the_first_young_to_lay() -> None:
    found = interval(SLOW, steady(20.0), NOON, UTC)
    assert found is not None
    assert (found.low, found.high, found.least, found.most, found.derived) == (5, 6, 3, 3, True)


def test_where_eggs_outlast_the_young_more_washes_follow_closer() -> None:
    long_eggs = replace(SLOW, thermal=(thermal(Covers.EGG, 150.0), thermal(Covers.YOUNG, 41.0)))
    found = interval(long_eggs, steady(20.0), NOON, UTC)
    assert found is not None
    assert (found.low, found.high) == (4, 4), "before day 4.1, though eggs hatch until day 15"
    assert (found.least, found.most) == (6, 6), "day 0, and every 4 days past day 15, and one more"


def test_a_full_day_is_kept_before_the_first_can_lay() -> None:
    exact = replace(SLOW, thermal=(thermal(Covers.EGG, 30.0), thermal(Covers.YOUNG, 60.0)))
    found = interval(exact, steady(20.0), NOON, UTC)
    assert found is not None
    assert (found.low, found.high) == (3, 5)


@pytest.mark.parametrize(("cooler", "warmer"), [(16.0, 18.0), (18.0, 20.0), (20.0, 23.0), (23.0, 27.0)])
def test_warmth_shortens_the_shipped_steps(cooler: float, warmer: float) -> None:
    cool, warm = (interval(SHIPPED["aphid"], steady(temp), NOON, UTC) for temp in (cooler, warmer))
    assert cool is not None
    assert warm is not None
    assert cool.derived
    assert warm.derived
    assert cool.high > warm.high


@pytest.mark.parametrize("temp", [16.0, 17.0, 18.0, 19.0, 20.0, 21.0, 22.0, 23.0, 24.0, 26.0, 28.0])
def test_thrips_never_leave_the_published_interval(temp: float) -> None:
    """Published: 3 to 5 times in 10 days, three to five days apart, UF/IFAS and MSU Extension."""
    found = interval(SHIPPED["thrips"], steady(temp), NOON, UTC)
    assert found is not None
    assert found.derived
    assert 3 <= found.low <= found.high == 5
    assert 3 <= found.least <= found.most <= 5


@pytest.mark.parametrize(("temp", "day", "worked_out"), [
    (16.0, 5, "14 days after a wash, later than is published, so 5 days."),
    (19.5, 5, "5 days after a wash, so 5 days."),
    (20.0, 4, "4 days after a wash, so 4 to 5 days."), (22.5, 3, "3 days after a wash, so 3 to 5 days."),
    (26.0, 3, "2 days after a wash, sooner than is published, so 3 to 5 days.")])
def test_inside_it_they_follow_the_temperatures_and_say_what_was_held(temp: float, day: int, worked_out: str) -> None:
    found = interval(SHIPPED["thrips"], steady(temp), NOON, UTC)
    assert found is not None
    assert found.low == day
    why = " ".join(found.held)
    assert "of onion thrips and melon thrips, and which species sits here is not known: they give a span" in why
    assert f"Worked out: {worked_out}" in why


MIXED = replace(SLOW, repeat=Repeat(3, 5, 3, 4, "published: a sheet"), comes_out=True, thermal=(
    *(replace(one, species="onion thrips") for one in SLOW.thermal),
    replace(thermal(Covers.BEFORE_EGGS, 45.0, "published: another study"), species="melon thrips")))
"""Eggs 4.8 days at 20 C, and 4.5 until what comes out can lay."""


def test_the_number_of_washes_is_held_to_the_published_one_too() -> None:
    found = interval(MIXED, steady(20.0), NOON, UTC)
    assert found is not None
    assert (found.low, found.high, found.least, found.most) == (4, 5, 3, 4), "2 and the eggs' 4.8 days over 5 or 4"
    assert len(found.held) == 2, "nothing to say of the number"
    short, long = (replace(MIXED, thermal=(replace(MIXED.thermal[0], degree_days=dd), *MIXED.thermal[1:]))
                   for dd in (25.0, 250.0))
    few = interval(replace(short, repeat=Repeat(3, 5, 4, 5, "published: a sheet")), steady(20.0), NOON, UTC)
    many = interval(long, steady(20.0), NOON, UTC)
    assert few is not None
    assert many is not None
    assert (few.least, few.most) == (4, 4)
    until = "Worked out until the last egg has hatched:"
    assert few.held[-1] == f"{until} 3 washes. Published are 4 to 5 washes, so 4 washes."
    assert (many.least, many.most) == (4, 4)
    assert many.held[-1] == (f"{until} 7 to 9 washes. Published are 3 to 4 washes, so 4 washes. "
                             "An egg may hatch after the last of them.")


def test_constants_of_one_species_are_not_held() -> None:
    one = replace(MIXED, thermal=tuple(replace(each, species="melon thrips") for each in MIXED.thermal),
                  repeat=Repeat(9, 12, 8, 9, "published: a sheet"))
    found = interval(one, steady(20.0), NOON, UTC)
    assert found is not None
    assert (found.low, found.high, found.least, found.most, found.held) == (4, 4, 4, 4, ())
    unpublished = interval(replace(MIXED, repeat=None), steady(20.0), NOON, UTC)
    assert unpublished is not None
    assert (unpublished.low, unpublished.held) == (4, ()), "nothing to hold them to"


def test_two_studies_of_the_egg_make_a_span_of_washes() -> None:
    two = replace(SLOW, thermal=(*SLOW.thermal, thermal(Covers.EGG, 95.0, "published: another study")))
    found = interval(two, steady(20.0), NOON, UTC)
    assert found is not None
    assert (found.low, found.high, found.least, found.most) == (6, 6, 3, 4)


def test_a_pest_that_comes_out_of_the_medium_grown_up_is_washed_before_those_lay() -> None:
    lays = thermal(Covers.BEFORE_EGGS, 25.0, "published: another study")
    hidden = replace(SLOW, comes_out=True, thermal=(*SLOW.thermal, lays))
    found = interval(hidden, steady(20.0), NOON, UTC)
    assert found is not None
    assert (found.low, found.high) == (2, 2)
    unknown = interval(replace(SLOW, comes_out=True), steady(20.0), NOON, UTC)
    assert unknown is not None
    assert (unknown.derived, unknown.missing) == (False, "How soon it can lay was not measured in the studies found.")


def test_a_pest_that_bears_young_has_no_eggs_to_wait_for() -> None:
    bearing = replace(SLOW, bears_young=True, thermal=(thermal(Covers.YOUNG, 75.0),))
    found = interval(bearing, steady(20.0), NOON, UTC)
    assert found is not None
    assert (found.low, found.high, found.least, found.most) == (7, 7, 2, 2)


def published(of: Pest, around: Climate | None) -> str:
    """What is missing, once the published interval was found to be used."""
    found = interval(of, around, NOON, UTC)
    assert found is not None
    assert (found.low, found.high, found.least, found.most, found.derived) == (9, 12, 2, 4, False)
    return found.missing


def test_the_published_interval_stands_where_nothing_reaches_and_says_why() -> None:
    assert published(replace(SLOW, thermal=()), steady(20.0)) == "No thermal constants of it are known."
    assert published(SLOW, None) == "No temperature was read around this plant lately."
    assert published(SLOW, steady(11.0)) == (
        "Outside the measured temperatures: 11.0 C on 18 Nov, egg measured at 12 to 30 C.")
    assert "30.5 C" in published(SLOW, steady(30.5))
    eggless = replace(SLOW, thermal=(thermal(Covers.YOUNG, 63.0),))
    assert published(eggless, steady(20.0)) == "How long its eggs take was not measured in the studies found."
    cold = Thermal("egg", Covers.EGG, 50.0, 10.0, Span(5.0, 30.0), STUDY)
    assert published(replace(SLOW, thermal=(cold, replace(cold, covers=Covers.YOUNG))), steady(9.0)) == (
        "At these temperatures it does not develop.")


def test_a_gap_after_the_wash_is_met_by_a_usual_day_and_named_so() -> None:
    cool = climate([(NOON - timedelta(days=2), 11.0)], NOON.date(), UTC, "bench")
    assert "11.0 C on a usual day" in published(SLOW, cool)


def test_without_constants_and_without_a_publication_there_is_no_interval() -> None:
    assert interval(replace(SLOW, thermal=(), repeat=None), steady(20.0), NOON, UTC) is None
    assert interval(replace(SLOW, repeat=None), steady(11.0), NOON, UTC) is None
    assert interval(replace(SLOW, repeat=None), steady(20.0), NOON, UTC) is not None
