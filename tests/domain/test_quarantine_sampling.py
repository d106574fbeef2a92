"""How many plants to check and how sure looks make: edges, refusals, and which way things must go."""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction
from itertools import combinations
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.degree_days import days_to_complete
from greenhouse_desk.domain.faults import OutOfRange
from greenhouse_desk.domain.quarantine import (
    chance_infested,
    chance_words,
    sample_size,
    sample_size_large,
    wilson,
)
from greenhouse_desk.domain.transitions import forecast, settling_curve

NAN, INF = math.nan, math.inf


def test_small_lots_counted_out_by_hand() -> None:
    """Every way of drawing n of 7 is tried: the share that misses all 2 must not exceed one in five."""
    missing = [Fraction(sum(not {0, 1} & set(drawn) for drawn in combinations(range(7), n)), math.comb(7, n))
               for n in range(8)]
    assert sample_size(7, 2, 0.8) == next(n for n in range(8) if missing[n] <= Fraction(1, 5))


def test_a_confidence_is_taken_as_written() -> None:
    """(10 - n)/10 <= 1/10 holds at 9 exactly; with binary tenths it would not."""
    assert sample_size(10, 1, 0.9) == 9
    assert sample_size(100, 1, 0.99) == 99
    assert sample_size_large(0.5, 0.75) == 2
    assert sample_size_large(0.1, 0.19) == 2


def test_the_ends_of_the_ranges() -> None:
    assert sample_size(1, 1) == 1
    assert sample_size(40, 40) == 1
    assert sample_size(40, 3, 1.0) == 38, "only then can no choice miss all three"
    assert sample_size(40, 3, 0.0) == 0
    assert sample_size(10**9, 1) == 950_000_000
    assert sample_size_large(1.0) == 1
    assert sample_size_large(1.0, 1.0) == 1
    assert sample_size_large(0.3, 0.0) == 0
    assert sample_size_large(1e-9) == 2_995_732_273


@pytest.mark.parametrize(("lot", "infested", "confidence", "argument"), [
    (0, 1, 0.95, "lot"), (-4, 1, 0.95, "lot"), (NAN, 1, 0.95, "lot"), (10.5, 1, 0.95, "lot"), (10, 0, 0.95, "infested"),
    (10, 11, 0.95, "infested"), (10, 1.5, 0.95, "infested"), (10, 1, 1.01, "confidence"), (10, 1, -0.1, "confidence"),
    (10, 1, NAN, "confidence"), (10, 1, INF, "confidence")])
def test_a_sample_size_out_of_range_is_refused(lot: int, infested: int, confidence: float, argument: str) -> None:
    with pytest.raises(OutOfRange) as error:
        sample_size(lot, infested, confidence)
    assert error.value.argument == argument


@pytest.mark.parametrize(("share", "confidence", "efficacy", "argument"), [
    (0.0, 0.95, 1.0, "share"), (1.1, 0.95, 1.0, "share"), (NAN, 0.95, 1.0, "share"), (0.1, 1.0, 1.0, "confidence"),
    (1.0, 1.0, 0.9, "confidence"), (0.1, -1.0, 1.0, "confidence"), (0.1, 0.95, 0.0, "efficacy"),
    (0.1, 0.95, INF, "efficacy")])
def test_a_large_sample_out_of_range_is_refused(share: float, confidence: float, efficacy: float,
                                                argument: str) -> None:
    with pytest.raises(OutOfRange) as error:
        sample_size_large(share, confidence, efficacy)
    assert error.value.argument == argument


@pytest.mark.parametrize(("prior", "sensitivity", "looks", "argument"), [
    (-0.1, 0.5, 1, "prior"), (1.1, 0.5, 1, "prior"), (NAN, 0.5, 1, "prior"), (0.5, 1.5, 1, "sensitivity"),
    (0.5, NAN, 1, "sensitivity"), (0.5, 0.5, -1, "clean_looks"), (0.5, 0.5, 1.5, "clean_looks")])
def test_a_chance_out_of_range_is_refused(prior: float, sensitivity: float, looks: int, argument: str) -> None:
    with pytest.raises(OutOfRange) as error:
        chance_infested(prior, sensitivity, looks)
    assert error.value.argument == argument


@pytest.mark.parametrize(("found", "of", "confidence", "argument"), [
    (0, 0, 0.95, "of"), (3, 2, 0.95, "found"), (-1, 2, 0.95, "found"), (1, 2, 0.0, "confidence"),
    (1, 2, 1.0, "confidence"), (1, 2, NAN, "confidence")])
def test_an_interval_out_of_range_is_refused(found: int, of: int, confidence: float, argument: str) -> None:
    with pytest.raises(OutOfRange) as error:
        wilson(found, of, confidence)
    assert error.value.argument == argument


HUGE = 10 ** 5000
BAD = (NAN, INF, -INF, True, False, HUGE, -HUGE)


