"""Stretches on a plant's lane, read from its journal: stays in places, holds of plain water, courses, soaks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime, time, timedelta, tzinfo
from math import isfinite

from greenhouse_desk.domain.bench import Soak
from greenhouse_desk.domain.care_day import care_day, day_words
from greenhouse_desk.domain.care_values import CareKind
from greenhouse_desk.domain.courses_forecast import NoOutlook, Outlook
from greenhouse_desk.domain.courses_values import Course, End, Verdict
from greenhouse_desk.domain.journal import Answer, Entry, Left, Placed, Purpose, Reply, Treated
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.domain.timeline_values import Band, Look

MINUTE = 60.0


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


def courses(found: Sequence[Course], entries: Sequence[Entry], now: datetime, zone: tzinfo,
            today: date) -> Iterator[Band]:
    """Each transition from its potting until the noon of the day it was settled or ended otherwise, or until now."""
    begun = {entry.id: entry.at.timestamp() for entry in entries}
    for course in found:
        running = course.end is End.RUNNING
        end = "under way" if running else f"{course.end.value} {day_words(course.last, today)}"
        start = begun.get(course.origin, _noon(course.start, zone))
        last = now.timestamp() if running else _noon(course.last, zone)
        yield Band(start, max(last, start + 1.0), Look.COURSE,
                   f"{course.came_from or 'another medium'} to {course.medium}, {end}")


def forecast(course: Course, seen: Outlook | NoOutlook, now: datetime, zone: tzinfo) -> Iterator[Band]:
    """When a course under way is likely to be settled, as far as it is still to come; nothing where too few tell."""
    if isinstance(seen, NoOutlook):
        return
    soonest = now.timestamp()
    early, *inner, late = (max(_noon_after(course.start, days, zone), soonest) for days in (
        seen.early, seen.quarter, seen.likely, seen.three_quarters, seen.late))
    title = "settled later than the record reaches"
    if isfinite(seen.likely):
        likely = course.start + timedelta(days=round(seen.likely))
        title = f"settled, likely {day_words(likely, now.astimezone(zone).date())}"
    if course.verdict is Verdict.STEP_IN:
        title += ", if it follows the others"
    yield Band(early, max(late, early + 1.0), Look.FORECAST, title, tuple(inner))


def soaks(entries: Sequence[Entry], kept: Sequence[Soak], now: datetime) -> Iterator[Band]:
    """Each contact time: those kept at the bench with their least and most, one under way until `now`; those only
    written down by their minutes, up to the moment the entry tells.
    """
    steps = {soak.step for soak in kept if soak.step is not None}
    for soak in kept:
        start, end = soak.started_at.timestamp(), (soak.ended_at or now).timestamp()
        least, most = start + soak.least_s, start + soak.most_s
        told = f"{soak.least_s / MINUTE:g} to {soak.most_s / MINUTE:g} min"
        running = "under way, " if soak.ended_at is None else f"{(end - start) / MINUTE:.0f} min of "
        yield Band(start, max(end, most), Look.SOAK, f"{running}{told}", (least, most, end))
    for entry in entries:
        if isinstance(entry.facts, Treated) and entry.facts.minutes and entry.step not in steps:
            end = entry.at.timestamp()
            yield Band(end - entry.facts.minutes * MINUTE, end, Look.SOAK, f"{entry.facts.minutes:g} min", (end,))


def _noon_after(day: date, days: float, zone: tzinfo) -> float:
    """The local noon so many days after `day`, whatever the clock did meanwhile; infinite like `days`."""
    return _noon(day + timedelta(days=round(days)), zone) if isfinite(days) else days


def _noon(day: date, zone: tzinfo) -> float:
    return datetime.combine(day, time(12), zone).timestamp()
