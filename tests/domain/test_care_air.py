"""Moving air until dry: the span, the limit, pools, and what ends it."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta

import pytest

from greenhouse_desk.domain import care
from greenhouse_desk.domain.airflow import BLOTTED, Around, drying_span
from greenhouse_desk.domain.airflow import POOL as PUDDLE
from greenhouse_desk.domain.care import CareKind
from greenhouse_desk.domain.journal import Aired, Blotted, Dry, Facts, Part, Reply, Wetted
from greenhouse_desk.domain.plants import Air, Home
from greenhouse_desk.domain.settings import HouseRules
from tests.builders import ago
from tests.domain.care_asking import HOME, LONDON, STILL, answered, owed, text, told

CROWN = Wetted((Part.CROWN, Part.LEAVES))
POOL = Wetted((Part.CROWN,), pool=True)
NOON = datetime(2026, 11, 18, 12, 0, tzinfo=UTC)


def air(*written: tuple[datetime, Facts], **asked: object) -> tuple[care.Care, ...]:
    return owed(told(*written), CareKind.AIR, **asked)  # type: ignore[arg-type]


def test_wet_leaves_or_crown_are_owed_air_and_wet_roots_are_not() -> None:
    for parts in ((Part.CROWN,), (Part.LEAVES,), (Part.PLANT,)):
        assert len(air((NOON, Wetted(parts)))) == 1
    assert air((NOON, Wetted((Part.ROOTS,)))) == ()


def test_only_a_dry_entry_ends_it_however_long_ago() -> None:
    assert air((ago(days=9), CROWN))
    assert air((ago(days=9), CROWN), (ago(hours=1), Dry())) == ()
    assert air((ago(hours=3), CROWN), (ago(hours=2), Dry()), (ago(hours=1), CROWN))
    twice_dry = ((ago(hours=9), Dry()), (ago(hours=3), CROWN), (ago(hours=2), Dry()))
    assert air(*twice_dry) == ()


def test_an_answer_of_done_does_not_dry_a_crown_but_a_declined_one_ends_the_care() -> None:
    (wet,) = air((NOON, CROWN))
    assert air((NOON, CROWN), answered(wet, Reply.DONE, ago()))
    assert air((NOON, CROWN), answered(wet, Reply.DECLINED, ago(), reason="a Vanda in a basket")) == ()


def test_due_at_dusk_less_the_margin() -> None:
    (by_dusk,) = air((NOON, CROWN))
    (early,) = air((NOON, CROWN), rules=HouseRules(dusk_margin_minutes=30))
    assert isinstance(by_dusk.due, datetime)
    assert isinstance(early.due, datetime)
    assert by_dusk.due - early.due == timedelta(minutes=30)
    assert "30 min" in text(early)
    assert by_dusk.drying is not None
    assert by_dusk.drying.limit_name == "dusk"
    assert abs(by_dusk.due - datetime(2026, 11, 18, 16, 6, tzinfo=UTC)) < timedelta(minutes=3)


def test_lights_out_takes_the_place_of_dusk_where_lamps_go_off() -> None:
    (lamps,) = air((NOON, CROWN), lights_out=time(22, 0))
    assert lamps.due == datetime(2026, 11, 18, 22, 0, tzinfo=UTC)
    assert "lights-out" in text(lamps)


def test_lights_out_past_midnight_belongs_to_the_same_evening() -> None:
    (lamps,) = air((NOON, CROWN), lights_out=time(1, 0))
    assert lamps.due == datetime(2026, 11, 19, 1, 0, tzinfo=UTC)


def test_where_the_sun_does_not_set_the_house_rule_is_the_limit() -> None:
    far_north = Home(78.2, 15.6, "Europe/Oslo")
    (polar,) = air((NOON, CROWN), home=far_north, rules=HouseRules(dry_within_hours=5))
    assert polar.due == NOON + timedelta(hours=5)
    assert polar.drying is not None
    assert polar.drying.limit_name == "house rule"
    assert "5 h" in text(polar)


def test_wet_after_dusk_is_late_at_once_and_says_so() -> None:
    evening = datetime(2026, 11, 18, 20, 10, tzinfo=UTC)
    (late,) = air((evening, CROWN), now=evening + timedelta(minutes=1))
    assert late.opens == late.due == late.latest == evening
    assert "Night had fallen" in late.why[-1].text
    assert care.words(late, evening + timedelta(minutes=1), LONDON).mark == "over"


def test_wet_past_midnight_belongs_to_the_evening_before() -> None:
    night = datetime(2026, 11, 18, 1, 30, tzinfo=UTC)
    (late,) = air((night, CROWN), now=night + timedelta(minutes=1))
    assert late.drying is not None
    assert late.drying.limit is not None
    assert late.drying.limit.date() == date(2026, 11, 17)
    assert "evening of 17 Nov" in text(late)


def test_a_pool_asks_for_blotting_until_it_is_blotted() -> None:
    (pool,) = air((NOON, POOL))
    assert pool.drying is not None
    assert pool.drying.pool
    assert pool.what.startswith("Blot the crown first")
    (blotted,) = air((NOON, POOL), (NOON + timedelta(minutes=5), Blotted()))
    assert blotted.drying is not None
    assert not blotted.drying.pool
    assert "Blot" not in blotted.what
    (again,) = air((NOON, POOL), (NOON + timedelta(minutes=5), Blotted()), (NOON + timedelta(minutes=9), POOL))
    assert again.drying is not None
    assert again.drying.pool


def test_the_span_follows_the_reading_and_so_does_the_reasoning() -> None:
    (still,) = air((NOON, CROWN))
    (damp,) = air((NOON, CROWN), air=replace(STILL, rh=0.75))
    assert still.drying is not None
    assert damp.drying is not None
    assert still.drying.latest == NOON + timedelta(hours=drying_span(STILL).high)
    assert still.drying.earliest == NOON + timedelta(hours=drying_span(STILL).low)
    assert damp.drying.latest == NOON + timedelta(hours=drying_span(replace(STILL, rh=0.75)).high)
    assert "4 h old: 22 C, 55 % RH" in text(still)
    assert "75 % RH" in text(damp)
    assert "0.7 to 5.0 h" in text(still)
    assert "1.2 to 9.2 h" in text(damp)


def test_the_reasoning_says_what_would_help_and_how_much() -> None:
    (still,) = air((NOON, CROWN))
    fan = drying_span(STILL, fan=True)
    gain = drying_span(STILL).high - fan.high
    assert f"put a fan on: {fan.low:.1f} to {fan.high:.1f} h, {gain:.1f} h sooner" in text(still)
    assert "dry the room to 45 % RH" in text(still)
    assert still.drying is not None
    assert still.drying.gain_hours == pytest.approx(gain)
    (pool,) = air((NOON, POOL))
    assert pool.drying is not None
    assert pool.drying.gain_hours == pytest.approx(drying_span(STILL, PUDDLE).high - drying_span(STILL, BLOTTED).high)
    (aired,) = air((NOON, CROWN), (NOON + timedelta(minutes=1), Aired()))
    assert "put a fan on" not in text(aired)


def test_an_unset_home_is_said_where_dusk_is_the_limit() -> None:
    history = told((NOON, CROWN))
    around = Around(STILL, None, HOME, home_set=False)
    (wet,) = (one for one in care.owed(history, around, HouseRules(), NOON, LONDON, {}) if one.drying is not None)
    assert wet.drying is not None
    assert wet.drying.limit_name == "assumed dusk"
    assert "The home is not set" in text(wet)
    assert "assumed dusk" in care.words(wet, NOON + timedelta(hours=6), LONDON).text


def test_blotting_leaves_a_thinner_film_that_dries_from_then_on() -> None:
    later = NOON + timedelta(minutes=30)
    for water in (CROWN, POOL):
        (wet,) = air((NOON, water), (later, Blotted()))
        assert wet.drying is not None
        assert wet.drying.latest == later + timedelta(hours=drying_span(STILL, BLOTTED).high)
        assert "Blotted, it carries a film" in text(wet)
        assert "blot it" not in text(wet)


def test_moving_air_put_on_after_the_reading_shortens_the_span() -> None:
    (still,) = air((NOON, CROWN))
    (fan,) = air((NOON, CROWN), (NOON + timedelta(minutes=1), Aired()))
    assert still.drying is not None
    assert fan.drying is not None
    assert fan.drying.aired
    assert fan.drying.latest is not None
    assert still.drying.latest is not None
    slow_h, fast_h = drying_span(STILL).high, drying_span(STILL, fan=True).high
    fan_at = NOON + timedelta(minutes=1)
    assert fan.drying.latest == fan_at + timedelta(hours=(1 - 1 / 60 / slow_h) * fast_h)
    assert "With a fan the air moves at 0.5 to 1 m/s" in text(fan)
    assert "The fan came on at 12:01" in text(fan)
    measured = Air(NOON + timedelta(minutes=2), 22.0, 0.55, 0.1)
    (slow,) = air((NOON, CROWN), (NOON + timedelta(minutes=1), Aired()), air=measured)
    assert slow.drying is not None
    assert slow.drying.latest == still.drying.latest


def test_a_later_reading_without_a_speed_leaves_the_fan_on_and_a_second_word_of_it_does_not_start_it_again() -> None:
    on = (NOON + timedelta(minutes=1), Aired())
    (fan,) = air((NOON, CROWN), on)
    later = replace(STILL, at=NOON + timedelta(hours=1), air_speed_m_s=None)
    (read,) = air((NOON, CROWN), on, air=later)
    (unread,) = air((NOON, CROWN), air=later)
    (twice,) = air((NOON, CROWN), on, (NOON + timedelta(hours=1), Aired()))
    assert fan.drying is not None and read.drying is not None  # noqa: PT018
    assert unread.drying is not None and twice.drying is not None  # noqa: PT018
    assert read.drying.latest is not None
    assert unread.drying.latest is not None
    assert read.drying.latest < unread.drying.latest
    assert "put a fan on" not in text(read)
    assert twice.drying.latest == fan.drying.latest


def test_without_a_reading_or_with_an_old_one_the_span_is_wide_and_says_so() -> None:
    (none,) = air((NOON, CROWN), air=None)
    (old,) = air((NOON, CROWN), air=replace(STILL, at=NOON - timedelta(hours=13)))
    for one in (none, old):
        assert one.drying is not None
        assert one.drying.latest == NOON + timedelta(hours=drying_span(None).high)
    assert "No air reading" in text(none)
    assert "too old" in text(old)
    (trusting,) = air((NOON, CROWN), air=replace(STILL, at=NOON - timedelta(hours=13)),
                      rules=HouseRules(air_reading_hours=14))
    assert "too old" not in text(trusting)


def test_near_saturation_nothing_dries() -> None:
    (wet,) = air((NOON, CROWN), air=replace(STILL, rh=0.97))
    assert wet.drying is not None
    assert wet.drying.earliest is None
    assert wet.drying.latest is None
    assert "does not dry" in text(wet)


def test_wetted_again_the_estimate_starts_again_but_the_limit_stays() -> None:
    yesterday = NOON - timedelta(days=1)
    (wet,) = air((yesterday, CROWN), (NOON, CROWN))
    assert wet.drying is not None
    assert wet.drying.wet_since == NOON
    assert wet.drying.limit is not None
    assert wet.drying.limit.date() == yesterday.date()
    assert "wet since 17 Nov" in text(wet)
    assert "past dusk" in wet.why[-1].text


def test_words_on_a_card() -> None:
    (wet,) = air((NOON, CROWN), home=HOME)
    assert care.words(wet, NOON, LONDON).mark == "drying"
    assert care.words(wet, NOON, LONDON).text == f"crown dry by {wet.due:%H:%M}"
    (pool,) = air((NOON, POOL))
    assert care.words(pool, NOON, LONDON).text == f"blot first, by {pool.due:%H:%M}"
    assert care.words(wet, NOON + timedelta(hours=6), LONDON).text == f"wet past dusk {wet.due:%H:%M}"
    assert care.words(wet, NOON + timedelta(days=2), LONDON).text == "wet since 18 Nov"
