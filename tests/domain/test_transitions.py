"""Settling curves: their properties, the edges of the record, and when the numbers do not allow an answer."""

from __future__ import annotations

from itertools import pairwise
from math import inf, isinf, nan
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.faults import OutOfRange
from greenhouse_desk.domain.figures import Span, Unknown
from greenhouse_desk.domain.transitions import (
    Forecast,
    LogRank,
    Settling,
    compared,
    forecast,
    halfway,
    log_rank,
    settling_curve,
)

PLANTS = st.lists(st.tuples(st.integers(0, 300) | st.floats(0, 300), st.booleans()), max_size=60)


def apart(plants: list[tuple[float, bool]]) -> tuple[list[float], list[bool]]:
    return [day for day, _ in plants], [end for _, end in plants]


@given(PLANTS)
def test_the_curve_falls_within_its_band(plants: list[tuple[float, bool]]) -> None:
    curve = settling_curve(*apart(plants))
    assert [step.day for step in curve] == sorted({day for day, end in plants if end})
    shares = [1.0, *(step.share for step in curve)]
    assert all(later < earlier for earlier, later in pairwise(shares))
    assert all(0 <= step.low <= step.share + 1e-12 and step.share <= step.high + 1e-12 <= 1 + 2e-12 for step in curve)


@given(PLANTS, st.randoms(use_true_random=False))
def test_the_order_of_the_record_does_not_matter(plants: list[tuple[float, bool]], random: Random) -> None:
    mixed = list(plants)
    random.shuffle(mixed)
    assert settling_curve(*apart(mixed)) == settling_curve(*apart(plants))


@given(PLANTS.filter(lambda plants: all(end for _, end in plants)))
def test_without_plants_lost_it_is_the_share_left(plants: list[tuple[float, bool]]) -> None:
    for step in settling_curve(*apart(plants)):
        assert step.share == pytest.approx(sum(day > step.day for day, _ in plants) / len(plants))


@given(PLANTS, st.floats(0, 300))
def test_a_forecast_counts_from_those_still_unsettled(plants: list[tuple[float, bool]], already: float) -> None:
    found = forecast(*apart(plants), already)
    later = [(day, end) for day, end in plants if day > already]
    if sum(end for _, end in later) < 5:
        assert isinstance(found, Unknown)
        return
    assert isinstance(found, Forecast)
    assert found.plants == len(later)
    assert all(step.day > already for step in found.curve)
    assert already < found.likely.low <= found.half.day <= found.likely.high


@given(PLANTS, PLANTS)
def test_a_comparison_is_the_same_from_either_side(one: list[tuple[float, bool]],
                                                   other: list[tuple[float, bool]]) -> None:
    here, there = log_rank(*apart(one), *apart(other)), log_rank(*apart(other), *apart(one))
    assert here.chi_square == pytest.approx(there.chi_square, abs=1e-9)
    assert here.expected == pytest.approx(there.expected[::-1], abs=1e-9)
    assert sum(here.expected) == pytest.approx(sum(here.observed))
    assert 0 <= here.p <= 1


def test_at_a_tie_the_settled_come_first() -> None:
    assert settling_curve([10, 10], [False, True])[0].share == 0.5
    assert settling_curve([9, 10], [False, True])[0].share == 0.0


def test_whole_and_broken_days_alike() -> None:
    assert [step.day for step in settling_curve([0, 0.5, 3], [True, True, False])] == [0, 0.5]


def test_an_empty_record_and_one_where_nothing_settled() -> None:
    assert settling_curve([], []) == []
    assert settling_curve([3, 4], [False, False]) == []
    assert halfway([]) == (inf, inf, inf)


def test_where_nobody_is_left_the_upper_limit_stays() -> None:
    first, last = settling_curve([1, 2], [True, True])
    assert (last.share, last.low, last.high) == (0.0, 0.0, first.high)
    assert settling_curve([7], [True]) == [Settling(7, 0.0, 0.0, 1.0)]


