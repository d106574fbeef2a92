"""Findings over time: one plant's roots as they were counted, and the air of one place."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta, tzinfo

from greenhouse_desk.domain.air import dew_point, vapour_pressure_deficit
from greenhouse_desk.domain.faults import OutOfRange
from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.findings import Finding, Table, Track, Tracks
from greenhouse_desk.domain.journal import Roots
from greenhouse_desk.domain.plants import Air, History

WET_NIGHT_RH = Constant(0.9, "share", "air so moist at night counts as a wet night", "house rule")
NIGHT_FROM = Constant(20, "o'clock", "a reading from this local hour on is one of the night", "house rule")
NIGHT_TO = Constant(8, "o'clock", "a reading before this local hour is one of the night", "house rule")
LEAST_POINTS = 2


def roots(one: History) -> Finding:
    """Living and dead roots and new tips of a plant at each count."""
    counted = [(entry.at, entry.facts) for entry in one.entries if isinstance(entry.facts, Roots)]
    lines = (Track("living", "roots", tuple((at, float(facts.living)) for at, facts in counted)),
             Track("dead", "roots", tuple((at, float(facts.dead)) for at, facts in counted)),
             Track("new tips", "roots", tuple((at, float(facts.new_tips)) for at, facts in counted)))
    said = "No root was counted yet."
    if counted:
        first, last = counted[0][1], counted[-1][1]
        said = f"Last counted {last.living} living, {last.dead} dead, {last.new_tips} new tips."
        if len(counted) > 1:
            said += f" The first count had {first.living} living and {first.dead} dead."
    times = "1 root count" if len(counted) == 1 else f"{len(counted)} root counts"
    return Finding(f"Roots of {one.plant.number}", f"{times} of one plant", said,
                   Tracks(lines) if len(counted) >= LEAST_POINTS else None,
                   Table(("counted (UTC)", "living", "dead", "new tips"),
                         tuple((at.isoformat(timespec="minutes"), facts.living, facts.dead, facts.new_tips)
                               for at, facts in counted)))


def air(name: str, readings: Sequence[Air], zone: tzinfo) -> Finding:
    """Temperature, humidity, vapour pressure deficit and dew point at a place; on how many nights it was too moist."""
    told = sorted(readings, key=lambda one: one.at)
    dew = {one.at: dew for one in told if (dew := _dew(one)) is not None}
    lines = (Track("temperature", "C", tuple((one.at, one.temp_c) for one in told)),
             Track("dew point", "C", tuple(dew.items())),
             Track("humidity", "% RH", tuple((one.at, 100 * one.rh) for one in told)),
             Track("VPD", "kPa", tuple((one.at, vapour_pressure_deficit(one.temp_c, one.rh)) for one in told)))
    rows = tuple((one.at.isoformat(timespec="minutes"), one.temp_c, round(100 * one.rh, 1),
                  round(vapour_pressure_deficit(one.temp_c, one.rh), 3), dew.get(one.at)) for one in told)
    times = "1 reading" if len(told) == 1 else f"{len(told)} readings"
    return Finding(f"Air at {name}", times, _air_words(told, zone),
                   Tracks(lines) if len(told) >= LEAST_POINTS else None,
                   Table(("read (UTC)", "C", "RH %", "VPD kPa", "dew point C"), rows))


def _dew(one: Air) -> float | None:
    """The dew point in C, None for air too dry to have one in the range of the formula."""
    try:
        return round(dew_point(one.temp_c, one.rh), 2)
    except OutOfRange:
        return None


def _air_words(told: Sequence[Air], zone: tzinfo) -> str:
    if not told:
        return "No air was read here yet."
    temps, moist = [one.temp_c for one in told], [100 * one.rh for one in told]
    nights = [(night, one.rh) for one in told if (night := _night(one, zone)) is not None]
    wet = {night for night, rh in nights if rh >= WET_NIGHT_RH.value}
    return (f"{min(temps):.1f} to {max(temps):.1f} C, {min(moist):.0f} to {max(moist):.0f} % RH. "
            f"{len({night for night, _ in nights})} nights have a reading, {len(wet)} of them one of "
            f"{100 * WET_NIGHT_RH.value:.0f} % RH or more. Between readings nothing is known.")


def _night(one: Air, zone: tzinfo) -> date | None:
    """The day on which the night of a reading began, None for a reading of the day."""
    local = one.at.astimezone(zone)
    if NIGHT_FROM.value <= local.hour or local.hour < NIGHT_TO.value:
        return (local - timedelta(hours=NIGHT_TO.value)).date()
    return None
