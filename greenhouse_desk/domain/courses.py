"""Transitions as courses, read from a plant's journal: from the move to another medium until it is settled.

- A course begins with a potting that is the move to another medium, on a known day; the next such move ends it.
- It is settled when the grower says so, or by rule: at a look at the end of the usual weeks or later, when that
  look and the one before both show new tips and nothing amiss. The grower may overrule that; the course then goes on.
- A plant that died, left, or was not looked at any more counts as watched until then, and no longer.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta, tzinfo

from greenhouse_desk.domain.care_asked import in_time
from greenhouse_desk.domain.care_day import care_day, day_words
from greenhouse_desk.domain.care_reasons import WORKED_OUT
from greenhouse_desk.domain.care_values import Reason
from greenhouse_desk.domain.courses_signs import Seen
from greenhouse_desk.domain.courses_values import Course, End, Judged, Look, Verdict
from greenhouse_desk.domain.courses_verdict import GOOD_LOOKS, good, judge
from greenhouse_desk.domain.journal import (
    Entry,
    Leaving,
    Left,
    Overruled,
    Potted,
    Purpose,
    Roots,
    Settled,
    Sighted,
    Signs,
    Treated,
    Unpotted,
)
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.domain.transitions import SETTLED_WEEKS

OF_VERDICT = "verdict"


@dataclass(frozen=True, slots=True)
class Known:
    """What a course is read with: the house rules, its zone, the moment, rots by key, the plant's genus in full."""

    rules: HouseRules
    zone: tzinfo
    now: datetime
    rots: Mapping[str, str]
    genus: str = ""

    def day(self, at: datetime) -> date:
        """The care day of `at`."""
        return care_day(at, self.zone, self.rules)


def courses(history: History, known: Known) -> tuple[Course, ...]:
    """Every course of one plant, oldest first; entries after `known.now` have not happened yet."""
    entries = _so_far(history, known)
    moves = [place for place, entry in enumerate(entries) if _begins(entry)]
    return tuple(_course(entries[:start], entries[start:end], known, end is not None)
                 for start, end in zip(moves, [*moves[1:], None], strict=False))


def under_way(history: History, known: Known) -> Course | None:
    """The course of one plant that is under way, None where there is none: only the last one can be."""
    entries = _so_far(history, known)
    start = next((place for place in range(len(entries) - 1, -1, -1) if _begins(entries[place])), None)
    if start is None or _stop(entries[start:], known) is not None:
        return None
    return running([_course(entries[:start], entries[start:], known, False)])


def _so_far(history: History, known: Known) -> list[Entry]:
    return sorted((entry for entry in history.entries if entry.at <= known.now), key=in_time)


def running(found: Iterable[Course]) -> Course | None:
    """The course that is under way, None where there is none."""
    return next((course for course in found if course.end is End.RUNNING), None)


def _begins(entry: Entry) -> bool:
    return isinstance(entry.facts, Potted) and entry.facts.transition and entry.facts.day_known


def _course(before: Sequence[Entry], own: Sequence[Entry], known: Known, moved_on: bool) -> Course:
    first, potted = own[0], own[0].facts
    assert isinstance(potted, Potted)
    start = known.day(first.at)
    stop = _stop(own, known)
    watched = own if stop is None else own[:own.index(stop)]
    judged = _judged(start, watched, known)
    course = Course(own[0].plant or 0, known.genus, first.id, start, _medium(before), potted.medium, judged,
                    End.RUNNING, known.day(known.now), _stepped(start, watched, known))
    return _ended(course, stop, known, moved_on)


def _medium(before: Sequence[Entry]) -> str:
    return next((entry.facts.medium for entry in reversed(before) if isinstance(entry.facts, Potted)), "")


def _stop(own: Sequence[Entry], known: Known) -> Entry | None:
    """The entry that ends the course outright."""
    return next((entry for entry in own if isinstance(entry.facts, (Settled, Left))), None)


def _stepped(start: date, entries: Sequence[Entry], known: Known) -> tuple[date, ...]:
    days = {known.day(entry.at) for entry in entries if _is_stepping_in(entry)}
    return tuple(sorted(days - {start}))


def _is_stepping_in(entry: Entry) -> bool:
    facts = entry.facts
    if isinstance(facts, Potted):
        return facts.day_known
    return isinstance(facts, Unpotted) or (isinstance(facts, Treated) and facts.purpose is Purpose.ROOT_DISINFECTION)


