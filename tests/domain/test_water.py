"""Water: what is kept when it is mixed, what cannot be mixed, and what lies outside every range."""

from __future__ import annotations

from collections.abc import Callable
from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.agents import Percent
from greenhouse_desk.domain.faults import OutOfRange
from greenhouse_desk.domain.water import (
    EC_COLDEST_C,
    EC_WARMEST_C,
    MixedStrengths,
    Strength,
    dilute,
    dilute_by_mass,
    dilute_by_volume,
    ec_at_25,
    ec_doubt,
    ec_from_ppm,
    elements,
    feed_grams,
)

PERCENTS = st.floats(0.01, 100)
VOLUME, MASS, LABEL = Percent.BY_VOLUME, Percent.BY_MASS, Percent.LABEL


@given(PERCENTS, st.floats(0, 1), st.floats(0, 1e6))
def test_a_dilution_keeps_the_active_ingredient(stock: float, part: float, volume_ml: float) -> None:
    target = stock * part
    mix = dilute(stock, target, volume_ml)
    assert mix.stock_ml * stock == pytest.approx(target * volume_ml)
    assert mix.stock_ml + mix.water_ml == pytest.approx(volume_ml)
    assert mix.water_ml >= -1e-9
    weighed = dilute_by_mass(Strength(stock, MASS), Strength(target, MASS), volume_ml)
    assert (weighed.stock_g, weighed.water_g) == (mix.stock_ml, mix.water_ml)


@given(PERCENTS, st.floats(0.1, 5000), st.floats(0.1, 1000))
def test_the_feed_weighed_gives_the_nitrogen_wanted(n: float, target: float, volume_l: float) -> None:
    grams = feed_grams(n, target, volume_l)
    if grams / volume_l <= 1000:
        assert elements(n, 0, 0, grams / volume_l).n == pytest.approx(target)


@given(st.floats(0, 1e5), st.floats(0, 50))
def test_colder_water_reads_lower_for_the_same_salts(ec: float, temp_c: float) -> None:
    found = ec_at_25(ec, temp_c)
    assert (found >= ec) if temp_c <= 25 else (found <= ec)
    assert ec_at_25(ec, 25) == ec


def test_by_volume_is_diluted_by_volume() -> None:
    assert dilute_by_volume(Strength(96, VOLUME), Strength(70, VOLUME), 960) == dilute(96, 70, 960)
    assert dilute(96, 70, 960).stock_ml == pytest.approx(700)


@pytest.mark.parametrize(("stock", "target"), [(VOLUME, MASS), (MASS, VOLUME), (LABEL, LABEL), (VOLUME, LABEL)])
@pytest.mark.parametrize("mix", [dilute_by_volume, dilute_by_mass])
def test_kinds_of_strength_are_never_mixed(mix: Callable[[Strength, Strength, float], object], stock: Percent,
                                           target: Percent) -> None:
    with pytest.raises(MixedStrengths, match="are not mixed up here"):
        mix(Strength(50, stock), Strength(10, target), 100)


def test_the_other_kind_in_both_is_no_better() -> None:
    with pytest.raises(MixedStrengths, match="50 % by mass is not % by volume"):
        dilute_by_volume(Strength(50, MASS), Strength(10, MASS), 100)
    with pytest.raises(MixedStrengths, match="50 % by volume is not % by mass"):
        dilute_by_mass(Strength(50, VOLUME), Strength(10, VOLUME), 100)


def test_elements_of_a_whole_label() -> None:
    found = elements(20, 10, 30, 0.5)
    assert (found.n, found.p, found.k) == pytest.approx((100, 21.82, 124.515))


@pytest.mark.parametrize(("temp_c", "said"), [(9.9, "below 10 C"), (0, "Let the water warm up"), (35.1, "above 35 C"),
                                              (50, "Let the water cool")])
def test_a_reading_far_from_25_is_doubted(temp_c: float, said: str) -> None:
    assert said in ec_doubt(temp_c)


def test_a_reading_near_25_is_not_doubted() -> None:
    assert [ec_doubt(temp_c) for temp_c in (EC_COLDEST_C.value, 25.0, EC_WARMEST_C.value)] == ["", "", ""]


@pytest.mark.parametrize(("ppm", "scale", "ec"), [(500, 500, 1.0), (700, 700, 1.0), (350, 700, .5), (0, 500, 0)])
def test_ppm_says_something_only_with_its_scale(ppm: float, scale: float, ec: float) -> None:
    assert ec_from_ppm(ppm, scale) == ec


BAD: list[tuple[Callable[[float], object], str, tuple[float, ...]]] = [
    (lambda x: dilute(x, 0, 100), "stock_percent", (-1, 0, 100.1)),
    (lambda x: dilute(50, x, 100), "target_percent", (-.1, 50.1)),
    (lambda x: dilute(50, 10, x), "volume_ml", (-.1, 1e7 + .5)),
    (lambda x: dilute_by_mass(Strength(50, MASS), Strength(10, MASS), x), "mass_g", (-.1, 1e7 + .5)),
    (lambda x: Strength(x, VOLUME), "percent", (-.1, 100.1)),
    (lambda x: feed_grams(x, 100, 1), "n_percent", (0, .009, 100.1)),
    (lambda x: feed_grams(20, x, 1), "target_n_mg_l", (-.1, 100_001)),
    (lambda x: feed_grams(20, 100, x), "litres", (-.1, 10_001)),
    (lambda x: elements(x, 0, 0, 1), "n", (-.1, 100.1)),
    (lambda x: elements(0, x, 0, 1), "p2o5", (-.1, 100.1)),
    (lambda x: elements(0, 0, x, 1), "k2o", (-.1, 100.1)),
    (lambda x: elements(0, 0, 0, x), "grams_per_litre", (-.1, 1000.1)),
    (lambda x: ec_at_25(x, 20), "ec", (-.1, 1_000_001)),
    (lambda x: ec_at_25(1, x), "temp_c", (-.1, 50.1)),
    (ec_doubt, "temp_c", (-.1, 50.1)),
    (lambda x: ec_from_ppm(x, 500), "ppm", (-.1, 1_000_001)),
    (lambda x: ec_from_ppm(500, x), "scale", (0, 499, 640, 701)),
]


@pytest.mark.parametrize(("call", "argument", "values"), BAD)
def test_out_of_range_names_the_argument(call: Callable[[float], object], argument: str,
                                         values: tuple[float, ...]) -> None:
    for value in (*values, nan, inf, -inf):
        with pytest.raises(OutOfRange) as raised:
            call(value)
        assert raised.value.argument == argument
        assert raised.value.value is value


def test_a_stock_of_nothing_is_told_its_range() -> None:
    with pytest.raises(OutOfRange) as raised:
        dilute(0, 0, 100)
    assert (raised.value.low, raised.value.high) == (0, 100)


def test_the_ends_of_the_ranges_are_in() -> None:
    assert dilute(100, 100, 1e7).stock_ml == 1e7
    assert dilute(100, 0, 0).stock_ml == 0
    assert (Strength(0, VOLUME).percent, Strength(100, MASS).percent) == (0, 100)
    assert feed_grams(.01, 1e5, 1e4) > feed_grams(100, 0, 0) == 0
    assert elements(100, 100, 100, 1000).n == 1e6
    assert ec_at_25(1e6, 50) < 1e6 < ec_at_25(1e6, 0)
    assert ec_at_25(0, 10) == ec_from_ppm(0, 700) == 0
