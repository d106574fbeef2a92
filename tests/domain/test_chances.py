"""How likely a newcomer carries something: which way its source's record may move that, whatever the record."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.chances import UNKNOWN_ORIGIN, carrying, one_of
from greenhouse_desk.domain.origins import Origin
from greenhouse_desk.domain.quarantine import NEWCOMER, Status, wilson
from greenhouse_desk.domain.settings import HouseRules

RULES = HouseRules()
NEW = Status("", "newcomer", "stands in an isolation place", NEWCOMER)


def chance(found: int, had: int, looks: int = 0) -> float:
    status = Status("", "newcomer", "stands in an isolation place", NEWCOMER, counted=looks)
    return carrying([status], 0, RULES, Origin(found, had)).value


@st.composite
def records(draw: st.DrawFn) -> tuple[int, int]:
    """How many of how many showed something."""
    had = draw(st.integers(0, 500))
    return draw(st.integers(0, had)), had


@given(records(), st.integers(1, 500), st.integers(0, 5))
def test_clean_plants_more_never_raise_the_chance(record: tuple[int, int], more: int, looks: int) -> None:
    found, had = record
    assert chance(found, had + more, looks) <= chance(found, had, looks)
    if had:
        assert wilson(found, had + more).high <= wilson(found, had).high
        assert wilson(found, had + more).low <= wilson(found, had).low


@given(records(), st.integers(1, 500))
def test_plants_more_that_showed_something_never_lower_it(record: tuple[int, int], more: int) -> None:
    found, had = record
    assert chance(found + more, had + more) >= chance(found, had)


def test_a_clean_record_begins_below_an_unknown_source() -> None:
    assert chance(0, 0) == pytest.approx(UNKNOWN_ORIGIN.value)
    assert [chance(0, had) for had in (1, 5, 15)] == pytest.approx([1 / 6, 1 / 10, 1 / 20])
    assert chance(1, 1) == pytest.approx(1 / 3)
    assert one_of(NEW, RULES, Origin(1, 4)).why[0].source.startswith("your own record: 1 of 4 others from its source")
