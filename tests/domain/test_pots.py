"""Pots: volumes that add up, pellets that fill them, and a reservoir that is a span."""

from __future__ import annotations

from collections.abc import Callable
from math import inf, nan, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.faults import OutOfRange
from greenhouse_desk.domain.pots import HOLES_MM, UNMEASURED, litres, litres_below, pellets_litres, reservoir_ml

MM = st.floats(20, 500)


@given(MM, MM, MM, st.floats(0, 1))
def test_a_pot_is_its_lower_and_its_upper_part(top: float, base: float, height: float, part: float) -> None:
    level = part * height
    across = base + (top - base) * part
    if height - level >= 1:
        upper = litres(top, across, height - level)
        assert litres_below(top, base, height, level) + upper == pytest.approx(litres(top, base, height))
    assert litres_below(top, base, height, height) == pytest.approx(litres(top, base, height))
    assert litres_below(top, base, height, 0) == 0


@given(MM, MM, MM)
def test_turned_over_it_holds_the_same(top: float, base: float, height: float) -> None:
    assert litres(top, base, height) == pytest.approx(litres(base, top, height))


@given(MM, MM, MM, st.floats(0, 1))
def test_the_reservoir_is_a_span_that_grows_with_the_holes(top: float, base: float, height: float, part: float) -> None:
    low, high = reservoir_ml(top, base, height, part * height), reservoir_ml(top, base, height, height)
    assert 0 <= low.low <= low.high <= high.high < 1000 * litres(top, base, height)
    assert low.low <= high.low


def test_a_straight_pot() -> None:
    assert litres(100, 100, 100) == pytest.approx(pi / 4)
    assert reservoir_ml(100, 100, 100).low == pytest.approx(0.36 * 25 * pi / 4 * 10)
    assert reservoir_ml(100, 100, 100).high == pytest.approx(0.40 * HOLES_MM.value * pi / 4 * 10)
    assert "nobody has measured" in UNMEASURED


def test_pellets_fill_what_the_roots_leave_below_the_rim() -> None:
    whole = litres(153, 135, 175)
    assert pellets_litres(153, 135, 175) == pytest.approx(whole)
    assert pellets_litres(153, 135, 175, 15) == pytest.approx(litres_below(153, 135, 175, 160))
    assert pellets_litres(153, 135, 175, 15, 0.5) == pytest.approx(litres_below(153, 135, 175, 160) - 0.5)
    assert pellets_litres(100, 100, 100, 100) == 0


BAD: list[tuple[Callable[[float], object], str, tuple[float, ...]]] = [
    (lambda x: litres(x, 100, 100), "top_mm", (-1, 0, .9, 10_001)),
    (lambda x: litres(100, x, 100), "base_mm", (-1, 0, .9, 10_001)),
    (lambda x: litres(100, 100, x), "height_mm", (-1, 0, .9, 10_001)),
    (lambda x: litres_below(x, 100, 100, 10), "top_mm", (-1, 0)),
    (lambda x: litres_below(100, 100, 100, x), "level_mm", (-.1, 100.1)),
    (lambda x: pellets_litres(100, x, 100), "base_mm", (-1, 0)),
    (lambda x: pellets_litres(100, 100, 100, x), "below_rim_mm", (-.1, 100.1)),
    (lambda x: pellets_litres(100, 100, 100, 0, x), "roots_litres", (-.1, .8)),
    (lambda x: reservoir_ml(100, 100, x), "height_mm", (-1, 0)),
    (lambda x: reservoir_ml(100, 100, 100, x), "holes_mm", (-.1, 100.1)),
]


@pytest.mark.parametrize(("call", "argument", "values"), BAD)
def test_out_of_range_names_the_argument(call: Callable[[float], object], argument: str,
                                         values: tuple[float, ...]) -> None:
    for value in (*values, nan, inf, -inf):
        with pytest.raises(OutOfRange) as raised:
            call(value)
        assert raised.value.argument == argument


def test_the_ends_of_the_range_are_in() -> None:
    assert litres(1, 1, 1) == pytest.approx(pi / 4e6)
    assert litres(10_000, 10_000, 10_000) == pytest.approx(pi / 4 * 1e6)
