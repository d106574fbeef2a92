"""Repeating a pest wash by the pest's published interval: a contact wash misses eggs.

A course is the run of washes that follow each other within twice the longest interval. It is against every pest with a
published interval that was seen from `sighting_days` before its first wash on. The next wash is owed while fewer than
the published least number were given; from then to the published most, only while no clean look followed the last
wash (a sighting after that look counts against it). Several pests share one repeat: the one whose interval ends first
sets the window. A pest without a published interval owes nothing here, because nothing is known to count from; its
sighting still counts for the plant's standing.
"""

from __future__ import annotations

from datetime import timedelta

from greenhouse_desk.domain.care_asked import Asked, in_time, pairs
from greenhouse_desk.domain.care_reasons import entry_words, on, told
from greenhouse_desk.domain.care_settled import Window, owe
from greenhouse_desk.domain.care_values import Care, CareKind, Reason
from greenhouse_desk.domain.journal import Entry, Looked, Purpose, Sighted, Treated
from greenhouse_desk.domain.pests import Repeat


def wash_repeats(ask: Asked) -> tuple[Care, ...]:
    """The next wash of the course that is going on; none or one."""
    washes = [entry for entry, facts in pairs(ask.of(Treated), Treated) if facts.purpose is Purpose.PEST_WASH]
    if not washes:
        return ()
    found = [(what, seen, course) for what, seen in _seen(ask).items()
             if (course := _course(ask, washes, ask.washes[what])) and _counts(ask, course, seen)]
    owed = [(what, seen, course) for what, seen, course in found if _more(ask, ask.washes[what], course)]
    if not owed:
        return ()
    owed.sort(key=lambda one: (ask.washes[one[0]].high, one[0]))
    what, _, course = owed[0]
    repeat, day = ask.washes[what], ask.day(course[-1].at)
    window = Window(day + timedelta(days=repeat.low), day + timedelta(days=repeat.low),
                    day + timedelta(days=repeat.high))
    why = (*told(ask, course[-1], entry_words(course[-1])), *_against(ask, owed))
    names = " and ".join(pest.replace("-", " ") for pest, _, _ in owed)
    return owe(ask, CareKind.WASH_REPEAT, f"Repeat the wash against {names}", "repeat wash", window, why, course[-1],
               lapses=True)


def _seen(ask: Asked) -> dict[str, list[Entry]]:
    seen: dict[str, list[Entry]] = {}
    for entry, facts in pairs(ask.of(Sighted), Sighted):
        if facts.what in ask.washes:
            seen.setdefault(facts.what, []).append(entry)
    return seen


def _course(ask: Asked, washes: list[Entry], repeat: Repeat) -> list[Entry]:
    """The washes of the course that is going on, the last of each care day, oldest first."""
    days = {ask.day(entry.at): entry for entry in washes}
    course: list[Entry] = []
    for day in sorted(days, reverse=True):
        if course and (ask.day(course[0].at) - day).days > 2 * repeat.high:
            break
        course.insert(0, days[day])
    return course


def _counts(ask: Asked, course: list[Entry], seen: list[Entry]) -> bool:
    """Whether the pest was seen near enough to the course for it to be against that pest."""
    return seen[-1].at >= course[0].at - timedelta(days=ask.rules.sighting_days)


def _more(ask: Asked, repeat: Repeat, course: list[Entry]) -> bool:
    if len(course) < repeat.least_times:
        return True
    return len(course) < repeat.most_times and not _clean_since(ask, course[-1])


def _clean_since(ask: Asked, last: Entry) -> bool:
    """Whether the newest look or sighting after the last wash was a clean look."""
    later = [entry for entry in ask.of(Looked, Sighted) if in_time(entry) > in_time(last)]
    return bool(later) and isinstance(facts := later[-1].facts, Looked) and facts.clean


def _against(ask: Asked, owed: list[tuple[str, list[Entry], list[Entry]]]) -> tuple[Reason, ...]:
    reasons: list[Reason] = []
    for what, seen, course in owed:
        repeat, name = ask.washes[what], what.replace("-", " ")
        times, apart = _range(repeat.least_times, repeat.most_times), _range(repeat.low, repeat.high)
        reasons += [
            Reason(f"{name} seen {len(seen)} {'time' if len(seen) == 1 else 'times'}, last on "
                   f"{on(ask.day(seen[-1].at), ask)}.", f"journal entry {seen[-1].id}"),
            Reason(f"{repeat.why or 'A contact wash misses eggs.'} Against {name}: {times} washes, {apart} days apart; "
                   f"this course has had {len(course)}.", repeat.source)]
    return tuple(reasons)


def _range(low: int, high: int) -> str:
    return f"{low}" if low == high else f"{low} to {high}"