@pytest.mark.parametrize("bad", BAD, ids=["nan", "inf", "-inf", "true", "false", "huge", "-huge"])
@pytest.mark.parametrize(("argument", "ask"), [
    ("lot", lambda bad: sample_size(bad, 1)), ("infested", lambda bad: sample_size(10, bad)),
    ("confidence", lambda bad: sample_size(10, 1, bad)), ("share", lambda bad: sample_size_large(bad)),
    ("confidence", lambda bad: sample_size_large(0.1, bad)), ("efficacy", lambda bad: sample_size_large(0.1, 0.9, bad)),
    ("prior", lambda bad: chance_infested(bad, 0.5, 1)), ("sensitivity", lambda bad: chance_infested(0.5, bad, 1)),
    ("clean_looks", lambda bad: chance_infested(0.5, 0.5, bad)), ("chance", lambda bad: chance_words(bad)),
    ("found", lambda bad: wilson(bad, 10)), ("of", lambda bad: wilson(1, bad)),
    ("confidence", lambda bad: wilson(1, 10, bad)), ("days", lambda bad: settling_curve([bad], [True])),
    ("already", lambda bad: forecast([1.0], [True], bad)),
    ("temp_c", lambda bad: days_to_complete(100.0, 10.0, bad))])
def test_no_chance_is_told_from_what_is_no_number(argument: str, ask: Callable[[Any], object], bad: Any) -> None:
    with pytest.raises(OutOfRange) as error:
        ask(bad)
    assert error.value.argument == argument
    assert error.value.value is bad
    assert str(error.value).startswith(f"{argument} is ")


@pytest.mark.parametrize("confidence", [1 - 1e-16, 1 - 2e-16, math.nextafter(1, 0), math.nextafter(0, 1), 1e-16])
def test_a_confidence_that_is_all_but_certain_is_refused_by_its_name_and_range(confidence: float) -> None:
    with pytest.raises(OutOfRange) as error:
        wilson(1, 2, confidence)
    assert (error.value.argument, error.value.value) == ("confidence", confidence)
    assert (error.value.low, error.value.high) == (1e-15, 1 - 1e-15)
    assert str(error.value).endswith("allowed is 1e-15 to 0.999999999999999")


def test_the_nearest_confidence_still_gives_an_interval() -> None:
    wide, narrow = wilson(1, 2, 1 - 1e-15), wilson(1, 2, 1e-15)
    assert 0 < wide.low < 0.02
    assert 0.98 < wide.high < 1
    assert narrow.high - narrow.low < 1e-14


def test_a_range_is_told_with_the_digits_it_needs() -> None:
    assert str(OutOfRange("share", 0.95, 1, 10 ** 9)) == "share is 0.95, allowed is 1 to 1e+09"
    assert str(OutOfRange("share", math.nextafter(1, 0), 0, INF)) == (
        "share is 0.9999999999999999, allowed is 0 to inf")
    assert str(OutOfRange("share", True, 0, 1)) == "share is True, allowed is 0 to 1"
    assert str(OutOfRange("share", NAN, 0, 1)) == "share is nan, allowed is 0 to 1"
    assert str(OutOfRange("share", HUGE, 0, 1)) == "share is a number too large to reckon with, allowed is 0 to 1"


def test_what_looks_can_and_cannot_tell() -> None:
    assert chance_infested(0.3, 0.6, 0) == 0.3
    assert chance_infested(0.3, 0.0, 9) == pytest.approx(0.3)
    assert chance_infested(0.3, 1.0, 1) == 0.0
    assert chance_infested(1.0, 1.0, 3) == 1.0, "what is known is not unlearnt by looking"
    assert chance_infested(0.0, 0.5, 3) == 0.0


@pytest.mark.parametrize(("chance", "words"), [
    (0.0, "less than 1 %"), (0.0099, "less than 1 %"), (0.01, "1 %"), (0.124, "12 %"), (0.99, "99 %"),
    (0.991, "more than 99 %"), (1.0, "more than 99 %")])
def test_a_chance_is_never_told_as_nothing_or_certain(chance: float, words: str) -> None:
    assert chance_words(chance) == words


@given(st.integers(1, 300), st.data())
def test_more_infested_plants_are_found_with_fewer_looks(lot: int, data: st.DataObject) -> None:
    infested = data.draw(st.integers(1, lot))
    confidence = data.draw(st.floats(0, 1))
    size = sample_size(lot, infested, confidence)
    assert size <= lot
    assert sample_size(lot, min(lot, infested + 1), confidence) <= size
    assert sample_size(lot, infested, min(1.0, confidence + 0.01)) >= size
    assert sample_size(lot + 1, infested, confidence) >= size


@given(st.floats(0.01, 1), st.floats(0, 0.999), st.floats(0.1, 1))
def test_a_poorer_look_asks_for_more(share: float, confidence: float, efficacy: float) -> None:
    assert sample_size_large(share, confidence, efficacy) >= sample_size_large(share, confidence)
    assert sample_size_large(share, confidence) <= sample_size_large(share / 2, confidence)


@given(st.floats(0, 1), st.floats(0, 1), st.integers(0, 60))
def test_each_clean_look_lowers_the_chance(prior: float, sensitivity: float, looks: int) -> None:
    before, after = (chance_infested(prior, sensitivity, count) for count in (looks, looks + 1))
    assert 0 <= after <= before + 1e-12 <= 1 + 1e-12
    assert after == pytest.approx(chance_infested(before, sensitivity, 1), abs=1e-9), "one after the other is the same"


@given(st.integers(1, 10_000).flatmap(lambda of: st.tuples(st.integers(0, of), st.just(of))), st.floats(0.01, 0.99))
def test_an_interval_holds_its_share_and_grows_with_confidence(found_of: tuple[int, int], confidence: float) -> None:
    found, of = found_of
    span, wider = wilson(found, of, confidence), wilson(found, of, (1 + confidence) / 2)
    slack = 1e-12  # of rounding
    assert 0 <= wider.low <= span.low + slack <= found / of + 2 * slack <= span.high + 3 * slack
    assert span.high <= wider.high + slack <= 1 + slack
