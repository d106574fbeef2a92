"""A day as somebody types it: 13 Nov, 13 November 2026, November 13, 13.11.2026, 13/11, 2026-11-13."""

from __future__ import annotations

import re
from datetime import date

NUMBERS = re.compile(r"(\d{1,2})[./](\d{1,2})(?:[./](\d{4})?)?")
ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")
NAMED = re.compile(r"(?:(\d{1,2})\.?\s+([a-z]{3,})|([a-z]{3,})\s+(\d{1,2}))\.?,?(?:\s+(\d{4}))?")
NAMES = ("january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november",
         "december")


def day_typed(text: str, today: date) -> date | None:
    """The day that the whole of `text` names, the day before the month; None where it names none.

    Without a year it is the one nearest to `today`.
    """
    asked = text.strip().casefold()
    if found := ISO.fullmatch(asked):
        return _day(*(int(part) for part in found.groups()))
    if found := NUMBERS.fullmatch(asked):
        day, month, year = found.groups()
        return _dated(int(day), int(month), year, today)
    if found := NAMED.fullmatch(asked):
        first, name, other, second, year = found.groups()
        month = next((nth for nth, full in enumerate(NAMES, 1) if full.startswith(name or other)), 0)
        return _dated(int(first or second), month, year, today)
    return None


def _dated(day: int, month: int, year: str | None, today: date) -> date | None:
    if year is not None:
        return _day(int(year), month, day)
    near = [one for one in (_day(today.year + way, month, day) for way in (0, -1, 1)) if one is not None]
    return min(near, key=lambda one: abs(one - today), default=None)


def _day(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None
