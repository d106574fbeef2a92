"""Times of a logger's file turned into instants: any order of day and month, any clock, repeated and skipped hours."""

from __future__ import annotations

import re
from collections import defaultdict
from datetime import UTC, date, datetime, timedelta, tzinfo

from greenhouse_desk.domain.air_log import Clock, Columns, DateOrder, days_words
from greenhouse_desk.domain.care_day import moment_words
from greenhouse_desk.domain.figures import counted

DAY_S = 86_400
EPOCH = date(1970, 1, 1).toordinal()
FIRST_YEAR = 2000
LAST_YEAR = 2099
"""The years two digits can say; a logger with an empty battery writes others."""
DAY = re.compile(r"(\d{1,4})[-./ ](\d{1,2})[-./ ](\d{1,4})\.?\Z", re.ASCII)
WHOLE = re.compile(r"\s*(\d{1,4}[-./ ]\d{1,2}[-./ ]\d{1,4})\.?(?:[T,]\s*|\s+)(\S.*?)\s*\Z", re.ASCII)
TIME = re.compile(r"(\d{1,2})[:.h](\d{2})(?:[:.](\d{2})(?:[.,]\d+)?)?\s*([AaPp])?\.?(?:[Mm]\.?)?\s*"
                  r"(Z|[+-]\d{2}:?\d{2})?\Z", re.ASCII)
PLACES = {DateOrder.YEAR: (0, 1, 2), DateOrder.DAY: (2, 1, 0), DateOrder.MONTH: (2, 0, 1)}
"""Where year, month and day stand."""


class Unread(ValueError):
    """A cell that is not what its column is said to hold; its text says what to do."""


class Times:
    """Reads the times of one file, line after line as they stand there: the order tells the two hours of the night on
    which clocks go back. `zone` is the home's. `notes()` tells, at the end, what could not be told for sure; `days` are
    the days as they are written, readable or not, each once."""

    def __init__(self, columns: Columns, zone: tzinfo) -> None:
        self._places = PLACES.get(columns.order)
        self._zone = zone if columns.clock is Clock.HOME else None
        self._offset_s = 60 * columns.offset_minutes if columns.clock is Clock.FIXED else 0
        self._days: dict[str, int] = {}
        self.days: dict[str, None] = {}
        self._times: dict[str, tuple[int, int | None]] = {}
        self._level: dict[int, int | None] = {}
        self._before: int | None = None
        self._older: int | None = None
        self._falling = False
        self._turned: set[int] = set()
        self._twice: dict[int, int] = defaultdict(int)
        self.skipped: set[date] = set()

    def __call__(self, text: str) -> int:
        """Seconds since 1970 (UTC) of a time such as "2026-11-18 15:30". Raises Unread."""
        if self._places is None:
            return _seconds(text)
        day, _, time = text.partition(" ")
        if day not in self._days or time not in self._times:
            found = WHOLE.match(text)
            if found is None:
                raise Unread(f"“{text.strip()}” is no day and time.")
            day, time = found.groups()
        return self._at(self._day(day), *self._time(time))

    def _at(self, day_s: int, time_s: int, own_offset_s: int | None) -> int:
        local = day_s + time_s
        if own_offset_s is not None:
            return local - own_offset_s
        if self._zone is None:
            return local - self._offset_s
        level = self._level[day_s] if day_s in self._level else self._learn(day_s)
        if level is None:
            level = self._uneven(local, day_s)
        self._older, self._before = self._before, local
        return local - level

    def _day(self, text: str) -> int:
        if text not in self._days:
            self.days[text] = None
            self._days[text] = _day_s(text, self._places or PLACES[DateOrder.YEAR])
        return self._days[text]

    def _time(self, text: str) -> tuple[int, int | None]:
        if text not in self._times:
            self._times[text] = _time_s(text)
        return self._times[text]

    def _learn(self, day_s: int) -> int | None:
        """The offset of a whole local day, None where it changes in it."""
        ends = [_offset(day_s + part, self._zone) for part in (0, DAY_S)]
        self._level[day_s] = ends[0] if ends[0] == ends[1] else None
        if self._before is not None and day_s + DAY_S <= self._before - DAY_S:
            self._falling = True
        return self._level[day_s]

    def _uneven(self, local: int, day_s: int) -> int:
        """The offset at a local time of a day on which the clock changes. Raises Unread where it leapt over that."""
        first, second = _offset(local, self._zone), _offset(local, self._zone, 1)
        if first < second:
            self.skipped.add(_date(day_s))
            raise Unread(f"{_said(local)} was never on the home's clock: it went forward over that hour.")
        if first == second:
            self._note_direction(local)
            return first
        if self._went_back(local, first - second):
            self._turned.add(day_s)
        self._twice[day_s] += 1
        return first if (day_s in self._turned) == self._falling else second

    def _went_back(self, local: int, by_s: int) -> bool:
        """Whether the clock was put back between the line before and this one. The same time again is a line written
        twice, unless the lines before stood as far apart as the clock went: then it is the next reading."""
        before, older = self._before, self._older
        if before is None:
            return False
        if local == before:
            return older is not None and abs(before - older) >= by_s
        return (local > before) == self._falling

    def _note_direction(self, local: int) -> None:
        """Whether the file runs from new to old, as told by the line before this one."""
        if self._before is not None and local != self._before:
            self._falling = local < self._before

    def notes(self) -> tuple[str, ...]:
        """What the grower should know of the clock, in sentences."""
        told = []
        passed = [_date(day) for day in self._twice if day in self._turned]
        once = [_date(day) for day in self._twice if day not in self._turned]
        unsure = sum(count for day, count in self._twice.items() if day not in self._turned)
        if passed:
            told.append(f"The clock went back on {days_words(passed)}: the hour that came twice was told apart by the "
                        "order of the lines.")
        if once:
            which = "second" if self._falling else "first"
            told.append(f"The clock went back on {days_words(once)}, but the file did not: "
                        f"{counted(unsure, 'reading')} of the hour that came twice may be an hour off (taken as the "
                        f"{which}). If the logger keeps one time all year, choose that clock.")
        if self.skipped:
            told.append(f"The clock went forward on {days_words(sorted(self.skipped))}, but the file has readings in "
                        "the hour it leapt over. If the logger keeps one time all year, choose that clock.")
        return tuple(told)


