"""How a plant stands with pests and diseases, from what was recorded on it and beside it, nothing else.

Considered: sightings and looks that were not clean, on the plant; any treatment against pests; clean looks, counted
only when they are `looks_apart_days` apart and not within `masked_days` of a spray; the place a plant stands in now;
whether it ever stood in an isolation place, and since when it is here.
Not considered yet: which pest it was (diseases count like pests), contact in the past, shared tools, sessions or water,
neighbours on other shelves, how sure a look is, plants that have left. A move out of an isolation place counts as the
release, because no release is written down otherwise.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, tzinfo

from greenhouse_desk.domain.care_day import full_day
from greenhouse_desk.domain.journal import Arrived, Entry, Looked, Placed, Purpose, Sighted, Treated
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.settings import HouseRules


@dataclass(frozen=True, slots=True)
class Standing:
    """A status in a word, why, and its rank for the bench: work goes from the lowest to the highest."""

    word: str
    why: str
    rank: int


CLEAR, NEVER_LOOKED, EXPOSED, NEWCOMER, SUSPECT, TREATED, INFESTED = range(7)
SPREADING = ("infested", "under treatment")
"""A plant that stands so exposes those that share its place."""


def standings(histories: Iterable[History], isolation_places: frozenset[int], now: datetime,
              rules: HouseRules, zone: tzinfo = UTC) -> dict[int, Standing]:
    """Each plant's standing at `now` (aware), by number; days are told in `zone`. Plants that left expose nobody."""
    every = list(histories)
    own = {one.plant.number: _own(one, isolation_places, now, rules, zone) for one in every}
    sick: dict[int, list[int]] = {}
    for one in every:
        if one.plant.left is None and one.plant.place is not None and own[one.plant.number].word in SPREADING:
            sick.setdefault(one.plant.place, []).append(one.plant.number)
    return {one.plant.number: _beside(one, own[one.plant.number], sick) for one in every}


def _beside(history: History, own: Standing, sick: dict[int, list[int]]) -> Standing:
    """The standing with what stands in the same place: a clear or never looked at plant is exposed by it."""
    if own.rank >= EXPOSED or history.plant.place is None or history.plant.left is not None:
        return own
    beside = [number for number in sick.get(history.plant.place, ()) if number != history.plant.number]
    if not beside:
        return own
    return Standing("exposed", f"shares its place with {', '.join(str(number) for number in beside[:3])}", EXPOSED)


def _own(history: History, isolation_places: frozenset[int], now: datetime, rules: HouseRules,
         zone: tzinfo) -> Standing:
    """The standing by the plant's own journal alone."""
    entries = [entry for entry in history.entries if entry.at <= now]
    finds = [entry for entry in entries if _is_find(entry)]
    if finds:
        return _after_find(entries, finds[-1], rules, zone)
    newcomer = _newcomer(history, entries, isolation_places, now, rules)
    if newcomer is not None:
        return newcomer
    looks = [entry for entry in entries if isinstance(entry.facts, Looked)]
    if not looks:
        return Standing("clear", "not yet looked at: nothing was found because no look is written down", NEVER_LOOKED)
    return Standing("clear", f"nothing found in {len(looks)} {'look' if len(looks) == 1 else 'looks'}", CLEAR)


def _is_find(entry: Entry) -> bool:
    return isinstance(entry.facts, Sighted) or (isinstance(entry.facts, Looked) and not entry.facts.clean)


def _after_find(entries: list[Entry], find: Entry, rules: HouseRules, zone: tzinfo) -> Standing:
    """Infested (suspect when nothing was named), until treated, until enough clean looks, until long enough ago."""
    named = _named(entries, find, rules, zone)
    found = f"{named or 'something'} seen on {full_day(find.at, zone)}"
    counted = counted_looks(entries, find.at, rules)
    if len(counted) >= rules.clean_looks:
        if _cleared(counted, find.at, rules):
            return Standing("clear", f"{found}; {len(counted)} clean looks counted since, the last "
                                     f"{(counted[-1].at - find.at).days} days after it", CLEAR)
        return Standing("under watch", f"{found}; {len(counted)} clean looks counted since", TREATED)
    washes = [entry for entry in entries if _is_spray(entry) and (entry.at, entry.id) > (find.at, find.id)]
    if washes:
        times = "once" if len(washes) == 1 else f"{len(washes)} times"
        return Standing("under treatment", f"{found}; treated {times} since, "
                                           f"{len(counted)} of {rules.clean_looks} clean looks", TREATED)
    if not named:
        return Standing("suspect", f"a look on {full_day(find.at, zone)} was not clean, but nothing was named",
                        SUSPECT)
    return Standing("infested", f"{found}, not treated since", INFESTED)


def _named(entries: list[Entry], find: Entry, rules: HouseRules, zone: tzinfo) -> str:
    """What was found, in words: by the find itself, else by the sighting before it that was not cleared since."""
    sighted = [entry for entry in entries if isinstance(entry.facts, Sighted) and entry.at <= find.at]
    if not sighted:
        return ""
    before = [entry for entry in entries if entry.at < find.at]
    if sighted[-1].at < find.at and _after_find(before, sighted[-1], rules, zone).word == "clear":
        return ""
    return sighted[-1].facts.what.replace("-", " ") if isinstance(sighted[-1].facts, Sighted) else ""


def counted_looks(entries: Iterable[Entry], after: datetime, rules: HouseRules) -> list[Entry]:
    """Clean looks after `after` that count: far enough from the one counted before, and not masked by a spray.

    A spray starts the count again, except on a plant that was clear by then: washing it is no find.
    """
    counted: list[Entry] = []
    sprayed: datetime | None = None
    for entry in entries:
        if _cleared(counted, after, rules):
            break
        if _is_spray(entry):
            sprayed = entry.at
            counted = []
        elif isinstance(entry.facts, Looked) and entry.facts.clean and entry.at > after:
            masked = sprayed is not None and entry.at - sprayed < timedelta(days=rules.masked_days)
            close = bool(counted) and entry.at - counted[-1].at < timedelta(days=rules.looks_apart_days)
            if not masked and not close:
                counted.append(entry)
    return counted


def _cleared(counted: list[Entry], find: datetime, rules: HouseRules) -> bool:
    """Whether these looks end the find: enough of them, the last long enough after it."""
    return len(counted) >= rules.clean_looks and counted[-1].at - find >= timedelta(days=rules.isolation_days)


def _is_spray(entry: Entry) -> bool:
    return isinstance(entry.facts, Treated) and entry.facts.purpose is Purpose.PEST_WASH


def _newcomer(history: History, entries: list[Entry], isolation_places: frozenset[int], now: datetime,
              rules: HouseRules) -> Standing | None:
    """A plant in an isolation place, or one that came a short while ago and was never in one."""
    if history.plant.place in isolation_places:
        return Standing("newcomer", "stands in an isolation place, not released yet", NEWCOMER)
    arrived = [entry for entry in entries if isinstance(entry.facts, Arrived) and entry.facts.day_known]
    apart = any(isinstance(entry.facts, Placed) and entry.facts.place in isolation_places for entry in entries)
    if not arrived or apart or now - arrived[-1].at >= timedelta(days=rules.isolation_days):
        return None
    days = (now - arrived[-1].at).days
    ago = "today" if days == 0 else "1 day ago" if days == 1 else f"{days} days ago"
    return Standing("newcomer", f"arrived {ago} and was never in an isolation place", NEWCOMER)
