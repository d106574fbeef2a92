"""What came from a plant's source before, the plant itself left out: what its chance and its weeks apart rest on."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from enum import Enum, auto

from greenhouse_desk.domain.journal import Arrived, Entry, Placed, found_in
from greenhouse_desk.domain.quarantine_finds import IN_TIME, Life
from greenhouse_desk.domain.quarantine_looks import Counting
from greenhouse_desk.domain.settings import HouseRules


@dataclass(frozen=True, slots=True)
class Origin:
    """What came from a plant's source before: `found` of `had` showed something while they stood apart; `new` more are
    too new to count."""

    found: int
    had: int
    new: int = 0


class Tells(Enum):
    """What a plant tells of its source: something showed while it stood apart, or nothing did though it was looked at
    and its days are over; it tells nothing while it is too new, or when nobody looked."""

    SHOWED = auto()
    QUIET = auto()
    NEW = auto()
    UNLOOKED = auto()


NO_ORIGIN = Origin(0, 0)


@dataclass(frozen=True, slots=True)
class DaysApart:
    """For how many days a newcomer stands apart, by which house rule (its name), and why where that is not the usual
    one ("" else)."""

    days: int
    rule: str
    why: str = ""


def days_apart(origin: Origin, rules: HouseRules) -> DaysApart:
    """The days apart of a newcomer whose source has this record."""
    if origin.found:
        return DaysApart(rules.isolation_days_found, "isolation_days_found",
                         f"{origin.found} of {origin.had} others from its source showed something while they stood "
                         f"apart{new_words(origin.new)}")
    if origin.had >= rules.clean_source_plants:
        return DaysApart(rules.isolation_days_clean, "isolation_days_clean",
                         f"none of {origin.had} others from its source showed anything while they stood apart"
                         f"{new_words(origin.new)}")
    return DaysApart(rules.isolation_days, "isolation_days")


def new_words(new: int) -> str:
    """How many more are not counted yet, "" for none."""
    return f", {new} more {'is' if new == 1 else 'are'} still too new to count" if new else ""


def origins(lives: Iterable[Life], apart: frozenset[int], now: datetime, by: Counting) -> Mapping[int, Origin]:
    """For each plant with a source, the record of the others from it; `apart` are the isolation places."""
    told = {one.number: (one.history.plant.source, tells(one, apart, now, by)) for one in lives
            if one.history.plant.source is not None}
    every: dict[int | None, Counter[Tells]] = defaultdict(Counter)
    for source, said in told.values():
        every[source][said] += 1
    return {number: _origin(every[source] - Counter((said,))) for number, (source, said) in told.items()}


def of_source(lives: Iterable[Life], apart: frozenset[int], now: datetime, by: Counting) -> Origin:
    """The record that a plant still to come from the source of these plants would have."""
    return _origin(Counter(tells(one, apart, now, by) for one in lives))


def _origin(of: Counter[Tells]) -> Origin:
    return Origin(of[Tells.SHOWED], of[Tells.SHOWED] + of[Tells.QUIET], of[Tells.NEW])


def tells(one: Life, apart: frozenset[int], now: datetime, by: Counting) -> Tells:
    """What a plant tells of its source: every record of a source counts by this."""
    came, first = came_at(one), first_find(one)
    if shows_apart(one, came, first, apart, by):
        return Tells.SHOWED
    if came is not None and by.days(came, now) < by.rules.isolation_days:
        return Tells.NEW
    return Tells.QUIET if one.looked or one.finds else Tells.UNLOOKED


def first_find(one: Life) -> Entry | None:
    """The first pest or disease seen on it."""
    seen = (kept.entry for finds in one.finds.values() for kept in finds
            if kept.test is None and found_in(kept.entry.facts))
    return min(seen, key=IN_TIME, default=None)


def came_at(one: Life) -> datetime | None:
    """When it came first, where that day is known."""
    known = (entry.at for entry in one.arrived if isinstance(entry.facts, Arrived) and entry.facts.day_known)
    return next(known, None)


def shows_apart(one: Life, came: datetime | None, find: Entry | None, apart: frozenset[int], by: Counting) -> bool:
    """Whether its first `find` came before it had joined the rest: it stood in an isolation place ever since it came,
    or, where it never stood in one, its days apart were not over."""
    if came is None or find is None:
        return False
    before = [entry.facts.place for entry in one.moves if isinstance(entry.facts, Placed) and entry.at <= find.at]
    if any(place in apart for place in before):
        return all(place in apart for place in before)
    return 0 <= by.days(came, find.at) < by.rules.isolation_days
