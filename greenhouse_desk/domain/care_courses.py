"""What a transition's verdict owes: another look after some days, or hands at the bench now."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from greenhouse_desk.domain.care_asked import Asked, in_time
from greenhouse_desk.domain.care_checks import Cause, Series, looks
from greenhouse_desk.domain.care_reasons import WORKED_OUT, conclusion, on
from greenhouse_desk.domain.care_settled import Window, owe
from greenhouse_desk.domain.care_values import Care, CareKind, Reason
from greenhouse_desk.domain.courses import Known, under_way
from greenhouse_desk.domain.courses_values import Judged, Verdict
from greenhouse_desk.domain.figures import Constant, counted
from greenhouse_desk.domain.journal import Entry, Potted, Roots, Signs, Treated, Unpotted
from greenhouse_desk.domain.names_genera import full_genus
from greenhouse_desk.domain.plants import History

STEP_IN_WITHIN = Constant(2, "days", "to step in after a look that asks for it", "house rule")
WHAT = "Look again at roots, leaves and stand: the last look left a doubt"


def course_care(ask: Asked) -> tuple[Care, ...]:
    """What the last look of a transition under way asks for; nothing where it says to stay the course."""
    if not any(isinstance(entry.facts, Potted) and entry.facts.transition for entry in ask.of(Potted)):
        return ()
    entries = tuple(sorted((entry for of_kind in ask.told.values() for entry in of_kind), key=in_time))
    rots = {key: pest.name for key, pest in ask.pests.items() if key.endswith("-rot")}
    known = Known(ask.rules, ask.zone, ask.now, rots, full_genus(ask.plant.name, ask.genera))
    course = under_way(History(ask.plant, entries), known)
    if course is None or not course.looks:
        return ()
    last = course.looks[-1]
    origin = next(entry for entry in entries if entry.id == (last.entry or last.look.entry))
    again = _again(ask, last, origin) if last.days else ()
    return (*(_step_in(ask, last, origin) if last.verdict is Verdict.STEP_IN else ()), *again)


def _step_in(ask: Asked, last: Judged, origin: Entry) -> tuple[Care, ...]:
    hands = ask.of(Unpotted, Potted, Treated)
    if hands and in_time(hands[-1]) > in_time(origin):
        return ()
    window = Window(last.since, last.since, last.since + timedelta(days=round(STEP_IN_WITHIN.value)))
    return owe(ask, CareKind.STEP_IN, f"Step in: {last.line}", "step in", window, last.why, origin, lapses=True)


def _again(ask: Asked, last: Judged, origin: Entry) -> tuple[Care, ...]:
    def reason(_ask: Asked, offset: int) -> Reason:
        if last.overruled:
            return conclusion(f"You said on {on(last.since, ask)}: {last.verdict.value}. Another look is due "
                              f"{counted(offset, 'day')} after that.")
        return conclusion(f"The look of {on(last.look.day, ask)} says: {last.verdict.value}, {last.line}. Another is "
                          f"due {counted(offset, 'day')} after it.")

    series = Series(CareKind.LOOK_AGAIN, WHAT, "look again", (Roots, Signs, Unpotted, Potted), reason)
    found = looks(ask, series, [Cause(origin, (last.days,))])
    seen = tuple(reason for reason in last.why if reason.source != WORKED_OUT)
    return tuple(replace(care, why=(*seen, *care.why[1:])) for care in found)
