"""Newcomers: how long a plant that arrived stands apart, what starts its days again, and what its release waits for."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from greenhouse_desk.domain.care_day import day_words
from greenhouse_desk.domain.contacts import ALWAYS, NEVER_YET
from greenhouse_desk.domain.journal import Arrived, Entry, Placed
from greenhouse_desk.domain.origins import NO_ORIGIN, DaysApart, Origin, days_apart
from greenhouse_desk.domain.quarantine_finds import IN_TIME, Life
from greenhouse_desk.domain.quarantine_looks import Counting, Course, course, earliest, next_look
from greenhouse_desk.domain.quarantine_status import NEWCOMER, Status, spoken


@dataclass(frozen=True, slots=True)
class Clock:
    """What the days apart of a newcomer are counted from: how it came, or a find since, which starts them again.

    `found` names what was found ("" where they run since it came), `back` tells that it came back from among others.
    """

    entry: Entry
    found: str = ""
    back: bool = False

    def looks(self, one: Life, by: Counting) -> Course:
        """The looks since it began."""
        return course(one.looks, self.entry.at, by, found=bool(self.found))

    def again(self, by: Counting) -> str:
        """Since when and why the days are counted again, "" where they are not."""
        if not self.found:
            return (f" since it was set back there on {by.told(self.entry.at)}, which began its days again" if self.back
                    else "")
        return f" since {self.found} was found on {by.told(self.entry.at)}, which began its days again"

    def over(self, cleared: datetime | None) -> bool:
        """Whether its last find is over by itself: that took as long and as many looks."""
        return cleared is not None and cleared >= self.entry.at


def newcomer(one: Life, apart: frozenset[int], now: datetime, by: Counting, cleared: datetime | None,
             origin: Origin = NO_ORIGIN, held: date = date.min) -> Status | None:
    """A plant in an isolation place that was not released, one that left it too early, or one that came a short while
    ago and never stood apart. Any find since starts its days again; how many they are follows its source's record
    (`origin`). `cleared`: the last find on it that is over; `held`: the first day on which all else can be over that
    holds it back, before which it cannot be released.
    """
    arrived = [entry for entry in one.arrived if isinstance(entry.facts, Arrived) and entry.facts.day_known]
    came = arrived[-1] if arrived else None
    stood = bool(apart) and any(_into(entry, apart) for entry in one.moves)
    inside = one.history.plant.place in apart
    since = (_stands_since(one.moves, apart, by) if inside else None) or came
    released = one.released_at("")
    if since is None:
        return _undated() if inside and cleared is None and released is None else None
    days = days_apart(origin, by.rules)
    by, clock = by.apart(days.days), _clock(one, since, by, within=None if stood or inside else days.days)
    if (released is not None and released >= since.at) or (clock.over(cleared) and clock.looks(one, by).over):
        return None
    status: Status | None
    if inside:
        status = _apart(one, replace(clock, back=_was_there(one, clock.entry, apart)), now, by, days, held)
    elif not stood:
        status = _never_apart(clock, by.days(since.at, now), now, by, days, held)
    else:
        status = _left_early(one, since, apart, now, by, held) if by.days(since.at, now) < by.rules.trace_days else None
    return None if status is None else replace(status, apart=days)


def _clock(one: Life, since: Entry, by: Counting, until: datetime = NEVER_YET, within: int | None = None) -> Clock:
    """From when its days count: the last find from `since` to `until` that no test refuted, else since it came. Where
    its days end by themselves, `within` so many, a find after their end starts none again."""
    finds = sorted((find for kept in one.finds.values() for find in kept
                    if find.test is None and since.at <= find.entry.at <= until), key=lambda find: IN_TIME(find.entry))
    clock = Clock(since)
    for find in finds:
        if within is None or by.days(clock.entry.at, find.entry.at) < within:
            clock = Clock(find.entry, spoken(find.what, by.names))
    return clock


def _undated() -> Status:
    return Status("", "newcomer", "stands in an isolation place, not released yet", NEWCOMER,
                  next="look at it weekly, then release it")


def _never_apart(clock: Clock, age: int, now: datetime, by: Counting, days: DaysApart, held: date) -> Status | None:
    """Never in an isolation place: one until its days are over, looked at or not."""
    until = by.day(clock.entry.at) + timedelta(days=by.rules.isolation_days)
    if by.day(now) >= until:
        return None
    until = max(until, held)
    again = f"; {_day(clock, now, by, days)}" if clock.found or days.why else ""
    return Status("", "newcomer", f"arrived {_ago(age)} and was never in an isolation place{again}", NEWCOMER,
                  clock.entry.at, clock.entry.id,
                  f"set it apart, or look at it weekly until {day_words(until, by.day(now))}", until,
                  found=bool(clock.found))


def _apart(one: Life, clock: Clock, now: datetime, by: Counting, days: DaysApart, held: date) -> Status:
    """In an isolation place: how many looks count so far, and whether it may be released."""
    looks = clock.looks(one, by)
    when, today = max(earliest(looks, now, by), held), by.day(now)
    day = _day(clock, now, by, days)
    why = f"stands in an isolation place, not released yet: {day}, {_looks(len(looks.counted), by)}"
    first = next_look(looks, now, by)
    opens = "" if first <= today else f", the next counts from {day_words(first, today)}"
    told = f"look at it weekly{opens}; release on {day_words(when, today)} at the earliest"
    if looks.over:
        clean = "clean since then" if clock.found else "clean throughout"
        why = f"stands in an isolation place, {clean}, not released yet: {day}"
        told = f"release it: it may be since {day_words(when, today)}" if when <= today else told
    return Status("", "newcomer", why, NEWCOMER, clock.entry.at, clock.entry.id, told, when, looks.ignored,
                  counted=len(looks.counted), found=bool(clock.found))


def _day(clock: Clock, now: datetime, by: Counting, days: DaysApart) -> str:
    """Which of its days apart it is: of how many where its source's record sets them, since when where a find did."""
    of = f" of {days.days} by its source's record" if days.why else ""
    return f"day {by.days(clock.entry.at, now)}{of}{clock.again(by)}"


