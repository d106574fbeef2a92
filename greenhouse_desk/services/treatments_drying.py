"""Before the bench: whether what the plan makes wet is dry in time, and by when the session would have to begin."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from greenhouse_desk.domain.airflow import Verdict, can_dry, limit
from greenhouse_desk.domain.bench import Plan
from greenhouse_desk.domain.bench_facts import DRIES_IN_AIR
from greenhouse_desk.domain.care_day import clock_words
from greenhouse_desk.domain.plants import Plant
from greenhouse_desk.domain.protocols import Protocol
from greenhouse_desk.services.care import Surroundings

Wetted = tuple[Plant, Verdict, float]


def drying_of(around: Surroundings, now: datetime, chosen: Sequence[tuple[Plant, Protocol]],
              timed: Plan) -> tuple[Verdict, str]:
    """The worst verdict over the plants, each taken as wet from the last step that wets leaves or crown, its words
    naming every plant that may not be dry in time; and when it would be possible, "" where it is."""
    found: list[Wetted] = []
    for plant, protocol in chosen:
        wets = {step.id for step in protocol.steps if DRIES_IN_AIR.intersection(step.wets)}
        ends = [bar.end_min for bar in timed.steps if bar.plant == plant.number and bar.step in wets]
        if ends:
            said = can_dry(around.around(plant.place), now + timedelta(minutes=max(ends)), around.rules)
            found.append((plant, replace(said, words=f"{plant.number}: {said.words}"), max(ends)))
    if not found:
        return Verdict(True, "Nothing that has to dry is made wet.", ()), ""
    verdicts = [verdict for _, verdict, _ in found]
    worst = max(reversed(verdicts), key=_badness)
    late = [verdict.words for verdict in verdicts if _badness(verdict)]
    possible = _possible(found, around) if worst.ok is False else ""
    return replace(worst, words=" ".join(late) or worst.words), possible


def _possible(found: Sequence[Wetted], around: Surroundings) -> str:
    """By when to begin another day, with the fan on, so that every plant is wetted in time."""
    begins: list[datetime] = []
    for plant, verdict, minutes in found:
        if verdict.start_by is None or verdict.with_fan is None:
            return HOPELESS
        by = verdict.start_by + timedelta(hours=verdict.with_fan.high)
        begin = verdict.start_by - timedelta(minutes=minutes)
        then, _ = limit(around.around(plant.place), begin, around.rules)
        if then is not None and then < by:  # it would have to begin in the night before
            return HOPELESS
        begins.append(begin)
    wet_by = min(verdict.start_by for _, verdict, _ in found if verdict.start_by is not None)
    return (f"Possible another day: with the fan on, rinse by {clock_words(wet_by, around.zone)}, where these plants "
            f"stand; for this plan that means to begin by {clock_words(min(begins), around.zone)}. {SLOWEST}")


SLOWEST = "(The time to rinse by that stands under the clock is that of the slowest bench in the house.)"


HOPELESS = ("In this air no hour of the day is early enough, even with the fan on: warm or dry the room first, or "
            "choose what wets no leaves.")


def _badness(verdict: Verdict) -> int:
    return {True: 0, None: 1, False: 2}[verdict.ok]
