"""Nights on the timeline: dusk and sunrise at the home, lamps going off at a place, and where their words stand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, tzinfo

from greenhouse_desk.domain.airflow_night import LAMPS_OFF
from greenhouse_desk.domain.airflow_reasons import ASSUMED_DUSK, DUSK, LIGHTS_OUT
from greenhouse_desk.domain.care_day import clock_words
from greenhouse_desk.domain.plants import Home
from greenhouse_desk.domain.sun import nightfall, sunrise
from greenhouse_desk.domain.timeline_values import DAY, GAP, HOUR, View

LONGEST = 2.5 * DAY
"""A longer stretch of time shows no nights: they would be stripes."""


@dataclass(frozen=True, slots=True)
class Night:
    """From dusk, or lamps off, to light again, in seconds; `words` name its beginning."""

    start: float
    end: float
    words: str


def nights(view: View, home: Home, home_set: bool, zone: tzinfo) -> tuple[Night, ...]:
    """The nights by the sun that are in view, oldest first; none where the view is long, or the sun does not set."""
    found = (_night(day, home, DUSK if home_set else ASSUMED_DUSK, zone) for day in _days(view, zone))
    return tuple(one for one in found if one is not None and _seen(one, view))


def lamps_off(view: View, at: time, zone: tzinfo) -> tuple[Night, ...]:
    """The nights of a place whose lamps go off at the local time `at`; they are taken to stay off for their least."""
    found = []
    for day in _days(view, zone):
        out = datetime.combine(day, at, zone).timestamp()
        found.append(Night(out, out + LAMPS_OFF.value * HOUR, f"{LIGHTS_OUT} {at:%H:%M}"))
    return tuple(one for one in found if _seen(one, view))


def _days(view: View, zone: tzinfo) -> Iterator[date]:
    """The local days whose evening can be in view."""
    if view.end - view.start > LONGEST:
        return
    first, last = (datetime.fromtimestamp(at, UTC).astimezone(zone).date() for at in (view.start, view.end))
    for nth in range(-1, (last - first).days + 1):
        yield first + timedelta(days=nth)


def _night(day: date, home: Home, name: str, zone: tzinfo) -> Night | None:
    dusk = nightfall(day, home.latitude, home.longitude, zone)
    if dusk is None:
        return None
    rise = sunrise(day + timedelta(days=1), home.latitude, home.longitude, zone)
    end = rise.timestamp() if rise is not None and rise > dusk else dusk.timestamp() + DAY / 2
    return Night(dusk.timestamp(), end, f"{name} {clock_words(dusk, zone)}")


def _seen(one: Night, view: View) -> bool:
    return one.start < view.end and one.end > view.start


def placed(wanted: Sequence[tuple[float, float]], taken: Sequence[tuple[float, float]],
           width: float) -> tuple[float | None, ...]:
    """Where words stand on one row `width` pixels wide: left ends, None where there is no room.

    `wanted` are (line, width of the words), `taken` are stretches that others cover already. Words stand right of
    their line, else left of it, else as near right of it as there is room; they never touch.
    """
    full, found = list(taken), list[float | None]()
    for line, wide in wanted:
        spots = (line + GAP, line - GAP - wide, *(right + GAP for _, right in sorted(full) if right >= line))
        at = next((spot for spot in spots if spot >= 0 and spot + wide <= width
                   and all(spot + wide + GAP <= left or right + GAP <= spot for left, right in full)), None)
        if at is not None:
            full.append((at, at + wide))
        found.append(at)
    return tuple(found)
