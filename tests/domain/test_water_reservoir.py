"""The reservoir between fillings: days it lasts by the plant's own record, and salts that stay behind."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from math import inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.faults import OutOfRange
from greenhouse_desk.domain.figures import Span, Unknown
from greenhouse_desk.domain.water_reservoir import Pour, Refill, days_until_empty, salt_build_up, salt_span

FIRST = date(2026, 3, 2)
POURS = st.lists(st.tuples(st.floats(0, 100), st.floats(0, 3)).map(lambda pair: Pour(*pair)), max_size=15)


def refills(*each: tuple[int, float]) -> list[Refill]:
    """Refills so many days after the first, with their millilitres."""
    return [Refill(FIRST + timedelta(days=day), ml) for day, ml in each]


def test_days_from_the_fastest_to_the_slowest_use() -> None:
    found = days_until_empty(Span(120, 150), refills((0, 80), (5, 50), (10, 100), (20, 100)))
    assert found == Span(120 / 20, 150 / 10)


def test_the_first_refill_tells_nothing_and_the_order_does_not_matter() -> None:
    each = refills((0, 999), (5, 50), (10, 50), (20, 100))
    assert days_until_empty(Span(100, 100), each) == days_until_empty(Span(100, 100), each[::-1]) == Span(10, 10)


def test_two_pours_of_one_day_are_one_refill() -> None:
    assert days_until_empty(Span(90, 90), refills((0, 10), (5, 20), (5, 25), (10, 45), (15, 45))) == Span(10, 10)


def test_only_the_latest_six_stretches_count() -> None:
    old = [(day, 500.0) for day in range(0, 30, 5)]
    new = [(day, 50.0) for day in range(30, 56, 5)]
    assert days_until_empty(Span(100, 100), refills(*old, *new)) == Span(10, 10)
    assert days_until_empty(Span(100, 100), refills(*old, *new[:-1])) == Span(1, 10)


@pytest.mark.parametrize(("each", "said"), [
    ((), "has 0."), (((0, 50.0),), "has 1."), (((0, 50.0), (4, 50.0), (8, 50.0)), "has 3."),
    (((0, 50.0), (4, 50.0), (4, 50.0), (8, 50.0)), "has 3.")])
def test_too_few_refills_are_said_to_be_too_few(each: tuple[tuple[int, float], ...], said: str) -> None:
    found = days_until_empty(Span(100, 120), refills(*each))
    assert isinstance(found, Unknown)
    assert found.why.startswith("Refills on 4 days")
    assert found.why.endswith(said)


@given(st.lists(st.tuples(st.integers(0, 400), st.floats(1, 500)), min_size=4, max_size=30), st.floats(10, 500))
def test_a_larger_reservoir_lasts_longer(each: list[tuple[int, float]], ml: float) -> None:
    small, large = (days_until_empty(Span(size, size * 1.1), refills(*each)) for size in (ml, ml * 2))
    if isinstance(small, Span) and isinstance(large, Span):
        assert small.low <= small.high
        assert large.low == pytest.approx(2 * small.low)
        assert large.high == pytest.approx(2 * small.high)


@given(POURS, st.floats(0, 3))
def test_no_salt_is_lost_where_nothing_runs_over(pours: list[Pour], start: float) -> None:
    end = salt_build_up(200, start, pours)
    assert end * 200 == pytest.approx(start * 200 + sum(pour.ml * pour.ec for pour in pours), abs=1e-9)


@given(POURS, st.floats(0, 3), st.floats(0, 1))
def test_salts_in_are_salts_kept_and_run_over(pours: list[Pour], start: float, drained: float) -> None:
    """Summed pour by pour: what runs over has the conductivity of what stays."""
    ec, gone = start, 0.0
    for pour in pours:
        ec = salt_build_up(200, ec, [pour], drained)
        gone += ec * pour.ml * drained
    assert ec == pytest.approx(salt_build_up(200, start, pours, drained))
    assert ec * 200 + gone == pytest.approx(start * 200 + sum(pour.ml * pour.ec for pour in pours), abs=1e-9)


@given(POURS, st.floats(0, 3), st.floats(0, 1))
def test_the_span_holds_every_plant_between(pours: list[Pour], start: float, taken: float) -> None:
    span = salt_span(Span(150, 200), start, pours)
    for volume in (150, 170, 200):
        assert span.low - 1e-9 <= salt_build_up(volume, start, pours, 0, taken) <= span.high + 1e-9


def test_plain_water_that_runs_over_flushes() -> None:
    assert salt_build_up(100, 2.0, [Pour(100, 0.0)] * 10, drained_share=1.0) == pytest.approx(2 / 2**10)
    span = salt_span(Span(100, 200), 2.0, [Pour(100, 0.0)], drained_share=1.0)
    assert (span.low, span.high) == pytest.approx((1.0, 4 / 3))


def test_what_the_plant_takes_up_does_not_stay() -> None:
    assert salt_build_up(100, 1.0, [Pour(50, 2.0)], taken_share=0.25) == pytest.approx(1.75)
    assert salt_build_up(100, 1.0, [Pour(50, 2.0)] * 3, taken_share=1.0) == 1.0
    assert salt_build_up(100, 1.0, []) == 1.0


def test_no_more_can_have_gone_than_was_there() -> None:
    assert salt_build_up(100, 1.0, [Pour(100, 1.0)]) == 2.0
    assert salt_build_up(100, 1.0, [Pour(200, 1.0)], drained_share=0.5) == pytest.approx(1.5)
    for ml, drained in ((101, 0.0), (201, 0.5), (400, 0.7)):
        with pytest.raises(OutOfRange) as raised:
            salt_build_up(100, 1.0, [Pour(ml, 1.0)], drained)
        assert (raised.value.argument, raised.value.high) == ("ml", 100 / (1 - drained))


BAD: list[tuple[Callable[[float], object], str, tuple[float, ...]]] = [
    (lambda x: days_until_empty(Span(x, 100), []), "reservoir_ml", (0, -1, 1e7 + .5)),
    (lambda x: days_until_empty(Span(100, x), []), "reservoir_ml", (99, 1e7 + .5)),
    (lambda x: days_until_empty(Span(100, 100), refills((0, x))), "ml", (0, -1, 1e7 + .5)),
    (lambda x: salt_build_up(x, 1, []), "volume_ml", (0, -1, 1e7 + .5)),
    (lambda x: salt_build_up(100, x, []), "start_ec", (-.1, 1_000_001)),
    (lambda x: salt_build_up(100, 1, [], x), "drained_share", (-.1, 1.1)),
    (lambda x: salt_build_up(100, 1, [], 0, x), "taken_share", (-.1, 1.1)),
    (lambda x: salt_build_up(100, 1, [Pour(x, 1)]), "ml", (-.1, 101)),
    (lambda x: salt_build_up(1e7, 1, [Pour(x, 1)], 1), "ml", (-.1, 1e7 + .5)),
    (lambda x: salt_build_up(100, 1, [Pour(1, x)]), "ec", (-.1, 1_000_001)),
    (lambda x: salt_span(Span(x, 100), 1, []), "reservoir_ml", (0, 101)),
]


@pytest.mark.parametrize(("call", "argument", "values"), BAD)
def test_out_of_range_names_the_argument(call: Callable[[float], object], argument: str,
                                         values: tuple[float, ...]) -> None:
    for value in (*values, nan, inf, -inf):
        with pytest.raises(OutOfRange) as raised:
            call(value)
        assert raised.value.argument == argument
