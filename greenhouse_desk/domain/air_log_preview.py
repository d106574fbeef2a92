"""The first rows of a logger's file as they would be understood, so that a wrong column or unit is seen at once."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, tzinfo

from greenhouse_desk.domain.air_log import Columns, DateOrder, instant
from greenhouse_desk.domain.air_log_look import BY_HAND, Sample, order_unsure
from greenhouse_desk.domain.air_log_read import moisture, speed, temperature, too_few
from greenhouse_desk.domain.air_log_time import Times, Unread

NO_HUMIDITY = ("No humidity is read from it: of this air no VPD, dew point, drying time or wet night is told; "
               "temperatures count as ever.")


@dataclass(frozen=True, slots=True)
class Understood:
    """A row of the file as read: when (aware UTC), deg C, relative humidity 0 to 1, m/s; or why it would be refused."""

    line: int
    at: datetime | None = None
    temp_c: float | None = None
    rh: float | None = None
    speed_m_s: float | None = None
    fault: str = ""


def understood(sample: Sample, columns: Columns, zone: tzinfo) -> tuple[Understood, ...]:
    """The rows of a sample, read as `columns` says, in the home's `zone`."""
    times = Times(columns, zone)
    return tuple(_row(line, cells, columns, times) for line, cells in sample.rows)


def _row(line: int, cells: tuple[str, ...], columns: Columns, times: Times) -> Understood:
    try:
        day = "" if columns.day is None else f"{cells[columns.day].strip()} "
        at = times(day + cells[columns.time].strip())
        blown = -1 if columns.speed is None else speed(columns)(cells[columns.speed])
        moist = None if columns.rh is None else moisture(columns)(cells[columns.rh]) / 10_000
        return Understood(line, instant(at), temperature(columns)(cells[columns.temp]) / 100, moist,
                          blown / 100 if blown >= 0 else None)
    except Unread as fault:
        return Understood(line, fault=str(fault))
    except IndexError:
        return Understood(line, fault=too_few(cells))


def doubts(sample: Sample, columns: Columns) -> tuple[str, ...]:
    """What the program guessed of a file and the grower should look over, in sentences."""
    return tuple(_doubts(sample, columns))


def _doubts(sample: Sample, columns: Columns) -> Iterator[str]:
    named = f"line {columns.head} names the columns" if columns.head else "no line names the columns"
    yield f"Cells are parted by a {BY_HAND.get(columns.delimiter, columns.delimiter)}; {named}."
    if columns.order in (DateOrder.DAY, DateOrder.MONTH) and order_unsure(
            sample.column(columns.time if columns.day is None else columns.day)):
        yield "From the first rows it cannot be told whether the day or the month stands first. Please look."
    if columns.rh is None:
        yield NO_HUMIDITY
    if len({columns.temp, columns.rh, columns.time}) < 3:
        yield "One column is chosen for two things."
