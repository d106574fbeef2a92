"""The steps of drying's "why?": the air with its age, the film, the rule in words, the span, the limit, what helps."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import datetime, timedelta, tzinfo
from zoneinfo import ZoneInfo

from greenhouse_desk.domain import air as physics
from greenhouse_desk.domain.airflow_estimate import (
    BLOTTED,
    BLOTTED_MM,
    DERIVED,
    FAN_LOW,
    FILM,
    LIGHT_LOW,
    POOL,
    POOL_MM,
    SAME,
    STILL_LOW,
    THICK_MM,
    THIN_MM,
    UNREAD_DAMP_C,
    UNREAD_DAMP_RH,
    UNREAD_DRY_C,
    UNREAD_DRY_RH,
    speeds,
    takes_up,
)
from greenhouse_desk.domain.airflow_night import LAMPS_OFF
from greenhouse_desk.domain.airflow_values import Around, Help
from greenhouse_desk.domain.care_day import clock_words, full_day, time_words
from greenhouse_desk.domain.care_values import Reason
from greenhouse_desk.domain.figures import Span
from greenhouse_desk.domain.journal_words import Moving
from greenhouse_desk.domain.plants import Air
from greenhouse_desk.domain.settings import HouseRules

DUSK, LIGHTS_OUT, HOUSE_RULE, ASSUMED_DUSK = "dusk", "lights-out", "house rule", "assumed dusk"
READING = "air reading of the place"
NO_SAFE_WETNESS = "No published figure says how long an orchid may safely stay wet, so night is the limit."


def estimate_reasons(reading: Air | None, used: Air | None, zone: tzinfo, at: datetime,
                     layer: Span = FILM, fan: bool = False) -> tuple[Reason, ...]:
    """What the hours rest on: the reading seen from `at` (aware), how the air moves, the water, the rule."""
    return (_air(reading, used, zone, at), _speed(used, fan), _film(layer), _rule(used))


def _air(reading: Air | None, used: Air | None, zone: tzinfo, at: datetime) -> Reason:
    """The air the estimate rests on with its age, or why there is none."""
    wide = (f"the estimate runs from a warm, dry room ({UNREAD_DRY_C.value:g} C, {UNREAD_DRY_RH.value * 100:.0f} % RH) "
            f"to a cool, damp one ({UNREAD_DAMP_C.value:g} C, {UNREAD_DAMP_RH.value * 100:.0f} % RH)")
    if reading is None:
        return Reason(f"No air reading of this place: {wide}.", "no reading; the rooms from memory")
    when = f"{clock_words(reading.at, zone)} on {full_day(reading.at, zone)}"
    if reading.rh is None:
        return Reason(f"The logger there reads no humidity ({reading.temp_c:g} C at {when}): {wide}.",
                      f"{READING}; the rooms from memory")
    if used is None:
        return Reason(f"The last air reading, {when}, is too old to use: {wide}.", f"{READING}; the rooms from memory")
    moist = f"{used.moisture * 100:.0f} % RH"
    return Reason(f"Air at {when}, {_age(at - reading.at)}: {used.temp_c:g} C, {moist}.", READING)


def _age(age: timedelta) -> str:
    minutes = round(age.total_seconds() / 60.0)
    if minutes < 0:
        return "read after that"
    return f"{minutes} min old" if minutes < 90 else f"{minutes / 60.0:.0f} h old"


def _speed(used: Air | None, fan: bool) -> Reason:
    moving = speeds(used, fan)
    span = f"{moving.low:g} m/s" if moving.low == moving.high else f"{moving.low:g} to {moving.high:g} m/s"
    measured = None if used is None else used.air_speed_m_s
    if fan and moving.low == FAN_LOW.value:
        return Reason(f"With a fan the air moves at {span}.", FAN_LOW.source)
    if measured is not None and measured >= physics.SPEED_M_S[0]:
        return Reason(f"The air moves at {span}.", READING)
    if measured is not None:
        return Reason(f"The air was read at {measured:g} m/s: taken as still, {span}, for air is never quite at rest.",
                      f"{READING}; the span {STILL_LOW.source}")
    if used is not None and used.moving is not None:
        word = {Moving.STILL: "still", Moving.LIGHT: "moving lightly", Moving.FAN: "moved by a fan"}[used.moving]
        return Reason(f"The air is {word}: {span}.", f"{READING}; the span {LIGHT_LOW.source}")
    return Reason(f"How fast the air moves was not measured: taken as {span}, from still to light.", STILL_LOW.source)


def _film(layer: Span) -> Reason:
    if layer == POOL:
        return Reason(f"Water stands in the crown; a pool is taken as {layer.low:g} mm deep.", POOL_MM.source)
    if layer == BLOTTED:
        return Reason(f"Blotted, it carries a film of {layer.low:g} to {layer.high:g} mm.", BLOTTED_MM.source)
    return Reason(f"A wet leaf carries a film of {layer.low:g} to {layer.high:g} mm.",
                  f"{THIN_MM.source} (thin); {THICK_MM.source} (thick)")


def _rule(used: Air | None) -> Reason:
    """The formula in words."""
    cooled = ""
    if used is not None and takes_up(used):
        cooled = f", {physics.wet_bulb(used.temp_c, used.moisture):.1f} C,"
    return Reason(f"Hours are the film divided by what the air takes up. Slowest: the film alone, cooled to its wet "
                  f"bulb{cooled or ','} in the slower air. Fastest: a leaf also warmed through its dry face and by "
                  "the room, in the faster air.", DERIVED)


def span_reason(span: Span) -> Reason:
    """How long a film, or a pool, takes in that air."""
    if math.isinf(span.low):
        return Reason("Air this close to saturation, or freezing, takes up no water that could be counted on: it does "
                      "not dry.", SAME)
    if math.isinf(span.high):
        return Reason(f"Drying takes {hours(span.low)} h or more, and may not end at all.", SAME)
    return Reason(f"Drying then takes {hours(span.low)} to {hours(span.high)} h. Beads on waxy leaves are thicker than "
                  "a film and dry slower.", SAME)


def limit_reason(around: Around, by: datetime | None, name: str, rules: HouseRules, now: datetime) -> Reason:
    """Which moment is the limit, its day told when that is not the day of `now`, and where it comes from."""
    at = "none" if by is None else time_words(by, now, ZoneInfo(around.home.zone))
    margin = f", {rules.dusk_margin_minutes} min before it" if rules.dusk_margin_minutes else ""
    if name in (DUSK, ASSUMED_DUSK):
        place = f"latitude {around.home.latitude:g}, longitude {around.home.longitude:g}"
        return Reason(f"It has to be dry by {at}: {name}{margin}. {NO_SAFE_WETNESS}", f"sunset computed for {place}")
    if name == LIGHTS_OUT:
        return Reason(f"It has to be dry by {at}: lights-out{margin}. {NO_SAFE_WETNESS}",
                      f"lights-out of the place; {LAMPS_OFF.of}: {LAMPS_OFF.value:g} h, {LAMPS_OFF.source}")
    return Reason(f"No sunset that day: dry within {rules.dry_within_hours} h, by {at}.", "house rule")


def home_reasons(around: Around) -> tuple[Reason, ...]:
    """That nobody said where the home is, while nobody has."""
    if around.home_set:
        return ()
    home = around.home
    return (Reason(f"The home is not set: the sun of latitude {home.latitude:g}, longitude {home.longitude:g} and the "
                   f"clock of {home.zone} are only assumed. Dusk may be hours off; set the home under House.",
                   "assumed, not set by the grower"),)


def help_reasons(found: Sequence[Help]) -> tuple[Reason, ...]:
    """What would help, each with its gain."""
    return tuple(Reason(f"To dry sooner, {one.what}: {hours(one.span.low)} to {hours(one.span.high)} h, {gain(one)}.",
                        SAME) for one in found)


def gain(one: Help) -> str:
    """"2.9 h sooner at the slow end"."""
    if math.isinf(one.gain_hours):
        return "where it would not dry as it is"
    return f"{hours(one.gain_hours)} h sooner at the slow end"


def hours(value: float) -> str:
    """Hours in one decimal while they are few."""
    return f"{value:.1f}" if value < 9.95 else f"{value:.0f}"
