"""Drying a wet crown: when night falls on it, whether it can be dry in time, and the latest moment to wet it."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from greenhouse_desk.domain.airflow_estimate import (
    BLOT,
    BLOTTED,
    DERIVED,
    FAN,
    FILM,
    POOL,
    SAME,
    dry_at,
    drying_span,
    helps,
)
from greenhouse_desk.domain.airflow_night import dusk, lights_out
from greenhouse_desk.domain.airflow_reasons import (
    ASSUMED_DUSK,
    DUSK,
    HOUSE_RULE,
    LIGHTS_OUT,
    estimate_reasons,
    gain,
    help_reasons,
    home_reasons,
    hours,
    limit_reason,
    span_reason,
)
from greenhouse_desk.domain.airflow_values import Around, Help, Verdict
from greenhouse_desk.domain.care_day import clock_words
from greenhouse_desk.domain.care_values import Reason
from greenhouse_desk.domain.figures import Span
from greenhouse_desk.domain.plants import Air
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.domain.sun import sunrise, sunset

__all__ = ["ASSUMED_DUSK", "BLOT", "BLOTTED", "DERIVED", "DUSK", "FAN", "FILM", "HOUSE_RULE", "LIGHTS_OUT", "POOL",
           "SAME", "Around", "Help", "Span", "Verdict", "can_dry", "dry_at", "drying_span", "estimate_reasons", "fresh",
           "gain", "help_reasons", "helps", "home_reasons", "limit", "limit_reason", "span_reason", "sunrise", "sunset"]


def fresh(air: Air | None, at: datetime, rules: HouseRules) -> Air | None:
    """The reading when it still tells about the air at `at` (aware) and knows its humidity, else None."""
    known = air is not None and air.rh is not None and at - air.at <= timedelta(hours=rules.air_reading_hours)
    return air if known else None


def limit(around: Around, since: datetime, rules: HouseRules) -> tuple[datetime | None, str]:
    """When a plant wet `since` (aware) has to be dry (aware UTC), and what sets it: "dusk", "lights-out", "house rule",
    or "assumed dusk" while the home is not set.

    Where lamps go off at a set time the next such time is the limit, else the sunset that ends the day of `since`,
    each less the house rule's margin; where the sun does not set, the house rule's hours. It lies before `since` when
    night had fallen.
    """
    margin = timedelta(minutes=rules.dusk_margin_minutes)
    if around.lights_out is not None:
        return lights_out(around.lights_out, since, ZoneInfo(around.home.zone), rules) - margin, LIGHTS_OUT
    sets = dusk(around.home, since, rules)
    if sets is None:
        return since.astimezone(UTC) + timedelta(hours=rules.dry_within_hours), HOUSE_RULE
    return sets - margin, DUSK if around.home_set else ASSUMED_DUSK


def can_dry(around: Around, wet_at: datetime, rules: HouseRules) -> Verdict:
    """Whether a plant wetted at `wet_at` (aware) is dry before its limit as the air is, and what would help if not."""
    zone = ZoneInfo(around.home.zone)
    by, name = limit(around, wet_at, rules)
    air = fresh(around.air, wet_at, rules)
    as_is, fan = drying_span(air), drying_span(air, fan=True)
    found = helps(air)
    start_by = _start_by(around, by, fan, rules)
    ok = _in_time(as_is, wet_at, by)
    words = _words(ok, by, name, wet_at, zone)
    if not ok and by is not None:
        words += _advice(air, fan, found, wet_at, start_by, zone) if wet_at < by else _another_day(start_by, zone)
    if not around.home_set:
        words += " The home is not set: its dusk and clock are assumed."
    why = (*estimate_reasons(around.air, air, zone, wet_at), span_reason(as_is),
           limit_reason(around, by, name, rules, wet_at), *home_reasons(around), *help_reasons(found),
           *_start_reason(start_by, fan, by, zone), Reason(words, "worked out from the above"))
    return Verdict(ok, words, why, as_is, fan, start_by, found)


def _in_time(span: Span, wet_at: datetime, by: datetime | None) -> bool | None:
    if by is None or wet_at >= by:
        return False
    room = (by - wet_at).total_seconds() / 3600.0
    return True if span.high <= room else False if span.low > room else None


def _words(ok: bool | None, by: datetime | None, name: str, wet_at: datetime, zone: ZoneInfo) -> str:
    if by is None or wet_at >= by:
        past = f"it is past {name}" if by is not None else f"there is no time left ({name})"
        return f"At {clock_words(wet_at, zone)} {past}: do not wet it then, or keep the fan on until it is dry."
    at = f"{clock_words(by, zone)} ({name})"
    if ok is None:
        return f"It may not be dry by {at}."
    return f"It can be dry by {at}." if ok else f"It cannot be dry by {at}."


def _advice(air: Air | None, fan: Span, found: tuple[Help, ...], wet_at: datetime, start_by: datetime | None,
            zone: ZoneInfo) -> str:
    """What would help: a reading, a fan, an earlier start, or another room."""
    if air is None:
        return " Take an air reading there first; keep a fan ready and blot the crown."
    if math.isinf(fan.high):
        best = f" {_sentence(found[0])}" if found else " Leave it for another day."
        return f" The air is close to saturated or freezing: nothing dries in it.{best}"
    if start_by is None:
        best = f" {_sentence(found[0])}" if found else ""
        return f" A fan alone does not help in this air: warm or dry the room first, and blot the crown.{best}"
    if wet_at <= start_by:
        return f" With a fan on it at once it can, in {hours(fan.low)} to {hours(fan.high)} h."
    return f" Blot the crown and put a fan on at once.{_another_day(start_by, zone)}"


def _another_day(start_by: datetime | None, zone: ZoneInfo) -> str:
    """By when it may be wetted another day, told where a day has such an hour."""
    return "" if start_by is None else f" Another day, with the fan on, rinse by {clock_words(start_by, zone)}."


def _sentence(one: Help) -> str:
    return f"{capital(one.what)}: {hours(one.span.low)} to {hours(one.span.high)} h, {gain(one)}."


def _start_by(around: Around, by: datetime | None, fan: Span, rules: HouseRules) -> datetime | None:
    """The latest wetting dry by `by` with a fan; None where it would lie in the night before or even earlier."""
    if by is None or math.isinf(fan.high):
        return None
    start = by - timedelta(hours=fan.high)
    then, _ = limit(around, start, rules)
    return start if then is None or then >= by else None


def _start_reason(start_by: datetime | None, fan: Span, by: datetime | None, zone: ZoneInfo) -> tuple[Reason, ...]:
    if by is None or math.isinf(fan.high):
        return ()
    takes = f"With the fan on at once it takes {hours(fan.low)} to {hours(fan.high)} h"
    if start_by is None:
        return (Reason(f"{takes}: too long for any rinse of that day to be sure of drying by {clock_words(by, zone)}.",
                       SAME),)
    return (Reason(f"{takes}: to be dry by {clock_words(by, zone)}, rinse no later than "
                   f"{clock_words(start_by, zone)}.", SAME),)
