"""The timeline's axis: which years, months, days or hours are named, so that their words never touch."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta, tzinfo

from greenhouse_desk.domain.care_day import MONTHS
from greenhouse_desk.domain.timeline_values import DAY, HOUR, View

SPACE = 12.0
"""Free pixels after a tick's words."""


@dataclass(frozen=True, slots=True)
class Tick:
    """A line on the axis: its pixel, its words, and whether it begins something larger (a week, month, year, day)."""

    x: float
    words: str
    strong: bool


@dataclass(frozen=True, slots=True)
class Level:
    """Ticks of one size: how many seconds they lie apart at the least, and the widest words they bear."""

    seconds: float
    widest: str
    days: Callable[[date, date], Iterator[date]] | None
    hours: float = 0.0


def _years(step: int) -> Callable[[date, date], Iterator[date]]:
    def days(first: date, last: date) -> Iterator[date]:
        for year in range(max(first.year - first.year % step, 1), last.year + 1, step):
            yield date(year, 1, 1)
    return days


def _months(step: int) -> Callable[[date, date], Iterator[date]]:
    def days(first: date, last: date) -> Iterator[date]:
        for month in range(first.year * 12 + (first.month - 1) // step * step, last.year * 12 + last.month, step):
            yield date(month // 12, month % 12 + 1, 1)
    return days


def _weeks(first: date, last: date) -> Iterator[date]:
    day = first - timedelta(days=first.weekday())
    while day <= last:
        yield day
        day += timedelta(days=7)


def _days(first: date, last: date) -> Iterator[date]:
    for count in range((last - first).days + 1):
        yield first + timedelta(days=count)


LEVELS = (
    *(Level(minutes * 60, "00:00", None, minutes / 60) for minutes in (5, 15, 30)),
    *(Level(hours * HOUR, "00:00", None, hours) for hours in (1, 3, 6)),
    Level(DAY * 0.95, "28", _days), Level(7 * DAY * 0.99, "28 Nov", _weeks),
    Level(28 * DAY, "Sep 2026", _months(1)), Level(89 * DAY, "Sep 2026", _months(3)),
    Level(364 * DAY, "2026", _years(1)), Level(5 * 365 * DAY, "2026", _years(5)),
)


def ticks(view: View, zone: tzinfo, width: Callable[[str], float]) -> tuple[Tick, ...]:
    """The ticks in `view`, one step beyond its left edge included, with words as wide as `width` tells (bold face).

    Days and hours are those of `zone`. The finest level is taken whose usual words have room; a line on which longer
    words before it leave no room has none.
    """
    level = next((one for one in LEVELS if one.seconds / view.per_px >= width(one.widest) + SPACE), LEVELS[-1])
    first, last = _local(view.start, zone), _local(view.end, zone)
    if level.days is None:
        return tuple(_spaced(_by_hours(level, view, first, zone), width))
    moments = level.days(first.date() - timedelta(days=1), last.date() + timedelta(days=1))
    return tuple(_spaced((Tick(view.x(_midnight(day, zone)), *_named(level, day)) for day in moments), width))


def _spaced(found: Iterable[Tick], width: Callable[[str], float]) -> Iterator[Tick]:
    free = float("-inf")
    for tick in found:
        named = tick.x >= free
        if named:
            free = tick.x + width(tick.words) + SPACE * 0.7
        yield tick if named else replace(tick, words="")


def _local(at: float, zone: tzinfo) -> datetime:
    return datetime.fromtimestamp(at, UTC).astimezone(zone)


def _midnight(day: date, zone: tzinfo) -> float:
    return datetime.combine(day, time(), zone).timestamp()


def _by_hours(level: Level, view: View, first: datetime, zone: tzinfo) -> Iterator[Tick]:
    """Every so many hours of each local day; an hour that the clock passes twice is named once."""
    day = first.date() - timedelta(days=1)
    while (begin := _midnight(day, zone)) <= view.end:
        for nth in range(round(24 / level.hours)):
            minutes = round(nth * level.hours * 60)
            at = datetime.combine(day, time(minutes // 60, minutes % 60), zone).timestamp()
            if view.start - 12 * HOUR <= at <= view.end:
                yield Tick(view.x(at), _hour_words(day, minutes), at == begin)
        day += timedelta(days=1)


def _hour_words(day: date, minutes: int) -> str:
    return f"{minutes // 60}:{minutes % 60:02d}" if minutes else f"{day.day} {MONTHS[day.month - 1]}"


def _named(level: Level, day: date) -> tuple[str, bool]:
    """A day's words at this level, and whether something larger begins there."""
    month = MONTHS[day.month - 1]
    if level.seconds >= 364 * DAY:
        return str(day.year), level.seconds > 365 * DAY
    if level.seconds >= 28 * DAY:
        return (str(day.year), True) if day.month == 1 else (month, False)
    if level.seconds > DAY:
        new = day.day <= 7 and day.month == 1
        return (f"{day.day} {month} {day.year}" if new else f"{day.day} {month}"), day.day <= 7
    if day.day == 1 or day.weekday() == 0:
        return f"{day.day} {month}", True
    return str(day.day), False
