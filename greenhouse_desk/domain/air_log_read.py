"""A logger's file read line by line: what can be is taken, every other line is refused with its number and why."""

from __future__ import annotations

import csv
from bisect import bisect_right
from collections.abc import Callable, Iterable, Sequence
from datetime import UTC, datetime, tzinfo
from itertools import pairwise
from statistics import median

from greenhouse_desk.domain.air_log import (
    COLDEST,
    F_PER_C,
    FASTEST,
    FREEZING_F,
    GAP_STEPS,
    HOTTEST,
    KELVIN_C,
    KM_H,
    OVER_PERCENT,
    STUCK_HOURS,
    Columns,
    Heard,
    Log,
    MoistUnit,
    Pause,
    RowFault,
    SpeedUnit,
    TempUnit,
    instant,
)
from greenhouse_desk.domain.air_log_order import turned
from greenhouse_desk.domain.air_log_time import Times, Unread
from greenhouse_desk.domain.care_day import moment_words
from greenhouse_desk.domain.figures import counted

FAULTS_TOLD = 200
KEPT_TEXTS = 100_000
AT_ONCE = 5_000
UNMEASURED = -1
FULL = 10_000
"""100 % RH in hundredths of a per cent."""
Reads = Callable[[str], int]
Look = Callable[[int], None]
"""Is told how many lines were read, every so often; may raise to stop."""


class _Kept(dict[str, int]):
    """Texts already understood: a logger writes the same few figures again and again."""

    def __init__(self, read: Reads) -> None:
        super().__init__()
        self._read = read

    def __missing__(self, text: str) -> int:
        if len(self) > KEPT_TEXTS:
            self.clear()
        found = self[text] = self._read(text)
        return found


class _Found:
    """What was taken so far, and the lines that were not."""

    def __init__(self) -> None:
        self.at: list[int] = []
        self.temp: list[int] = []
        self.rh: list[int] = []
        self.speed: list[int] = []
        self.faults: list[RowFault] = []
        self.refused = 0

    def refuse(self, line: int, words: str, lines: int = 1) -> None:
        self.refused += lines
        if len(self.faults) < FAULTS_TOLD:
            self.faults.append(RowFault(line, words))


def heard(lines: Iterable[str], columns: Columns, zone: tzinfo, now: datetime, look: Look = lambda _: None) -> Heard:
    """Everything in `lines` (the whole file, its head too), in the home's `zone`, nothing later than `now` (aware)."""
    times, found = Times(columns, zone), _Found()
    _read(lines, columns, times, int(now.timestamp()), found, look)
    log, doubled = _ordered(found)
    over = sum(1 for rh in log.rh if rh > FULL)
    if over:
        log = Log(log.at, log.temp, [min(rh, FULL) for rh in log.rh], log.speed)
    step = usual_step(log.at)
    return Heard(log, found.refused, tuple(found.faults), doubled, over, times.notes(), step, gaps(log.at, step),
                 stuck(log), turned(times.days, columns.order, now.astimezone(zone).date()))


def _read(lines: Iterable[str], columns: Columns, times: Times, now_s: int, found: _Found, look: Look) -> None:
    temps, moist = _Kept(temperature(columns)), _Kept(moisture(columns))
    speeds = _Kept(speed(columns))
    reader = csv.reader(lines, delimiter=columns.delimiter)
    day, time = columns.day, columns.time
    temp_at, rh_at, speed_at = columns.temp, columns.rh, columns.speed
    before = 0
    for cells in reader:
        before, line = reader.line_num, reader.line_num - max(reader.line_num - before - 1, 0)
        if line < before:
            found.refuse(line, f"A quote opens here and closes only on line {before}.", before - line + 1)
            continue
        if line % AT_ONCE == 0:
            look(line)
        if line <= columns.head or not any(cells):
            continue
        try:
            at = times(cells[time] if day is None else f"{cells[day].strip()} {cells[time].strip()}")
            temp = temps[cells[temp_at]]
            rh = UNMEASURED if rh_at is None else moist[cells[rh_at]]
            blown = UNMEASURED if speed_at is None else speeds[cells[speed_at]]
        except (Unread, IndexError) as fault:
            found.refuse(line, _words(fault, cells))
            continue
        if at > now_s:
            found.refuse(line, f"{moment_words(instant(at), UTC)} UTC is still to come.")
            continue
        found.at.append(at)
        found.temp.append(temp)
        found.rh.append(rh)
        found.speed.append(blown)


def _words(fault: Exception, cells: list[str]) -> str:
    return str(fault) if isinstance(fault, Unread) else too_few(cells)


