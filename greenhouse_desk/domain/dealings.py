"""Before a plant comes or goes: what a source sent before, and whether a plant may honestly be handed on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from enum import StrEnum

from greenhouse_desk.domain.care_day import day_of, day_words
from greenhouse_desk.domain.care_values import WASHES, Care, CareKind
from greenhouse_desk.domain.figures import Span
from greenhouse_desk.domain.journal import found_in
from greenhouse_desk.domain.origins import Tells, came_at, first_find, tells
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.quarantine import Standing
from greenhouse_desk.domain.quarantine_finds import Life, life
from greenhouse_desk.domain.quarantine_looks import Counting, Course, course, next_look
from greenhouse_desk.domain.quarantine_status import EXPOSED, NEVER_LOOKED, NEWCOMER, SUSPECT, Status, spoken
from greenhouse_desk.domain.sampling import wilson


@dataclass(frozen=True, slots=True)
class Found:
    """What showed on a plant while it stood apart: the plant, the pest or disease, and how many days after it came."""

    plant: int
    what: str
    days: int


@dataclass(frozen=True, slots=True)
class SourceRecord:
    """What came from one source: plants `had` that count (domain/origins: something showed while they stood apart, or
    they were looked at and their days are over), what was `found` on them while they stood apart (the first find of
    each), and in what share of plants it lies with 95 % confidence (None: no plant counts, no record).

    Not counted are those `unlooked` though their days are over, and those still too `new`. `later` names plants on
    which something showed only after they had joined the rest: that is no proof against a source.
    """

    had: int
    unlooked: int
    found: tuple[Found, ...]
    later: tuple[int, ...]
    share: Span | None
    new: int = 0

    @property
    def came(self) -> int:
        """All that came, counted or not."""
        return self.had + self.unlooked + self.new

    @property
    def days(self) -> tuple[int, int] | None:
        """The least and the most days until something showed; None where nothing did."""
        shown = [one.days for one in self.found]
        return (min(shown), max(shown)) if shown else None


def source_record(histories: Iterable[History], apart: frozenset[int], now: datetime, by: Counting) -> SourceRecord:
    """The record of the plants of `histories`, all of one source; `apart` are the isolation places."""
    lives = [life(history, now, by) for history in histories]
    found, later = list[Found](), list[int]()
    said = Counter[Tells]()
    for one in lives:
        said[how := tells(one, apart, now, by)] += 1
        first, came = first_find(one), came_at(one)
        if first is None:
            continue
        if how is Tells.SHOWED and came is not None:
            found.append(Found(one.number, found_in(first.facts), by.days(came, first.at)))
        else:
            later.append(one.number)
    had = said[Tells.SHOWED] + said[Tells.QUIET]
    return SourceRecord(had, said[Tells.UNLOOKED], tuple(found), tuple(later),
                        wilson(len(found), had) if had else None, said[Tells.NEW])


class Verdict(StrEnum):
    """How a point of the check list stands."""

    PASSED = "passed"
    FAILED = "failed"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Check:
    """One point before a plant is handed on: how it stands, by what evidence, and from which day it would pass
    (None for one that did not pass: no day can be said). `entry` is the journal entry it rests on, `first` what must be
    done before any day can be said."""

    title: str
    verdict: Verdict
    evidence: str
    passes: date | None = None
    entry: int | None = None
    first: str = ""


def trading_checks(one: Life, standing: Standing, cares: Sequence[Care], now: datetime,
                   by: Counting) -> tuple[Check, ...]:
    """The check list before a plant is traded or given away; `cares` are what it is owed at `now` (aware)."""
    return (_nothing_found(one, standing), _not_exposed(standing, now), _not_new(standing),
            _looks(one, standing, now, by), _treated_out(cares, now, by), _no_hold(cares, now, by))


def passes_from(checks: Iterable[Check], today: date) -> date | None:
    """The first day on which every point would pass; None where one of them names no day."""
    wanted = [check.passes for check in checks if check.verdict is not Verdict.PASSED]
    known = [day for day in wanted if day is not None]
    return None if len(known) < len(wanted) else max([today, *known])


def _nothing_found(one: Life, standing: Standing) -> Check:
    title = "Nothing found that is not over"
    if any(status.rank >= SUSPECT for status in standing.statuses):
        return _failed(title, [status for status in standing.statuses if status.rank >= SUSPECT])
    if one.finds:
        last = max((finds[-1] for finds in one.finds.values()), key=lambda find: find.entry.at)
        return Check(title, Verdict.PASSED, f"{spoken(last.what)} was found before; it is over", entry=last.entry.id)
    if not one.looked:
        return Check(title, Verdict.UNKNOWN, "never looked at, so nothing can have been found")
    return Check(title, Verdict.PASSED, f"nothing found in {_counted(len(one.looked), 'look')}")


def _not_exposed(standing: Standing, now: datetime) -> Check:
    """While an exposure goes on, its day moves on with every day they stay together: none is named."""
    title = "Not exposed to anything that is not over"
    exposed = [status for status in standing.statuses if status.rank == EXPOSED]
    if not exposed:
        return Check(title, Verdict.PASSED, "no contact on record still counts")
    going = sorted({source for status in exposed if status.since == now for source in status.sources})
    failed = _failed(title, exposed)
    if not going:
        return failed
    return replace(failed, passes=None, first=f"set {', '.join(map(str, going))} apart, or this plant")


def _not_new(standing: Standing) -> Check:
    title = "Its days apart are over"
    new = [status for status in standing.statuses if status.rank == NEWCOMER]
    return _failed(title, new) if new else Check(title, Verdict.PASSED, "it stands among the others")


def _failed(title: str, statuses: Sequence[Status]) -> Check:
    days = [status.earliest for status in statuses]
    known = [day for day in days if day is not None]
    return Check(title, Verdict.FAILED, "; ".join(status.why for status in statuses),
                 max(known) if len(known) == len(days) else None, statuses[0].entry)


def _looks(one: Life, standing: Standing, now: datetime, by: Counting) -> Check:
    """Enough clean looks since the last exposure and the last spray, not older than a pest can sit unseen."""
    needed, seen = by.rules.clean_looks, recent_looks(one, standing, now, by)
    title = f"{needed} clean looks since the last exposure and spray"
    counted = len(seen.counted)
    if standing.rank == NEVER_LOOKED or not one.looked:
        verdict, words = Verdict.UNKNOWN, "never looked at"
    elif counted >= needed:
        last = seen.counted[-1]
        return Check(title, Verdict.PASSED, f"{_counted(counted, 'clean look')}, the last on {by.told(last.at)}",
                     entry=last.id)
    else:
        words = f"{counted} of {needed} count" + "".join(f"; {why}" for why in seen.ignored[-1:])
        verdict = Verdict.FAILED
    more = timedelta(days=(needed - counted - 1) * by.rules.looks_apart_days)
    return Check(title, verdict, words, next_look(seen, now, by) + more)


def recent_looks(one: Life, standing: Standing, now: datetime, by: Counting) -> Course:
    """All looks since the last exposure or find, and in any case of the days a pest can sit unseen."""
    since = [(status.since, status.found) for status in standing.statuses
             if status.since is not None and status.rank >= EXPOSED]
    start, found = max([(now - timedelta(days=by.rules.trace_days), False), *since])
    return course(one.looks, start, by, on=True, found=found)


def _treated_out(cares: Sequence[Care], now: datetime, by: Counting) -> Check:
    title = "No treatment unfinished"
    owed = [care for care in cares if care.kind in WASHES]
    if not owed:
        return Check(title, Verdict.PASSED, "no wash is owed")
    last = max(day_of(care.latest or care.due, by.zone, by.rules) for care in owed)
    told = "; ".join(f"{care.what}, by {day_words(day_of(care.due, by.zone, by.rules), by.day(now))}" for care in owed)
    return Check(title, Verdict.FAILED, told, last + timedelta(days=by.rules.masked_days), owed[0].origin)


def _no_hold(cares: Sequence[Care], now: datetime, by: Counting) -> Check:
    """Plain water keeps a plant here, for feed would burn it; a dry rest goes with it, and is said to who takes it."""
    title = "No hold runs"
    water = [care for care in cares if care.kind is CareKind.PLAIN_WATER]
    rest = next((care for care in cares if care.kind is CareKind.DRY_REST), None)
    if water:
        last = max(day_of(care.due, by.zone, by.rules) for care in water)
        return Check(title, Verdict.FAILED, f"{water[0].what} until {day_words(last, by.day(now))}", last,
                     water[0].origin)
    if rest is None:
        return Check(title, Verdict.PASSED, "nothing has to be kept from it")
    until = day_words(day_of(rest.due, by.zone, by.rules), by.day(now))
    by_genus = ", as its genus usually does," if rest.usual else ""
    told = f"{rest.short}{by_genus} until {until}: tell it to whoever takes the plant"
    return Check(title, Verdict.PASSED, f"no plain water is owed; {told}", entry=rest.origin)


def _counted(count: int, noun: str) -> str:
    return f"{count} {noun if count == 1 else noun + 's'}"
