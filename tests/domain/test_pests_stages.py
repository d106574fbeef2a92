"""A place's temperatures day by day, and stages counted through them: part days, gaps, single readings, limits."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from greenhouse_desk.domain.degree_days import degree_days
from greenhouse_desk.domain.figures import Span
from greenhouse_desk.domain.pests import Covers, Thermal
from greenhouse_desk.domain.pests_climate import Climate, DayTemps, climate
from greenhouse_desk.domain.pests_stages import Beyond, stage_days, stretch

MIDNIGHT = datetime(2026, 11, 18, tzinfo=UTC)
TODAY = MIDNIGHT.date()
EGG = Thermal("egg", Covers.EGG, 30.0, 10.0, Span(5.0, 35.0), "published: one study")


def placed(*days: tuple[int, float, float], usual: tuple[float, float] = (20.0, 20.0)) -> Climate:
    """A place with (days from TODAY, low, high); other days are usual ones."""
    told = {TODAY + timedelta(days=ahead): DayTemps(low, high, 2) for ahead, low, high in days}
    return Climate("bench", "", told, DayTemps(*usual, 0), MIDNIGHT, 2 * len(told))


def test_readings_become_local_days_with_low_and_high() -> None:
    evening = datetime(2026, 11, 17, 23, 30, tzinfo=UTC)
    readings = [(evening, 17.0), (evening + timedelta(hours=9), 15.0), (evening + timedelta(hours=15), 22.5)]
    found = climate(readings, TODAY, ZoneInfo("Europe/Madrid"), "bench", "shelf")
    assert found is not None
    assert found.days == {date(2026, 11, 18): DayTemps(15.0, 22.5, 3)}
    assert (found.readings, found.newest, found.place, found.asked) == (3, readings[-1][0], "bench", "shelf")
    utc = climate(readings, TODAY, UTC, "bench")
    assert utc is not None
    assert utc.days[date(2026, 11, 17)] == DayTemps(17.0, 17.0, 1)


def test_a_usual_day_is_the_mean_of_the_lows_and_of_the_highs_of_the_last_14_days() -> None:
    def at(days: int, temp: float) -> list[tuple[datetime, float]]:
        night = MIDNIGHT - timedelta(days=days)
        return [(night, temp), (night + timedelta(hours=3), temp + 4)]
    found = climate([*at(15, 5.0), *at(14, 14.0), *at(2, 18.0)], TODAY, UTC, "bench")
    assert found is not None
    assert found.usual == DayTemps(16.0, 20.0, 0)
    assert found.on(TODAY - timedelta(days=15)) == DayTemps(5.0, 9.0, 2)
    assert found.on(TODAY + timedelta(days=3)) == found.usual


def test_no_readings_or_only_old_ones_tell_no_climate() -> None:
    assert climate([], TODAY, UTC, "bench") is None
    assert climate([(MIDNIGHT - timedelta(days=15), 20.0)], TODAY, UTC, "bench") is None


def test_a_stage_ends_inside_the_day_in_which_its_sum_is_full() -> None:
    assert stage_days([EGG], MIDNIGHT, placed((0, 20.0, 20.0), (1, 20.0, 20.0), (2, 30.0, 30.0)), UTC) == 2.5
    assert stage_days([EGG], MIDNIGHT, placed(), UTC) == 3.0


def test_the_first_day_counts_for_what_is_left_of_it() -> None:
    evening = MIDNIGHT + timedelta(hours=18)
    warm_then_cool = placed((0, 30.0, 30.0), usual=(15.0, 15.0))
    assert stage_days([EGG], evening, warm_then_cool, UTC) == pytest.approx(0.25 + 25 / 5)
    in_madrid = stage_days([EGG], evening, warm_then_cool, ZoneInfo("Europe/Madrid"))
    assert in_madrid == pytest.approx(5 / 24 + (30 - 20 * 5 / 24) / 5)


def test_the_next_stage_begins_in_the_rest_of_the_day() -> None:
    half = Thermal("larva", Covers.YOUNG, 5.0, 10.0, Span(5.0, 35.0), EGG.source)
    cooling = placed((0, 20.0, 20.0), usual=(12.5, 12.5))
    assert stage_days([half, half], MIDNIGHT, cooling, UTC) == 1.0
    assert stage_days([half, half, half], MIDNIGHT, cooling, UTC) == 3.0


def test_a_swinging_day_counts_by_its_sine_not_by_its_mean() -> None:
    swinging = placed(usual=(6.0, 14.0))
    assert stage_days([EGG], MIDNIGHT, swinging, UTC) == pytest.approx(30 / degree_days(6.0, 14.0, 10.0))


def test_one_day_beyond_what_was_measured_stops_the_count_and_is_named() -> None:
    narrow = Thermal("egg", Covers.EGG, 30.0, 10.0, Span(15.0, 25.0), EGG.source)
    found = stage_days([narrow], MIDNIGHT, placed((2, 14.9, 20.0)), UTC)
    assert found == Beyond(narrow, TODAY + timedelta(days=2), DayTemps(14.9, 20.0, 2))
    assert stage_days([narrow], MIDNIGHT, placed((4, 14.9, 20.0)), UTC) == 3.0
    assert isinstance(stage_days([narrow], MIDNIGHT, placed((1, 20.0, 25.1)), UTC), Beyond)


def test_studies_are_counted_apart_and_span_and_those_that_do_not_reach_are_kept_apart() -> None:
    quick = Thermal("egg", Covers.EGG, 20.0, 10.0, Span(5.0, 35.0), "published: another study")
    hot = Thermal("egg", Covers.EGG, 20.0, 10.0, Span(26.0, 30.0), "published: a study in the heat")
    found = stretch((EGG, quick, hot), Covers.EGG, MIDNIGHT, placed(), UTC)
    assert found.span == Span(2.0, 3.0)
    assert [beyond.stage for beyond in found.beyond] == [hot]
    assert stretch((EGG,), Covers.YOUNG, MIDNIGHT, placed(), UTC).span is None


def test_what_follows_comes_from_the_same_study_only() -> None:
    young = Thermal("nymph", Covers.YOUNG, 20.0, 10.0, Span(5.0, 35.0), EGG.source)
    lays = Thermal("adult", Covers.BEFORE_EGGS, 10.0, 10.0, Span(5.0, 35.0), EGG.source)
    elsewhere = Thermal("adult", Covers.BEFORE_EGGS, 70.0, 10.0, Span(5.0, 35.0), "published: another study")
    def days(*thermal: Thermal) -> Span | None:
        return stretch(thermal, Covers.YOUNG, MIDNIGHT, placed(), UTC, then=Covers.BEFORE_EGGS).span
    assert days(young, lays, elsewhere) == Span(3.0, 3.0)
    assert days(young, elsewhere) == Span(2.0, 2.0)