def too_few(cells: Sequence[str]) -> str:
    """That a line lacks a column that is to be read."""
    return f"It has only {counted(len(cells), 'cell')}."


def _number(text: str, comma: bool, what: str) -> float:
    try:
        found = float(text.replace(",", ".") if comma else text)
    except ValueError:
        said = f"“{text.strip()}” is no number" if text.strip() else "The cell is empty"
        raise Unread(f"{what}: {said}.") from None
    if found != found or abs(found) > 1e6:
        raise Unread(f"{what}: “{text.strip()}” cannot be.")
    return found


def temperature(columns: Columns) -> Reads:
    """Reads a temperature cell as hundredths of a degree C. Raises Unread."""
    def read(text: str) -> int:
        value = _number(text, columns.decimal_comma, "Temperature")
        if columns.temp_unit is TempUnit.F:
            value = (value - FREEZING_F.value) / F_PER_C.value
        elif columns.temp_unit is TempUnit.K:
            value -= KELVIN_C.value
        if not COLDEST.value <= value <= HOTTEST.value:
            raise Unread(f"Temperature: {text.strip()} {columns.temp_unit.value} would be {value:.1f} C, and that "
                         f"cannot be ({COLDEST.value:g} to {HOTTEST.value:g} C).")
        return round(100 * value)

    return read


def moisture(columns: Columns) -> Reads:
    """Reads a humidity cell as hundredths of a per cent RH. Raises Unread."""
    def read(text: str) -> int:
        value = _number(text, columns.decimal_comma, "Humidity")
        percent = 100 * value if columns.rh_unit is MoistUnit.FRACTION else value
        if not 0 <= percent <= 100 + OVER_PERCENT.value:
            raise Unread(f"Humidity: {text.strip()} would be {percent:.4g} % RH, and that cannot be (0 to 100).")
        return round(100 * percent)

    return read


def speed(columns: Columns) -> Reads:
    """Reads an air speed cell as hundredths of m/s; an empty one was not measured. Raises Unread."""
    def read(text: str) -> int:
        if not text.strip():
            return UNMEASURED
        value = _number(text, columns.decimal_comma, "Air speed")
        value = value / KM_H.value if columns.speed_unit is SpeedUnit.KM_H else value
        if not 0 <= value <= FASTEST.value:
            raise Unread(f"Air speed: {text.strip()} {columns.speed_unit.value} cannot be (0 to {FASTEST.value:g} "
                         "m/s).")
        return round(100 * value)

    return read


def _ordered(found: _Found) -> tuple[Log, int]:
    """The readings in order of time; of two at one instant the later line holds. Also how many gave way."""
    at = found.at
    if all(one < other for one, other in pairwise(at)):
        return Log(at, found.temp, found.rh, found.speed), 0
    last = {when: nth for nth, when in enumerate(at)}
    order = [last[when] for when in sorted(last)]
    return Log(*([column[nth] for nth in order] for column in (at, found.temp, found.rh, found.speed))), (
        len(at) - len(order))


def usual_step(at: Iterable[int]) -> int:
    """The usual seconds between readings: the median; 0 for fewer than two."""
    told = list(at)
    steps = [later - one for one, later in pairwise(told)]
    return int(median(steps)) if steps else 0


def gaps(at: Iterable[int], step_s: int) -> tuple[Pause, ...]:
    """Pauses longer than GAP_STEPS usual steps."""
    told, most = list(at), GAP_STEPS.value * step_s
    return tuple(Pause(instant(one), instant(later)) for one, later in pairwise(told)
                 if later - one > most)


def stuck(log: Log) -> tuple[Pause, ...]:
    """Stretches of STUCK_HOURS or longer in which neither temperature nor humidity, where measured, changed at all."""
    found, least = [], int(STUCK_HOURS.value * 3600)
    changes = [0, *(nth for nth in range(1, len(log.at))
                    if log.temp[nth] != log.temp[nth - 1] or log.rh[nth] != log.rh[nth - 1]), len(log.at)]
    for start, end in pairwise(changes):
        if end > start and log.at[end - 1] - log.at[start] >= least:
            found.append(Pause(instant(log.at[start]), instant(log.at[end - 1])))
    return tuple(found)


def between(log: Log, start: int, end: int) -> Log:
    """The readings from `start` (seconds since 1970) up to `end`, that one not."""
    low, high = bisect_right(log.at, start - 1), bisect_right(log.at, end - 1)
    return Log(log.at[low:high], log.temp[low:high], log.rh[low:high], log.speed[low:high])
