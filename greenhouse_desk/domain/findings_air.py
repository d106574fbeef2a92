"""The air of one place as a finding: read by hand or by a logger, VPD and dew point, and nights too wet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta, tzinfo
from itertools import pairwise

from greenhouse_desk.domain.air import dew_point, saturation_vapour_pressure, vapour_pressure_deficit
from greenhouse_desk.domain.air_dark import Dark, by_rule
from greenhouse_desk.domain.air_log import days_words
from greenhouse_desk.domain.air_slots import NAN, SLOT_S, Night, Slot, Stretch, by_day, by_hour, nights
from greenhouse_desk.domain.care_day import dated
from greenhouse_desk.domain.faults import OutOfRange
from greenhouse_desk.domain.figures import counted
from greenhouse_desk.domain.findings import Cell, Finding, Table, Track, Tracks
from greenhouse_desk.domain.plants import Air

LEAST_POINTS = 2
NO_HUMIDITY = "No humidity was measured: no VPD, dew point or wet night can be told."
DRAWN_BY_HOUR = 24 * 31
"""So many hours of a record are drawn each; a longer one day by day."""
HEAD = ("day", "readings", "lowest C", "mean C", "highest C", "RH %", "VPD kPa", "dew point C", "night hours read",
        "night hours too moist", "night")


@dataclass(frozen=True, slots=True)
class WetNight:
    """The house rule: a night is too wet from so many `hours` with a humidity of `rh` (0 to 1) or more."""

    rh: float
    hours: float


def air(name: str, readings: Sequence[Air], zone: tzinfo, wet: WetNight, logged: Sequence[Slot] = (),
        dark: Dark | None = None, lost: Sequence[date] = ()) -> Finding:
    """Temperature, humidity, vapour pressure deficit and dew point at a place; which nights (`dark`; by the house rule
    where it is not told) were too moist. `lost` are days of a logger's that cannot be read."""
    told, night = sorted(readings, key=lambda one: one.at), dark or by_rule(zone)
    found = _logged(name, told, zone, wet, logged, night) if logged else _by_hand(name, told, wet, night)
    return replace(found, summary=f"{found.summary} {_lost_words(lost)}") if lost else found


def _lost_words(lost: Sequence[date]) -> str:
    many = len(lost) > 1
    return (f"{counted(len(lost), 'day')} of a logger {'are' if many else 'is'} damaged and cannot be read, and "
            f"{'are' if many else 'is'} left out: {days_words(lost)}. The logger's file taken in again mends "
            f"{'them' if many else 'it'}.")


def _by_hand(name: str, told: Sequence[Air], wet: WetNight, dark: Dark) -> Finding:
    dew = {one.at: dew for one in told if (dew := _dew(one)) is not None}
    lines = (Track("temperature", "C", tuple((one.at, one.temp_c) for one in told)),
             Track("dew point", "C", tuple(dew.items())),
             Track("humidity", "% RH", tuple((one.at, 100 * one.moisture) for one in told)),
             Track("VPD", "kPa", tuple((one.at, vapour_pressure_deficit(one.temp_c, one.moisture)) for one in told)))
    rows = tuple((one.at.isoformat(timespec="minutes"), one.temp_c, round(100 * one.moisture, 1),
                  round(vapour_pressure_deficit(one.temp_c, one.moisture), 3), dew.get(one.at)) for one in told)
    return Finding(f"Air at {name}", counted(len(told), "reading"), _hand_words(told, wet, dark),
                   Tracks(lines) if len(told) >= LEAST_POINTS else None,
                   Table(("read (UTC)", "C", "RH %", "VPD kPa", "dew point C"), rows))


def _dew(one: Air) -> float | None:
    """The dew point in C, None for air too dry to have one in the range of the formula."""
    try:
        return round(dew_point(one.temp_c, one.moisture), 2)
    except OutOfRange:
        return None


def _hand_words(told: Sequence[Air], wet: WetNight, dark: Dark) -> str:
    if not told:
        return "No air was read here yet."
    temps, moist = [one.temp_c for one in told], [100 * one.moisture for one in told]
    found = [(night, one.moisture) for one in told if (night := dark.night_of(one.at)) is not None]
    too_wet = {night for night, rh in found if rh >= wet.rh}
    return (f"{min(temps):.1f} to {max(temps):.1f} C, {min(moist):.0f} to {max(moist):.0f} % RH. "
            f"{len({night for night, _ in found})} nights have a reading, {len(too_wet)} of them one of "
            f"{100 * wet.rh:.0f} % RH or more ({dark.words}). Between readings nothing is known.")


