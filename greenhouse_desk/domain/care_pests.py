"""Washing against a pest: the first wash after it was seen, and the repeats, because a contact wash misses eggs.

A course is the run of washes that follow each other within twice the longest interval. It is against every pest with
an interval that was seen from `sighting_days` before its first wash on; one seen again after the last wash of a whole
course begins another. The next wash is owed while fewer than the least number were given; from then to the most, only
while no clean look followed the last wash (a sighting after that look counts against it). Several pests share one
repeat: the one whose interval ends first sets the window. The interval comes from the place's temperatures where
constants reach, else from a publication (pests_repeat); a pest with neither owes no wash.

A pest with a published repeat that was seen and not washed off since owes a first wash, once for each spell: a clean
look ends it, and once declined it stays so for what was seen again since. So does a wash left out at the bench because
no leaf was tried: it counts from the drop. Where no wash is owed against a pest, looks are (care_pest_looks).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from greenhouse_desk.domain.care_asked import Asked, in_time, pairs
from greenhouse_desk.domain.care_pest_looks import pest_looks
from greenhouse_desk.domain.care_pests_seen import masked, pest_washes, seen
from greenhouse_desk.domain.care_pests_why import first_wash_reasons, repeat_reasons, temperature_reasons
from greenhouse_desk.domain.care_reasons import entry_words, told
from greenhouse_desk.domain.care_settled import Window, owe
from greenhouse_desk.domain.care_values import Care, CareKind
from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.journal import Entry, Looked, Purpose, Reply, Sighted, Step, Treated
from greenhouse_desk.domain.journal_words import NOT_TRIED
from greenhouse_desk.domain.pests import Pest
from greenhouse_desk.domain.pests_climate import RECORD_DAYS
from greenhouse_desk.domain.pests_repeat import Interval, interval

COURSE_GAP = Constant(2, "intervals", "the longest pause between two washes of one course", "house rule")
ENDED = (Reply.DONE, Reply.DECLINED)


@dataclass(frozen=True, slots=True)
class _Course:
    """The washes against one pest that are going on, and the sightings of it, each oldest first."""

    pest: Pest
    interval: Interval
    seen: list[Entry]
    washes: list[Entry]


def against_pests(ask: Asked) -> tuple[Care, ...]:
    """The first wash that was not given, and the next wash of the course that is going on, at most one of each; for
    every other pest that was seen, a look.
    """
    courses = _open_courses(ask)
    running = {course.pest.key for course in courses}
    spells = _spells(ask, running)
    first, repeat = _first_wash(ask, spells, bool(running)), _repeat(ask, courses)
    washed = (running if repeat else set()) | ({pest.key for pest, _ in spells} if first else set())
    return (*first, *repeat, *pest_looks(ask, washed))


def rests_on_temperatures(entry: Entry, now: datetime) -> bool:
    """Whether an entry is a wash young enough at `now` (aware) that its repeat is worked out from temperatures."""
    return (isinstance(entry.facts, Treated) and entry.facts.purpose is Purpose.PEST_WASH
            and now - entry.at <= timedelta(days=RECORD_DAYS.value))


def _repeat(ask: Asked, owed: list[_Course]) -> tuple[Care, ...]:
    if not owed:
        return ()
    first = min(owed, key=lambda course: course.interval.high)
    last = first.washes[-1]
    opens, latest = (ask.day(last.at) + timedelta(days=days) for days in (first.interval.low, first.interval.high))
    why = (*told(ask, last, entry_words(ask, last)),
           *temperature_reasons(ask, [course.interval for course in owed], last.at),
           *(reason for course in owed
             for reason in repeat_reasons(ask, course.pest, course.interval, course.seen, len(course.washes))))
    names = " and ".join(course.pest.name for course in owed)
    return owe(ask, CareKind.WASH_REPEAT, f"Repeat the wash against {names}", "repeat wash",
               Window(opens, opens, latest), why, last, lapses=True)


def _spells(ask: Asked, running: set[str]) -> list[tuple[Pest, list[Entry]]]:
    """The pests that wait for a first wash, with their sightings."""
    return [(ask.pests[key], spell) for key, sightings in sorted(seen(ask).items())
            if ask.pests[key].repeat is not None and key not in running and (spell := _spell(ask, sightings))]


def _first_wash(ask: Asked, spells: list[tuple[Pest, list[Entry]]], running: bool) -> tuple[Care, ...]:
    """Against pests seen and not washed off since, or left out for a drop to be tried; none or one."""
    tried = () if running else tuple(_tried(ask))
    if not spells and not tried:
        return ()
    origin = min((*(spell[0] for _, spell in spells), *tried[:1]), key=in_time)
    due = max(ask.day(entry.at) for entry in (origin, *tried)) + timedelta(days=ask.rules.first_wash_days)
    names = " and ".join(pest.name for pest, _ in spells)
    what = f"Wash against {names}, or decline it" if names else "Give the wash that was left out, or decline it"
    return owe(ask, CareKind.FIRST_WASH, what, "first wash", Window(ask.day(origin.at), due, due),
               first_wash_reasons(ask, spells, tried), origin, lapses=True)


def _open_courses(ask: Asked) -> list[_Course]:
    washes = pest_washes(ask)
    return [course for key, sightings in sorted(seen(ask).items())
            if washes and (course := _course(ask, ask.pests[key], sightings, washes))
            and _counts(ask, course) and _more(ask, course)]


def _spell(ask: Asked, seen: list[Entry]) -> list[Entry]:
    """The sightings of a pest that wait for a first wash, oldest first: none washed off, looked clean or answered."""
    spell = [entry for entry in seen if _waits(ask, entry)]
    return [] if spell and _settled(ask, spell[0]) else spell


def _tried(ask: Asked) -> list[Entry]:
    """The washes left out because a drop was put on a leaf first, and not given since, oldest first."""
    return [entry for entry, facts in pairs(ask.of(Step), Step)
            if NOT_TRIED in facts.title and _waits(ask, entry) and not _settled(ask, entry)]


def _waits(ask: Asked, entry: Entry) -> bool:
    """Whether no wash on that day or since and no clean look since came after it, and it is not too old to count.

    A look so soon after a sighting that it is no second look (the house rule) tells nothing.
    """
    apart = timedelta(days=ask.rules.looks_apart_days)
    return (not any(ask.day(wash.at) >= ask.day(entry.at) for wash in pest_washes(ask))
            and not any(facts.clean and ask.day(look.at) >= ask.day(entry.at) + apart
                        for look, facts in pairs(ask.of(Looked), Looked))
            and ask.now - entry.at <= timedelta(days=ask.rules.sighting_days))


def _settled(ask: Asked, since: Entry) -> bool:
    """Whether a first wash was answered, done or declined, after that entry."""
    return any(answer.reply in ENDED and entry.at >= since.at
               for (kind, _, _), given in ask.answered.items() if kind == CareKind.FIRST_WASH.value
               for entry, answer in given)


def _course(ask: Asked, pest: Pest, seen: list[Entry], washes: list[Entry]) -> _Course | None:
    """The newest course against a pest, the last wash of each care day; None for a pest without an interval."""
    climate = ask.climate if rests_on_temperatures(washes[-1], ask.now) else None
    found = interval(pest, climate, washes[-1].at, ask.zone)
    if found is None:
        return None
    apart = COURSE_GAP.value * max(found.high, pest.repeat.high if pest.repeat else 0)
    course: list[Entry] = []
    for day, wash in {ask.day(entry.at): entry for entry in washes}.items():
        if course and ((day - ask.day(course[-1].at)).days > apart or _begins_again(found, course, seen, wash)):
            course = []
        course.append(wash)
    return _Course(pest, found, seen, course)


def _begins_again(found: Interval, course: list[Entry], seen: list[Entry], wash: Entry) -> bool:
    """Whether the pest was seen between the last wash of a whole course and this one."""
    return len(course) >= found.most and any(
        in_time(course[-1]) < in_time(entry) < in_time(wash) for entry in seen)


def _counts(ask: Asked, course: _Course) -> bool:
    """Whether the pest was seen near enough to the course for it to be against that pest."""
    return course.seen[-1].at >= course.washes[0].at - timedelta(days=ask.rules.sighting_days)


def _more(ask: Asked, course: _Course) -> bool:
    """Whether another wash is owed: up to the least number always, up to the most unless the newest look was clean."""
    given = len(course.washes)
    if given < course.interval.least:
        return True
    return given < course.interval.most and not _clean_since(ask, course.washes[-1])


def _clean_since(ask: Asked, last: Entry) -> bool:
    """Whether the newest look or sighting after the last wash was a clean look; one so soon that the wash masks the
    signs tells nothing."""
    later = [entry for entry in ask.of(Looked, Sighted) if in_time(entry) > in_time(last)
             and (isinstance(entry.facts, Sighted) or not masked(ask, last, entry))]
    return bool(later) and isinstance(facts := later[-1].facts, Looked) and facts.clean
