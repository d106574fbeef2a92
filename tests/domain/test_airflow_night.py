"""Night for a wet plant: lamps that go off at any hour, the turn of the day, and the sun once it is up."""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta

import pytest

from greenhouse_desk.domain import care
from greenhouse_desk.domain.airflow import Around, can_dry, limit
from greenhouse_desk.domain.care import CareKind, Turn
from greenhouse_desk.domain.journal import Part, Wetted
from greenhouse_desk.domain.plants import Air, Home
from greenhouse_desk.domain.settings import HouseRules
from tests.domain.care_asking import HOME, LONDON, owed, text, told

RULES = HouseRules()


def on(day: int, hour: int, minute: int = 0) -> datetime:
    """An instant in November 2026, when London's clock is UTC."""
    return datetime(2026, 11, day, hour, minute, tzinfo=UTC)


@pytest.mark.parametrize(("out", "wet", "by"), [
    (time(4), on(18, 15), on(19, 4)),                # lamps from noon to 04:00
    (time(4), on(18, 12), on(19, 4)),
    (time(4), on(18, 11, 59), on(18, 4)),            # still dark since 04:00
    (time(4), on(18, 4), on(18, 4)),
    (time(4), on(18, 3, 59), on(18, 4)),             # the last minute of light, before the day turns
    (time(5), on(18, 15), on(19, 5)),
    (time(9), on(18, 20), on(19, 9)),
    (time(12), on(18, 20), on(19, 12)),              # lamps off from noon to 20:00 on cheap current
    (time(12), on(18, 19, 59), on(18, 12)),
    (time(15, 59), on(18, 23, 58), on(18, 15, 59)),  # too long before the day ends to be its night
    (time(15, 59), on(18, 23, 59), on(19, 15, 59)),
    (time(16), on(19, 3, 59), on(18, 16)),           # an evening's night lasts until the day turns
    (time(16), on(19, 4), on(19, 16)),
    (time(22), on(18, 12), on(18, 22)),
    (time(22), on(18, 22, 30), on(18, 22)),
    (time(22), on(19, 5, 59), on(18, 22)),
    (time(22), on(19, 6), on(19, 22)),
    (time(0), on(18, 12), on(19, 0)),
    (time(0), on(19, 0, 30), on(19, 0)),
    (time(1), on(18, 12), on(19, 1)),
])
def test_the_limit_is_the_next_lights_out_unless_it_is_dark_already(out: time, wet: datetime, by: datetime) -> None:
    assert limit(Around(None, out, HOME), wet, RULES) == (by, "lights-out")


def test_the_turn_of_the_day_is_the_houses_own() -> None:
    late, midnight = HouseRules(day_ends_at_hour=8), HouseRules(day_ends_at_hour=0)
    assert limit(Around(None, time(20), HOME), on(19, 7, 59), late)[0] == on(18, 20)
    assert limit(Around(None, time(20), HOME), on(19, 8), late)[0] == on(19, 20)
    assert limit(Around(None, time(0), HOME), on(18, 12), midnight)[0] == on(19, 0)
    assert limit(Around(None, time(22), HOME), on(19, 0, 30), midnight)[0] == on(18, 22)


def test_in_a_night_when_the_clocks_go_back_real_hours_count() -> None:
    """On 25 October 2026 London's clocks go back: from 22:00 to 05:00 are eight hours."""
    out = datetime(2026, 10, 24, 21, tzinfo=UTC)
    for wet, by in ((datetime(2026, 10, 25, 4, 59, tzinfo=UTC), out),
                    (datetime(2026, 10, 25, 5, 0, tzinfo=UTC), datetime(2026, 10, 25, 22, tzinfo=UTC))):
        assert limit(Around(None, time(22), HOME), wet, RULES)[0] == by


def test_a_crown_wet_in_the_afternoon_of_a_night_light_is_drying_now_and_not_late() -> None:
    wet, now = on(18, 15), on(18, 16)
    (drying,) = owed(told((wet, Wetted((Part.CROWN,)))), CareKind.AIR, now=now, lights_out=time(4), zone=LONDON)
    assert drying.due == on(19, 4)
    assert care.words(drying, now, LONDON) == care.CareWords("drying", "dry by 19 Nov 04:00")
    assert "past lights-out" not in text(drying)
    assert care.turn_of(drying, now, LONDON, RULES) is Turn.NOW, "its limit is tomorrow's, it is wet now"


@pytest.mark.parametrize(("now", "said"), [
    (on(19, 3, 59), "crown dry by 04:00"), (on(19, 4), "wet past lights-out 04:00"), (on(20, 5), "wet since 19 Nov")])
def test_after_lights_out_it_is_late(now: datetime, said: str) -> None:
    (drying,) = owed(told((on(18, 15), Wetted((Part.CROWN,)))), CareKind.AIR, now=now, lights_out=time(4))
    assert care.words(drying, now, LONDON).text == said


@pytest.mark.parametrize(("wet", "evening"), [(on(18, 7), 17), (on(18, 7, 40), 18), (on(18, 10, 59), 18)])
def test_once_the_sun_is_up_its_dusk_counts_however_late_the_day_turns(wet: datetime, evening: int) -> None:
    """The sun rises over London at 07:24 on that day."""
    dusk, _ = limit(Around(None, None, HOME), wet, HouseRules(day_ends_at_hour=11))
    assert dusk is not None
    assert dusk.day == evening


def test_where_the_sun_stays_down_the_day_turns_by_the_house() -> None:
    polar = Home(78.2, 15.6, "Arctic/Longyearbyen")
    wet = on(18, 10)
    assert limit(Around(None, None, polar), wet, HouseRules(day_ends_at_hour=11))[0] == wet + timedelta(hours=6)


def test_a_start_after_midnight_is_offered_where_the_lamps_allow_it_and_no_start_in_the_night_before() -> None:
    """Lamps to 04:00: a rinse at 01:00 can be dry in time. By daylight a start before the last dusk is no rinse."""
    mild = Air(on(18, 15), 22.0, 0.55, 0.1)
    lamps = can_dry(Around(mild, time(4), HOME), on(18, 16), RULES)
    assert lamps.ok is True
    assert lamps.start_by is not None
    assert on(19, 0) < lamps.start_by < on(19, 4)
    assert "rinse no later than 0" in " ".join(reason.text for reason in lamps.why)
    damp = can_dry(Around(Air(on(18, 9), 12.0, 0.92, 0.1), None, HOME), on(18, 10), RULES)
    assert damp.with_fan is not None
    assert 12 < damp.with_fan.high < 24
    assert damp.start_by is None
    assert "A fan alone does not help in this air" in damp.words
    assert "too long for any rinse of that day" in " ".join(reason.text for reason in damp.why)
