"""A logger's file as the grower says it is to be read: which column is what, in which unit, by which clock."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from enum import StrEnum

from greenhouse_desk.domain.care_day import dated
from greenhouse_desk.domain.figures import Constant, counted

KELVIN_C = Constant(273.15, "K", "0 deg C on the kelvin scale", "published: BIPM, SI Brochure 2019, 2.3.1")
KM_H = Constant(3.6, "km/h", "1 m/s in kilometres an hour", "derived here: 3600 s over 1000 m")
FREEZING_F = Constant(32.0, "F", "0 deg C on the Fahrenheit scale", "published: NIST SP 811 2008, B.8")
F_PER_C = Constant(1.8, "F", "1 deg C in degrees Fahrenheit", "published: NIST SP 811 2008, B.8")
GAP_STEPS = Constant(3, "steps", "a pause longer than so many usual steps of a logger is told as a gap", "house rule")
STUCK_HOURS = Constant(12, "h", "temperature and humidity both unchanged for so long may be a stuck sensor",
                       "from memory, house rule")
OVER_PERCENT = Constant(5, "% RH", "a sensor at saturation may read so far above 100; taken as 100, and told",
                        "from memory, house rule")
COLDEST = Constant(-30, "C", "a logger's temperature below this is refused", "house rule")
HOTTEST = Constant(60, "C", "a logger's temperature above this is refused", "house rule")
FASTEST = Constant(10, "m/s", "a logger's air speed above this is refused", "house rule")


class TempUnit(StrEnum):
    """How temperature is written."""

    C = "C"
    F = "F"
    K = "K"


class MoistUnit(StrEnum):
    """How relative humidity is written."""

    PERCENT = "percent"
    FRACTION = "fraction of 1"


class SpeedUnit(StrEnum):
    """How air speed is written."""

    M_S = "m/s"
    KM_H = "km/h"


class DateOrder(StrEnum):
    """How a day is written."""

    YEAR = "year, month, day"
    DAY = "day, month, year"
    MONTH = "month, day, year"
    SECONDS = "seconds since 1970"


class Clock(StrEnum):
    """Which clock the file's times were read off."""

    HOME = "the home's clock, with summer time"
    FIXED = "one offset from UTC all year"
    UTC = "UTC"


@dataclass(frozen=True, slots=True)
class Columns:
    """How a file is to be read: columns counted from 0, `rh` None where humidity was not measured, `day` where the date
    stands apart from the time.

    `head` is the line that names the columns, 0 where none does; `offset_minutes` east of UTC is for a fixed clock.
    """

    delimiter: str
    time: int
    temp: int
    rh: int | None
    head: int = 1
    day: int | None = None
    speed: int | None = None
    temp_unit: TempUnit = TempUnit.C
    rh_unit: MoistUnit = MoistUnit.PERCENT
    speed_unit: SpeedUnit = SpeedUnit.M_S
    order: DateOrder = DateOrder.YEAR
    clock: Clock = Clock.HOME
    offset_minutes: int = 0
    decimal_comma: bool = False


@dataclass(frozen=True, slots=True)
class RowFault:
    """A line of the file that was not taken: its number from 1, and why."""

    line: int
    words: str


@dataclass(frozen=True, slots=True)
class Pause:
    """A stretch without readings, or with readings that do not change; both ends aware UTC."""

    start: datetime
    end: datetime


@dataclass(frozen=True, slots=True)
class Log:
    """Readings in order of time, each instant once: seconds since 1970 (UTC), hundredths of a degree C, hundredths of
    a per cent RH and hundredths of m/s (-1 of either: not measured)."""

    at: Sequence[int]
    temp: Sequence[int]
    rh: Sequence[int]
    speed: Sequence[int]


@dataclass(frozen=True, slots=True)
class Heard:
    """What a whole file holds: its readings, and all that a grower should know of how they came.

    `refused` counts the lines not taken, of which `faults` tells the first; `doubled` lines named an instant that a
    later line named again; `over` readings stood above 100 % RH; `notes` tell of the clock; `turned` is the order of
    day and month that fits the file where the chosen one does not.
    """

    log: Log
    refused: int = 0
    faults: tuple[RowFault, ...] = ()
    doubled: int = 0
    over: int = 0
    notes: tuple[str, ...] = ()
    step_s: int = 0
    gaps: tuple[Pause, ...] = ()
    stuck: tuple[Pause, ...] = ()
    turned: DateOrder | None = None

    @property
    def first(self) -> datetime:
        """When the oldest reading was taken; there must be one."""
        return instant(self.log.at[0])

    @property
    def last(self) -> datetime:
        """When the newest was taken."""
        return instant(self.log.at[-1])


def instant(seconds: int) -> datetime:
    """Seconds since 1970 as an aware UTC instant."""
    return datetime.fromtimestamp(seconds, UTC)


def step_words(step_s: int) -> str:
    """ "every 10 min", "every 90 s", "every 2 h"."""
    if step_s and step_s % 3600 == 0:
        return f"every {step_s // 3600} h"
    return f"every {step_s // 60} min" if step_s and step_s % 60 == 0 else f"every {step_s} s"


def days_words(days: Iterable[date], most: int = 3) -> str:
    """The first days of some, and how many more there are."""
    told = list(days)
    rest = f" and {counted(len(told) - most, 'more day')}" if len(told) > most else ""
    return ", ".join(dated(day) for day in told[:most]) + rest
