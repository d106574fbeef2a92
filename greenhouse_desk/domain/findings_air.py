"""The air of one place as a finding: read by hand or by a logger, VPD and dew point, and nights too wet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta, tzinfo
from itertools import pairwise

from greenhouse_desk.domain.air import dew_point, saturation_vapour_pressure, vapour_pressure_deficit
from greenhouse_desk.domain.air_slots import SLOT_S, Night, Slot, Stretch, by_day, by_hour, night_of, nights
from greenhouse_desk.domain.care_day import dated
from greenhouse_desk.domain.faults import OutOfRange
from greenhouse_desk.domain.figures import counted
from greenhouse_desk.domain.findings import Cell, Finding, Table, Track, Tracks
from greenhouse_desk.domain.plants import Air

LEAST_POINTS = 2
DRAWN_BY_HOUR = 24 * 31
"""So many hours of a record are drawn each; a longer one day by day."""
NAN = float("nan")
HEAD = ("day", "readings", "lowest C", "mean C", "highest C", "RH %", "VPD kPa", "dew point C", "night hours read",
        "night hours too moist", "night")


@dataclass(frozen=True, slots=True)
class WetNight:
    """The house rule: a night is too wet from so many `hours` with a humidity of `rh` (0 to 1) or more."""

    rh: float
    hours: float


def air(name: str, readings: Sequence[Air], zone: tzinfo, wet: WetNight, logged: Sequence[Slot] = ()) -> Finding:
    """Temperature, humidity, vapour pressure deficit and dew point at a place; which nights were too moist."""
    told = sorted(readings, key=lambda one: one.at)
    return _logged(name, told, zone, wet, logged) if logged else _by_hand(name, told, zone, wet)


def _by_hand(name: str, told: Sequence[Air], zone: tzinfo, wet: WetNight) -> Finding:
    dew = {one.at: dew for one in told if (dew := _dew(one)) is not None}
    lines = (Track("temperature", "C", tuple((one.at, one.temp_c) for one in told)),
             Track("dew point", "C", tuple(dew.items())),
             Track("humidity", "% RH", tuple((one.at, 100 * one.rh) for one in told)),
             Track("VPD", "kPa", tuple((one.at, vapour_pressure_deficit(one.temp_c, one.rh)) for one in told)))
    rows = tuple((one.at.isoformat(timespec="minutes"), one.temp_c, round(100 * one.rh, 1),
                  round(vapour_pressure_deficit(one.temp_c, one.rh), 3), dew.get(one.at)) for one in told)
    return Finding(f"Air at {name}", counted(len(told), "reading"), _hand_words(told, zone, wet),
                   Tracks(lines) if len(told) >= LEAST_POINTS else None,
                   Table(("read (UTC)", "C", "RH %", "VPD kPa", "dew point C"), rows))


def _dew(one: Air) -> float | None:
    """The dew point in C, None for air too dry to have one in the range of the formula."""
    try:
        return round(dew_point(one.temp_c, one.rh), 2)
    except OutOfRange:
        return None


def _hand_words(told: Sequence[Air], zone: tzinfo, wet: WetNight) -> str:
    if not told:
        return "No air was read here yet."
    temps, moist = [one.temp_c for one in told], [100 * one.rh for one in told]
    found = [(night, one.rh) for one in told if (night := night_of(one.at, zone)) is not None]
    too_wet = {night for night, rh in found if rh >= wet.rh}
    return (f"{min(temps):.1f} to {max(temps):.1f} C, {min(moist):.0f} to {max(moist):.0f} % RH. "
            f"{len({night for night, _ in found})} nights have a reading, {len(too_wet)} of them one of "
            f"{100 * wet.rh:.0f} % RH or more. Between readings nothing is known.")


def _logged(name: str, by_hand: Sequence[Air], zone: tzinfo, wet: WetNight, logged: Sequence[Slot]) -> Finding:
    """A logger's record, with what was read by hand in half hours of which it knows nothing."""
    covered = {one.start for one in logged}
    hand = [slot for one in by_hand if (slot := _slot(one)).start not in covered]
    known = sorted((*logged, *hand), key=lambda one: one.start)
    days, dark = by_day(known, zone), nights(known, zone, wet.rh)
    hourly = len({one.start // 3600 for one in known}) <= DRAWN_BY_HOUR
    drawn = by_hour(known) if hourly else tuple(stretch for _, stretch in days)
    spaced = timedelta(hours=1) if hourly else timedelta(days=1)
    rests = f"{sum(one.readings for one in logged):,} readings of a logger"
    if hand:
        rests += f" and {len(hand)} by hand"
    rests += f" on {counted(len(days), 'day')}"
    return Finding(f"Air at {name}", rests, _logged_words(days, dark, wet, hourly),
                   Tracks(tuple(_lines(drawn, spaced, dark, wet))), Table(HEAD, tuple(_rows(days, dark, wet))))


def _slot(one: Air) -> Slot:
    """A reading by hand as the half hour it was taken in."""
    full = 1000 * saturation_vapour_pressure(one.temp_c)
    temp = round(100 * one.temp_c)
    return Slot(int(one.at.timestamp()) // SLOT_S * SLOT_S, 1, temp, temp, temp, round(10_000 * one.rh),
                round(full * (1 - one.rh)), round(full * one.rh))


def _lines(drawn: Sequence[Stretch], spaced: timedelta, dark: Sequence[Night], wet: WetNight) -> Iterator[Track]:
    daily = spaced > timedelta(hours=1)
    temps = [("highest", [one.high_c for one in drawn])] if daily else []
    temps += [("mean" if daily else "temperature", [one.mean_c for one in drawn])]
    temps += [("lowest", [one.low_c for one in drawn])] if daily else []
    dew = [NAN if one.dew_c is None else one.dew_c for one in drawn]
    for words, values in (*temps, ("dew point", dew)):
        yield Track(words, "C", _broken(drawn, values, spaced))
    yield Track("humidity", "% RH", _broken(drawn, [100 * one.rh for one in drawn], spaced))
    marked = tuple((datetime.combine(one.began + timedelta(days=1), datetime.min.time(), drawn[0].start.tzinfo),
                    100 * one.rh) for one in dark if one.wet_hours >= wet.hours)
    if marked:
        yield Track("night too wet", "% RH", marked, apart=True)
    yield Track("VPD", "kPa", _broken(drawn, [one.vpd_kpa for one in drawn], spaced))


def _broken(drawn: Sequence[Stretch], values: Sequence[float], spaced: timedelta) -> tuple[tuple[datetime, float], ...]:
    """The points of a line, with a break where hours or days are missing."""
    points = [(one.start, value) for one, value in zip(drawn, values, strict=True)]
    breaks = [(one.start + spaced, NAN) for one, later in pairwise(drawn) if later.start - one.start > 1.5 * spaced]
    return tuple(sorted((*points, *breaks), key=lambda point: point[0]))


def _rows(days: Sequence[tuple[date, Stretch]], dark: Sequence[Night], wet: WetNight) -> Iterator[tuple[Cell, ...]]:
    by_date = {one.began: one for one in dark}
    for day, one in days:
        night = by_date.get(day)
        dew = one.dew_c
        yield (day.isoformat(), one.readings, round(one.low_c, 2), round(one.mean_c, 2), round(one.high_c, 2),
               round(100 * one.rh, 1), round(one.vpd_kpa, 3), None if dew is None else round(dew, 2),
               night.hours if night else None, night.wet_hours if night else None,
               "too wet" if night and night.wet_hours >= wet.hours else "")


def _logged_words(days: Sequence[tuple[date, Stretch]], dark: Sequence[Night], wet: WetNight, hourly: bool) -> str:
    low, high = min(one.low_c for _, one in days), max(one.high_c for _, one in days)
    read = sum(one.hours for _, one in days)
    deficit = sum(one.vpd_kpa * one.hours for _, one in days) / read
    too_wet = [one for one in dark if one.wet_hours >= wet.hours]
    last = f", the last on {dated(too_wet[-1].began)}" if too_wet else ""
    return (f"{dated(days[0][0])} to {dated(days[-1][0])}: {low:.1f} to {high:.1f} C, mean VPD {deficit:.2f} "
            f"kPa. Of {counted(len(dark), 'night')} read, {len(too_wet)} too wet ({wet.hours:g} h or more at "
            f"{100 * wet.rh:.0f} % RH or more){last}. Drawn by the {'hour' if hourly else 'day'}; a line breaks where "
            "nothing was read.")
