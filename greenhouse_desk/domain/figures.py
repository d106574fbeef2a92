"""Figures that say where they come from: constants with unit and source, and spans where one number would be a lie."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Constant:
    """A number the rules use: its value and unit, what it is of, and its source or mark.

    `source` begins with its mark: "published: ...", "common practice", "from memory", "derived here" or "house rule".
    """

    value: float
    unit: str
    of: str
    source: str


@dataclass(frozen=True, slots=True)
class Span:
    """From the lowest to the highest likely value, in the unit its maker names; either may be infinite."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Unknown:
    """No figure: `why` says in a grower's words what is missing for one."""

    why: str


def counted(count: float, noun: str, many: str = "") -> str:
    """"1 day", "3 days", "1051200 readings"; `many` where the plural is not made by an s."""
    return f"{count if isinstance(count, int) else f'{count:g}'} {noun if count == 1 else many or noun + 's'}"


def spanned(low: float, high: float, noun: str, many: str = "") -> str:
    """"4 to 5 days", and "1 day" where both ends are one."""
    return counted(low, noun, many) if low == high else f"{low:g} to {counted(high, noun, many)}"


def plainly(source: str) -> str:
    """A source or mark as a grower reads it: what comes from memory says that nobody checked it."""
    return source.replace("from memory", "from memory, not checked against a source")
