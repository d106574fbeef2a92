"""Day and month the wrong way round: told by all the days of a logger's file, not by its first rows."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta

import pytest

from greenhouse_desk.domain.air_log import DateOrder
from greenhouse_desk.domain.air_log_order import turned
from tests.domain.air_files import read

TODAY = date(2026, 11, 27)
DAY, MONTH = DateOrder.DAY, DateOrder.MONTH


def days(count: int, form: str, first: date = date(2026, 11, 1)) -> list[str]:
    return [format(first + timedelta(days=nth), form) for nth in range(count)]


@pytest.mark.parametrize(("texts", "chosen", "better"), [
    (days(25, "%m/%d/%Y"), DAY, MONTH),
    (days(25, "%m/%d/%Y"), MONTH, None),
    (days(25, "%d/%m/%Y"), MONTH, DAY),
    (days(25, "%d.%m.%y"), DAY, None),
    (days(5, "%m/%d/%Y"), DAY, MONTH),
    (days(5, "%m/%d/%Y"), MONTH, None),
    (days(2, "%m/%d/%Y"), DAY, None),
    (days(25, "%Y-%m-%d"), DateOrder.YEAR, None),
    ([*days(6, "%d/%m/%Y"), "01/12/2026"], DAY, None),
    ([*days(25, "%d/%m/%Y"), "11/31/2026"], DAY, None),
], ids=["thirteenth on", "right", "month chosen", "right with dots", "a month apart", "a day apart", "too few",
        "year first", "one day to come", "one broken day"])
def test_the_order_that_fits_the_whole_file_is_named(texts: Sequence[str], chosen: DateOrder,
                                                     better: DateOrder | None) -> None:
    assert turned(texts, chosen, TODAY) == better


def test_it_is_told_of_a_file_that_was_read() -> None:
    start = datetime(2026, 11, 1, tzinfo=UTC)
    rows = [f"{start + timedelta(hours=6 * nth):%m/%d/%Y %I:%M:%S %p},20.0,60" for nth in range(60)]
    wrong = read(rows, order=DAY)
    assert (wrong.turned, len(wrong.log.at)) == (MONTH, 44)
    assert read(rows, order=MONTH).turned is None
