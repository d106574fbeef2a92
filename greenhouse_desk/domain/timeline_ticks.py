"""The timeline's axis: which years, months, days or hours are named, so that their words never touch."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta, tzinfo

from greenhouse_desk.domain.care_day import MONTHS
from greenhouse_desk.domain.timeline_values import DAY, HOUR, View

SPACE = 12.0
"""Free pixels after a tick's words."""
BESIDE = 4.0
"""Words stand this many pixels right of their line."""
FIRST, LAST = date(1, 1, 3), date(9998, 12, 31)
"""The axis ends where the calendar does."""
HALF_HOUR_MIN, DAY_MIN = 30, 24 * 60
DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
LONG_MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
               "November", "December")
Width = Callable[[str], float]


@dataclass(frozen=True, slots=True)
class Tick:
    """A line on the axis: its pixel, its words ("" where there is no room), and whether something larger begins there
    (a day, week, month or year)."""

    x: float
    words: str
    strong: bool


@dataclass(frozen=True, slots=True)
class Stretch:
    """What the ticks of a stretch have in common, such as their day or year: its pixels on the screen, and its words,
    which begin at `x` ("" where there is no room)."""

    left: float
    right: float
    x: float
    words: str


Dates = Callable[[date, date], Iterator[date]]
Says = Callable[[date], tuple[str, ...]]
"""A day in words, the longest wording first."""


@dataclass(frozen=True, slots=True)
class Level:
    """Ticks of one size: how many seconds they lie apart at the least, and the widest words they bear. `minutes` apart
    within a day, or on `days`; `around` and `said` are the larger stretches they lie in, and their words."""

    seconds: float
    widest: str
    minutes: int
    days: Dates
    around: Dates
    said: Says


def _years(step: int) -> Dates:
    def days(first: date, last: date) -> Iterator[date]:
        for year in range(max(first.year - first.year % step, 1), last.year + 1, step):
            yield date(year, 1, 1)
    return days


def _months(step: int) -> Dates:
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


def _no_days(first: date, last: date) -> Iterator[date]:
    return iter(())


def _say_day(day: date) -> tuple[str, ...]:
    short = f"{day.day} {MONTHS[day.month - 1]}"
    return f"{DAYS[day.weekday()]} {short} {day.year}", f"{DAYS[day.weekday()]} {short}", short


def _say_month(day: date) -> tuple[str, ...]:
    return f"{LONG_MONTHS[day.month - 1]} {day.year}", f"{MONTHS[day.month - 1]} {day.year}", MONTHS[day.month - 1]


def _say_year(day: date) -> tuple[str, ...]:
    return (str(day.year),)


LEVELS = (
    *(Level(minutes * 60, "00:00", minutes, _no_days, _days, _say_day) for minutes in (1, 5, 15, 30)),
    *(Level(hours * HOUR, "00:00", hours * 60, _no_days, _days, _say_day) for hours in (1, 3, 6)),
    Level(DAY * 0.95, "Wed 28", 0, _days, _months(1), _say_month),
    Level(DAY * 0.95, "28", 0, _days, _months(1), _say_month),
    Level(7 * DAY * 0.99, "28 Nov", 0, _weeks, _years(1), _say_year),
    Level(28 * DAY, "September", 0, _months(1), _years(1), _say_year),
    Level(28 * DAY, "Sep", 0, _months(1), _years(1), _say_year),
    Level(89 * DAY, "Sep", 0, _months(3), _years(1), _say_year),
    Level(364 * DAY, "2026", 0, _years(1), _no_days, _say_year),
    Level(5 * 365 * DAY, "2026", 0, _years(5), _no_days, _say_year),
)


def level(view: View, width: Width) -> Level:
    """The finest level whose widest words have room."""
    return next((one for one in LEVELS if one.seconds / view.per_px >= width(one.widest) + SPACE), LEVELS[-1])