def _logged(name: str, by_hand: Sequence[Air], zone: tzinfo, wet: WetNight, logged: Sequence[Slot],
            night: Dark) -> Finding:
    """A logger's record, with what was read by hand in half hours of which it knows nothing."""
    covered = {one.start for one in logged}
    hand = [slot for one in by_hand if (slot := _slot(one)).start not in covered]
    known = sorted((*logged, *hand), key=lambda one: one.start)
    days, dark = by_day(known, zone), nights(known, night, wet.rh)
    hourly = len({one.start // 3600 for one in known}) <= DRAWN_BY_HOUR
    drawn = by_hour(known) if hourly else tuple(stretch for _, stretch in days)
    spaced = timedelta(hours=1) if hourly else timedelta(days=1)
    rests = f"{sum(one.readings for one in logged):,} readings of a logger"
    if hand:
        rests += f" and {len(hand)} by hand"
    rests += f" on {counted(len(days), 'day')}"
    return Finding(f"Air at {name}", rests, _logged_words(days, dark, wet, hourly, night),
                   Tracks(tuple(_lines(drawn, spaced, dark, wet))), Table(HEAD, tuple(_rows(days, dark, wet))))


def _slot(one: Air) -> Slot:
    """A reading by hand as the half hour it was taken in."""
    full = 1000 * saturation_vapour_pressure(one.temp_c)
    temp = round(100 * one.temp_c)
    return Slot(int(one.at.timestamp()) // SLOT_S * SLOT_S, 1, temp, temp, temp, round(10_000 * one.moisture),
                round(full * (1 - one.moisture)), round(full * one.moisture))


def _lines(drawn: Sequence[Stretch], spaced: timedelta, dark: Sequence[Night], wet: WetNight) -> Iterator[Track]:
    daily = spaced > timedelta(hours=1)
    temps = [("highest", [one.high_c for one in drawn])] if daily else []
    temps += [("mean" if daily else "temperature", [one.mean_c for one in drawn])]
    temps += [("lowest", [one.low_c for one in drawn])] if daily else []
    dew = [NAN if one.dew_c is None else one.dew_c for one in drawn]
    humid = any(one.humid_hours for one in drawn)
    for words, values in (*temps, *([("dew point", dew)] if humid else [])):
        yield Track(words, "C", _broken(drawn, values, spaced))
    if not humid:
        return
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
               *_moist(one), None if dew is None else round(dew, 2),
               night.hours if night else None, night.wet_hours if night else None,
               "too wet" if night and night.wet_hours >= wet.hours else "")


def _moist(one: Stretch) -> tuple[Cell, Cell]:
    """RH in per cent and VPD in kPa, where humidity was measured."""
    return (round(100 * one.rh, 1), round(one.vpd_kpa, 3)) if one.humid_hours else (None, None)


def _logged_words(days: Sequence[tuple[date, Stretch]], dark: Sequence[Night], wet: WetNight, hourly: bool,
                  night: Dark) -> str:
    low, high = min(one.low_c for _, one in days), max(one.high_c for _, one in days)
    reach = f"{dated(days[0][0])} to {dated(days[-1][0])}: {low:.1f} to {high:.1f} C"
    drawn = f"Drawn by the {'hour' if hourly else 'day'}; a line breaks where nothing was read."
    humid = [one for _, one in days if one.humid_hours]
    read = sum(one.humid_hours for one in humid)
    if not humid:
        return f"{reach}. {NO_HUMIDITY} {drawn}"
    deficit = sum(one.vpd_kpa * one.humid_hours for one in humid) / read
    part = sum(one.hours for _, one in days) - read
    dry = f" In {part:g} h only the temperature was read: they tell no VPD, dew point or wet night." if part else ""
    too_wet = [one for one in dark if one.wet_hours >= wet.hours]
    last = f", the last on {dated(too_wet[-1].began)}" if too_wet else ""
    return (f"{reach}, mean VPD {deficit:.2f} kPa. Of {counted(len(dark), 'night')} read, {len(too_wet)} too wet "
            f"({wet.hours:g} h or more at {100 * wet.rh:.0f} % RH or more; {night.words}){last}.{dry} {drawn}")
