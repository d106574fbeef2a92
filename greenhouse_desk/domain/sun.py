"""The sun's rise and set on a local date, found by searching its height: it never fails, and tells of none."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from functools import lru_cache

import ephem

from greenhouse_desk.domain.faults import within
from greenhouse_desk.domain.figures import Constant

RIM_DEGREES = Constant(-(34.0 + 16.0) / 60.0, "degrees",
                       "height of the sun's centre at rise and set: 34' of refraction and 16' of radius",
                       "published: US Naval Observatory: centre 50' of arc below the horizon")
STEP = timedelta(minutes=15)
PAST_MIDNIGHT = timedelta(hours=1)


def sunset(day: date, latitude: float, longitude: float, tz: tzinfo) -> datetime | None:
    """The sunset of the local date `day`, aware in `tz`, within a minute; None where the sun does not set.

    `latitude` and `longitude` in degrees, north and east positive. The last sunset that falls on that date by the
    clock of `tz`; where the date has none because sunset slips past midnight, the one in the first hour after it.
    OutOfRange for a latitude beyond 90 or a longitude beyond 180 degrees.
    """
    return _crossing(day, latitude, longitude, tz, setting=True)


def sunrise(day: date, latitude: float, longitude: float, tz: tzinfo) -> datetime | None:
    """The sunrise of the local date `day`, aware in `tz`, within a minute; None where the sun does not rise.

    The first one on that date; otherwise as `sunset`.
    """
    return _crossing(day, latitude, longitude, tz, setting=False)


@lru_cache(maxsize=1024)
def nightfall(day: date, latitude: float, longitude: float, tz: tzinfo) -> datetime | None:
    """The sunset that ends the daylight of `day`: the first from its noon by the clock of `tz` to the next noon.

    It is `sunset` of that day, except where the sun sets after midnight. Aware in `tz`, None where there is none.
    """
    start, end = (datetime.combine(one, time(12), tz).astimezone(UTC) for one in (day, day + timedelta(days=1)))
    found = next(_crossings(_observer(latitude, longitude), start, end, setting=True), None)
    return found.astimezone(tz) if found is not None else None


@lru_cache(maxsize=1024)
def _crossing(day: date, latitude: float, longitude: float, tz: tzinfo, *, setting: bool) -> datetime | None:
    observer = _observer(latitude, longitude)
    start = datetime.combine(day, time(), tz).astimezone(UTC)
    end = datetime.combine(day + timedelta(days=1), time(), tz).astimezone(UTC)
    inside = _crossings(observer, start, end, setting)
    found = next(iter(deque(inside, maxlen=1)), None) if setting else next(inside, None)
    if found is None:
        found = next(_crossings(observer, end, end + PAST_MIDNIGHT, setting), None)
    return found.astimezone(tz) if found is not None else None


def _crossings(observer: ephem.Observer, start: datetime, end: datetime, setting: bool) -> Iterator[datetime]:
    """Every moment in [start, end) when the upper rim goes down (or up) through the horizon, searched as it is asked
    for: a year of nights asks for the first of each day only."""
    before, at = _height(observer, start), start
    while at < end:
        then = min(at + STEP, end)
        after = _height(observer, then)
        if (before > 0 >= after) if setting else (before <= 0 < after):
            yield _halve(observer, at, then, setting)
        before, at = after, then


def _halve(observer: ephem.Observer, low: datetime, high: datetime, setting: bool) -> datetime:
    """The crossing between two moments, to the second."""
    while high - low > timedelta(seconds=1):
        middle = low + (high - low) / 2
        if (_height(observer, middle) > 0) == setting:
            low = middle
        else:
            high = middle
    return high


def _observer(latitude: float, longitude: float) -> ephem.Observer:
    """The one place the astronomy library is set up: no refraction of its own, the almanac's instead."""
    within("latitude", latitude, -90.0, 90.0)
    within("longitude", longitude, -180.0, 180.0)
    observer = ephem.Observer()
    observer.lat, observer.lon = str(latitude), str(longitude)
    observer.pressure = 0.0
    return observer


def _height(observer: ephem.Observer, at: datetime) -> float:
    """Height of the sun's upper rim over the almanac's horizon, degrees."""
    observer.date = at.replace(tzinfo=None)
    return float(ephem.Sun(observer).alt) * 57.29577951308232 - RIM_DEGREES.value
