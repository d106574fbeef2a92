"""Drying: spans for what is known only in part, what helps and how much, and the limit."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain import air as physics
from greenhouse_desk.domain.airflow import BLOTTED, FAN, FILM, POOL, Around, can_dry, dry_at, drying_span, helps, limit
from greenhouse_desk.domain.airflow_estimate import speeds
from greenhouse_desk.domain.figures import Span
from greenhouse_desk.domain.journal_words import Moving
from greenhouse_desk.domain.plants import Air, Home
from greenhouse_desk.domain.settings import HouseRules

HOME = Home(51.5, -0.12, "Europe/London")
RULES = HouseRules()
NOON = datetime(2026, 6, 18, 11, 0, tzinfo=UTC)
TEMPERATURES, HUMIDITIES, SPEED = st.floats(5, 40), st.floats(0.2, 0.94), st.floats(0.05, 1.5)


def air(temp_c: float, rh: float, speed: float | None = None, moving: Moving | None = None) -> Air:
    return Air(NOON, temp_c, rh, speed, moving)


def test_a_span_runs_from_the_thin_film_in_fast_air_to_the_thick_one_in_slow_air() -> None:
    span = drying_span(air(22, 0.55, moving=Moving.LIGHT))
    assert span == Span(physics.drying_hours(0.05, 22, 0.55, 0.4).low, physics.drying_hours(0.2, 22, 0.55, 0.2).high)


@pytest.mark.parametrize(("reading", "fan", "span"), [
    (air(22, 0.5, 0.3), False, Span(0.3, 0.3)), (air(22, 0.5, moving=Moving.STILL), False, Span(0.05, 0.15)),
    (air(22, 0.5, moving=Moving.FAN), False, Span(0.5, 1.0)), (air(22, 0.5), False, Span(0.05, 0.4)),
    (None, False, Span(0.05, 0.4)), (air(22, 0.5, 0.0), False, Span(0.05, 0.15)), (None, True, Span(0.5, 1.0)),
    (air(22, 0.5, 0.8), True, Span(0.8, 1.0)), (air(22, 0.5, 0.1), True, Span(0.5, 1.0))])
def test_how_fast_the_air_moves(reading: Air | None, fan: bool, span: Span) -> None:
    assert speeds(reading, fan) == span


def test_a_pool_of_3_mm_takes_some_30_hours_even_in_moving_air() -> None:
    """Derived, one model: 22 C, 55 %, 0.6 m/s, an isolated film; within the spread of the sources of diffusivity."""
    assert drying_span(air(22, 0.55, 0.6), POOL).high == pytest.approx(30.0, rel=0.03)


@given(TEMPERATURES, HUMIDITIES, SPEED)
def test_more_wind_drier_air_and_blotting_dry_sooner(temp_c: float, rh: float, speed: float) -> None:
    here = drying_span(air(temp_c, rh, speed))
    assert drying_span(air(temp_c, rh, speed * 1.3)).high < here.high
    assert drying_span(air(temp_c, rh * 0.95, speed)).high < here.high
    assert here.low < here.high < drying_span(air(temp_c, rh, speed), POOL).high
    assert drying_span(air(temp_c, rh, speed), BLOTTED).high == pytest.approx(here.high / 2)


@pytest.mark.parametrize("reading", [air(22, 0.95, 0.6), air(22, 1.0, 0.6), air(0.0, 0.5, 0.6), air(-8, 0.3)])
def test_near_saturation_and_in_frost_nothing_is_said_to_dry(reading: Air) -> None:
    assert drying_span(reading) == drying_span(reading, POOL, fan=True) == Span(math.inf, math.inf)


def test_without_a_reading_it_may_be_anything_between_two_rooms() -> None:
    blind = drying_span(None)
    assert blind == Span(drying_span(air(24, 0.45)).low, drying_span(air(18, 0.85)).high)


def test_each_help_is_computed_and_the_greatest_gain_stands_first() -> None:
    here = air(20, 0.7, 0.1)
    found = {one.what: one for one in helps(here)}
    assert list(found) == ["put a fan on", "blot it", "warm the room to 23 C", "dry the room to 60 % RH"]
    gains = [one.gain_hours for one in helps(here)]
    assert gains == sorted(gains, reverse=True)
    assert found[FAN].span == drying_span(here, fan=True)
    assert found[FAN].gain_hours == pytest.approx(drying_span(here).high - drying_span(here, fan=True).high)
    assert found["dry the room to 60 % RH"].span == drying_span(replace(here, rh=0.6))
    warm = physics.saturation_vapour_pressure(20) / physics.saturation_vapour_pressure(23) * 0.7
    assert found["warm the room to 23 C"].span.high == pytest.approx(drying_span(air(23, warm, 0.1)).high)
    assert found["blot it"].span == drying_span(here, BLOTTED)


def test_a_pool_gains_most_by_blotting_and_what_is_there_already_is_not_advised() -> None:
    assert helps(air(20, 0.7, 0.1), POOL)[0].what == "blot it"
    told = [one.what for one in helps(air(29, 0.05, 1.2), BLOTTED, fan=True)]
    assert told == []


def test_saturated_air_is_helped_only_by_warming_or_drying_it() -> None:
    found = helps(air(20, 0.97, 0.1))
    assert {one.what for one in found} == {"warm the room to 23 C", "dry the room to 87 % RH"}
    assert all(math.isinf(one.gain_hours) for one in found)


def test_the_fan_dries_only_what_is_left_when_it_comes_on() -> None:
    assert dry_at(NOON, 4.0, None, 1.0) == NOON + timedelta(hours=4)
    assert dry_at(NOON, 4.0, NOON + timedelta(hours=2), 1.0) == NOON + timedelta(hours=2.5)
    assert dry_at(NOON, 4.0, NOON + timedelta(hours=5), 1.0) == NOON + timedelta(hours=4)
    assert dry_at(NOON, 4.0, NOON - timedelta(hours=1), 1.0) == NOON + timedelta(hours=1)
    assert dry_at(NOON, math.inf, NOON + timedelta(hours=2), 1.0) == NOON + timedelta(hours=3)
    assert dry_at(NOON, math.inf, NOON, math.inf) is None


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
    assert limit(Around(None, None, HOME, home_set=False), NOON, RULES) == (dusk, "assumed dusk")


@pytest.mark.parametrize("day", [date(2026, 6, 20), date(2026, 7, 14), date(2026, 7, 15), date(2026, 5, 30)])
def test_where_sunset_falls_about_midnight_the_limit_is_the_one_after_the_day(day: date) -> None:
    fairbanks = Home(64.84, -147.72, "America/Anchorage")
    afternoon = datetime.combine(day, time(22), UTC)
    dusk, name = limit(Around(None, None, fairbanks), afternoon, RULES)
    assert name == "dusk"
    assert dusk is not None
    assert timedelta(hours=9, minutes=30) < dusk - afternoon < timedelta(hours=11)


def test_the_verdict_carries_the_figures_it_rests_on() -> None:
    verdict = can_dry(Around(air(22, 0.55, 0.1), None, HOME), NOON, RULES)
    assert verdict.hours == drying_span(air(22, 0.55, 0.1), FILM)
    assert verdict.with_fan == drying_span(air(22, 0.55, 0.1), FILM, fan=True)
    dusk, _ = limit(Around(None, None, HOME), NOON, RULES)
    assert dusk is not None
    assert verdict.with_fan is not None
    assert verdict.start_by == dusk - timedelta(hours=verdict.with_fan.high)
    assert verdict.helps == helps(air(22, 0.55, 0.1))
