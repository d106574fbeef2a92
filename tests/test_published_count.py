"""Enough published values are really checked: counted by the rows that tests are parametrized with."""

from __future__ import annotations

from types import ModuleType

import pytest

from tests.outside.published import Published, checked, everywhere

VALUES, SOURCES = 120, 25
ROWS = everywhere()


def read_again() -> set[Published]:
    """Without those whose value was only remembered."""
    return {row for row in ROWS if "from memory" not in row.source}


def test_enough_values_from_enough_sources() -> None:
    assert len(read_again()) >= VALUES
    assert len({row.source.casefold().strip() for row in read_again()}) >= SOURCES


def test_every_row_tells_what_it_is_and_where_it_comes_from() -> None:
    assert [row for row in ROWS if not row.what.strip() or len(row.source.strip()) < 8] == []


def test_a_row_that_no_test_is_given_does_not_count() -> None:
    given, spare = Published("a", 1.0, "a work"), Published("b", 2.0, "a work")

    @pytest.mark.parametrize(("row", "more"), [(given, 0), pytest.param(given, 1)])
    def test_something(row: Published, more: int) -> None:
        raise AssertionError("never run")

    module = ModuleType("a_module")
    module.__dict__.update(test_something=test_something, SPARE=(spare,))
    assert set(checked(module)) == {given}


def test_a_value_agrees_only_within_its_tolerance() -> None:
    row = Published("a", 10.0, "a work", within=0.5)
    assert row.agrees(10.4)
    assert not row.agrees(10.6)
    assert not row.agrees(float("nan"))
    assert Published("never", float("inf"), "a work").agrees(float("inf"))
    assert not Published("never", float("inf"), "a work", within=9.0).agrees(1e9)
