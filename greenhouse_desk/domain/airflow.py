"""Drying a wet crown: when night falls on it, how long it takes in this air, and whether it can be dry in time."""

from __future__ import annotations

import math
from bisect import bisect_left
from dataclasses import dataclass, replace
from datetime import UTC, datetime, time, timedelta, tzinfo
from zoneinfo import ZoneInfo

from greenhouse_desk.domain.care_day import care_day, clock_words, full_day
from greenhouse_desk.domain.care_values import Reason
from greenhouse_desk.domain.figures import Span
from greenhouse_desk.domain.plants import Air, Home
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.domain.sun import nightfall, sunrise, sunset

__all__ = ["DERIVED", "FAN_M_S", "Around", "Span", "Verdict", "can_dry", "drying_span", "limit", "sunrise", "sunset",
           "with_fan"]

DERIVED = "derived here, one model, film of 0.2 mm on a leaf of 0.1 m; published films run from 0.05 to 0.2 mm"
FAN_M_S = 0.5
"""The slower end of the air a fan makes, m/s; from memory."""
STILL_M_S, DRIFT_M_S = 0.05, 0.15
"""Still air, m/s, slower and faster end; from memory."""
SATURATED_RH = 0.95
"""From here on nothing can be said to dry: simple hygrometers are a few percent out; from memory."""
THIN_FILM_SHARE = 0.05 / 0.2
POOL_SHARE = 3.0 / 0.2
"""A pool of 3 mm against the film of the examples."""


