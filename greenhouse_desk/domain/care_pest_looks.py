"""Looking for a pest: after it was seen and nothing is owed against it, and after the last wash.

A look is owed some days after the last wash, or after the last sighting where no wash was given since; where a
published range of days tells when survivors have shown, looks are owed at its ends too. While a wash is owed against a
pest, that comes first and no look is owed for it. A look at the plant, clean or not, ends the look that is due; so does
a release. How many clean looks make a plant clear is told by quarantine alone: this asks for the looks that can tell
something, on days on which quarantine counts them.
"""

from __future__ import annotations

import math
from collections.abc import Collection
from dataclasses import replace
from datetime import timedelta

from greenhouse_desk.domain.care_asked import Asked, in_time, pairs
from greenhouse_desk.domain.care_checks import Cause, Series, looks
from greenhouse_desk.domain.care_pests_seen import masked, pest_washes, seen_pests
from greenhouse_desk.domain.care_pests_why import sighting_reason
from greenhouse_desk.domain.care_reasons import figure
from greenhouse_desk.domain.care_values import Care, CareKind, Reason
from greenhouse_desk.domain.figures import counted, spanned
from greenhouse_desk.domain.journal import Entry, Looked, Released, Sighted, Treated
from greenhouse_desk.domain.pests import DayRange

LENS = "Look for {} with a 10x lens, and write down what you find"


def pest_looks(ask: Asked, washed: Collection[str]) -> tuple[Care, ...]:
    """The looks owed for pests, those left out against which a wash is owed (`washed`, by key)."""
    causes: dict[int, tuple[Entry, list[str]]] = {}
    for what, sightings in sorted(seen_pests(ask).items()):
        cause = None if what in washed else _cause(ask, what, sightings[-1])
        if cause is not None:
            causes.setdefault(cause.id, (cause, []))[1].append(what)
    return tuple(care for cause, found in causes.values() for care in _looks(ask, cause, found))


def _cause(ask: Asked, what: str, sighting: Entry) -> Entry | None:
    """The last wash after a pest was seen last and before it was looked clean, else that sighting; None once the plant
    was released, or when it was seen too long ago to count.
    """
    washes = [wash for wash in pest_washes(ask) if ask.day(wash.at) >= ask.day(sighting.at)
              and wash.at - sighting.at <= timedelta(days=ask.rules.sighting_days)]
    clean = next((look for look, facts in pairs(ask.of(Looked), Looked)
                  if facts.clean and in_time(look) > in_time(sighting) and _tells(ask, look, washes)), None)
    before = [wash for wash in washes if clean is None or in_time(wash) < in_time(clean)]
    cause = max([sighting, *before[-1:]], key=in_time)
    freed = any(facts.what in ("", what) and in_time(entry) > in_time(cause)
                for entry, facts in pairs(ask.of(Released), Released))
    return None if freed else cause


def _tells(ask: Asked, look: Entry, washes: list[Entry]) -> bool:
    """Whether a clean look was masked by no wash before it."""
    return not any(in_time(wash) < in_time(look) and masked(ask, wash, look) for wash in washes)


def _looks(ask: Asked, cause: Entry, found: list[str]) -> tuple[Care, ...]:
    sightings = seen_pests(ask)
    ranges = {what: longest for what in found if (longest := _longest(ask, what)) is not None}
    days = _days(ask, cause, [day for one in ranges.values() for day in (one.low, one.high)])
    names = " and ".join(_name(ask, what) for what in found)

    def reason(asked: Asked, offset: int) -> Reason:
        if offset == days[0]:
            return _first(asked, cause, offset, names)
        what, one = next((what, one) for what, one in ranges.items()
                         if offset in (math.ceil(one.low), math.ceil(one.high)))
        return Reason(f"Day range of {_name(asked, what)}, {one.what}: {spanned(one.low, one.high, 'day')}. A look "
                      "at that time finds what was missed before.", one.source)

    early = 0 if _is_wash(cause) else max(0, days[0] - ask.rules.looks_apart_days)
    series = Series(CareKind.PEST_LOOK, LENS.format(names), "look for the pest", (Looked, Sighted), reason, early)
    how = tuple(Reason(f"{ask.pests[what].hides} {ask.pests[what].looks}", ask.pests[what].source)
                for what in found if what in ask.pests)
    last = tuple(sighting_reason(ask, _name(ask, what), sightings[what]) for what in found)
    return tuple(replace(care, why=(*last, *care.why[:-1], *how, care.why[-1]))
                 for care in looks(ask, series, [Cause(cause, days)]))


def _days(ask: Asked, cause: Entry, published: list[float]) -> tuple[int, ...]:
    """The days after the cause: the house's own, then the published ones that are no second look too soon."""
    days = [max(ask.rules.pest_look_days, ask.rules.masked_days if _is_wash(cause) else 0)]
    for day in sorted(math.ceil(each) for each in published):
        if day - days[-1] >= ask.rules.looks_apart_days:
            days.append(day)
    return tuple(days)


def _first(ask: Asked, cause: Entry, offset: int, names: str) -> Reason:
    so = f"wash is owed against {names}, so a look is"
    if not _is_wash(cause):
        return figure(ask, "pest_look_days", f"No {so}, {counted(offset, 'day')} after it was seen.")
    if offset > ask.rules.pest_look_days:
        return figure(ask, "masked_days", f"No further {so}, once a wash hides no signs any more, after "
                                          f"{counted(offset, 'day')}.")
    return figure(ask, "pest_look_days", f"No further {so}, {counted(offset, 'day')} after the last one: a wash "
                                         "misses some.")


def _is_wash(cause: Entry) -> bool:
    return isinstance(cause.facts, Treated)


def _longest(ask: Asked, what: str) -> DayRange | None:
    """The published range of days that reaches farthest: by its ends survivors have shown."""
    known = ask.pests.get(what)
    return max(known.days, key=lambda one: one.high, default=None) if known is not None else None


def _name(ask: Asked, what: str) -> str:
    return ask.pests[what].name if what in ask.pests else what
