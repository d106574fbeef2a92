"""A logger's readings drawn together by half hours, days and nights: what long records are told and drawn by."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta, tzinfo
from functools import lru_cache
from itertools import pairwise
from operator import mul

from greenhouse_desk.domain.air import dew_point, saturation_vapour_pressure
from greenhouse_desk.domain.air_log import Log, instant
from greenhouse_desk.domain.faults import OutOfRange
from greenhouse_desk.domain.figures import Constant

NIGHT_FROM = Constant(20, "o'clock", "a reading from this local hour on is one of the night", "house rule")
NIGHT_TO = Constant(8, "o'clock", "a reading before this local hour is one of the night", "house rule")
SLOT_S = 1800
SLOT_H = SLOT_S / 3600
DAY_S = 86_400
FULL = 10_000


@dataclass(frozen=True, slots=True)
class Slot:
    """Half an hour of readings at a place, from `start` (seconds since 1970) on.

    Lowest, mean and highest temperature in hundredths of a degree C, mean humidity in hundredths of a per cent, and the
    means of vapour pressure deficit and vapour pressure, Pa: means of each reading's own, not those of mean air.
    """

    start: int
    readings: int
    low: int
    mean: int
    high: int
    rh: int
    vpd: int
    vapour: int


@dataclass(frozen=True, slots=True)
class Stretch:
    """Some slots as one, such as an hour or a local day: its begin (aware), how many readings, temperatures deg C,
    mean RH 0 to 1, mean VPD and vapour pressure kPa, and the hours that have readings."""

    start: datetime
    readings: int
    low_c: float
    mean_c: float
    high_c: float
    rh: float
    vpd_kpa: float
    vapour_kpa: float
    hours: float

    @property
    def dew_c(self) -> float | None:
        """The temperature at which the mean vapour saturates, None for air too dry to have one."""
        return dew_of(self.mean_c, self.vapour_kpa)


@dataclass(frozen=True, slots=True)
class Night:
    """A night, named by the day on which it began: its hours with readings, those too moist, and the highest RH of
    half an hour, 0 to 1."""

    began: date
    hours: float
    wet_hours: float
    rh: float


def slots(log: Log) -> tuple[Slot, ...]:
    """The half hours of a log that have readings, in order."""
    full = [_saturation(temp) for temp in log.temp]
    keys = [at // SLOT_S for at in log.at]
    starts = [0, *(nth for nth in range(1, len(keys)) if keys[nth] != keys[nth - 1]), len(keys)]
    return tuple(_slot(log, full, one, later) for one, later in pairwise(starts) if later > one)


def _slot(log: Log, full: Sequence[float], one: int, later: int) -> Slot:
    temps, moist, count = log.temp[one:later], log.rh[one:later], later - one
    saturated = sum(full[one:later])
    vapour = sum(map(mul, full[one:later], moist)) / FULL
    return Slot(log.at[one] // SLOT_S * SLOT_S, count, min(temps), round(sum(temps) / count), max(temps),
                round(sum(moist) / count), round((saturated - vapour) / count), round(vapour / count))


@lru_cache(maxsize=10_000)
def _saturation(hundredths: int) -> float:
    """Saturation pressure in Pa at a temperature in hundredths of a degree C."""
    return saturation_vapour_pressure(hundredths / 100) * 1000


def dew_of(temp_c: float, vapour_kpa: float) -> float | None:
    """The dew point, deg C, of air at `temp_c` with this vapour pressure, None where it is too dry to have one."""
    try:
        return dew_point(temp_c, min(1.0, vapour_kpa / saturation_vapour_pressure(temp_c)))
    except OutOfRange:
        return None


def by_hour(found: Iterable[Slot]) -> tuple[Stretch, ...]:
    """Slots drawn together by hours of UTC."""
    return tuple(_stretch(instant(start), some)
                 for start, some in _grouped(found, lambda one: one.start // 3600 * 3600))


def by_day(found: Iterable[Slot], zone: tzinfo) -> tuple[tuple[date, Stretch], ...]:
    """Slots drawn together by local days."""
    return tuple((date.fromordinal(day), _stretch(instant(some[0].start), some)) for day, some in _grouped(
        found, lambda one: instant(one.start).astimezone(zone).date().toordinal()))


def nights(found: Iterable[Slot], zone: tzinfo, wet_rh: float) -> tuple[Night, ...]:
    """Each night with readings; a half hour is too moist from a mean of `wet_rh` (0 to 1) on."""
    told: dict[date, list[Slot]] = {}
    for one in found:
        began = night_of(instant(one.start), zone)
        if began is not None:
            told.setdefault(began, []).append(one)
    return tuple(Night(began, SLOT_H * len(some), SLOT_H * sum(one.rh >= wet_rh * FULL for one in some),
                       max(one.rh for one in some) / FULL) for began, some in sorted(told.items()))


def night_of(at: datetime, zone: tzinfo) -> date | None:
    """The day on which the night of an instant (aware) began, None by day."""
    local = at.astimezone(zone)
    if NIGHT_FROM.value <= local.hour or local.hour < NIGHT_TO.value:
        return (local - timedelta(hours=NIGHT_TO.value)).date()
    return None


def _grouped(found: Iterable[Slot], key: Callable[[Slot], int]) -> Iterator[tuple[int, list[Slot]]]:
    told: dict[int, list[Slot]] = {}
    for one in found:
        told.setdefault(key(one), []).append(one)
    yield from sorted(told.items())


def _stretch(start: datetime, some: Sequence[Slot]) -> Stretch:
    count = sum(one.readings for one in some)

    def mean(values: Iterable[int], unit: float) -> float:
        return sum(value * one.readings for value, one in zip(values, some, strict=True)) / count / unit

    return Stretch(start, count, min(one.low for one in some) / 100, mean((one.mean for one in some), 100),
                   max(one.high for one in some) / 100, mean((one.rh for one in some), FULL),
                   mean((one.vpd for one in some), 1000), mean((one.vapour for one in some), 1000),
                   SLOT_H * len(some))
