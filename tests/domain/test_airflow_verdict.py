"""What the verdict before a wetting says: in time or not, what helps, how old the air is, a home nobody set."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from datetime import UTC, datetime, time, timedelta

import pytest

from greenhouse_desk.domain import airflow
from greenhouse_desk.domain.airflow import Around, Verdict, can_dry
from greenhouse_desk.domain.figures import Span
from greenhouse_desk.domain.journal_words import Moving
from greenhouse_desk.domain.plants import Air, Home
from greenhouse_desk.domain.settings import HouseRules

HOME = Home(51.5, -0.12, "Europe/London")
RULES = HouseRules()
NOON = datetime(2026, 6, 18, 11, 0, tzinfo=UTC)
MILD = Air(NOON, 22.0, 0.55, 0.1)


def judged(air: Air | None, hours: float = 0.0, home_set: bool = True, home: Home = HOME) -> Verdict:
    """The verdict on a wetting so long after noon."""
    return can_dry(Around(air, None, home, home_set), NOON + timedelta(hours=hours), RULES)


def why(verdict: Verdict) -> str:
    return " ".join(f"{reason.text} [{reason.source}]" for reason in verdict.why)


def test_it_can_dry_in_time_or_not_or_it_cannot_be_told() -> None:
    assert judged(MILD).ok is True
    assert re.fullmatch(r"It can be dry by 21:2\d \(dusk\)\.", judged(MILD).words), "and no advice with it"
    late = judged(MILD, 6)
    assert late.ok is None
    assert "With a fan on it at once it can" in late.words
    hopeless = judged(MILD, 9)
    assert hopeless.ok is False
    assert "Another day, with the fan on, rinse by 19:07." in hopeless.words
    assert hopeless.why[-1].text == hopeless.words


def test_after_dusk_and_without_a_reading_that_holds() -> None:
    assert judged(MILD, 11).ok is False
    blind = judged(None)
    assert blind.ok is None
    assert "air reading" in blind.words
    assert "warm, dry room (24 C, 45 % RH) to a cool, damp one (18 C, 85 % RH)" in why(blind)
    stale = judged(replace(MILD, at=NOON - timedelta(days=2)))
    assert stale.ok is None
    assert "too old" in why(stale)


def test_saturated_air_and_frost_dry_nothing_and_the_way_out_is_named() -> None:
    soaked = judged(replace(MILD, rh=0.97))
    assert soaked.ok is False
    assert "saturated" in soaked.words
    assert "the room to" in soaked.words
    assert soaked.start_by is None
    frost = judged(replace(MILD, temp_c=-5.0))
    assert frost.ok is False
    assert "freezing" in frost.words


def test_the_reasons_are_built_from_the_values_with_their_age() -> None:
    told = why(can_dry(Around(Air(NOON - timedelta(hours=2), 21.0, 0.63, 0.2), time(22, 0), HOME), NOON, RULES))
    assert "10:00 on 18 Jun 2026, 2 h old: 21 C, 63 % RH." in told
    assert "The air moves at 0.2 m/s. [air reading of the place]" in told
    assert "film of 0.05 to 0.2 mm" in told
    assert "wet bulb, 16.4 C," in told
    assert "lights-out" in told
    assert "Beads on waxy leaves" in told
    assert "No published figure says how long an orchid may safely stay wet" in told
    assert "rinse no later than" in told
    assert "h sooner at the slow end" in told


@pytest.mark.parametrize(("air", "said"), [
    (replace(MILD, air_speed_m_s=None), "not measured: taken as 0.05 to 0.4 m/s, from still to light. [from memory]"),
    (replace(MILD, air_speed_m_s=0.0), "read at 0 m/s: taken as still, 0.05 to 0.15 m/s"),
    (replace(MILD, air_speed_m_s=None, moving=Moving.FAN), "The air is moved by a fan: 0.5 to 1 m/s."),
    (replace(MILD, at=NOON - timedelta(minutes=40)), "40 min old"),
    (replace(MILD, at=NOON + timedelta(minutes=40)), "read after that"),
])
def test_how_the_air_moves_and_how_old_the_reading_is(air: Air, said: str) -> None:
    assert said in why(judged(air))


def test_a_home_nobody_set_is_said_in_the_verdict_and_in_its_reasons() -> None:
    here = judged(MILD, 9, home_set=False)
    assert "assumed dusk" in here.words
    assert "The home is not set" in here.words
    assert "latitude 51.5, longitude -0.12 and the clock of Europe/London are only assumed" in why(here)
    assert "not set" not in why(judged(MILD, 9))
    lamps = can_dry(Around(MILD, time(22, 0), HOME, home_set=False), NOON, RULES)
    assert "The home is not set" in lamps.words, "the lamps' clock is assumed too"


def test_a_reading_taken_anew_changes_verdict_and_figures() -> None:
    damp, dry = judged(replace(MILD, rh=0.85), 5), judged(replace(MILD, rh=0.40), 5)
    assert (damp.ok, dry.ok) == (None, True)
    assert damp.hours is not None
    assert dry.hours is not None
    assert damp.hours.high > 2 * dry.hours.high


def test_near_the_pole_the_house_rule_is_the_limit() -> None:
    polar = judged(MILD, home=Home(78.2, 15.6, "Arctic/Longyearbyen"))
    assert polar.ok is True
    assert "house rule" in polar.words
    assert "No sunset that day" in why(polar)


def test_where_even_the_fan_takes_more_than_the_day_no_rinse_is_offered() -> None:
    slow = can_dry(Around(Air(NOON, 12.0, 0.94, 0.1), time(17, 0), HOME), NOON, RULES)
    assert slow.ok is not True
    assert "too long for any rinse of that day" in why(slow)
    assert "rinse no later" not in why(slow)


SVALBARD = Home(78.2, 15.6, "Arctic/Longyearbyen")
"""In June the sun does not set there: the limit is the house rule's, six hours after the wetting."""


