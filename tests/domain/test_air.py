"""Moist air and drying: the right direction everywhere, spans in order, and arguments out of range named."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain import air
from greenhouse_desk.domain.faults import OutOfRange
from greenhouse_desk.domain.figures import Constant, Span

TEMPERATURES, HUMIDITIES = st.floats(1, 50), st.floats(0.0, 0.98)
SPEEDS, FILMS = st.floats(0.02, 5), st.floats(0.01, 5)
NEVER = Span(math.inf, math.inf)
BAD = (math.nan, math.inf, -math.inf)


@given(TEMPERATURES, HUMIDITIES, SPEEDS, FILMS, st.floats(1.01, 1.5))
def test_more_wind_and_a_thinner_film_dry_sooner(temp_c: float, rh: float, speed: float, film: float,
                                                 by: float) -> None:
    here = air.drying_hours(film, temp_c, rh, speed)
    for better in (air.drying_hours(film, temp_c, rh, speed * by), air.drying_hours(film / by, temp_c, rh, speed),
                   air.drying_hours(film, temp_c, rh, speed, air.LEAF_M.value / by)):
        assert better.low < here.low
        assert better.high < here.high
    assert 0 < here.low < here.high


@given(TEMPERATURES, HUMIDITIES, SPEEDS, st.floats(0.005, 0.5))
def test_drier_air_dries_sooner(temp_c: float, rh: float, speed: float, by: float) -> None:
    here, drier = air.drying_hours(0.2, temp_c, rh, speed), air.drying_hours(0.2, temp_c, rh * (1 - by), speed)
    assert drier.low <= here.low
    assert drier.high <= here.high
    if rh > 0.1:
        assert drier.high < here.high


@given(TEMPERATURES, HUMIDITIES, SPEEDS, st.floats(0.1, 10))
def test_warmer_air_of_the_same_humidity_dries_sooner(temp_c: float, rh: float, speed: float, by: float) -> None:
    here, warmer = air.drying_hours(0.2, temp_c, rh, speed), air.drying_hours(0.2, temp_c + by, rh, speed)
    assert warmer.low < here.low
    assert warmer.high < here.high


@given(TEMPERATURES, SPEEDS, FILMS)
def test_saturated_air_never_dries_and_nearly_saturated_air_takes_ages(temp_c: float, speed: float,
                                                                       film: float) -> None:
    assert air.drying_hours(film, temp_c, 1.0, speed) == NEVER
    damp, mild = (air.drying_hours(film, temp_c, rh, speed).high for rh in (0.9999, 0.5))
    assert damp > 100 * mild


def test_hours_go_with_the_film_and_with_the_root_of_speed() -> None:
    one, ten = (air.drying_hours(film, 20, 0.6, 0.2) for film in (0.1, 1.0))
    assert ten.high == pytest.approx(10 * one.high)
    assert ten.low == pytest.approx(10 * one.low)
    assert air.drying_hours(0.1, 20, 0.6, 0.8).high == pytest.approx(one.high / 2)
    assert air.drying_hours(0.0, 20, 0.6, 0.2) == Span(0.0, 0.0)


@given(TEMPERATURES, HUMIDITIES, SPEEDS)
def test_a_warmed_leaf_lies_between_wet_bulb_and_air_and_its_heat_is_balanced(temp_c: float, rh: float,
                                                                            speed: float) -> None:
    leaf = air.leaf_temperature(temp_c, rh, speed, 0.1)
    assert air.film_temperature(temp_c, rh) < leaf < temp_c
    latent = air.LATENT.value + air.LATENT_SLOPE.value * leaf
    taken = latent * air.evaporation(leaf, temp_c, rh, speed, 0.1)
    mean = (leaf + temp_c) / 2
    transfer = air.PLATE.value * math.sqrt(speed * 0.1 / air.viscosity(mean)) * air.PRANDTL.value ** (1 / 3)
    by_air = transfer * air.conductivity(mean) / 0.1 * (temp_c - leaf)
    by_room = air.EMISSIVITY.value * air.RADIATION.value * ((temp_c + 273.15) ** 4 - (leaf + 273.15) ** 4)
    assert taken == pytest.approx(2 * (by_air + by_room), rel=1e-6)


@given(TEMPERATURES, HUMIDITIES)
def test_a_film_is_as_cold_as_a_wet_bulb_and_stays_water_where_that_would_freeze(temp_c: float, rh: float) -> None:
    film = air.film_temperature(temp_c, rh)
    bulb = air.wet_bulb(temp_c, rh)
    if film > 0.75:
        assert film == pytest.approx(bulb, abs=1e-3)
    else:
        assert film == pytest.approx(bulb, abs=1.6)


def test_frost_makes_no_jump() -> None:
    """About 9.3 C and 6 % a bulb turns to ice; hours of a film fall on without a step."""
    hours = [air.drying_hours(0.2, 8.5 + step / 50, 0.06, 0.1).high for step in range(80)]
    steps = [one - two for one, two in pairwise(hours)]
    assert min(steps) > 0
    assert max(steps) < 2 * min(steps)


@given(TEMPERATURES, st.floats(0.02, 1.0))
def test_dew_point_and_wet_bulb_stand_in_order_and_give_the_vapour_back(temp_c: float, rh: float) -> None:
    dew, bulb = air.dew_point(temp_c, rh), air.wet_bulb(temp_c, rh)
    assert dew <= bulb + 0.3
    assert bulb <= temp_c
    assert air.saturation_vapour_pressure(dew) == pytest.approx(rh * air.saturation_vapour_pressure(temp_c), rel=1e-3)
    missing = air.vapour_pressure_deficit(temp_c, rh)
    assert missing == pytest.approx(air.saturation_vapour_pressure(temp_c) * (1 - rh), abs=1e-12)


@given(TEMPERATURES, st.floats(0.02, 0.99), st.floats(55, 100))
def test_thinner_air_lets_the_wet_bulb_sink_lower(temp_c: float, rh: float, kpa: float) -> None:
    assert air.wet_bulb(temp_c, rh, kpa) <= air.wet_bulb(temp_c, rh, kpa + 5) + 0.3


def test_air_that_is_saturated_has_one_temperature_and_dry_air_no_dew_point() -> None:
    assert air.dew_point(21.5, 1.0) == air.wet_bulb(21.5, 1.0) == 21.5
    assert air.wet_bulb(20, 0.0) < 7
    with pytest.raises(OutOfRange, match="rh"):
        air.dew_point(20, 0.0)
    with pytest.raises(OutOfRange, match="temp_c"):
        air.wet_bulb(120, 0.9)


@pytest.mark.parametrize(("call", "name", "low", "high"), [
    (lambda value: air.saturation_vapour_pressure(value), "temp_c", -100, 200),
    (lambda value: air.vapour_pressure_deficit(value, 0.5), "temp_c", -100, 200),
    (lambda value: air.vapour_pressure_deficit(20, value), "rh", 0, 1),
    (lambda value: air.dew_point(value, 0.5), "temp_c", None, 200),
    (lambda value: air.dew_point(20, value), "rh", None, 1),
    (lambda value: air.wet_bulb(value, 0.5), "temp_c", -100, None),
    (lambda value: air.wet_bulb(20, value), "rh", 0, 1),
    (lambda value: air.wet_bulb(20, 0.5, value), "pressure_kpa", 50, 110),
    (lambda value: air.drying_hours(value, 20, 0.5, 0.1), "film_mm", 0, 50),
    (lambda value: air.drying_hours(0.2, value, 0.5, 0.1), "temp_c", 0, 60),
    (lambda value: air.drying_hours(0.2, 20, value, 0.1), "rh", 0, 1),
    (lambda value: air.drying_hours(0.2, 20, 0.5, value), "air_speed_m_s", 0.01, 10),
    (lambda value: air.drying_hours(0.2, 20, 0.5, 0.1, value), "length_m", 0.005, 1)])
def test_what_is_out_of_range_is_named(call: Callable[[float], object], name: str, low: float | None,
                                       high: float | None) -> None:
    for end, value in ((low, low), (high, high)):
        if end is not None and value is not None:
            call(value)
    beyond = [end + step for end, step in ((low, -0.001), (high, 0.001)) if end is not None]
    for value in (*BAD, *beyond):
        with pytest.raises(OutOfRange) as told:
            call(value)
        assert told.value.argument == name
        assert told.value.value is value or told.value.value == value


def test_a_leaf_too_long_for_laminar_flow_is_out_of_range() -> None:
    with pytest.raises(OutOfRange) as told:
        air.drying_hours(0.2, 20, 0.5, 9.0, 1.0)
    assert told.value.argument == "air_speed_m_s"
    assert 7 < told.value.high < 8


def test_every_figure_of_the_model_names_its_source() -> None:
    figures = [value for value in vars(air).values() if isinstance(value, Constant)]
    assert len(figures) >= 12
    for one in figures:
        assert one.source.startswith(("published: ", "common practice", "from memory", "derived here"))
