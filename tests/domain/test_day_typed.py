"""A day as somebody types it."""

from __future__ import annotations

from datetime import date

import pytest

from greenhouse_desk.domain.day_typed import day_typed

TODAY = date(2026, 11, 27)


@pytest.mark.parametrize("text", ["13 nov", "13 November", " Nov 13 ", "november 13, 2026", "13. Nov 2026",
                                  "13.11.2026", "13.11.", "13/11", "13/11/2026", "2026-11-13"])
def test_ways_to_write_one_day(text: str) -> None:
    assert day_typed(text, TODAY) == date(2026, 11, 13)


@pytest.mark.parametrize(("text", "day"), [("3 jan", date(2027, 1, 3)), ("3 jul", date(2026, 7, 3)),
                                           ("31.12.2026", date(2026, 12, 31)), ("5 6 2026", None)])
def test_without_a_year_it_is_the_nearest(text: str, day: date | None) -> None:
    assert day_typed(text, TODAY) == day


@pytest.mark.parametrize("text", ["", "13", "spike", "31 feb", "13 spikes", "30/30", "2026-13-01", "oct 2026"])
def test_what_is_no_day(text: str) -> None:
    assert day_typed(text, TODAY) is None


def test_a_month_is_told_by_its_first_letters() -> None:
    assert day_typed("29 feb", TODAY) is None, "neither this year nor its neighbours have one"
    assert day_typed("1 mar", TODAY) == date(2027, 3, 1)
