"""Where things lie on the calendar of courses: columns, rows, and the axis of days."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from math import isfinite

from greenhouse_desk.domain.care import Care
from greenhouse_desk.domain.courses_forecast import Outlook
from greenhouse_desk.services.transitions import Overview, Row

HEAD, FLAG, ROW = 46.0, 19.0, 50.0
DOWN = 8.0
"""How far below its row's top a band begins."""
WIDE = 900
BAND = 18.0
PAST_MOST, AHEAD_MOST, AHEAD_LEAST = 230, 210, 75


@dataclass(frozen=True, slots=True)
class Space:
    """The columns of a chart `width` pixels wide, and its axis from day `first` to day `last`."""

    width: float
    first: date
    last: date

    @property
    def labels(self) -> float:
        """Where the plants' column ends."""
        return 232.0 if self.width >= WIDE else 150.0

    @property
    def verdicts(self) -> float:
        """Where the verdicts' column begins."""
        return self.width - (268.0 if self.width >= WIDE else 180.0)

    @property
    def per_day(self) -> float:
        """Pixels a day."""
        return (self.verdicts - self.labels) / max(1, (self.last - self.first).days)

    def x(self, day: date) -> float:
        """Where a day lies; days off the axis lie at its ends."""
        off = min(max((day - self.first).days, 0), (self.last - self.first).days)
        return self.labels + off * self.per_day

    def day_at(self, x: float) -> date:
        """The day at `x`."""
        return self.first + timedelta(days=round((x - self.labels) / self.per_day))

    def months(self) -> Iterator[tuple[date, float, float]]:
        """Every month on the axis: its first day, and from where to where it lies."""
        day = self.first.replace(day=1)
        while day <= self.last:
            after = (day + timedelta(days=32)).replace(day=1)
            yield day, self.x(max(day, self.first)), self.x(min(after, self.last))
            day = after

    @staticmethod
    def top(place: int) -> float:
        """Where a row begins."""
        return HEAD + place * ROW


def space(told: Overview, width: float) -> Space:
    """The axis that holds every course shown and its forecast, within bounds."""
    starts = [row.course.start for row in told.rows]
    first = max(min(starts, default=told.today) - timedelta(days=8), told.today - timedelta(days=PAST_MOST))
    first = min(first, told.today - timedelta(days=60))
    ends = [day for row in told.rows for day in _ahead(row)]
    last = max([*ends, told.today + timedelta(days=AHEAD_LEAST)]) + timedelta(days=10)
    return Space(width, first, min(last, told.today + timedelta(days=AHEAD_MOST)))


def _ahead(row: Row) -> Iterator[date]:
    yield from (due_day(care) for care in row.looks[:1])
    if isinstance(row.outlook, Outlook):
        for days in (row.outlook.late, row.outlook.three_quarters, row.outlook.likely):
            if isfinite(days):
                yield row.course.start + timedelta(days=days)
                return


def due_day(care: Care) -> date:
    """The day a look is due."""
    return care.due.date() if isinstance(care.due, datetime) else care.due


def height(rows: Sequence[Row]) -> float:
    """How tall a chart of these rows is; an empty one keeps room for three lanes."""
    return HEAD + ROW * max(len(rows), 3) + 1
