"""The code on a label: what it says, its light border, the level chosen by its size, and how it is read back."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.labels_code import LEAST_MODULE, QUIET, Code, begins_code, code, number_in, text_of

NUMBERS = st.integers(1, 999_999)


@given(NUMBERS)
def test_it_says_the_number_in_decimal_and_no_other_run_of_three_digits(number: int) -> None:
    runs = re.findall(r"[0-9]+", text_of(number))
    assert runs == [str(number)]
    assert number_in(text_of(number)) == number


@pytest.mark.parametrize("text", ["", "101", "PLANT", "PLANT 0", "PLANT 0101", "PLANT -1", "PLANT 1234567", "PLANT 1 2",
                                  "PLANTER 101", "PLANT 101 ROOT", "PLANT ١٠١"])
def test_what_is_no_code_of_ours_names_no_plant(text: str) -> None:
    assert number_in(text) is None


@pytest.mark.parametrize("text", ["plant 101", " PLANT 101\n", "PLANT 101\r"])
def test_a_scanner_may_add_a_line_end_or_type_small_letters(text: str) -> None:
    assert number_in(text) == 101


@given(NUMBERS)
def test_every_beginning_of_a_code_may_become_one(number: int) -> None:
    whole = text_of(number)
    assert all(begins_code(whole[:length]) for length in range(len(whole) + 1))
    assert all(begins_code(whole[:length].lower()) for length in range(len(whole) + 1))


@pytest.mark.parametrize("text", ["X", " ", "1", "PX", "PLANT1", "PLANT 0", "PLANT 1X", "PLANT 1234567", "PLANT  1"])
def test_what_cannot_become_a_code(text: str) -> None:
    assert not begins_code(text)


def made(number: int, side: float) -> Code:
    found = code(number, side)
    assert found is not None
    return found


@pytest.mark.parametrize(("number", "side", "level"), [
    (101, 10.9, "H"), (9999, 10.9, "H"), (12345, 12.3, "Q"), (12345, 12.4, "H"), (123456, 10.9, "Q"),
    (123456, 20, "H")])
def test_the_level_that_bears_most_damage_is_taken_of_those_that_fit(number: int, side: float, level: str) -> None:
    assert made(number, side).level == level


@given(NUMBERS, st.floats(10.9, 60))
def test_squares_are_never_smaller_than_the_least_and_the_border_lies_inside(number: int, side: float) -> None:
    """Three dots of a 203 dpi printer: two dots, 0.25 mm, would double in width by one dot of spread."""
    found = made(number, side)
    assert found.module >= LEAST_MODULE.value - 1e-9
    assert pytest.approx(LEAST_MODULE.value, abs=0.001) == 3 * 25.4 / 203
    assert len(found.rows) * found.module + 2 * found.quiet == pytest.approx(side)
    assert found.quiet == pytest.approx(QUIET.value * found.module)


def test_where_a_code_would_be_too_small_there_is_none() -> None:
    assert code(101, 10.8) is None
    assert code(101, 0) is None
