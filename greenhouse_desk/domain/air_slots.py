"""A logger's readings drawn together by half hours, days and nights: what long records are told and drawn by."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, tzinfo
from functools import lru_cache
from itertools import pairwise
from math import isnan
from operator import mul

from greenhouse_desk.domain.air import dew_point, saturation_vapour_pressure
from greenhouse_desk.domain.air_dark import Dark
from greenhouse_desk.domain.air_log import Log, instant
from greenhouse_desk.domain.faults import OutOfRange

SLOT_S = 1800
SLOT_H = SLOT_S / 3600
DAY_S = 86_400
FULL = 10_000
NAN = float("nan")


@dataclass(frozen=True, slots=True)
class Slot:
    """Half an hour of readings at a place, from `start` (seconds since 1970) on.

    Lowest, mean and highest temperature in hundredths of a degree C, mean humidity in hundredths of a per cent, and the
    means of vapour pressure deficit and vapour pressure, Pa: means of each reading's own, not those of mean air. The
    last three are means of the readings that know the humidity, -1 where none does.
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
    mean RH 0 to 1, mean VPD and vapour pressure kPa (not a number where no humidity was measured), and the hours that
    have readings, `humid_hours` with humidity."""

    start: datetime
    readings: int
    low_c: float
    mean_c: float
    high_c: float
    rh: float
    vpd_kpa: float
    vapour_kpa: float
    hours: float
    humid_hours: float

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
    warmth = (log.at[one] // SLOT_S * SLOT_S, count, min(temps), round(sum(temps) / count), max(temps))
    whole = full[one:later]
    if min(moist) < 0:
        whole = [most for most, rh in zip(whole, moist, strict=True) if rh >= 0]
        moist = [rh for rh in moist if rh >= 0]
        if not moist:
            return Slot(*warmth, -1, -1, -1)
    vapour, count = sum(map(mul, whole, moist)) / FULL, len(moist)
    return Slot(*warmth, round(sum(moist) / count), round((sum(whole) - vapour) / count), round(vapour / count))


@lru_cache(maxsize=10_000)
def _saturation(hundredths: int) -> float:
    """Saturation pressure in Pa at a temperature in hundredths of a degree C."""
    return saturation_vapour_pressure(hundredths / 100) * 1000


def dew_of(temp_c: float, vapour_kpa: float) -> float | None:
    """The dew point, deg C, of air at `temp_c` with this vapour pressure, None where it is too dry to have one, or the
    vapour is not known."""
    if isnan(vapour_kpa):
        return None
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


def nights(found: Iterable[Slot], dark: Dark, wet_rh: float) -> tuple[Night, ...]:
    """Each night with readings of humidity; a half hour is too moist from a mean of `wet_rh` (0 to 1) on."""
    told: dict[date, list[Slot]] = {}
    for one in found:
        began = dark.night_of(instant(one.start)) if one.rh >= 0 else None
        if began is not None:
            told.setdefault(began, []).append(one)
    return tuple(Night(began, SLOT_H * len(some), SLOT_H * sum(one.rh >= wet_rh * FULL for one in some),
                       max(one.rh for one in some) / FULL) for began, some in sorted(told.items()))


def _grouped(found: Iterable[Slot], key: Callable[[Slot], int]) -> Iterator[tuple[int, list[Slot]]]:
    told: dict[int, list[Slot]] = {}
    for one in found:
        told.setdefault(key(one), []).append(one)
    yield from sorted(told.items())


def _stretch(start: datetime, some: Sequence[Slot]) -> Stretch:
    humid = [one for one in some if one.rh >= 0]
    return Stretch(start, sum(one.readings for one in some), min(one.low for one in some) / 100,
                   _mean(some, "mean", 100), max(one.high for one in some) / 100, _mean(humid, "rh", FULL),
                   _mean(humid, "vpd", 1000), _mean(humid, "vapour", 1000), SLOT_H * len(some), SLOT_H * len(humid))


def _mean(some: Sequence[Slot], name: str, unit: float) -> float:
    """The mean of a figure of these slots, each by its readings; no number where there are none."""
    count = sum(one.readings for one in some)
    return sum(getattr(one, name) * one.readings for one in some) / count / unit if count else NAN