def test_half_is_half_however_it_was_worked_out() -> None:
    """By repeated products the share comes out a hair above one half after 6 of 12."""
    curve = settling_curve([10] * 3 + [20] * 2 + [31] + [40] * 6, [True] * 12)
    assert halfway(curve).day == 31


def test_the_halfway_interval_is_where_the_band_crosses() -> None:
    curve = [Settling(1, .8, .4, .9), Settling(2, .5, .3, .8), Settling(3, .2, .1, .5)]
    assert halfway(curve) == (2, 1, 3)


def test_a_forecast_tells_when_most_settled() -> None:
    days = list(range(10, 110, 10))
    found = forecast(days, [True] * 10, 0)
    assert isinstance(found, Forecast)
    assert (found.half.day, found.likely, found.already, found.plants) == (50, Span(10, 90), 0, 10)
    found = forecast(days, [day <= 80 for day in days], 25)
    assert isinstance(found, Forecast)
    assert (found.plants, found.half.day, found.likely.low) == (8, 60, 30)
    assert isinf(found.likely.high)


def test_a_forecast_needs_five_that_settled_later() -> None:
    days = [30, 40, 50, 60, 70, 80]
    assert isinstance(forecast(days, [True] * 6, 30), Forecast)
    found = forecast(days, [True] * 6, 40)
    assert isinstance(found, Unknown)
    assert found.why.startswith("Only 4 plants in your record settled after more than 40 days")
    assert "needs 5" in found.why
    last = forecast(days, [True] * 6, 70)
    assert isinstance(last, Unknown)
    assert "Only 1 plant in" in last.why


def test_groups_are_compared_only_when_numbers_allow() -> None:
    five, four = ([10, 20, 30, 40, 50], [True] * 5), ([15, 25, 35, 45], [True] * 4)
    assert isinstance(compared(*five, *five), LogRank)
    few = compared(*five, *four)
    assert isinstance(few, Unknown)
    assert "Only 4 plants settled in one of the groups" in few.why
    brief = compared([1, 2, 3, 4, 5], [True] * 5, list(range(100, 160)), [True] * 60)
    assert isinstance(brief, Unknown)
    assert "too briefly" in brief.why


def test_alike_groups_do_not_differ_and_unlike_ones_do() -> None:
    alike = log_rank([1, 2, 3], [True] * 3, [1, 2, 3], [True] * 3)
    assert (alike.chi_square, alike.p) == (0, 1)
    unlike = log_rank(list(range(1, 21)), [True] * 20, list(range(101, 121)), [True] * 20)
    assert unlike.p < 1e-6
    assert log_rank([5], [True], [], []).p == 1
    assert log_rank([1], [True], [2], [False]).chi_square == pytest.approx(1)


@pytest.mark.parametrize("day", [-1, -0.001, nan, inf, -inf])
def test_a_day_that_is_none_is_refused(day: float) -> None:
    for call in (lambda: settling_curve([1, day], [True, False]), lambda: forecast([1, day], [True, True], 0),
                 lambda: log_rank([1], [True], [day], [True])):
        with pytest.raises(OutOfRange) as raised:
            call()
        assert raised.value.argument == "days"


@pytest.mark.parametrize("already", [-1, nan, inf])
def test_a_plant_cannot_be_less_than_no_days_in(already: float) -> None:
    with pytest.raises(OutOfRange) as raised:
        forecast([1, 2], [True, True], already)
    assert raised.value.argument == "already"


def test_every_day_needs_its_end() -> None:
    with pytest.raises(OutOfRange) as raised:
        settling_curve([1, 2, 3], [True])
    assert (raised.value.argument, raised.value.value, raised.value.low, raised.value.high) == ("settled", 1, 3, 3)
    with pytest.raises(OutOfRange):
        settling_curve([1], [True, False])
