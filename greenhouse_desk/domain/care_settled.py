"""One piece of care under its answers: done and declined end it, put off moves it, missed leaves it open."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from greenhouse_desk.domain.care_asked import Asked
from greenhouse_desk.domain.care_reasons import answer_reason, due_words
from greenhouse_desk.domain.care_values import Care, CareKind, PutOff, Reason
from greenhouse_desk.domain.journal import Entry, Reply


@dataclass(frozen=True, slots=True)
class Window:
    """Care days: open from, due on, at the latest on."""

    opens: date
    due: date
    latest: date

    def moved(self, to: date) -> Window:
        """The window put off to a new date, as long as it was."""
        return Window(to, to, to + (self.latest - self.due))


def over(ask: Asked, kind: CareKind, window: Window, origin: Entry) -> bool:
    """Whether a care that lapses lies too far back and no answer can have moved it: no reason need be given then."""
    return not ask.answers(kind, origin.id, 0) and _lapsed(ask, window)


def _lapsed(ask: Asked, window: Window) -> bool:
    return window.latest + timedelta(days=ask.rules.lapse_days) < ask.today


def owe(ask: Asked, kind: CareKind, what: str, short: str, window: Window, why: tuple[Reason, ...], origin: Entry, *,
        lapses: bool = False) -> tuple[Care, ...]:
    """The care, unless an answer ended it, or (with `lapses`) its last day lies too far back; none or one."""
    missed, first = None, window.due
    for entry, answer in ask.answers(kind, origin.id, 0):
        if answer.reply in (Reply.DONE, Reply.DECLINED):
            return ()
        why = (*why, answer_reason(ask, entry, answer))
        if answer.reply is Reply.PUT_OFF and answer.until is not None:
            window = window.moved(max(answer.until, window.opens))
        if answer.reply is Reply.MISSED:
            missed = entry.at
    if lapses and _lapsed(ask, window):
        return ()
    why = (*why, due_words(ask, window.opens, window.due, window.latest))
    return (Care(ask.plant.number, kind, what, short, window.opens, window.due, window.latest, why, origin.id,
                 place=ask.plant.place, missed=missed,
                 put_off=None if window.due == first else PutOff(first, window.due)),)
