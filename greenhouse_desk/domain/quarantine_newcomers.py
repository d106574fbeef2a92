"""Newcomers: how long a plant that arrived stands apart, and what its release waits for."""

from __future__ import annotations

from datetime import datetime, timedelta

from greenhouse_desk.domain.care_day import day_words
from greenhouse_desk.domain.journal import Arrived, Entry, Placed
from greenhouse_desk.domain.quarantine_finds import Life
from greenhouse_desk.domain.quarantine_looks import Counting, course, earliest, next_look
from greenhouse_desk.domain.quarantine_status import NEWCOMER, Status


def newcomer(one: Life, apart: frozenset[int], now: datetime, by: Counting, cleared: bool) -> Status | None:
    """A plant in an isolation place that was not released, one that left it too early, or one that came a short while
    ago and never stood apart. `cleared`: something was found on it and is over, which took as long and as many looks.
    """
    arrived = [entry for entry in one.arrived if isinstance(entry.facts, Arrived) and entry.facts.day_known]
    came = arrived[-1] if arrived else None
    stood = bool(apart) and any(isinstance(entry.facts, Placed) and entry.facts.place in apart for entry in one.moves)
    released = one.released_at("")
    if one.history.plant.place in apart:
        since = _stands_since(one.moves, apart) or came
        if cleared or (released is not None and (since is None or released >= since.at)):
            return None
        return _apart(one, since, now, by)
    if came is None or (released is not None and released >= came.at):
        return None
    age = by.days(came.at, now)
    if not stood and age < by.rules.isolation_days:
        until = by.day(came.at) + timedelta(days=by.rules.isolation_days)
        return Status("", "newcomer", f"arrived {_ago(age)} and was never in an isolation place", NEWCOMER, came.at,
                      came.id, f"set it apart, or look at it weekly until {day_words(until, by.day(now))}", until)
    if stood and not cleared and age < by.rules.trace_days:
        return _left_early(one, came, apart, now, by)
    return None


def _apart(one: Life, since: Entry | None, now: datetime, by: Counting) -> Status | None:
    """In an isolation place: how many looks count so far, and whether it may be released."""
    if since is None:
        return Status("", "newcomer", "stands in an isolation place, not released yet", NEWCOMER, None, None,
                      "look at it weekly, then release it")
    looks = course(one.looks, since.at, by)
    when, today = earliest(looks, now, by), by.day(now)
    counted, day = _looks(len(looks.counted), by), by.days(since.at, now)
    if looks.over:
        return Status("", "newcomer", f"stands in an isolation place, clean throughout, not released yet: day {day}",
                      NEWCOMER, since.at, since.id, f"release it: it may be since {day_words(when, today)}", when,
                      looks.ignored, counted=len(looks.counted))
    first = next_look(looks, now, by)
    opens = "" if first <= today else f", the next counts from {day_words(first, today)}"
    return Status("", "newcomer", f"stands in an isolation place, not released yet: day {day}, {counted}", NEWCOMER,
                  since.at, since.id, f"look at it weekly{opens}; release on {day_words(when, today)} at the earliest",
                  when, looks.ignored, counted=len(looks.counted))


def _left_early(one: Life, came: Entry, apart: frozenset[int], now: datetime, by: Counting) -> Status | None:
    """A plant taken out of isolation before its days were over, without a release: it is one until it has them."""
    inside, out = False, None
    for entry in one.moves:
        was, inside = inside, isinstance(entry.facts, Placed) and entry.facts.place in apart
        out = entry if was and not inside and entry.at >= came.at else out
    if out is None or (day := by.days(came.at, out.at)) >= by.rules.isolation_days:
        return None
    looks = course(one.looks, came.at, by)
    if looks.over:
        return None
    when = earliest(looks, now, by)
    return Status("", "newcomer", f"taken out of isolation on day {day} of {by.rules.isolation_days}, not released",
                  NEWCOMER, out.at, out.id, f"set it apart again, or release it; clean looks can clear it on "
                  f"{day_words(when, by.day(now))} at the earliest", when, looks.ignored, counted=len(looks.counted))


def _stands_since(moves: list[Entry], apart: frozenset[int]) -> Entry | None:
    """The move that brought a plant into isolation, of the moves that led to where it stands."""
    since = None
    for entry in moves:
        inside = isinstance(entry.facts, Placed) and entry.facts.place in apart
        since = (since or entry) if inside else None
    return since


def _looks(counted: int, by: Counting) -> str:
    if counted < by.rules.clean_looks:
        return f"{counted} of {by.rules.clean_looks} clean looks"
    return f"{counted} clean {'look' if counted == 1 else 'looks'}"


def _ago(days: int) -> str:
    return "today" if days == 0 else "1 day ago" if days == 1 else f"{days} days ago"
