"""When a wash against a pest is repeated and how often: from the place's temperatures where constants reach them.

A wash misses eggs, and of some pests what rests in the medium. So the next one comes before the first that came out
after it can lay, and washes go on until the last egg laid before the first wash has hatched, with one more for the eggs
of those the first wash missed. Where no constants reach, the published interval stands, and it is said why.

Constants of several species put together a life that nobody measured on any of them. They give a span, not a day, and
move the washes inside the published interval only: never sooner, later, fewer or more.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime, tzinfo

from greenhouse_desk.domain.care_day import day_words
from greenhouse_desk.domain.figures import Constant, Span, counted, spanned
from greenhouse_desk.domain.pests import Pest, Repeat
from greenhouse_desk.domain.pests_climate import Climate
from greenhouse_desk.domain.pests_stages import Beyond, Stretch, stretch
from greenhouse_desk.domain.pests_thermal import Covers

SPARE_WASHES = Constant(1, "washes", "washes past the one that meets the last egg: for eggs of those the first missed",
                        "derived here: with it a course at 26 and 30 C has the published three washes")


@dataclass(frozen=True, slots=True)
class Interval:
    """Repeat `low` to `high` days after a wash, `least` to `most` washes in all.

    `derived` tells whether it comes from the place's temperatures; `stretches` are the lives it was worked out from
    (or that did not reach), `missing` says in words why it is the published one instead, "" where it is not. `held`
    tells, step by step, what the published interval allowed of what was worked out; empty where it did not have to.
    """

    low: int
    high: int
    least: int
    most: int
    derived: bool
    stretches: tuple[Stretch, ...] = ()
    missing: str = ""
    held: tuple[str, ...] = ()


def interval(pest: Pest, climate: Climate | None, washed: datetime, zone: tzinfo) -> Interval | None:
    """The interval after a wash at the aware instant `washed`; None when neither constants nor a publication tell."""
    if not pest.thermal:
        return _published(pest, "No thermal constants of it are known.")
    if climate is None:
        return _published(pest, "No temperature was read around this plant lately.")
    hatch = stretch(pest.thermal, Covers.EGG, washed, climate, zone)
    lays = _first_to_lay(pest, climate, washed, zone)
    whole = stretch(pest.thermal, Covers.WHOLE, washed, climate, zone)
    told = tuple(life for life in (hatch, *lays, whole) if life.taken or life.beyond)
    missing = _missing(pest, hatch, lays)
    if missing:
        return _published(pest, missing, told)
    first = min(life.span.low for life in lays if life.span is not None)
    eggs = hatch.span or Span(0.0, 0.0)
    if math.isinf(first) or math.isinf(eggs.high):
        return _published(pest, "At these temperatures it does not develop.", told)
    species = tuple(dict.fromkeys(stage.species for life in (hatch, *lays) for _, stages in life.taken
                                  for stage in stages))
    if pest.repeat is not None and len(species) > 1:
        return _held(pest.repeat, species, eggs, first, told)
    return _derived(eggs, first, told)


def _first_to_lay(pest: Pest, climate: Climate, washed: datetime, zone: tzinfo) -> tuple[Stretch, ...]:
    """The ways in which what came out after a wash comes to lay: hatched and grown up, or straight from the medium.

    Where the same study has the time before an adult lays, hatched ones pass through that too.
    """
    grown = stretch(pest.thermal, Covers.YOUNG, washed, climate, zone, then=Covers.BEFORE_EGGS)
    if not pest.comes_out:
        return (grown,)
    return grown, stretch(pest.thermal, Covers.BEFORE_EGGS, washed, climate, zone)


def _missing(pest: Pest, hatch: Stretch, lays: tuple[Stretch, ...]) -> str:
    """What keeps an interval from being worked out, in words; "" when nothing does."""
    needed = lays if pest.bears_young else (hatch, *lays)
    for life in needed:
        if life.span is None and life.beyond:
            return beyond_words(life.beyond[0])
    if hatch.span is None and not pest.bears_young:
        return "How long its eggs take was not measured in the studies found."
    if any(life.span is None for life in lays):
        return "How soon it can lay was not measured in the studies found."
    return ""


def beyond_words(beyond: Beyond) -> str:
    """"Outside the measured temperatures: 17.2 to 22.4 C on 15 Nov, egg measured at 26 to 30 C.\""""
    temps, measured = beyond.temps, beyond.stage.measured
    here = f"{temps.low_c:.1f} C" if temps.low_c == temps.high_c else f"{temps.low_c:.1f} to {temps.high_c:.1f} C"
    when = f"on {day_words(beyond.day, beyond.day)}" if temps.readings else "on a usual day"
    return f"Outside the measured temperatures: {here} {when}, {beyond.stage.stage} measured at {measured.low:g} to " \
           f"{measured.high:g} C."


def _derived(hatch: Span, first: float, told: tuple[Stretch, ...]) -> Interval:
    """Whole days: before the first can lay, and if that allows not before the last old egg has hatched."""
    high = _before(first)
    low = min(math.ceil(hatch.high), high) or high
    return Interval(low, high, *_washes(hatch, low, high), True, told)


def _before(first: float) -> int:
    """The last whole day before the first can lay after `first` days."""
    return max(1, math.ceil(first) - 1)


def _washes(hatch: Span, low: int, high: int) -> tuple[int, int]:
    """How many washes, `low` to `high` days apart, until the last egg has hatched after `hatch` days."""
    spare = 1 + int(SPARE_WASHES.value)
    return spare + math.ceil(hatch.low / high), spare + math.ceil(hatch.high / low)


def _held(repeat: Repeat, species: tuple[str, ...], hatch: Span, first: float, told: tuple[Stretch, ...]) -> Interval:
    """From the day worked out to the last published one, the day and the number of washes kept to what is published."""
    day = _before(first)
    low, high = min(max(day, repeat.low), repeat.high), repeat.high
    washes = _washes(hatch, low, high)
    least, most = (min(max(count, repeat.least_times), repeat.most_times) for count in washes)
    inside = spanned(repeat.low, repeat.high, "day")
    words = [f"The constants are of {' and '.join(species)}, and which species sits here is not known: they give a "
             f"span, not a day, and may move a wash only inside the published {inside}."]
    out = "" if day == low else f", {'sooner' if day < low else 'later'} than is published"
    words.append(f"Worked out: {counted(day, 'day')} after a wash{out}, so {spanned(low, high, 'day')}.")
    if (least, most) != washes:
        later = " An egg may hatch after the last of them." if washes[1] > most else ""
        words.append(f"Worked out until the last egg has hatched: {_times(*washes)}. Published are "
                     f"{_times(repeat.least_times, repeat.most_times)}, so {_times(least, most)}.{later}")
    return Interval(low, high, least, most, True, told, held=tuple(words))


def _times(least: int, most: int) -> str:
    return spanned(least, most, "wash", "washes")


def _published(pest: Pest, missing: str, told: tuple[Stretch, ...] = ()) -> Interval | None:
    repeat = pest.repeat
    return None if repeat is None else Interval(
        repeat.low, repeat.high, repeat.least_times, repeat.most_times, False, told, missing)
