"""When it is night at a place: by the sun of its home, by its lamps, or by the house rule, and which is said."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import ephem
import pytest

from greenhouse_desk.domain import sun
from greenhouse_desk.domain.air_dark import by_rule, dark_at
from greenhouse_desk.domain.air_log import Log
from greenhouse_desk.domain.air_slots import nights, slots
from greenhouse_desk.domain.findings_air import WetNight, air
from greenhouse_desk.domain.plants import Home
from greenhouse_desk.domain.sun import nightfall, sunrise
from tests.domain.air_files import MADRID

HOME = Home(40.4, -3.7, "Europe/Madrid")
NORTH = Home(78.2, 15.6, "Europe/Madrid")
JUNE, DECEMBER = date(2026, 6, 21), date(2026, 12, 21)


def at(day: date, hour: int, minute: int = 0) -> datetime:
    return datetime(day.year, day.month, day.day, hour, minute, tzinfo=MADRID)


@pytest.mark.parametrize(("moment", "began"), [
    (at(DECEMBER, 17, 30), None), (at(DECEMBER, 18), DECEMBER), (at(DECEMBER + timedelta(1), 8, 30), DECEMBER),
    (at(DECEMBER + timedelta(1), 9), None), (at(JUNE, 21, 30), None), (at(JUNE, 22), JUNE),
    (at(JUNE + timedelta(1), 6, 30), JUNE), (at(JUNE + timedelta(1), 7), None)])
def test_night_follows_dusk_and_sunrise_of_each_date(moment: datetime, began: date | None) -> None:
    """Madrid: sunset 17:51 and next sunrise 8:35 on 21 December, 21:48 and 6:45 on 21 June (almanac, to minutes)."""
    assert dark_at(HOME, True, None, MADRID).night_of(moment) == began


@pytest.mark.parametrize("latitude", [0.0, 40.4, -33.9, 60.0])
def test_what_is_drawn_between_dates_is_within_a_minute_of_each_dates_own(latitude: float) -> None:
    dark = dark_at(Home(latitude, -3.7, "Europe/Madrid"), True, None, MADRID)
    for nth in range(0, 365, 9):
        day = date(2026, 1, 3) + timedelta(days=nth)
        dusk, rise = nightfall(day, latitude, -3.7, MADRID), sunrise(day + timedelta(1), latitude, -3.7, MADRID)
        assert dusk is not None
        assert rise is not None
        minute = timedelta(minutes=1)
        told = [dark.night_of(one) for one in (dusk - minute, dusk + minute, rise - minute, rise + minute)]
        assert told == [None, day, day, None], day


def test_lamps_make_the_night_of_a_place_that_has_them() -> None:
    dark = dark_at(HOME, True, time(23, 30), MADRID)
    told = [dark.night_of(at(DECEMBER, 23)), dark.night_of(at(DECEMBER, 23, 30)),
            dark.night_of(at(DECEMBER + timedelta(1), 7)), dark.night_of(at(DECEMBER + timedelta(1), 7, 30))]
    assert told == [None, DECEMBER, DECEMBER, None]
    assert dark.words == "night is from lights-out at 23:30, 8 h long"


@pytest.mark.parametrize("dark", [dark_at(HOME, False, None, MADRID), dark_at(NORTH, True, None, MADRID)])
def test_without_a_home_or_a_dusk_the_house_rule_stands_in(dark: object) -> None:
    assert isinstance(dark, type(by_rule(MADRID)))
    told = [dark.night_of(at(JUNE, 19, 59)), dark.night_of(at(JUNE, 20)), dark.night_of(at(JUNE + timedelta(1), 7, 59)),
            dark.night_of(at(JUNE + timedelta(1), 8))]
    assert told == [None, JUNE, JUNE, None]


def test_a_wet_evening_of_december_counts_though_the_rule_would_call_it_day() -> None:
    """Four hours from 18:00 to 20:00 and 8:00 to 8:30 lie outside 20 to 8 o'clock, yet it is dark."""
    start = int(at(DECEMBER, 12).timestamp())
    moist = [9500 if 12 <= nth < 16 else 6000 for nth in range(48)]
    known = slots(Log([start + 1800 * nth for nth in range(48)], [1800] * 48, moist, [-1] * 48))
    assert [one.wet_hours for one in nights(known, dark_at(HOME, True, None, MADRID), 0.9)] == [2.0]
    assert [one.wet_hours for one in nights(known, by_rule(MADRID), 0.9)] == [0.0]


def test_a_finding_says_which_night_it_goes_by() -> None:
    start = int(at(DECEMBER, 12).timestamp())
    known = slots(Log([start + 1800 * nth for nth in range(48)], [1800] * 48, [6000] * 48, [-1] * 48))
    by_sun = air("sill", [], MADRID, WetNight(0.9, 4), known, dark_at(HOME, True, None, MADRID))
    assert "night is from dusk to sunrise at the home, date by date" in by_sun.summary
    unset = air("sill", [], MADRID, WetNight(0.9, 4), known, dark_at(HOME, False, None, UTC))
    assert "night is 20 to 8 o'clock by the house rule, for no home is set on the House page" in unset.summary


def test_a_year_of_nights_asks_for_few_heights_of_the_sun(monkeypatch: pytest.MonkeyPatch) -> None:
    """A long record's finding halts on these: each is looked for from noon or midnight on, and no longer than needed.
    """
    asked: list[datetime] = []
    known = sun._height

    def counting(observer: ephem.Observer, moment: datetime) -> float:
        asked.append(moment)
        return known(observer, moment)

    monkeypatch.setattr(sun, "_height", counting)
    sun.nightfall.cache_clear()
    sun._crossing.cache_clear()
    dark = dark_at(HOME, True, None, MADRID)
    found = {dark.night_of(at(date(2026, 1, 1) + timedelta(days=nth), hour)) for nth in range(365) for hour in (1, 22)}
    assert len(found) == 366
    assert 1_000 < len(asked) < 5_000