def _left_early(one: Life, came: Entry, apart: frozenset[int], now: datetime, by: Counting,
                held: date) -> Status | None:
    """A plant taken out of isolation before its days were over, without a release: it is one until it has them."""
    inside, out = False, None
    for entry in one.moves:
        was, inside = inside, _into(entry, apart)
        out = entry if was and not inside and entry.at >= came.at else out
    if out is None:
        return None
    clock = _clock(one, came, by, out.at)
    looks, day = clock.looks(one, by), by.days(clock.entry.at, out.at)
    if looks.over or day >= by.rules.isolation_days:
        return None
    when = max(earliest(looks, now, by), held)
    return Status("", "newcomer", f"taken out of isolation on day {day} of {by.rules.isolation_days}{clock.again(by)}, "
                  "not released", NEWCOMER, out.at, out.id, f"set it apart again, or release it; clean looks can clear "
                  f"it on {day_words(when, by.day(now))} at the earliest", when, looks.ignored,
                  counted=len(looks.counted))


def _stands_since(moves: list[Entry], apart: frozenset[int], by: Counting) -> Entry | None:
    """The move that brought a plant into isolation, of the moves that led to where it stands. Set back on the day it
    was taken out, it stood there all the while: whom it met in between exposed it by themselves."""
    since = out = None
    for entry in moves:
        if not _into(entry, apart):
            out = out or entry
        else:
            since = entry if since is None or (out is not None and by.days(out.at, entry.at)) else since
            out = None
    return None if out else since


def _was_there(one: Life, since: Entry, apart: frozenset[int]) -> bool:
    """Whether it stood in isolation before, since it came."""
    came = one.arrived[-1].at if one.arrived else ALWAYS
    return any(_into(entry, apart) and came <= entry.at < since.at for entry in one.moves)


def _into(move: Entry, apart: frozenset[int]) -> bool:
    return isinstance(move.facts, Placed) and move.facts.place in apart


def _looks(counted: int, by: Counting) -> str:
    if counted < by.rules.clean_looks:
        return f"{counted} of {by.rules.clean_looks} clean looks"
    return f"{counted} clean {'look' if counted == 1 else 'looks'}"


def _ago(days: int) -> str:
    return "today" if days == 0 else "1 day ago" if days == 1 else f"{days} days ago"
