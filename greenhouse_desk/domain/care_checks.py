"""Looks that are owed some days after something: at a wetted crown, a cut, repotted roots, or as a protocol asks.

How the looks of one kind behave:
- A look is open from its `opens` day; a fitting entry from that day on, or the answer "done", ends it. Which entries
  fit: crown and cut, an inspection or a sighting; roots, a root count, signs or a new potting; a protocol's
  own look, any inspection, sighting or root count. Nothing is looked for after a plant was called settled.
- One look, or one answer "done" or "declined", also ends the earlier ones of its kind. Where several have fallen due,
  only the last is shown, and it tells which one was not taken.
- A newer cause (a new cut, a new wetting, a new potting) starts the count again: looks of the older cause that had not
  fallen due by then are dropped.
- "Put off" moves the look to the new date, and with it those it stood for; "missed" leaves it open.
- A look not taken lapses some days after its last day (a house rule): by then it no longer tells what it was for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta

from greenhouse_desk.domain.care_asked import Asked, in_time, pairs
from greenhouse_desk.domain.care_reasons import (
    answer_reason,
    conclusion,
    due_words,
    entry_words,
    figure,
    listed_days,
    on,
    told,
)
from greenhouse_desk.domain.care_values import Care, CareKind, PutOff, Reason
from greenhouse_desk.domain.figures import counted
from greenhouse_desk.domain.journal import (
    Answer,
    Arrived,
    Cut,
    Entry,
    Facts,
    Looked,
    Part,
    Potted,
    Reply,
    Roots,
    Settled,
    Sighted,
    Signs,
    Unpotted,
    Wetted,
)


@dataclass(frozen=True, slots=True)
class Series:
    """One kind of look: its words, the entries that end it, how early it opens, and the reason for a given day."""

    kind: CareKind
    what: str
    short: str
    ended_by: tuple[type[Facts], ...]
    reason: Callable[[Asked, int], Reason]
    early: int = 0


@dataclass(frozen=True, slots=True)
class Cause:
    """An entry that owes looks, the days after it on which they are due, and the number of the first of them."""

    entry: Entry
    days: tuple[int, ...]
    first: int = 0


@dataclass(frozen=True, slots=True)
class _Look:
    cause: Cause
    nth: int
    offset: int
    opens: date
    due: date
    latest: date
    answers: tuple[tuple[Entry, Answer], ...]
    put_off: PutOff | None = None

    @property
    def settled(self) -> bool:
        return any(answer.reply in (Reply.DONE, Reply.DECLINED) for _, answer in self.answers)


def looks(ask: Asked, series: Series, causes: Iterable[Cause]) -> tuple[Care, ...]:
    """The looks of one series that are still owed, in the order they fall due."""
    planned = _planned(ask, series, list(causes))
    if not planned:
        return ()
    settled = max((look.due for look in planned if look.settled), default=date.min)
    ends = [entries[-1].at for kind in series.ended_by if (entries := ask.told.get(kind))]
    seen = ask.day(max(ends)) if ends else date.min
    waits = max((look.due for look in planned if _put_off_when_due(ask, look)), default=date.min)
    still = [_put_off(look) for look in planned if look.due > settled and look.opens > seen and look.due >= waits]
    open_looks = [look for look in still if ask.today <= look.latest + timedelta(days=ask.rules.lapse_days)]
    return _newest_due_only(ask, series, sorted(open_looks, key=lambda look: look.due))


def _planned(ask: Asked, series: Series, causes: list[Cause]) -> list[_Look]:
    """Every look of these causes that has not been overtaken by a newer cause, lapsed ones without answers left out."""
    return [look for cause, newer in zip(causes, [*causes[1:], None], strict=False)
            if not _long_past(ask, cause)
            for look in _of_cause(ask, series, cause, date.max if newer is None else ask.day(newer.entry.at))]


def _long_past(ask: Asked, cause: Cause) -> bool:
    """Whether all looks of a cause have lapsed, with days to spare, and no answer could have moved one."""
    waited = ask.now - cause.entry.at
    return waited.days > 2 * max(cause.days, default=0) + ask.rules.lapse_days + 4 and (
        cause.entry.id not in ask.answered_entries)


def _of_cause(ask: Asked, series: Series, cause: Cause, newer: date) -> Iterable[_Look]:
    start = ask.day(cause.entry.at)
    for place, offset in enumerate(cause.days):
        due = start + timedelta(days=offset)
        latest = due + timedelta(days=_slack(cause.days, place))
        answers = tuple(ask.answers(series.kind, cause.entry.id, cause.first + place))
        lapsed = latest + timedelta(days=ask.rules.lapse_days) < ask.today
        if due < newer and (answers or not lapsed):
            opens = max(start + timedelta(days=1), due - timedelta(days=series.early))
            yield _Look(cause, cause.first + place, offset, opens, due, latest, answers)


def _slack(days: tuple[int, ...], place: int) -> int:
    """Days a look may wait: until the one after it is due; the last as long as the one before it, a lone one 2."""
    if place + 1 < len(days):
        return days[place + 1] - days[place] - 1
    return days[place] - days[place - 1] - 1 if place else 2


def _put_off_when_due(ask: Asked, look: _Look) -> bool:
    """Whether it was put off once it had fallen due: it stood for the earlier ones, which went with it."""
    return any(answer.reply is Reply.PUT_OFF and ask.day(entry.at) >= look.due for entry, answer in look.answers)


def _put_off(look: _Look) -> _Look:
    """The look with its window moved to the date it was put off to last."""
    dates = [answer.until for _, answer in look.answers if answer.reply is Reply.PUT_OFF and answer.until]
    if not dates:
        return look
    moved = max(dates[-1], look.opens)
    return replace(look, opens=moved, due=moved, latest=moved + (look.latest - look.due),
                   put_off=None if moved == look.due else PutOff(look.due, moved))


def _newest_due_only(ask: Asked, series: Series, open_looks: list[_Look]) -> tuple[Care, ...]:
    fallen = [look for look in open_looks if look.due <= ask.today]
    rest = [_care(ask, series, look, ()) for look in open_looks[len(fallen):]]
    return (_care(ask, series, fallen[-1], fallen[:-1]), *rest) if fallen else tuple(rest)


def _care(ask: Asked, series: Series, look: _Look, not_taken: Iterable[_Look]) -> Care:
    why = (*told(ask, look.cause.entry, entry_words(ask, look.cause.entry)), series.reason(ask, look.offset),
           *(answer_reason(ask, entry, answer) for entry, answer in look.answers), *_not_taken(ask, list(not_taken)),
           due_words(ask, None, look.due, look.latest))
    missed = [entry.at for entry, answer in look.answers if answer.reply is Reply.MISSED]
    return Care(ask.plant.number, series.kind, series.what, series.short, look.opens, look.due, look.latest, why,
                look.cause.entry.id, look.nth, place=ask.plant.place, missed=missed[-1] if missed else None,
                put_off=look.put_off)


def _not_taken(ask: Asked, skipped: list[_Look]) -> tuple[Reason, ...]:
    """The earlier looks this one stands for."""
    if not skipped:
        return ()
    days = listed_days([on(one.due, ask) for one in skipped])
    many = f"The looks due on {days} were" if len(skipped) > 1 else f"The look due on {days} was"
    return (conclusion(f"{many} not taken; this one stands for {'them' if len(skipped) > 1 else 'it'}."),)


def _day_reason(names: tuple[tuple[str, int], ...], words: str) -> Callable[[Asked, int], Reason]:
    """A reason for "so many days after": the house rule among `names` (with its days per unit) that gives that day."""

    def reason(ask: Asked, offset: int) -> Reason:
        name = next(name for name, unit in names if getattr(ask.rules, name) * unit == offset)
        return figure(ask, name, f"{words} is looked at {counted(offset, 'day')} after; the day itself is day 0.")

    return reason


ROOT_RULES = ("root_check_first", "root_check_second", "root_check_third", "root_check_fourth", "root_check_last")
CROWN = Series(CareKind.CROWN_CHECK, "Look at the crown for rot: soft, dark or wet at the base of a leaf",
               "crown check", (Looked, Sighted),
               _day_reason((("crown_check_first", 1), ("crown_check_second", 1)), "A crown that was wet"))
CUT = Series(CareKind.CUT_CHECK, "Look at the cut: dry and closed, not dark, soft or spreading", "cut check",
             (Looked, Sighted), _day_reason((("cut_check_first", 1), ("cut_check_second", 1)), "A cut"))
ROOT = Series(CareKind.ROOT_CHECK, "Look at the roots and at how firmly the plant stands; count what shows",
              "root check", (Roots, Signs, Unpotted, Potted),
              _day_reason(tuple((name, 7) for name in ROOT_RULES), "A repotted plant"))


def crown_checks(ask: Asked) -> tuple[Care, ...]:
    """Looks at a crown after it was wet; the first wetting of a care day counts."""
    wet = [entry for entry, facts in pairs(ask.of(Wetted), Wetted) if {Part.CROWN, Part.PLANT} & set(facts.parts)]
    return looks(ask, CROWN, (Cause(entry, ask.rules.crown_check_days) for entry in _first_of_days(ask, wet)))


def cut_checks(ask: Asked) -> tuple[Care, ...]:
    """Looks at cuts; the first cut of a care day counts for all made on it."""
    return looks(ask, CUT, (Cause(entry, ask.rules.cut_check_days) for entry in _first_of_days(ask, ask.of(Cut))))


def root_checks(ask: Asked) -> tuple[Care, ...]:
    """Looks at the roots after a repot or a move to another medium. What a plant came in owes nothing."""
    came_in = _came_in(ask)
    settled = max((in_time(entry) for entry in ask.of(Settled)), default=None)
    repots = [entry for entry, facts in pairs(ask.of(Potted), Potted) if facts.day_known and entry is not came_in
              and (settled is None or in_time(entry) > settled)]
    series = replace(ROOT, early=ask.rules.root_check_early_days)
    return looks(ask, series, (Cause(entry, ask.rules.root_check_days) for entry in _first_of_days(ask, repots)))


def protocol_checks(ask: Asked) -> tuple[Care, ...]:
    """Looks a protocol's own steps asked for; the same look asked for again starts its count again."""
    causes: dict[tuple[str, str], list[Cause]] = {}
    for entry in ask.checked:
        first = 0
        for check in entry.checks:
            causes.setdefault((check.what, check.why), []).append(Cause(entry, check.days, first))
            first += len(check.days)
    return tuple(care for (what, why), of_it in causes.items() for care in looks(ask, _protocol(what, why), of_it))


def _protocol(what: str, why: str) -> Series:
    def reason(ask: Asked, offset: int) -> Reason:
        asks = f"The protocol asks for it {counted(offset, 'day')} after that step"
        return Reason(f"{asks}: {why}." if why else f"{asks}.", "the protocol as it was when the run started")

    return Series(CareKind.CHECK, what, what, (Looked, Sighted, Roots), reason)


def _came_in(ask: Asked) -> Entry | None:
    """The potting that tells what the plant came in: its first, no move, not at the bench, by the day it arrived."""
    pots = ask.of(Potted, Unpotted)
    if not pots or not isinstance(first := pots[0].facts, Potted) or first.transition or pots[0].run is not None:
        return None
    arrived = ask.of(Arrived)
    return pots[0] if not arrived or ask.day(pots[0].at) <= ask.day(arrived[0].at) else None


def _first_of_days(ask: Asked, entries: Iterable[Entry]) -> list[Entry]:
    days: dict[date, Entry] = {}
    for entry in entries:
        days.setdefault(ask.day(entry.at), entry)
    return list(days.values())
