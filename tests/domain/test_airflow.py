"""Drying: the derived examples, what lies between and outside them, the limit, and whether a plant dries in time."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.airflow import Around, Span, can_dry, drying_span, limit, with_fan
from greenhouse_desk.domain.plants import Air, Home
from greenhouse_desk.domain.settings import HouseRules

HOME = Home(51.5, -0.12, "Europe/London")
RULES = HouseRules()
NOON = datetime(2026, 6, 18, 11, 0, tzinfo=UTC)
TEMPERATURES, HUMIDITIES, SPEEDS = st.floats(5, 40), st.floats(0.2, 0.94), st.floats(0.05, 0.6)


def air(temp_c: float, rh: float, speed: float | None) -> Air:
    return Air(NOON, temp_c, rh, speed)


@pytest.mark.parametrize(("reading", "hours"), [
    (air(22, 0.55, 0.1), 4.9), (air(22, 0.55, 0.6), 2.0), (air(22, 0.75, 0.1), 9.0), (air(18, 0.85, 0.1), 17.0)])
def test_the_worked_examples_come_back(reading: Air, hours: float) -> None:
    """Derived: one model, film of 0.2 mm, leaf of 0.1 m. The thin end is a film of 0.05 mm, a quarter of it."""
    assert drying_span(reading, False).high == pytest.approx(hours)
    assert drying_span(reading, False).low == pytest.approx(hours / 4)


def test_a_pool_of_3_mm_takes_some_30_hours_even_with_a_fan() -> None:
    """Derived, the same model: 22 C, 55 %, 0.6 m/s."""
    span = drying_span(air(22, 0.55, 0.6), True)
    assert (span.low, span.high) == pytest.approx((30.0, 30.0))


@given(TEMPERATURES, HUMIDITIES, SPEEDS)
def test_more_wind_and_drier_air_never_dry_later(temp_c: float, rh: float, speed: float) -> None:
    here = drying_span(air(temp_c, rh, speed), False)
    assert drying_span(air(temp_c, rh, min(0.6, speed * 1.3)), False).high <= here.high * (1 + 1e-9)
    assert drying_span(air(temp_c, rh * 0.95, speed), False).high <= here.high * (1 + 1e-9)
    assert here.low < here.high
    assert drying_span(air(temp_c, rh, speed), True).low > here.high


@given(TEMPERATURES, HUMIDITIES, st.floats(0.0, 5.0))
def test_outside_the_examples_it_is_never_better_than_the_best_of_them(temp_c: float, rh: float, speed: float) -> None:
    assert drying_span(air(temp_c, rh, speed), False).high >= 2.0 - 1e-9


def test_warm_air_is_judged_by_how_far_it_cools_a_leaf_not_by_its_deficit_alone() -> None:
    """The same deficit pulls less from a warmer leaf: 30 C at 71.9 % has the deficit of 22 C at 55 %."""
    assert drying_span(air(30, 0.719, 0.1), False).high > drying_span(air(22, 0.55, 0.1), False).high * 1.1


@pytest.mark.parametrize("rh", [0.95, 0.99, 1.0])
def test_near_saturation_nothing_dries(rh: float) -> None:
    assert math.isinf(drying_span(air(22, rh, 0.6), False).high)
    assert math.isinf(drying_span(air(22, rh, 0.6), True).low)


def test_an_unmeasured_speed_is_taken_as_still_and_no_reading_as_anything_between() -> None:
    unknown = drying_span(air(22, 0.55, None), False)
    assert unknown.high > drying_span(air(22, 0.55, 0.1), False).high
    assert drying_span(None, False) == Span(0.5, 17.0)
    assert with_fan(air(22, 0.55, None)).air_speed_m_s == 0.5
    assert with_fan(air(22, 0.55, 0.8)).air_speed_m_s == 0.8


def test_the_limit_and_its_name() -> None:
    dusk, name = limit(Around(None, None, HOME), NOON, RULES)
    assert name == "dusk"
    assert dusk is not None
    assert dusk.hour == 20
    assert limit(Around(None, time(21, 30), HOME), NOON, RULES) == (datetime(2026, 6, 18, 20, 30, tzinfo=UTC),
                                                                    "lights-out")
    early = limit(Around(None, None, HOME), NOON, HouseRules(dusk_margin_minutes=45))
    assert early == (dusk - timedelta(minutes=45), "dusk")
    lamps = limit(Around(None, time(21, 30), HOME), NOON, HouseRules(dusk_margin_minutes=45))
    assert lamps == (datetime(2026, 6, 18, 19, 45, tzinfo=UTC), "lights-out")


@pytest.mark.parametrize("day", [date(2026, 6, 20), date(2026, 7, 14), date(2026, 7, 15), date(2026, 5, 30)])
def test_where_sunset_falls_about_midnight_the_limit_is_the_one_after_the_day(day: date) -> None:
    fairbanks = Home(64.84, -147.72, "America/Anchorage")
    afternoon = datetime.combine(day, time(22), UTC)
    dusk, name = limit(Around(None, None, fairbanks), afternoon, RULES)
    assert name == "dusk"
    assert dusk is not None
    assert timedelta(hours=9, minutes=30) < dusk - afternoon < timedelta(hours=11)


def test_it_can_dry_in_time_or_not_or_it_cannot_be_told() -> None:
    around = Around(air(22, 0.55, 0.1), None, HOME)
    assert can_dry(around, NOON, RULES).ok is True
    late = can_dry(around, NOON + timedelta(hours=6), RULES)
    assert late.ok is None
    assert "With a fan on it at once it can" in late.words
    hopeless = can_dry(around, NOON + timedelta(hours=8, minutes=30), RULES)
    assert hopeless.ok is False
    assert "no later than" in hopeless.words
    assert hopeless.why[-1].text == hopeless.words


def test_a_verdict_after_dusk_without_a_reading_and_in_saturated_air() -> None:
    assert can_dry(Around(air(22, 0.55, 0.1), None, HOME), NOON + timedelta(hours=11), RULES).ok is False
    blind = can_dry(Around(None, None, HOME), NOON, RULES)
    assert blind.ok is None
    assert "air reading" in blind.words
    stale = can_dry(Around(replace(air(22, 0.55, 0.1), at=NOON - timedelta(days=2)), None, HOME), NOON, RULES)
    assert stale.ok is None
    assert "too old" in " ".join(reason.text for reason in stale.why)
    soaked = can_dry(Around(air(22, 0.97, 0.1), None, HOME), NOON, RULES)
    assert soaked.ok is False
    assert "saturated" in soaked.words


def test_the_reasons_are_built_from_the_values() -> None:
    why = " ".join(reason.text for reason in can_dry(Around(air(21, 0.63, 0.2), time(22, 0), HOME), NOON, RULES).why)
    assert "21 C, 63 % RH, 0.2 m/s" in why
    assert "lights-out" in why