@dataclass(frozen=True, slots=True)
class Around:
    """What surrounds a plant: the newest air reading, the local time its lamps go off (None: daylight), the home."""

    air: Air | None
    lights_out: time | None
    home: Home


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether a plant wetted then is dry in time: yes, no, or None when it cannot be told; in words, with reasons."""

    ok: bool | None
    words: str
    why: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class _Example:
    temp_c: float
    rh: float
    speed_m_s: float
    hours: float


EXAMPLES = (_Example(22.0, 0.55, 0.1, 4.9), _Example(22.0, 0.55, 0.6, 2.0), _Example(22.0, 0.75, 0.1, 9.0),
            _Example(18.0, 0.85, 0.1, 17.0))
"""Worked examples of one model for a film of 0.2 mm on a leaf of 0.1 m: derived here, no published measurement."""


def _drive(temp_c: float, rh: float) -> float:
    """How hard air pulls water from a wet leaf near its wet-bulb temperature, kPa: the deficit times g/(s + g).

    Saturation pressure and its slope s after FAO-56 Eq. 11 and 13; g is the psychrometer constant at sea level. It
    only orders air between the examples; the hours themselves are the examples'.
    """
    saturated = 0.6108 * math.exp(17.27 * temp_c / (temp_c + 237.3))
    slope = 4098.0 * saturated / (temp_c + 237.3) ** 2
    return saturated * (1.0 - rh) * 0.0665 / (slope + 0.0665)


_LADDER = sorted((_drive(one.temp_c, one.rh), one.hours) for one in EXAMPLES if one.speed_m_s == 0.1)
_WIND_POWER = math.log(EXAMPLES[0].hours / EXAMPLES[1].hours) / math.log(0.6 / 0.1)


def _film_hours(temp_c: float, rh: float, speed_m_s: float) -> float:
    """Hours for a film of 0.2 mm, between the examples; outside them never better than the nearest one."""
    if rh >= SATURATED_RH:
        return math.inf
    pull = _drive(temp_c, rh)
    at = bisect_left(_LADDER, (pull, 0.0))
    if at == 0:
        hours = _LADDER[0][1] * _LADDER[0][0] / max(pull, 1e-9)
    elif at == len(_LADDER):
        hours = _LADDER[-1][1]
    else:
        (low, slow), (high, fast) = _LADDER[at - 1], _LADDER[at]
        share = math.log(pull / low) / math.log(high / low)
        hours = math.exp(math.log(slow) + share * math.log(fast / slow))
    return hours * float((0.1 / min(max(speed_m_s, STILL_M_S), 0.6)) ** _WIND_POWER)


def drying_span(air: Air | None, pool: bool) -> Span:
    """Hours until leaves and crown are dry in `air`, films of 0.05 to 0.2 mm; a `pool` is taken as 3 mm deep.

    Without a reading: from the thin film of the driest example to the thick one of the dampest. An unmeasured air
    speed is taken as still. Infinite near saturation. Source: `DERIVED`. This is the one place the estimate comes from.
    """
    if air is None:
        hours = [one.hours for one in EXAMPLES]
        thick = Span(min(hours), max(hours))
    else:
        slow, fast = (STILL_M_S, DRIFT_M_S) if air.air_speed_m_s is None else (air.air_speed_m_s,) * 2
        thick = Span(_film_hours(air.temp_c, air.rh, fast), _film_hours(air.temp_c, air.rh, slow))
    if pool:
        return Span(thick.low * POOL_SHARE, thick.high * POOL_SHARE)
    return Span(thick.low * THIN_FILM_SHARE, thick.high)


def with_fan(air: Air) -> Air:
    """The same air moved by a fan at its slower end, unless it already moves faster."""
    return replace(air, air_speed_m_s=max(air.air_speed_m_s or 0.0, FAN_M_S))


def fresh(air: Air | None, at: datetime, rules: HouseRules) -> Air | None:
    """The reading when it still tells about the air at `at` (aware), else None."""
    return air if air is not None and at - air.at <= timedelta(hours=rules.air_reading_hours) else None


def limit(around: Around, since: datetime, rules: HouseRules) -> tuple[datetime | None, str]:
    """When a plant wet `since` (aware) has to be dry (aware UTC), and what sets it: "dusk", "lights-out", "house rule".

    Where lamps go off at a set time that is the limit, else the sunset that ends the care day of `since`, each less
    the house rule's margin; where the sun does not set, the house rule's hours. It lies before `since` when night had
    fallen.
    """
    zone = ZoneInfo(around.home.zone)
    day = care_day(since, zone, rules)
    margin = timedelta(minutes=rules.dusk_margin_minutes)
    if around.lights_out is not None:
        after_midnight = around.lights_out < rules.day_ends_at
        out = datetime.combine(day + timedelta(days=after_midnight), around.lights_out, zone)
        return out.astimezone(UTC) - margin, "lights-out"
    dusk = nightfall(day, around.home.latitude, around.home.longitude, zone)
    if dusk is None:
        return since.astimezone(UTC) + timedelta(hours=rules.dry_within_hours), "house rule"
    return dusk.astimezone(UTC) - margin, "dusk"


def can_dry(around: Around, wet_at: datetime, rules: HouseRules) -> Verdict:
    """Whether a plant wetted at `wet_at` (aware) is dry before its limit, and what would help when it is not."""
    zone = ZoneInfo(around.home.zone)
    by, name = limit(around, wet_at, rules)
    air = fresh(around.air, wet_at, rules)
    span = drying_span(air, False)
    why = (air_reason(around.air, air, zone), span_reason(span), limit_reason(around, by, name, rules))
    if by is None or wet_at >= by:
        words = f"Night has fallen ({name}): do not wet it now, or keep the fan on until it is dry."
        return Verdict(False, words, (*why, Reason(words, "worked out from the above")))
    room = (by - wet_at).total_seconds() / 3600.0
    ok = True if span.high <= room else False if span.low > room else None
    words = _verdict_words(ok, name, clock_words(by, zone)) + ("" if ok else _help(air, room, by, zone))
    return Verdict(ok, words, (*why, Reason(words, "worked out from the above")))


def _verdict_words(ok: bool | None, name: str, by: str) -> str:
    if ok is None:
        return f"It may not be dry by {by} ({name})."
    return f"It can be dry by {by} ({name})." if ok else f"It cannot be dry by {by} ({name})."


def _help(air: Air | None, room: float, by: datetime, zone: ZoneInfo) -> str:
    """What would help: a reading, a fan, an earlier start, or nothing in this air."""
    if air is None:
        return " Take an air reading there first; keep a fan ready and blot the crown."
    fan = drying_span(with_fan(air), False)
    if math.isinf(fan.high):
        return " The air is close to saturated: warm or dry the room first, or leave it for another day."
    if fan.high <= room:
        return " With a fan on it at once it can."
    start = clock_words(by - timedelta(hours=fan.high), zone)
    if fan.high > 24:
        return " A fan alone does not help in this air: warm or dry the room first, and blot the crown."
    return f" Blot the crown and put a fan on at once; with the fan, wet it no later than {start} another day."


def air_reason(reading: Air | None, used: Air | None, zone: tzinfo) -> Reason:
    """The air the estimate rests on, or why there is none."""
    if reading is None:
        return Reason("No air reading of this place: the estimate runs from the driest example to the dampest.",
                      "no reading")
    at = f"{clock_words(reading.at, zone)} on {full_day(reading.at, zone)}"
    if used is None:
        return Reason(f"The last air reading, {at}, is too old to use: the estimate runs from the driest example to "
                      "the dampest.", "air reading of the place")
    speed = "air speed not measured, taken as still" if used.air_speed_m_s is None else f"{used.air_speed_m_s:g} m/s"
    return Reason(f"Air at {at}: {used.temp_c:g} C, {used.rh * 100:.0f} % RH, {speed}.", "air reading of the place")


def span_reason(span: Span) -> Reason:
    """How long a film, or a pool, takes in that air."""
    if math.isinf(span.high):
        return Reason("Air this close to saturation takes up no water: it does not dry.", DERIVED)
    return Reason(f"Drying then takes {_hours(span.low)} to {_hours(span.high)} h; beads take longer.", DERIVED)


def limit_reason(around: Around, by: datetime | None, name: str, rules: HouseRules) -> Reason:
    """Which moment is the limit, and where it comes from."""
    zone = ZoneInfo(around.home.zone)
    at = "none" if by is None else clock_words(by, zone)
    margin = f", {rules.dusk_margin_minutes} min before it" if rules.dusk_margin_minutes else ""
    if name == "dusk":
        place = f"latitude {around.home.latitude:g}, longitude {around.home.longitude:g}"
        return Reason(f"It has to be dry by {at}: dusk{margin}.", f"sunset computed for {place}")
    if name == "lights-out":
        return Reason(f"It has to be dry by {at}: lights-out{margin}.", "lights-out of the place")
    return Reason(f"No sunset that day: dry within {rules.dry_within_hours} h, by {at}.", "house rule")


def _hours(value: float) -> str:
    return f"{value:.1f}" if value < 10 else f"{value:.0f}"
