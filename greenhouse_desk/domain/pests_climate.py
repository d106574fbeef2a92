"""A place's own temperatures, day by day, from the readings taken there; a day without is never filled silently."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta, tzinfo

from greenhouse_desk.domain.air_log import instant
from greenhouse_desk.domain.air_slots import Slot
from greenhouse_desk.domain.figures import Constant

USUAL_DAYS = Constant(14, "days", "the days before now whose readings make a usual day of a place", "house rule")
RECORD_DAYS = Constant(60, "days", "how far back readings are fetched for the dates of washes", "house rule")


@dataclass(frozen=True, slots=True)
class DayTemps:
    """A day's lowest and highest temperature, deg C, and how many readings tell them; 0: a usual day stands in."""

    low_c: float
    high_c: float
    readings: int


@dataclass(frozen=True, slots=True)
class Climate:
    """The temperatures around a plant.

    `place` is where they were read; `asked` the place that has none of its own, "" when it is the same. `days` are
    local days with readings, `usual` stands for days without: the mean of the lows and of the highs lately. `newest`
    is when the newest reading was taken (aware UTC), `readings` how many there are.
    """

    place: str
    asked: str
    days: Mapping[date, DayTemps]
    usual: DayTemps
    newest: datetime
    readings: int

    def on(self, day: date) -> DayTemps:
        """The temperatures of a local day: those read, else the usual ones with 0 readings."""
        return self.days.get(day, self.usual)


def climate(readings: Iterable[tuple[datetime, float]], today: date, zone: tzinfo, place: str,
            asked: str = "", logged: Iterable[Slot] = ()) -> Climate | None:
    """The climate from (aware instant, deg C) pairs, oldest first, and a logger's half hours likewise; None when none
    is younger than USUAL_DAYS.

    A day's low and high are the lowest and highest read on that local day; a single reading counts for all of it.
    """
    found: dict[date, list[tuple[float, float, int]]] = {}
    newest = None
    for one in logged:
        newest = instant(one.start)
        found.setdefault(newest.astimezone(zone).date(), []).append((one.low / 100, one.high / 100, one.readings))
    for at, temp in readings:
        newest = at if newest is None else max(newest, at)
        found.setdefault(at.astimezone(zone).date(), []).append((temp, temp, 1))
    days = {day: DayTemps(min(low for low, _, _ in temps), max(high for _, high, _ in temps),
                          sum(count for _, _, count in temps)) for day, temps in found.items()}
    first = today - timedelta(days=int(USUAL_DAYS.value))
    lately = [temps for day, temps in days.items() if first <= day]
    if newest is None or not lately:
        return None
    usual = DayTemps(sum(temps.low_c for temps in lately) / len(lately),
                     sum(temps.high_c for temps in lately) / len(lately), 0)
    return Climate(place, asked, days, usual, newest, sum(temps.readings for temps in days.values()))
