"""When it is night at a place, date by date: from dusk to sunrise, while its lamps are off, or by the house rule."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime, time, timedelta, tzinfo

from greenhouse_desk.domain.airflow_night import LAMPS_OFF
from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.plants import Home
from greenhouse_desk.domain.sun import nightfall, sunrise

NIGHT_FROM = Constant(20, "o'clock", "where no dusk is known, a reading from this local hour on is one of the night",
                      "house rule")
NIGHT_TO = Constant(8, "o'clock", "where no sunrise is known, a reading before this local hour is one of the night",
                    "house rule")
APART = Constant(8, "days", "dusk and sunrise are worked out for dates so far apart, and drawn between them",
                 "derived here: within a minute of each date's own up to 60 degrees north and south")
TURNS = Constant(0.5, "h", "where dusk or sunrise shifts by more between those dates, each date's own is worked out",
                 "house rule")
DAY = timedelta(days=1)
Span = tuple[datetime, datetime]


class Dark:
    """The nights of a place; `words` say by what they are known."""

    def __init__(self, words: str, zone: tzinfo, span: Callable[[date], Span]) -> None:
        self.words = words
        self._zone, self._span = zone, span
        self._known: dict[date, Span] = {}

    def night_of(self, at: datetime) -> date | None:
        """The day on which the night of an instant (aware) began, None by day."""
        day = at.astimezone(self._zone).date()
        return next((one for one in (day, day - DAY) if self._is_in(one, at)), None)

    def _is_in(self, day: date, at: datetime) -> bool:
        if day not in self._known:
            self._known[day] = self._span(day)
        start, end = self._known[day]
        return start <= at < end


def by_rule(zone: tzinfo, why: str = "") -> Dark:
    """The same hours all year; `why` says that nothing better is known."""
    return Dark(f"night is {NIGHT_FROM.value:g} to {NIGHT_TO.value:g} o'clock by the house rule{why}", zone,
                lambda day: _ruled(day, zone))


def dark_at(home: Home, home_set: bool, lights_out: time | None, zone: tzinfo) -> Dark:
    """The nights of a place whose lamps go off at `lights_out` (local), or that has the daylight of `home`; by the
    house rule where no home is set, and on dates on which the sun does not set or rise there."""
    if lights_out is not None:
        return Dark(f"night is from lights-out at {lights_out:%H:%M}, {LAMPS_OFF.value:g} h long", zone,
                    lambda day: _unlit(day, lights_out, zone))
    if not home_set:
        return by_rule(zone, ", for no home is set on the House page")
    return Dark("night is from dusk to sunrise at the home, date by date", zone, lambda day: _sunless(day, home, zone))


def _at(day: date, hour: time, zone: tzinfo) -> datetime:
    return datetime.combine(day, hour, zone)


def _ruled(day: date, zone: tzinfo) -> Span:
    return _at(day, time(int(NIGHT_FROM.value)), zone), _at(day + DAY, time(int(NIGHT_TO.value)), zone)


def _unlit(day: date, out: time, zone: tzinfo) -> Span:
    start = datetime.fromtimestamp(_at(day, out, zone).timestamp(), zone)
    return start, datetime.fromtimestamp(start.timestamp() + 3600 * LAMPS_OFF.value, zone)


def _sunless(day: date, home: Home, zone: tzinfo) -> Span:
    dusk = _between(day, lambda one: nightfall(one, home.latitude, home.longitude, zone))
    rise = _between(day + DAY, lambda one: sunrise(one, home.latitude, home.longitude, zone))
    return (dusk, rise) if dusk is not None and rise is not None and dusk < rise else _ruled(day, zone)


def _between(day: date, of: Callable[[date], datetime | None]) -> datetime | None:
    """What `of` tells of a date, drawn between two dates near it: a year of nights would take seconds to work out."""
    apart = int(APART.value)
    first = date.fromordinal(day.toordinal() // apart * apart)
    ends = (of(first), of(first + apart * DAY))
    one, other = (None if end is None else end.astimezone(UTC) for end in ends)  # the clock may change between them
    shift = other - one - apart * DAY if one is not None and other is not None else None
    if one is None or shift is None or abs(shift) > timedelta(hours=TURNS.value):
        return of(day)
    nth = (day - first).days
    return one + nth * DAY + shift * nth / apart
