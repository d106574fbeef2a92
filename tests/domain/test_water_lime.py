"""Hardness, alkalinity and blends: units there and back, and what cannot be had."""

from __future__ import annotations

from collections.abc import Callable
from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.faults import OutOfRange, Refused
from greenhouse_desk.domain.water_lime import (
    ALKALINITY_CACO3,
    HARDNESS_CACO3,
    Alkalinity,
    Hardness,
    blend,
    convert_alkalinity,
    convert_hardness,
    hardness,
)

VALUES = st.floats(0, 1e4)


@given(VALUES, st.sampled_from(Hardness), st.sampled_from(Hardness), st.sampled_from(Hardness))
def test_hardness_there_and_back_and_round(value: float, a: Hardness, b: Hardness, c: Hardness) -> None:
    there = convert_hardness(value, a, b)
    assert convert_hardness(there, b, a) == pytest.approx(value)
    assert convert_hardness(there, b, c) == pytest.approx(convert_hardness(value, a, c))


@given(VALUES, st.sampled_from(Alkalinity), st.sampled_from(Alkalinity))
def test_alkalinity_there_and_back(value: float, a: Alkalinity, b: Alkalinity) -> None:
    assert convert_alkalinity(convert_alkalinity(value, a, b), b, a) == pytest.approx(value)


def test_every_unit_is_known() -> None:
    assert set(HARDNESS_CACO3) == set(Hardness)
    assert set(ALKALINITY_CACO3) == set(Alkalinity)


def test_hardness_is_calcium_and_magnesium_together() -> None:
    assert hardness(40, 10) == pytest.approx(40 * 2.497 + 10 * 4.118)


@given(VALUES, VALUES, st.floats(0, 1))
def test_a_blend_gives_the_target(a: float, b: float, part: float) -> None:
    target = min(max(a * part + b * (1 - part), min(a, b)), max(a, b))
    found = blend(a, b, target)
    assert 0 <= found.share_a <= 1
    assert found.share_a + found.share_b == pytest.approx(1)
    assert found.share_a * a + found.share_b * b == pytest.approx(target, abs=1e-6)


@given(VALUES, VALUES, VALUES)
def test_out_of_reach_is_refused(a: float, b: float, target: float) -> None:
    if min(a, b) <= target <= max(a, b):
        assert blend(a, b, target)
    else:
        with pytest.raises(Refused):
            blend(a, b, target)


def test_a_refusal_says_what_can_be_had() -> None:
    with pytest.raises(Refused) as raised:
        blend(20, 280, 300)
    assert "between 20 and 280; 300 was wanted" in raised.value.detail
    assert "softer or a harder" in raised.value.next_step
    with pytest.raises(Refused) as raised:
        blend(20, 20, 30)
    assert "another water" in raised.value.next_step


def test_two_waters_that_both_are_the_target() -> None:
    assert (blend(5, 5, 5).share_a, blend(5, 5, 5).share_b) == (1, 0)
    assert (blend(10, 0, 10).share_a, blend(10, 0, 0).share_a) == (1, 0)


BAD: list[tuple[Callable[[float], object], str]] = [
    (lambda x: hardness(x, 0), "calcium_mg_l"), (lambda x: hardness(0, x), "magnesium_mg_l"),
    (lambda x: convert_hardness(x, Hardness.GERMAN, Hardness.MMOL), "value"),
    (lambda x: convert_alkalinity(x, Alkalinity.MEQ, Alkalinity.HCO3), "value"),
    (lambda x: blend(x, 1, 1), "a"), (lambda x: blend(1, x, 1), "b"), (lambda x: blend(1, 1, x), "target")]


@pytest.mark.parametrize(("call", "argument"), BAD)
@pytest.mark.parametrize("value", [-.1, 1_000_001, nan, inf, -inf])
def test_out_of_range_names_the_argument(call: Callable[[float], object], argument: str, value: float) -> None:
    with pytest.raises(OutOfRange) as raised:
        call(value)
    assert (raised.value.argument, raised.value.low, raised.value.high) == (argument, 0, 1e6)
