"""When night falls on a wetted plant: the next time its lamps go off, or dusk; or the night that had fallen already."""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

from greenhouse_desk.domain.care_day import care_day, when
from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.plants import Home
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.domain.sun import nightfall, sunrise

LAMPS_OFF = Constant(8, "h", "how long lamps that went off are taken to stay off, at the least",
                     "common practice: plants under lamps are lit for at most 16 h a day")
EVENING = Constant(12, "h", "lamps that go off no longer than so before the day ends make its night", "house rule")


def lights_out(at: time, since: datetime, zone: ZoneInfo, rules: HouseRules) -> datetime:
    """The lights-out (aware UTC) that counts for a plant wet `since` (aware): the next one, or the last while it is
    still dark after that. `at` is the local time the lamps go off, at any hour of the day.
    """
    day = since.astimezone(zone).date()
    outs = [datetime.combine(day + timedelta(days=days), at, zone).astimezone(UTC) for days in (-1, 0, 1)]
    last = max(out for out in outs if out <= since)
    return last if since < _dark_until(last, zone, rules) else min(out for out in outs if out > since)


def _dark_until(out: datetime, zone: ZoneInfo, rules: HouseRules) -> datetime:
    """When the lamps are taken to be on again: as the day turns after an evening, and not before their least."""
    turns = when(care_day(out, zone, rules), zone, rules)
    least = out + timedelta(hours=LAMPS_OFF.value)
    return max(turns, least) if turns - out <= timedelta(hours=EVENING.value) else least


def dusk(home: Home, since: datetime, rules: HouseRules) -> datetime | None:
    """The sunset (aware UTC) that ends the day of a plant wet `since` (aware); None where the sun does not set.

    The day is the care day; once the sun is up it is the new one, however late the house lets the day end.
    """
    zone = ZoneInfo(home.zone)
    day, local = care_day(since, zone, rules), since.astimezone(zone).date()
    if day != local:
        rise = sunrise(local, home.latitude, home.longitude, zone)
        day = local if rise is not None and rise <= since else day
    found = nightfall(day, home.latitude, home.longitude, zone)
    return None if found is None else found.astimezone(UTC)