@pytest.mark.parametrize(("low", "high", "ok"), [
    (2.0, 6.0, True), (2.0, 6.001, None), (6.0, 9.0, None), (6.001, 9.0, False), (6.0, 6.0, True),
    (6.0, math.inf, None), (math.inf, math.inf, False)])
def test_dry_at_the_very_limit_is_in_time(monkeypatch: pytest.MonkeyPatch, low: float, high: float,
                                          ok: bool | None) -> None:
    monkeypatch.setattr(airflow, "drying_span", lambda *_args, **_more: Span(low, high))
    assert judged(MILD, home=SVALBARD).ok is ok


@pytest.mark.parametrize(("fan_hours", "said"), [(6.0, "With a fan on it at once it can"),
                                                 (6.001, "A fan alone does not help in this air")])
def test_a_fan_that_dries_it_at_the_very_limit_is_offered(monkeypatch: pytest.MonkeyPatch, fan_hours: float,
                                                          said: str) -> None:
    def span(_air: object, fan: bool = False) -> Span:
        return Span(1.0, fan_hours) if fan else Span(7.0, 9.0)
    monkeypatch.setattr(airflow, "drying_span", span)
    found = judged(MILD, home=SVALBARD)
    assert found.ok is False
    assert said in found.words
    assert (found.start_by is not None) == (fan_hours == 6.0)


@pytest.mark.parametrize(("minutes", "late"), [(-1, False), (0, True), (1, True)])
def test_at_lights_out_itself_it_is_past(minutes: int, late: bool) -> None:
    wet = NOON + timedelta(hours=10, minutes=minutes)
    found = can_dry(Around(MILD, time(22, 0), HOME), wet, RULES)
    past = "it is past lights-out: do not wet it then, or keep the fan on until it is dry."
    assert (past in found.words) is late
    assert found.ok is False


@pytest.mark.parametrize(("seconds", "read"), [(0, True), (1, False)])
def test_a_reading_holds_for_its_hours_and_no_second_longer(seconds: int, read: bool) -> None:
    old = replace(MILD, at=NOON - timedelta(hours=12, seconds=seconds))
    assert ("too old to use" not in why(judged(old))) is read
