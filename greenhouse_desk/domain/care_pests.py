"""Repeating a pest wash by the pest's published interval: a contact wash misses eggs.

A course is the run of washes that follow each other within twice the longest interval. It is against every pest with a
published interval that was seen from `sighting_days` before its first wash on. The next wash is owed while fewer than
the published least number were given; from then to the published most, only while no clean look followed the last
wash (a sighting after that look counts against it). Several pests share one repeat: the one whose interval ends first
sets the window. A pest without a published interval owes nothing here, because nothing is known to count from; its
sighting still counts for the plant's standing.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from greenhouse_desk.domain.care_asked import Asked, in_time, pairs
from greenhouse_desk.domain.care_reasons import entry_words, on, told
from greenhouse_desk.domain.care_settled import Window, owe
from greenhouse_desk.domain.care_values import Care, CareKind, Reason
from greenhouse_desk.domain.journal import Entry, Looked, Purpose, Sighted, Treated
from greenhouse_desk.domain.pests import Pest, Repeat


@dataclass(frozen=True, slots=True)
class _Course:
    """The washes against one pest that are going on, and the sightings of it, each oldest first."""

    name: str
    repeat: Repeat
    seen: list[Entry]
    washes: list[Entry]


def wash_repeats(ask: Asked) -> tuple[Care, ...]:
    """The next wash of the course that is going on; none or one."""
    washes = [entry for entry, facts in pairs(ask.of(Treated), Treated) if facts.purpose is Purpose.PEST_WASH]
    if not washes:
        return ()
    owed = [course for key, seen in sorted(_seen(ask).items())
            if (course := _course(ask, ask.pests[key], seen, washes)) and _counts(ask, course) and _more(ask, course)]
    if not owed:
        return ()
    first = min(owed, key=lambda course: course.repeat.high)
    last = first.washes[-1]
    opens, latest = (ask.day(last.at) + timedelta(days=days) for days in (first.repeat.low, first.repeat.high))
    why = (*told(ask, last, entry_words(last)), *(reason for course in owed for reason in _against(ask, course)))
    names = " and ".join(course.name for course in owed)
    return owe(ask, CareKind.WASH_REPEAT, f"Repeat the wash against {names}", "repeat wash",
               Window(opens, opens, latest), why, last, lapses=True)


def _seen(ask: Asked) -> dict[str, list[Entry]]:
    seen: dict[str, list[Entry]] = {}
    for entry, facts in pairs(ask.of(Sighted), Sighted):
        if facts.what in ask.pests:
            seen.setdefault(facts.what, []).append(entry)
    return seen


def _course(ask: Asked, pest: Pest, seen: list[Entry], washes: list[Entry]) -> _Course | None:
    """The course against a pest, the last wash of each care day; None for a pest without a published interval."""
    if pest.repeat is None:
        return None
    days = {ask.day(entry.at): entry for entry in washes}
    course: list[Entry] = []
    for day in sorted(days, reverse=True):
        if course and (ask.day(course[0].at) - day).days > 2 * pest.repeat.high:
            break
        course.insert(0, days[day])
    return _Course(pest.name, pest.repeat, seen, course)


def _counts(ask: Asked, course: _Course) -> bool:
    """Whether the pest was seen near enough to the course for it to be against that pest."""
    return course.seen[-1].at >= course.washes[0].at - timedelta(days=ask.rules.sighting_days)


def _more(ask: Asked, course: _Course) -> bool:
    """Whether another wash is owed: up to the least number always, up to the most unless the newest look was clean."""
    given = len(course.washes)
    if given < course.repeat.least_times:
        return True
    return given < course.repeat.most_times and not _clean_since(ask, course.washes[-1])


def _clean_since(ask: Asked, last: Entry) -> bool:
    """Whether the newest look or sighting after the last wash was a clean look."""
    later = [entry for entry in ask.of(Looked, Sighted) if in_time(entry) > in_time(last)]
    return bool(later) and isinstance(facts := later[-1].facts, Looked) and facts.clean


def _against(ask: Asked, course: _Course) -> tuple[Reason, ...]:
    repeat, times = course.repeat, len(course.seen)
    last = on(ask.day(course.seen[-1].at), ask)
    return (Reason(f"{course.name} seen {times} {'time' if times == 1 else 'times'}, last on {last}.",
                   f"journal entry {course.seen[-1].id}"),
            Reason(f"{repeat.why or 'A contact wash misses eggs.'} Against {course.name}: "
                   f"{_range(repeat.least_times, repeat.most_times)} washes, {_range(repeat.low, repeat.high)} days "
                   f"apart; this course has had {len(course.washes)}.", repeat.source))


def _range(low: int, high: int) -> str:
    return f"{low}" if low == high else f"{low} to {high}"