def _seconds(text: str) -> int:
    try:
        found = float(text)
    except ValueError:
        found = -1.0
    if not 0 <= found < 1e11:
        raise Unread(f"“{text.strip()}” is no number of seconds since 1970.")
    return int(found)


def day_read(text: str, order: DateOrder) -> date:
    """A day as a file writes it. Raises Unread where it is none in that order."""
    return _date(_day_s(text, PLACES[order]))


def _day_s(text: str, places: tuple[int, int, int]) -> int:
    found = DAY.match(text)
    parts = found.groups() if found else ("0", "0", "0")
    year, month, day = (int(parts[place]) for place in places)
    if len(parts[places[0]]) <= 2:
        year += FIRST_YEAR
    if found and not FIRST_YEAR <= year <= LAST_YEAR:
        raise Unread(f"“{text}”: the year must lie between {FIRST_YEAR} and {LAST_YEAR}, in the order chosen.")
    try:
        return (date(year, month, day).toordinal() - EPOCH) * DAY_S
    except ValueError:
        raise Unread(f"“{text}” is no day in the order chosen.") from None


def _time_s(text: str) -> tuple[int, int | None]:
    found = TIME.match(text)
    if found is None:
        raise Unread(f"“{text}” is no time of day.")
    hour, minute, second, half, offset = found.groups()
    hours, minutes, seconds = int(hour), int(minute), int(second or 0)
    if half:
        if not 1 <= hours <= 12:
            raise Unread(f"“{text}” is no time of day.")
        hours = hours % 12 + (12 if half in "pP" else 0)
    if hours > 23 or minutes > 59 or seconds > 59:
        raise Unread(f"“{text}” is no time of day.")
    return 3600 * hours + 60 * minutes + seconds, _own_offset(offset)


def _own_offset(text: str | None) -> int | None:
    """Seconds east of UTC that a time tells itself, None where it tells none."""
    if not text:
        return None
    if text == "Z":
        return 0
    return (-1 if text[0] == "-" else 1) * (3600 * int(text[1:3]) + 60 * int(text[-2:]))


def _naive(local: int) -> datetime:
    return datetime.fromtimestamp(local, UTC).replace(tzinfo=None)


def _offset(local: int, zone: tzinfo | None, fold: int = 0) -> int:
    offset = _naive(local).replace(tzinfo=zone, fold=fold).utcoffset()
    return int((offset or timedelta(0)).total_seconds())


def _date(day_s: int) -> date:
    return date.fromordinal(EPOCH + day_s // DAY_S)


def _said(local: int) -> str:
    return moment_words(datetime.fromtimestamp(local, UTC), UTC)