def ticks(view: View, zone: tzinfo, width: Width) -> tuple[Tick, ...]:
    """The ticks in `view`, from left to right, with words as wide as `width` tells.

    Days and hours are those of `zone`, with its summer time. A tick on which longer words before it leave no room, or
    the edge of the view, has none.
    """
    of = level(view, width)
    first, last = _reach(view, zone)
    found = _by_minutes(of, first, last, zone) if of.minutes else _by_days(of, first, last, zone)
    seen = (Tick(view.x(at), words, strong) for at, words, strong in found if view.start <= at <= view.end)
    return tuple(_spaced(seen, view, width))


def stretches(view: View, zone: tzinfo, width: Width) -> tuple[Stretch, ...]:
    """The days, months or years that the ticks of `view` lie in, from left to right, named where there is room."""
    of = level(view, width)
    first, last = _reach(view, zone)
    begins = [(day, at) for day in of.around(first, last) if (at := _begin(day, zone)) is not None]
    ends = [at for _, at in (*begins[1:], (LAST, float("inf")))][:len(begins)]
    return tuple(_stretch(of.said(day), max(view.x(at), 0.0), min(view.x(end), view.width), width)
                 for (day, at), end in zip(begins, ends, strict=True) if end > view.start and at < view.end)


def _stretch(wordings: tuple[str, ...], left: float, right: float, width: Width) -> Stretch:
    room = right - left - BESIDE - SPACE / 2
    return Stretch(left, right, left + BESIDE, next((words for words in wordings if width(words) <= room), ""))


def _spaced(found: Iterable[Tick], view: View, width: Width) -> Iterator[Tick]:
    free = float("-inf")
    for tick in found:
        end = tick.x + BESIDE + width(tick.words)
        named = tick.x >= free and end <= view.width
        if named:
            free = end + SPACE / 2
        yield tick if named else replace(tick, words="")


def _reach(view: View, zone: tzinfo) -> tuple[date, date]:
    """The local days of the view, one before and one after included."""
    day = timedelta(days=1)
    first, last = _local(view.start, zone).date(), _local(view.end, zone).date()
    return max(first, FIRST) - day, min(last, LAST) + day


def _local(at: float, zone: tzinfo) -> datetime:
    return datetime.fromtimestamp(at, UTC).astimezone(zone)


def _begin(day: date, zone: tzinfo) -> float | None:
    """The first instant of a local day in seconds; None for a day that the zone left out."""
    at = datetime.combine(day, time(), zone).timestamp()
    return at if _local(at, zone).date() == day else None


def _by_days(of: Level, first: date, last: date, zone: tzinfo) -> Iterator[tuple[float, str, bool]]:
    for day in of.days(first, last):
        at = _begin(day, zone)
        if at is not None:
            yield at, *_named(of, day)


def _named(of: Level, day: date) -> tuple[str, bool]:
    if of.days is _days:
        return (f"{DAYS[day.weekday()]} {day.day}" if of.widest.startswith("Wed") else str(day.day)), day.weekday() == 0
    if of.days is _weeks:
        return f"{day.day} {MONTHS[day.month - 1]}", day.day <= 7
    if of.around is _no_days:
        return str(day.year), True
    names = LONG_MONTHS if of.widest == "September" else MONTHS
    return names[day.month - 1], day.month == 1


def _by_minutes(of: Level, first: date, last: date, zone: tzinfo) -> Iterator[tuple[float, str, bool]]:
    """Every so many minutes by the local clock; an hour it passes twice is named twice, one it leaves out not at all.
    """
    step = min(of.minutes, HALF_HOUR_MIN)
    for day in _days(first, last):
        begin = _begin(day, zone)
        for nth in range(0, DAY_MIN + 120, step) if begin is not None else ():
            at = (begin or 0.0) + nth * 60
            local = _local(at, zone)
            if local.date() != day:
                break
            if (local.hour * 60 + local.minute) % of.minutes == 0:
                yield at, f"{local.hour}:{local.minute:02d}", nth == 0
