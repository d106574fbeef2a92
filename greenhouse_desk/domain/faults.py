"""What can go wrong, as values: arguments out of range, faults in data files, refusals fit for the grower."""

from __future__ import annotations

import math
from dataclasses import dataclass


class OutOfRange(ValueError):
    """An argument outside the domain of a rule.

    `argument` is its name, `value` what was given, `low` and `high` the allowed range in the argument's own unit.
    """

    def __init__(self, argument: str, value: float, low: float, high: float) -> None:
        super().__init__(f"{argument} is {_said(value)}, allowed is {_said(low)} to {_said(high)}")
        self.argument = argument
        self.value = value
        self.low = low
        self.high = high


def within(argument: str, value: float, low: float, high: float) -> float:
    """Return `value` when `low <= value <= high`; raise OutOfRange otherwise.

    NaN, infinities, true and false, and whole numbers too large to reckon with raise it too.
    """
    if isinstance(value, bool) or not _finite(value) or not low <= value <= high:
        raise OutOfRange(argument, value, low, high)
    return value


def _finite(value: float) -> bool:
    try:
        return math.isfinite(value)
    except OverflowError:
        return False


def _said(value: float) -> str:
    """A number in as few digits as tell it: 0.95, 1e+09, and 0.9999999999999999 rather than 1."""
    if not isinstance(value, bool) and not _finite(value) and isinstance(value, int):
        return "a number too large to reckon with"
    short = f"{value:g}"
    return short if not isinstance(value, bool) and (float(short) == value or math.isnan(value)) else repr(value)


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault in a data file: the file, the path inside it ("step[3].most_min"), and what was expected.

    `grave` marks a fault that must stop a start (a do-not-mix pair); other faults explain themselves.
    """

    file: str
    path: str
    message: str
    grave: bool = False

    def __str__(self) -> str:
        return f"{self.file}: {self.path}: {self.message}"


class Refused(Exception):
    """An expected failure: a title, a detail fit for the grower, and what to do next. Nothing was changed."""

    def __init__(self, title: str, detail: str = "", next_step: str = "") -> None:
        super().__init__(" ".join(part for part in (title, detail, next_step) if part))
        self.title = title
        self.detail = detail
        self.next_step = next_step


class Held(Refused):
    """Another running copy holds this collection: bring that one forward instead."""


class Damaged(Refused):
    """The database file is damaged. `backup` names the latest good backup, None when there is none."""

    def __init__(self, title: str, detail: str = "", next_step: str = "", backup: str | None = None) -> None:
        super().__init__(title, detail, next_step)
        self.backup = backup
