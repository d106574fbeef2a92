"""What the collection teaches, as values to be drawn, read out and exported: each says what it rests on.

A finding that rests on too few plants has no chart, only its table and words that say so.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from datetime import date, datetime

from greenhouse_desk.domain.care_values import Reason
from greenhouse_desk.domain.figures import Constant, Span
from greenhouse_desk.domain.transitions import Settling

FEWEST_PLANTS = Constant(5, "plants", "fewest plants a chart is drawn for", "house rule")
MOST_GROUPS = 6
"""More lines than this in one chart cannot be told apart without colour; the rest is named in words."""

Cell = str | int | float | None


@dataclass(frozen=True, slots=True)
class Table:
    """The figures behind a chart, as they are exported."""

    head: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]

    def csv(self) -> str:
        """The table as RFC 4180 text; a cell that a spreadsheet would take for a formula is made harmless."""
        out = _Written()
        writer = csv.writer(out, lineterminator="\r\n")
        writer.writerow(self.head)
        writer.writerows([_harmless(cell) for cell in row] for row in self.rows)
        return "".join(out)


class _Written(list[str]):
    """What a writer wrote, piece by piece."""

    def write(self, text: str) -> None:
        """Take one piece."""
        self.append(text)


def _harmless(cell: Cell) -> Cell:
    return f"'{cell}" if isinstance(cell, str) and cell[:1] in tuple("=+-@\t\r") else cell


@dataclass(frozen=True, slots=True)
class Settled:
    """How one group settles: the curve's steps, how many plants and how many of them settled, how many were still
    unsettled and watched at each of the marks of `Curves`, and the last day on which one was watched: later than that
    nothing is known."""

    words: str
    steps: tuple[Settling, ...]
    plants: int
    settled: int
    at_risk: tuple[int, ...]
    last: float


@dataclass(frozen=True, slots=True)
class Curves:
    """Settling curves over days; `marks` are the days under which the numbers still unsettled stand."""

    groups: tuple[Settled, ...]
    marks: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Months:
    """Counts by month: `months` are first days of months, each of `series` its words and a count for each month."""

    months: tuple[date, ...]
    series: tuple[tuple[str, tuple[int, ...]], ...]


@dataclass(frozen=True, slots=True)
class Share:
    """`hits` of `of` plants, and in what share of plants it lies with 95 % confidence."""

    words: str
    hits: int
    of: int
    span: Span


@dataclass(frozen=True, slots=True)
class Shares:
    """Shares with their intervals, one beneath the other."""

    rows: tuple[Share, ...]


@dataclass(frozen=True, slots=True)
class Amounts:
    """Counts of things by their words, the largest first."""

    rows: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class Track:
    """One measured line over time: its words, unit, and (instant or day, value), oldest first. A value that is no
    number breaks the line; `apart` shows marks without a line."""

    words: str
    unit: str
    points: tuple[tuple[date | datetime, float], ...]
    apart: bool = False


@dataclass(frozen=True, slots=True)
class Tracks:
    """Lines over one axis of time, a panel for each unit."""

    lines: tuple[Track, ...]


@dataclass(frozen=True, slots=True)
class Bloomed:
    """Of `plants` of a genus, how many were seen in flower in each month of the year, January first; the months in
    which it usually blooms."""

    words: str
    plants: int
    counts: tuple[int, ...]
    usual: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Seasons:
    """Flowering over the twelve months, a row a genus."""

    rows: tuple[Bloomed, ...]


Chart = Curves | Months | Shares | Amounts | Tracks | Seasons


@dataclass(frozen=True, slots=True)
class Finding:
    """A question answered from the record: `rests_on` says from how many of what, `summary` the answer in words.

    `chart` is None where there is too little to draw. `table` has what there is either way, `why`
    how it is worked out (findings_why.py).
    """

    title: str
    rests_on: str
    summary: str
    chart: Chart | None
    table: Table
    why: tuple[Reason, ...] = ()


def plants_words(count: int) -> str:
    """"1 plant", "7 plants"."""
    return "1 plant" if count == 1 else f"{count} plants"


def too_few(count: int, what: str) -> str:
    """Why no chart is drawn: "Only 3 plants ...: a chart is drawn from 5 on."."""
    has = f"Only {plants_words(count)}" if count else "No plant"
    return f"{has} {what}; a chart is drawn from {FEWEST_PLANTS.value:g} on."
