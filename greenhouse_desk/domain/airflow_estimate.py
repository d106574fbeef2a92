"""How long leaves and crown take to dry where film and air are known only in part, and what would help how much."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta

from greenhouse_desk.domain import air as physics
from greenhouse_desk.domain.airflow_values import Help
from greenhouse_desk.domain.figures import Constant, Span
from greenhouse_desk.domain.journal_words import Moving
from greenhouse_desk.domain.plants import Air

DERIVED = ("derived here: evaporation from a flat leaf of 0.1 m in laminar flow (published, Incropera and DeWitt), wet "
           "bulb after ASHRAE 2017")
SAME = "derived here, by the same rule"
THIN_MM = Constant(0.05, "mm", "a thin film of water on a leaf",
                   "common practice: what hydrology models take for one layer of leaf")
THICK_MM = Constant(0.2, "mm", "a thick film of water on a leaf",
                    "published: Leibniz University Hannover, PALM land surface model, documentation: 0.2 mm on a leaf")
BLOTTED_MM = Constant(0.1, "mm", "the thickest film that blotting leaves on a leaf or in a crown", "from memory")
POOL_MM = Constant(3.0, "mm", "water standing in a crown", "from memory")
STILL_LOW, STILL_HIGH = (Constant(speed, "m/s", f"still air, {end} end", "from memory")
                         for speed, end in ((0.05, "slower"), (0.15, "faster")))
LIGHT_LOW, LIGHT_HIGH = (Constant(speed, "m/s", f"lightly moving air, {end} end", "from memory")
                         for speed, end in ((0.2, "slower"), (0.4, "faster")))
FAN_LOW, FAN_HIGH = (Constant(speed, "m/s", f"air moved by a fan, {end} end", "from memory")
                     for speed, end in ((0.5, "slower"), (1.0, "faster")))
SATURATED_RH = Constant(0.95, "as a fraction", "relative humidity from which nothing is said to dry: simple "
                        "hygrometers are a few percent out", "from memory")
UNREAD_DRY_C = Constant(24.0, "C", "warmth of a warm, dry room with orchids, where no reading is", "from memory")
UNREAD_DRY_RH = Constant(0.45, "as a fraction",
                         "relative humidity of a warm, dry room with orchids, where no reading is", "from memory")
UNREAD_DAMP_C = Constant(18.0, "C", "warmth of a cool, damp room with orchids, where no reading is", "from memory")
UNREAD_DAMP_RH = Constant(0.85, "as a fraction",
                          "relative humidity of a cool, damp room with orchids, where no reading is", "from memory")
WARMER_C = Constant(3.0, "C", "how much warmer a room is easily made", "from memory")
WARMEST_C = Constant(30.0, "C", "how warm a room is made for drying at most", "from memory")
DRIER_RH = Constant(0.10, "as a fraction",
                    "how much lower the relative humidity of a room is easily made", "from memory")
DRIEST_RH = Constant(0.40, "as a fraction", "how dry a room with orchids is made at most: below, leaves and new roots "
                     "suffer", "from memory")
WORTH_HOURS = Constant(0.1, "h", "the least gain worth telling", "house rule")

BLOT, FAN = "blot it", "put a fan on"
SPEEDS = {Moving.STILL: Span(STILL_LOW.value, STILL_HIGH.value), Moving.LIGHT: Span(LIGHT_LOW.value, LIGHT_HIGH.value),
          Moving.FAN: Span(FAN_LOW.value, FAN_HIGH.value)}
UNKNOWN_SPEED = Span(STILL_LOW.value, LIGHT_HIGH.value)
"""Air nobody measured or named: anything but a fan."""
FILM = Span(THIN_MM.value, THICK_MM.value)
BLOTTED = Span(THIN_MM.value, BLOTTED_MM.value)
POOL = Span(POOL_MM.value, POOL_MM.value)
"""How thick the water lies, mm."""


def speeds(air: Air | None, fan: bool = False) -> Span:
    """How fast the air moves at the plant, m/s: as measured, as named, or from still to light; no slower than a fan's
    with one on. A reading of nearly nothing means still, for air is never quite at rest."""
    if air is None:
        here = UNKNOWN_SPEED
    elif air.air_speed_m_s is not None:
        measured = air.air_speed_m_s
        here = Span(measured, measured) if measured >= physics.SPEED_M_S[0] else SPEEDS[Moving.STILL]
    else:
        here = UNKNOWN_SPEED if air.moving is None else SPEEDS[air.moving]
    return Span(max(here.low, FAN_LOW.value), max(here.high, FAN_HIGH.value)) if fan else here


def takes_up(air: Air) -> bool:
    """Whether this air can be said to dry anything: not near saturation, nor where water freezes."""
    return air.moisture < SATURATED_RH.value and physics.FILM_C[0] < air.temp_c <= physics.FILM_C[1]


def drying_span(air: Air | None, layer: Span = FILM, fan: bool = False) -> Span:
    """Hours until leaves and crown are dry: from the thin end of `layer` (mm) in the fastest air to its thick end in
    the slowest.

    Without a reading: from a warm dry room to a cool damp one. Infinite where the air takes nothing up. Beads on waxy
    leaves are thicker than any film: they take longer. Source: `DERIVED`.
    """
    if air is not None and not takes_up(air):
        return Span(math.inf, math.inf)
    moving = speeds(air, fan)
    best, worst = _rooms(air)
    return Span(physics.drying_hours(layer.low, *best, moving.high).low,
                physics.drying_hours(layer.high, *worst, moving.low).high)


def dry_at(since: datetime, hours: float, fan_at: datetime | None, fan_hours: float) -> datetime | None:
    """When water on a plant since `since` (aware) is gone: `hours` in the air as it was, or with the fan from `fan_at`
    on, which dries what is left then in its share of `fan_hours`. None: never."""
    done = None if math.isinf(hours) else since + timedelta(hours=hours)
    if fan_at is None or (done is not None and done <= fan_at):
        return done
    start = max(fan_at, since)
    left = 1.0 - (start - since).total_seconds() / 3600.0 / hours if hours > 0 else 0.0
    return None if math.isinf(fan_hours) else start + timedelta(hours=left * fan_hours)


def helps(air: Air | None, layer: Span = FILM, fan: bool = False) -> tuple[Help, ...]:
    """What would help now and how much, the greatest gain first; what gains nothing is left out."""
    now = drying_span(air, layer, fan)
    found = []
    for what, then in _ways(air, layer, fan):
        gain = math.inf if math.isinf(now.high) else now.high - then.high
        if not math.isinf(then.high) and gain >= WORTH_HOURS.value:
            found.append(Help(what, then, gain))
    return tuple(sorted(found, key=lambda one: (-one.gain_hours, one.span.high)))


def _ways(air: Air | None, layer: Span, fan: bool) -> Iterator[tuple[str, Span]]:
    yield BLOT, drying_span(air, BLOTTED, fan)
    yield FAN, drying_span(air, layer, True)
    if air is None:
        return
    warm = air.temp_c + WARMER_C.value
    if takes_up(replace(air, rh=0.0)) and warm <= WARMEST_C.value:
        share = physics.saturation_vapour_pressure(air.temp_c) / physics.saturation_vapour_pressure(warm)
        warmed = replace(air, temp_c=warm, rh=air.moisture * share)
        yield f"warm the room to {warm:g} C", drying_span(warmed, layer, fan)
    dry = max(air.moisture - DRIER_RH.value, DRIEST_RH.value)
    if dry < air.moisture:
        yield f"dry the room to {dry * 100:.0f} % RH", drying_span(replace(air, rh=dry), layer, fan)


def _rooms(air: Air | None) -> tuple[tuple[float, float], tuple[float, float]]:
    """The air that dries fastest and the one that dries slowest, each as temperature and humidity."""
    if air is not None:
        return (air.temp_c, air.moisture), (air.temp_c, air.moisture)
    return (UNREAD_DRY_C.value, UNREAD_DRY_RH.value), (UNREAD_DAMP_C.value, UNREAD_DAMP_RH.value)
