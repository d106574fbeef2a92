"""Which clean looks count against a pest or disease, why the others do not, and when enough of them can be together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime, timedelta, tzinfo
from types import MappingProxyType

from greenhouse_desk.domain.care_day import care_day, full_day
from greenhouse_desk.domain.contacts import is_virus
from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.journal import Entry, Looked, Purpose, Treated
from greenhouse_desk.domain.own_words import NO_WORDS, OwnWords, small
from greenhouse_desk.domain.settings import HouseRules

LOOK_EVERY = Constant(7, "days", "between the looks at a plant that is held back", "from memory, house rule")
NO_NAMES: Mapping[str, str] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Counting:
    """By what looks are counted: the house rules, and the zone whose care days they are counted in; `names` are those
    of pests and diseases by key, `diseases` the keys of which no spray hides the signs, `own` the house's own words."""

    rules: HouseRules
    zone: tzinfo
    names: Mapping[str, str] = field(default_factory=dict)
    diseases: frozenset[str] = frozenset()
    own: OwnWords = NO_WORDS

    def is_virus(self, what: str) -> bool:
        """Whether `what` names a virus, by its key or as an own word of the house."""
        return is_virus(what, self.own)

    def is_disease(self, what: str) -> bool:
        """Whether `what` names a disease, a virus included."""
        return what in self.diseases or small(what) in self.own.diseases

    def day(self, at: datetime) -> date:
        """The care day of an instant."""
        return care_day(at, self.zone, self.rules)

    def days(self, start: datetime, end: datetime) -> int:
        """Care days from `start` to `end`."""
        return (self.day(end) - self.day(start)).days

    def apart(self, days: int) -> Counting:
        """The same, where a last look must lie so many days after the beginning."""
        if days == self.rules.isolation_days:
            return self
        return replace(self, rules=replace(self.rules, isolation_days=days))

    def told(self, at: datetime) -> str:
        """The local day of an instant in words."""
        return full_day(at, self.zone)


@dataclass(frozen=True, slots=True)
class Course:
    """The looks since something began: those that count, the last spray, why other clean looks did not count.

    `over`: enough of them, the last long enough after the beginning. `found`: it began with a find, which was a look
    too, so that the next one counts only when it is far enough from it.
    """

    start: datetime
    counted: tuple[Entry, ...]
    sprayed: datetime | None
    ignored: tuple[str, ...]
    over: bool
    found: bool = False

    def watched(self, by: Counting) -> bool:
        """Whether there were looks enough to think it gone, though not long enough to be over."""
        return len(self.counted) >= by.rules.clean_looks


def is_spray(entry: Entry) -> bool:
    """Whether an entry tells of a wash against pests: it kills, and it hides signs."""
    return isinstance(entry.facts, Treated) and entry.facts.purpose is Purpose.PEST_WASH


def is_clean(entry: Entry) -> bool:
    """Whether an entry is a look that found nothing."""
    return isinstance(entry.facts, Looked) and entry.facts.clean


def course(entries: Iterable[Entry], start: datetime, by: Counting, on: bool = False, found: bool = False,
           what: str = "") -> Course:
    """The looks among `entries` (in time order) after the instant `start`, and what they amount to.

    A look counts when no spray masks it and it is far enough from the one counted before, and from `start` where
    something was `found` then. A spray begins the count again, except once the course was over (washing a plant that is
    clear is no find) and where `what` is a disease, whose signs it does not hide. `on`: count on after its end.
    """
    counted: list[Entry] = []
    ignored: list[str] = []
    sprayed: datetime | None = None
    over = False
    for entry in entries:
        if over and not on:
            break
        if is_spray(entry):
            if not by.is_disease(what):
                ignored += [_begun_again(look, entry, by) for look in counted]
                sprayed, counted = entry.at, []
        elif is_clean(entry) and entry.at > start:
            why = _why_not(entry, sprayed, counted, by) or (_too_soon(entry, start, by) if found else "")
            if why:
                ignored.append(why)
                continue
            counted.append(entry)
            over = over or _over(counted, start, by)
    return Course(start, tuple(counted), sprayed, tuple(ignored), over, found)


def earliest(found: Course, now: datetime, by: Counting) -> date:
    """The first care day on which the course can be over: looks far enough apart, the last one late enough.

    It holds when nothing is found or sprayed from `now` on; for a course that is over, the day it was.
    """
    if found.over:
        return by.day(found.counted[-1].at)
    more = max(by.rules.clean_looks - len(found.counted) - 1, 0) * timedelta(days=by.rules.looks_apart_days)
    return max(next_look(found, now, by) + more, by.day(found.start) + timedelta(days=by.rules.isolation_days))


def next_look(found: Course, now: datetime, by: Counting) -> date:
    """The first care day, today or later, on which another clean look counts."""
    following, apart = by.day(now), timedelta(days=by.rules.looks_apart_days)
    if found.found:
        following = max(following, by.day(found.start) + apart)
    if found.sprayed is not None:
        following = max(following, by.day(found.sprayed) + timedelta(days=by.rules.masked_days))
    if found.counted:
        following = max(following, by.day(found.counted[-1].at) + apart)
    return following


def _over(counted: list[Entry], start: datetime, by: Counting) -> bool:
    return len(counted) >= by.rules.clean_looks and by.days(start, counted[-1].at) >= by.rules.isolation_days


def _why_not(entry: Entry, sprayed: datetime | None, counted: list[Entry], by: Counting) -> str:
    """Why a clean look does not count, "" when it does."""
    if sprayed is not None and (after := by.days(sprayed, entry.at)) < by.rules.masked_days:
        return (f"the clean look of {by.told(entry.at)} does not count: {_after(after)} the spray of "
                f"{by.told(sprayed)}, which masks signs for {by.rules.masked_days} days")
    if counted and (after := by.days(counted[-1].at, entry.at)) < by.rules.looks_apart_days:
        return (f"the clean look of {by.told(entry.at)} does not count: {_after(after)} the one before, "
                f"{by.rules.looks_apart_days} days apart are needed")
    return ""


def _begun_again(look: Entry, spray: Entry, by: Counting) -> str:
    """Why a clean look that counted does so no more."""
    return (f"the clean look of {by.told(look.at)} counts no more: the spray of {by.told(spray.at)} began the looks "
            "again")


def _too_soon(entry: Entry, find: datetime, by: Counting) -> str:
    """Why a clean look right after a find does not count, "" when it does: it is no second look."""
    if (after := by.days(find, entry.at)) < by.rules.looks_apart_days:
        return (f"the clean look of {by.told(entry.at)} does not count: {_after(after)} the find of {by.told(find)}, "
                f"{by.rules.looks_apart_days} days apart are needed")
    return ""


def _after(days: int) -> str:
    if days == 0:
        return "the same day as"
    return f"{days} {'day' if days == 1 else 'days'} after"
