"""Stretches on a plant's lane, read from its journal: stays in places, holds of plain water, courses, soaks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime, time, timedelta, tzinfo

from greenhouse_desk.domain.care_day import care_day, day_words
from greenhouse_desk.domain.care_values import CareKind
from greenhouse_desk.domain.courses_values import Course, End
from greenhouse_desk.domain.journal import Answer, Entry, Left, Placed, Purpose, Reply, Treated
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.domain.timeline_values import Band, Look


def stays(entries: Sequence[Entry], places: Mapping[int, str], now: datetime) -> Iterator[Band]:
    """Where the plant stood, from each move to the next, to the day it left, or to `now` (aware)."""
    since: tuple[Entry, Placed] | None = None
    for entry in entries:
        facts = entry.facts
        if not isinstance(facts, Placed | Left) or (isinstance(facts, Placed) and since is not None
                                                    and since[1].place == facts.place):
            continue
        if since is not None:
            yield _stay(*since, entry.at, places)
        since = (entry, facts) if isinstance(facts, Placed) else None
    if since is not None:
        yield _stay(*since, max(now, since[0].at), places)


def _stay(entry: Entry, facts: Placed, end: datetime, places: Mapping[int, str]) -> Band:
    return Band(entry.at.timestamp(), end.timestamp(), Look.STAY, places.get(facts.place, "a place since removed"))


def holds(entries: Sequence[Entry], rules: HouseRules, zone: tzinfo, today: date) -> Iterator[Band]:
    """Plain water from each root disinfection until feed might resume, or until the grower ended it early.

    The same days as the rule of care counts (domain/care_water): the day of the disinfection is day 0, a later one
    extends the hold.
    """
    ended = {answer.origin: entry.at for entry in entries if isinstance(answer := entry.facts, Answer)
             and answer.care == CareKind.PLAIN_WATER.value and answer.reply is Reply.DECLINED}
    open_: Band | None = None
    for entry in entries if rules.plain_water_days else ():
        if not isinstance(entry.facts, Treated) or entry.facts.purpose is not Purpose.ROOT_DISINFECTION:
            continue
        until = care_day(entry.at, zone, rules) + timedelta(days=rules.plain_water_days)
        end = ended.get(entry.id, datetime.combine(until, time(), zone)).timestamp()
        start = entry.at.timestamp()
        if open_ is not None and start < open_.end:
            start = open_.start
        elif open_ is not None:
            yield open_
        open_ = Band(start, end, Look.HOLD, f"plain water until {day_words(until, today)}")
    if open_ is not None and open_.end > open_.start:
        yield open_


def courses(found: Sequence[Course], zone: tzinfo) -> Iterator[Band]:
    """Each transition from its potting until it was settled, ended otherwise, or until today."""
    for course in found:
        end = "under way" if course.end is End.RUNNING else course.end.value
        yield Band(_noon(course.start, zone), max(_noon(course.last, zone), _noon(course.start, zone) + 1.0),
                   Look.COURSE, f"{course.came_from or 'another medium'} to {course.medium}, {end}")


def soaks(entries: Sequence[Entry]) -> Iterator[Band]:
    """Each contact time that was kept, up to the moment its entry tells."""
    for entry in entries:
        if isinstance(entry.facts, Treated) and entry.facts.minutes:
            at = entry.at.timestamp()
            yield Band(at - entry.facts.minutes * 60, at, Look.SOAK, "soak")


def _noon(day: date, zone: tzinfo) -> float:
    return datetime.combine(day, time(12), zone).timestamp()
