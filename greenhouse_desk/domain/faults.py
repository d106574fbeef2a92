"""What can go wrong, as values: arguments out of range, faults in data files, refusals fit for the grower."""

from __future__ import annotations

import math
from dataclasses import dataclass


class OutOfRange(ValueError):
    """An argument outside the domain of a rule.

    `argument` is its name, `value` what was given, `low` and `high` the allowed range in the argument's own unit.
    """

    def __init__(self, argument: str, value: float, low: float, high: float) -> None:
        super().__init__(f"{argument} is {value!r}, allowed is {low:g} to {high:g}")
        self.argument = argument
        self.value = value
        self.low = low
        self.high = high


def within(argument: str, value: float, low: float, high: float) -> float:
    """Return `value` when `low <= value <= high`; raise OutOfRange otherwise (NaN and infinities too)."""
    if not math.isfinite(value) or not low <= value <= high:
        raise OutOfRange(argument, value, low, high)
    return value


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
