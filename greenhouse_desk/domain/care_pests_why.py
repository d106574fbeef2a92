"""The "why?" of washes: the temperatures used with their age, the constants with their source, or why none reach."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import datetime, timedelta

from greenhouse_desk.domain.care_asked import Asked
from greenhouse_desk.domain.care_day import clock_words, day_words
from greenhouse_desk.domain.care_reasons import WORKED_OUT, figure, on, told
from greenhouse_desk.domain.care_values import Reason
from greenhouse_desk.domain.figures import Span, counted, spanned
from greenhouse_desk.domain.journal import Entry
from greenhouse_desk.domain.pests import Pest
from greenhouse_desk.domain.pests_climate import USUAL_DAYS, Climate
from greenhouse_desk.domain.pests_repeat import SPARE_WASHES, Interval, beyond_words
from greenhouse_desk.domain.pests_stages import Stretch
from greenhouse_desk.domain.pests_thermal import Covers, Thermal

DEGREE_DAYS = "derived here: single-sine degree-days, Zalom et al. 1983"
HOW = Reason("Each day counts its warmth above a stage's threshold, on a sine from its low to its high; a stage is "
             "over when its degree-days are full.", DEGREE_DAYS)
NAMES = {Covers.EGG: "An egg laid just before the wash hatches after",
         Covers.YOUNG: "One that hatches just after it can lay after",
         Covers.BEFORE_EGGS: "One that comes out of the medium grown up can lay after"}


def temperature_reasons(ask: Asked, intervals: Sequence[Interval], washed: datetime) -> tuple[Reason, ...]:
    """The readings a date was worked out from, or tried with; nothing when no pest has constants to use them."""
    climate = ask.climate
    if climate is None or not any(one.stretches for one in intervals):
        return ()
    source = f"air readings of {climate.place}"
    usual, newest = climate.usual, climate.newest
    day = day_words(newest.astimezone(ask.zone).date(), ask.today)
    reasons = [Reason(f"{_whose(climate)}{_readings(climate.readings)} at {climate.place}, the newest "
                      f"{_age(ask.now - newest)} old ({day} {clock_words(newest, ask.zone)}). A usual day lately runs "
                      f"from {usual.low_c:.1f} to {usual.high_c:.1f} C, as read; the true lows and highs may lie "
                      "further apart.", source)]
    read, gaps, single = _days_since(ask, climate, washed)
    if gaps:
        reasons.append(Reason(f"No reading on {gaps} of the {read + gaps} days since the wash: a usual day of the last "
                              f"{USUAL_DAYS.value:g} days stands in for them, as for the days to come.",
                              USUAL_DAYS.source))
    else:
        reasons.append(Reason(f"For the days to come a usual day of the last {USUAL_DAYS.value:g} days is taken.",
                              USUAL_DAYS.source))
    if single:
        reasons.append(Reason(f"A single reading on {single} of the days: taken as the same all day.", source))
    return tuple(reasons)


def repeat_reasons(ask: Asked, pest: Pest, found: Interval, seen: Sequence[Entry], given: int) -> tuple[Reason, ...]:
    """What was seen of one pest, how long its life takes there, and the interval with what this course has had."""
    times = f"Against {pest.name}: {spanned(found.least, found.most, 'wash', 'washes')}, " \
            f"{spanned(found.low, found.high, 'day')} apart; this course has had {given}."
    lives = tuple(reason for life in found.stretches for reason in _life(life))
    how = (HOW,) if lives else ()
    return (sighting_reason(ask, pest.name, seen), *how, *lives, *_worked_out(pest, found), _end(pest, found, times))


def _worked_out(pest: Pest, found: Interval) -> tuple[Reason, ...]:
    """How the lives give the interval, and what of it the published one allows."""
    if not found.derived:
        return ()
    goes_on = "" if pest.bears_young else ", and washes go on until the last egg laid before the first has hatched"
    spare = f"{SPARE_WASHES.value:g} more for what those the first one missed left behind"
    published = pest.repeat.source if pest.repeat else ""
    return (Reason(f"The next wash comes before those can lay{goes_on}, with {spare}.", SPARE_WASHES.source),
            *(Reason(step, published) for step in found.held))


def _end(pest: Pest, found: Interval, times: str) -> Reason:
    """The interval and the washes of this course so far."""
    if found.derived:
        return Reason(times, WORKED_OUT)
    repeat = pest.repeat
    source = repeat.source if repeat else ""
    kind = "published" if source.startswith("published") else "usual"
    published = f"{found.missing} For {pest.name} the {kind} interval is used. " if found.missing else ""
    why = (repeat.why if repeat else "") or "A contact wash misses eggs."
    return Reason(f"{published}{why} {times}", source)


def first_wash_reasons(ask: Asked, spells: Sequence[tuple[Pest, Sequence[Entry]]],
                       tried: Sequence[Entry]) -> tuple[Reason, ...]:
    """What was seen and not washed off, what was left out at the bench, and when the first wash is due."""
    days = ask.rules.first_wash_days
    since = "after the drop" if tried else "after the first sighting"
    return (*(sighting_reason(ask, pest.name, seen) for pest, seen in spells),
            *(reason for entry in tried
              for reason in told(ask, entry, "the wash was left out, a drop put on one leaf")),
            Reason("No wash and no clean look is written down since.", "journal of the plant"),
            figure(ask, "first_wash_days", f"A drop of the wash is tried on one leaf first, so it is due "
                   f"{counted(days, 'day')} {since}, if the leaf shows no mark. Declined, it is not asked again until "
                   "the plant was looked at and found clean."))


def sighting_reason(ask: Asked, name: str, seen: Sequence[Entry]) -> Reason:
    """How often a pest was seen, and when last."""
    times = len(seen)
    return Reason(f"{name} seen {times} {'time' if times == 1 else 'times'}, last on "
                  f"{on(ask.day(seen[-1].at), ask)}.", f"journal entry {seen[-1].id}")


def _life(life: Stretch) -> tuple[Reason, ...]:
    """A sentence for each study that reaches, and what they span; the whole way from egg to adult in one."""
    if life.span is None:
        return ()
    if life.covers is Covers.WHOLE:
        return (Reason(f"For comparison, the whole way from egg to adult takes {_span(life.span)}.",
                       "; ".join(stages[0].source for _, stages in life.taken)),)
    told = [Reason(f"{NAMES[life.covers]} {days:.1f} days: {_constants(stages)}.", stages[0].source)
            for days, stages in life.taken if math.isfinite(days)]
    if len(told) > 1:
        told.append(Reason(f"The studies span {_span(life.span)}.", DEGREE_DAYS))
    return (*told, *(Reason(f"One study is left out. {beyond_words(beyond)}", beyond.stage.source)
                     for beyond in life.beyond))


def _constants(stages: Sequence[Thermal]) -> str:
    told = " and ".join(f"{one.stage} {one.degree_days:g} degree-days above {one.above_c:g} C" for one in stages)
    return f"{told}, measured at {stages[0].measured.low:g} to {stages[0].measured.high:g} C"


def _days_since(ask: Asked, climate: Climate, washed: datetime) -> tuple[int, int, int]:
    """Local days from the wash to today: read, not read, and read only once."""
    first, last = washed.astimezone(ask.zone).date(), ask.now.astimezone(ask.zone).date()
    temps = [climate.on(first + timedelta(days=day)) for day in range((last - first).days + 1)]
    return (sum(one.readings > 0 for one in temps), sum(one.readings == 0 for one in temps),
            sum(one.readings == 1 for one in temps))


def _readings(count: int) -> str:
    return "1 reading" if count == 1 else f"{count} readings"


def _whose(climate: Climate) -> str:
    return f"{climate.asked} has no readings of its own lately. " if climate.asked else ""


def _age(age: timedelta) -> str:
    hours = age / timedelta(hours=1)
    if hours < 1:
        return f"{60 * hours:.0f} min"
    return f"{hours:.0f} h" if hours < 48 else f"{hours / 24:.0f} days"


def _span(span: Span) -> str:
    low, high = (f"{days:.1f}" if math.isfinite(days) else "more than a year's" for days in (span.low, span.high))
    return f"{low} days" if low == high else f"{low} to {high} days"