def _judged(start: date, own: Sequence[Entry], known: Known) -> tuple[Judged, ...]:
    found: list[Judged] = []
    seen: list[Look] = []
    for look, overruled in _looks(start, own, known):
        weeks = (look.day - start).days // 7
        judged = judge(Seen(look, weeks, known.genus, tuple(seen)), overruled)
        found.append(replace(judged, asked_on=known.day(overruled[-1].at)) if overruled else judged)
        seen.append(look)
    return tuple(found)


def _looks(start: date, own: Sequence[Entry], known: Known) -> list[tuple[Look, list[Entry]]]:
    """The looks of a course by care day, each with the entries that overruled its verdict."""
    found: list[tuple[Look, list[Entry]]] = []
    for entry in own:
        if isinstance(entry.facts, Overruled) and entry.facts.of == OF_VERDICT and found:
            found[-1][1].append(entry)
        if not _tells(entry, known) or (day := known.day(entry.at)) == start:
            continue
        if not found or found[-1][0].day != day:
            found.append((Look(day, entry.at, entry.id), []))
        found[-1] = (_with(found[-1][0], entry, known), found[-1][1])
    return found


def _tells(entry: Entry, known: Known) -> bool:
    return isinstance(entry.facts, (Roots, Signs)) or (
        isinstance(entry.facts, Sighted) and entry.facts.what in known.rots)


def _with(look: Look, entry: Entry, known: Known) -> Look:
    facts = entry.facts
    look = replace(look, at=entry.at, entry=entry.id)
    if isinstance(facts, Roots):
        return replace(look, living=facts.living, dead=facts.dead, new_tips=facts.new_tips)
    if isinstance(facts, Sighted):
        return replace(look, rot=known.rots[facts.what])
    assert isinstance(facts, Signs)
    told = look.signs
    return replace(look, signs=Signs(facts.leaves or told.leaves, facts.stand or told.stand, facts.smell or told.smell,
                                     facts.crown or told.crown, facts.roots or told.roots,
                                     facts.growing or told.growing))


def _ended(course: Course, stop: Entry | None, known: Known, moved_on: bool) -> Course:
    by_rule = _settled_by_rule(course, known)
    if by_rule is not None:
        return by_rule
    if stop is not None:
        return _stopped(course, stop, known)
    seen = course.looks[-1].look.day if course.looks else course.start
    if moved_on:
        return replace(course, end=End.MOVED, last=seen)
    last_due = course.start + timedelta(days=max(known.rules.root_check_days))
    asked = [course.looks[-1].since + timedelta(days=course.looks[-1].days)] if course.looks else []
    awaited = max(last_due, *asked, seen)
    if awaited + timedelta(days=known.rules.lapse_days) < course.last:
        why = Reason(f"The last look was due on {day_words(awaited, course.last)} and was not taken within "
                     f"{known.rules.lapse_days} days.", "house rule")
        return replace(course, end=End.UNWATCHED, last=seen, why_ended=(why,))
    return course


def _stopped(course: Course, stop: Entry, known: Known) -> Course:
    day = known.day(stop.at)
    if isinstance(stop.facts, Left):
        died = stop.facts.how is Leaving.DEAD
        why = Reason(stop.facts.reason or stop.facts.how.value, f"journal entry {stop.id}")
        return replace(course, end=End.DIED if died else End.LEFT, last=day, why_ended=(why,))
    reason = f": {stop.facts.reason}" if isinstance(stop.facts, Settled) and stop.facts.reason else ""
    return replace(course, end=End.SETTLED, last=day,
                   why_ended=(Reason(f"You called it settled{reason}.", f"journal entry {stop.id}"),))


def _settled_by_rule(course: Course, known: Known) -> Course | None:
    """The course settled at the first late look that completes the good looks running, unless overruled there."""
    from_day = course.start + timedelta(days=round(7 * SETTLED_WEEKS.value) - known.rules.root_check_early_days)
    need = round(GOOD_LOOKS.value)
    for place, judged in enumerate(course.looks):
        running = course.looks[max(0, place + 1 - need):place + 1]
        fits = len(running) == need and all(good(one.look) and one.rule is not Verdict.STEP_IN for one in running)
        if judged.look.day >= from_day and fits and not judged.overruled:
            why = (*judged.why[:-1],
                   Reason(f"{need} looks running showed new tips and nothing amiss, the last of them after the usual "
                          f"{SETTLED_WEEKS.value:g} weeks.", f"{SETTLED_WEEKS.source}; {GOOD_LOOKS.source}"),
                   Reason(f"Settled on {day_words(judged.look.day, known.day(known.now))}.", WORKED_OUT))
            return replace(course, end=End.SETTLED, last=judged.look.day, looks=course.looks[:place + 1],
                           why_ended=why, by_rule=True)
    return None
