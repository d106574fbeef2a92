"""How long stages take: the studies' constants against the days the same or other studies measured."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta
from typing import Any, cast

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.datafile import MARKS
from greenhouse_desk.domain.faults import OutOfRange
from greenhouse_desk.domain.figures import Span
from greenhouse_desk.domain.pests import Covers, Thermal, days_to_complete
from greenhouse_desk.domain.pests_climate import Climate, climate
from greenhouse_desk.domain.pests_repeat import Interval, interval
from greenhouse_desk.domain.pests_stages import Beyond, stage_days, stretch
from greenhouse_desk.services.shelf import shelf
from tests.outside.published import How, Published

PESTS = shelf(None).pests
NOON = datetime(2026, 11, 18, 12, tzinfo=UTC)

WFT = "McDonald, Bale and Walters 1998, Eur. J. Entomol. 95"
FLORETS = "Jpn. J. Appl. Entomol. Zool. 41(4), 1997, western flower thrips on chrysanthemum florets"
ONION = "Jamieson, Chhagan and Griffin 2012, N. Z. Plant Prot. 65:126"
CUCUMBER = "Deligeorgidis et al. 2006, J. Entomol. 3:61"
MELON = "Yadav and Chang 2014, J. Insect Sci. 14:78, abstract"
AMERICAN = "Effect of temperature on the development of Echinothrips americanus, 16 to 34 C"
MITE = "Egypt. Acad. J. Biol. Sci. A, article 12844"
STRAWBERRY_MITE = "Acarologia 52(2), 2012, Tetranychus turkestani on cucumber"
APHID = "Xia, van der Werf and Rabbinge 1999, Entomol. Exp. Appl. 90:25"
APHID_TOO = "Kersting, Satar and Uygun 1999, J. Appl. Entomol. 123:23"
COTTON_MEALYBUG = "Shehata, Der Pharma Chemica, Phenacoccus solenopsis on okra"
HIBISCUS_MEALYBUG = "Chong, Roda and Mannion 2008, Environ. Entomol. 37:323"
COLEUS = "Goldasteh et al. 2009, Planococcus citri on coleus"
SHEET = "UF/IFAS and MSU Extension, repeats of washes"


def numbers(row: Published) -> tuple[Any, ...]:
    return cast(tuple[Any, ...], row.given)


def steady(temp_c: float) -> Climate:
    """A place that is always this warm."""
    found = climate([(NOON - timedelta(hours=1), temp_c)], NOON.date(), UTC, "bench")
    assert found is not None
    return found


STEADY = [
    # To a hundredth, from the study's own constants.
    Published("western flower thrips, egg to adult at 20 C, days", 22.15, WFT, (268.0, 7.9, 20.0), .005,
              how=How.WORKED_OUT),
    # Measured days against the line fitted through them: its residuals run to 4 % in the middle of the line.
    Published("western flower thrips, egg to adult at 15 C, days", 34.2, FLORETS, (194.0, 9.5, 15.0), .04 * 34.2),
    Published("western flower thrips, egg to adult at 20 C, days", 19.2, FLORETS, (194.0, 9.5, 20.0), .04 * 19.2),
    Published("western flower thrips, egg to adult at 25 C, days", 12.1, FLORETS, (194.0, 9.5, 25.0), .04 * 12.1),
    Published("western flower thrips, egg to adult at 30 C, days", 9.5, FLORETS, (194.0, 9.5, 30.0), .04 * 9.5),
    Published("onion thrips, egg to adult at 30 C, days", 10.3, ONION, (221.0, 8.1, 30.0), .04 * 10.3),
    Published("melon thrips, egg to adult at 31 C, days", 9.6, MELON, (196.1, 11.25, 31.0), .04 * 9.6),
    Published("Echinothrips, egg to adult at 31 C, days", 11.68, AMERICAN, (229.76, 11.35, 31.0), .04 * 11.68),
    Published("strawberry mite, egg to adult at 30 C, days", 7.73, STRAWBERRY_MITE, (140.33, 11.89, 30.0), .04 * 7.73),
    Published("cotton aphid, birth to adult at 15 C, days", 12.0, APHID_TOO, (108.9, 6.2, 15.0), .04 * 12.0),
    Published("cotton aphid, birth to adult at 30 C, days", 4.5, APHID_TOO, (108.9, 6.2, 30.0), .04 * 4.5),
    # "about 29 d" at the temperature of the fastest development: a day either way, and the bend of the curve.
    Published("hibiscus mealybug, egg to adult at 27 C, days", 29.0, HIBISCUS_MEALYBUG, (347.0, 14.5, 27.0), 1.5),
    # Two temperatures only: the line passes through both points.
    Published("cotton mealybug, life cycle at 20 C, days", 65.6, COTTON_MEALYBUG, (774.1, 8.2, 20.0), .05),
    Published("cotton mealybug, life cycle at 30 C, days", 35.51, COTTON_MEALYBUG, (774.1, 8.2, 30.0), .05),
]


@pytest.mark.parametrize("row", STEADY, ids=str)
def test_days_at_a_steady_temperature_are_those_of_the_study(row: Published) -> None:
    assert row.agrees(days_to_complete(*numbers(row)))


CONSTANTS = [
    *(Published(f"{key}, {stage}, {covers.value}: degree-days above C", (constant, threshold), source,
                (key, stage, covers)) for key, stage, covers, constant, threshold, source in (
        ("two-spotted-mite", "egg", Covers.EGG, 63.35, 12.87, MITE),
        ("two-spotted-mite", "larva", Covers.YOUNG, 26.81, 12.92, MITE),
        ("two-spotted-mite", "protonymph", Covers.YOUNG, 30.95, 9.45, MITE),
        ("two-spotted-mite", "deutonymph", Covers.YOUNG, 26.17, 13.94, MITE),
        ("mealybug", "nymph, citrus mealybug", Covers.YOUNG, 401.0, 7.7, "Arai 1996, Jpn. J. Appl. Entomol. Zool. 40"),
        ("mealybug", "adult before it lays, citrus mealybug", Covers.BEFORE_EGGS, 378.0, 8.0,
         "Arai 1996, Jpn. J. Appl. Entomol. Zool. 40"),
        ("mealybug", "egg to adult, citrus mealybug females", Covers.WHOLE, 666.67, 8.5,
         "Karacaoglu and Satar 2017, Turk. J. Entomol. 41:147"),
        ("mealybug", "egg to adult, citrus mealybug males", Covers.WHOLE, 500.0, 9.5,
         "Karacaoglu and Satar 2017, Turk. J. Entomol. 41:147"),
        ("aphid", "nymph I", Covers.YOUNG, 24.2, 8.2, APHID), ("aphid", "nymph II", Covers.YOUNG, 23.7, 8.0, APHID),
        ("aphid", "nymph III", Covers.YOUNG, 23.0, 7.2, APHID), ("aphid", "nymph IV", Covers.YOUNG, 25.5, 6.2, APHID),
        ("aphid", "nymphs I to IV", Covers.YOUNG, 108.9, 6.2, APHID_TOO),
        ("thrips", "egg", Covers.EGG, 78.0, 11.5, "Edelson and Magaro 1988, Southwest. Entomol. 13:171"),
        ("thrips", "larva and resting stages", Covers.YOUNG, 100.0, 11.5,
         "Edelson and Magaro 1988, Southwest. Entomol. 13:171"),
        ("thrips", "adult before it lays, melon thrips", Covers.BEFORE_EGGS, 29.3, 13.91, MELON),
        ("thrips", "egg to adult, onion thrips", Covers.WHOLE, 221.0, 8.1, ONION))),
]


@pytest.mark.parametrize("row", CONSTANTS, ids=str)
def test_the_shipped_constants_are_those_printed_each_with_its_own_threshold(row: Published) -> None:
    key, stage, covers = numbers(row)
    (entry,) = (one for one in PESTS[key].thermal if (one.stage, one.covers) == (stage, covers))
    assert (entry.degree_days, entry.above_c) == row.value


def test_every_constant_has_a_published_source_and_its_measured_temperatures() -> None:
    every = [entry for pest in PESTS.values() for entry in pest.thermal]
    assert len(every) >= 18
    for entry in every:
        assert entry.source.startswith(MARKS)
        assert entry.source.startswith("published: ")
        assert entry.above_c < entry.measured.low < entry.measured.high


@pytest.mark.parametrize("key", ["flat-mite", "soft-brown-scale", "boisduval-scale", "long-tailed-mealybug",
                                 "fungus-gnat", "bush-snail"])
def test_no_constants_are_invented_where_none_were_found(key: str) -> None:
    assert PESTS[key].thermal == ()


SHIPPED = [
    # To a tenth, from the study's own constants.
    Published("two-spotted mite, hatch at 26 C, days", 4.8, MITE, ("two-spotted-mite", Covers.EGG, 26.0), .05,
              how=How.WORKED_OUT),
    Published("two-spotted mite, hatch to adult at 26 C, days", 6.1, MITE, ("two-spotted-mite", Covers.YOUNG, 26.0),
              .05, how=How.WORKED_OUT),
]


@pytest.mark.parametrize("row", SHIPPED, ids=str)
def test_the_shipped_stages_add_up(row: Published) -> None:
    key, covers, temp = numbers(row)
    found = stretch(PESTS[key].thermal, covers, NOON, steady(temp), UTC).span
    assert found is not None
    assert found.low == found.high
    assert row.agrees(found.low)


SUMS = [
    # 146.48 degree-days above 12.5 C for a generation, fitted apart from the stages: they agree within 1 %.
    Published("two-spotted mite, egg to adult at 26 C, days", 146.48 / 13.5, MITE, (26.0,), .1, how=How.WORKED_OUT),
    Published("two-spotted mite, egg to adult at 30 C, days", 146.48 / 17.5, MITE, (30.0,), .1, how=How.WORKED_OUT),
]


@pytest.mark.parametrize("row", SUMS, ids=str)
def test_the_mites_stages_add_up_to_its_generation(row: Published) -> None:
    (temp,) = numbers(row)
    found = stage_days(PESTS["two-spotted-mite"].thermal, NOON, steady(temp), UTC)
    assert isinstance(found, float)
    assert row.agrees(found)


COTTON_APHID = [Published("cotton aphid, nymphs I to IV at 20 C, days", 7.67, APHID, (20.0,), .005,
                          how=How.WORKED_OUT)]


@pytest.mark.parametrize("row", COTTON_APHID, ids=str)
def test_two_studies_of_one_pest_give_a_span(row: Published) -> None:
    (temp,) = numbers(row)
    found = stretch(PESTS["aphid"].thermal, Covers.YOUNG, NOON, steady(temp), UTC).span
    assert found is not None
    assert row.agrees(found.low)
    assert found.high == pytest.approx(108.9 / (temp - 6.2))


INSIDE = [
    Published("western flower thrips on cucumber, egg to adult at 15 C, days", 33.99, CUCUMBER, (15.0,)),
    Published("western flower thrips on cucumber, egg to adult at 30 C, days", 11.99, CUCUMBER, (30.0,)),
    Published("onion thrips on cucumber, egg to adult at 15 C, days", 32.76, CUCUMBER, (15.0,)),
    Published("onion thrips on cucumber, egg to adult at 30 C, days", 11.78, CUCUMBER, (30.0,)),
]


@pytest.mark.parametrize("row", INSIDE, ids=str)
def test_what_a_study_measured_whose_constants_are_not_used_lies_in_the_span_of_the_others(row: Published) -> None:
    (temp,) = numbers(row)
    found = stretch(PESTS["thrips"].thermal, Covers.WHOLE, NOON, steady(temp), UTC).span
    assert found is not None
    assert found.low <= cast(float, row.value) <= found.high


DEADLY = [Published("citrus mealybugs that grow up at 12 C", 0, COLEUS, (12.0,)),
          Published("citrus mealybugs that grow up at 37 C", 0, COLEUS, (37.0,))]


@pytest.mark.parametrize("row", DEADLY, ids=str)
def test_where_all_young_died_nothing_is_told(row: Published) -> None:
    (temp,) = numbers(row)
    for covers in (Covers.YOUNG, Covers.WHOLE):
        found = stretch(PESTS["mealybug"].thermal, covers, NOON, steady(temp), UTC)
        assert len(found.taken) == row.value
        assert found.beyond


REPEATS = [
    Published("washes against two-spotted mite in warmth: days apart, washes", (4, 3),
              "three applications at four days, read on a secondary page", (30.0, "two-spotted-mite")),
    Published("washes against thrips: washes, at most", 5, SHEET, (20.0, "thrips")),
]


def _interval(key: str, temp: float) -> Interval:
    found = interval(PESTS[key], steady(temp), NOON, UTC)
    assert found is not None
    return found


@pytest.mark.parametrize("row", REPEATS[:1], ids=str)
def test_at_30_c_the_mites_repeat_is_the_published_one(row: Published) -> None:
    temp, key = numbers(row)
    found = _interval(key, temp)
    assert found.derived
    assert (found.high, found.most) == row.value


@pytest.mark.parametrize("row", REPEATS[1:], ids=str)
def test_at_20_c_thrips_are_washed_as_often_as_published(row: Published) -> None:
    """And as close: four days lie between the published three (five washes in ten days) and five (three)."""
    temp, key = numbers(row)
    found = _interval(key, temp)
    assert found.derived
    assert found.most == row.value
    assert 3 <= found.low <= found.high <= 5


def test_at_26_c_the_mites_are_washed_three_times_five_days_apart() -> None:
    """Derived: hatched after 4.8 days, adult 6.1 days later."""
    found = _interval("two-spotted-mite", 26.0)
    assert (found.low, found.least, found.most, found.derived) == (5, 3, 3, True)


@pytest.mark.parametrize("temp", [18.0, 20.0, 24.0, 25.9, 30.1])
def test_the_mites_constants_reach_from_26_to_30_c_only(temp: float) -> None:
    found = _interval("two-spotted-mite", temp)
    assert not found.derived
    assert found.missing.startswith("Outside the measured temperatures: ")
    assert (found.low, found.high, found.least, found.most) == (4, 4, 3, 3)


THERMAL = st.builds(Thermal, st.just("egg"), st.just(Covers.EGG), st.floats(1, 400), st.floats(0, 14),
                    st.just(Span(-60.0, 90.0)), st.just("published: a study"))


@given(THERMAL, st.floats(14.5, 35))
def test_day_by_day_is_the_steady_formula_at_a_steady_temperature(entry: Thermal, temp: float) -> None:
    found = stage_days([entry], NOON, steady(temp), UTC)
    assert found == pytest.approx(min(days_to_complete(entry.degree_days, entry.above_c, temp), math.inf)) \
        or found == math.inf


@given(THERMAL, THERMAL, st.floats(15, 35), st.floats(0, 5))
def test_warmer_is_never_slower_and_stages_add_up(one: Thermal, two: Thermal, temp: float, by: float) -> None:
    cool, warm = (stage_days([one], NOON, steady(each), UTC) for each in (temp, temp + by))
    assert isinstance(cool, float)
    assert isinstance(warm, float)
    assert warm <= cool + 1e-9
    both, other = stage_days([one, two], NOON, steady(temp), UTC), stage_days([two], NOON, steady(temp), UTC)
    assert isinstance(both, float)
    assert isinstance(other, float)
    assert both == pytest.approx(cool + other) or math.inf in (both, cool, other)


def test_a_cold_place_never_completes_and_the_first_day_beyond_is_named() -> None:
    assert days_to_complete(100.0, 10.0, 10.0) == math.inf
    entry = Thermal("egg", Covers.EGG, 100.0, 10.0, Span(0.0, 30.0), "published: a study")
    assert stage_days([entry], NOON, steady(9.0), UTC) == math.inf
    beyond = stage_days([entry], NOON, steady(31.0), UTC)
    assert isinstance(beyond, Beyond)
    assert beyond.day == NOON.date()


@pytest.mark.parametrize(("given", "argument"), [
    ((-1.0, 8.0, 20.0), "constant_dd"), ((math.nan, 8.0, 20.0), "constant_dd"), ((100.0, math.inf, 20.0), "lower"),
    ((100.0, 8.0, math.nan), "temp_c"), ((100.0, 8.0, -math.inf), "temp_c")])
def test_figures_that_cannot_be_name_the_argument(given: tuple[float, float, float], argument: str) -> None:
    with pytest.raises(OutOfRange) as raised:
        days_to_complete(*given)
    assert raised.value.argument == argument
