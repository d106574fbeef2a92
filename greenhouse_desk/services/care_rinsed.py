"""The answer that an agent left on a plant was rinsed off: the bench step it was waited for is done by it."""

from __future__ import annotations

from datetime import datetime

from greenhouse_desk.domain.bench import State
from greenhouse_desk.domain.bench_facts import wetted
from greenhouse_desk.domain.care_open import still_on
from greenhouse_desk.domain.journal import Step, Treated
from greenhouse_desk.store import bench, journal
from greenhouse_desk.store.engine import Session


def rinsed(session: Session, now: datetime, plant: int) -> int:
    """Write every rinse still to come on `plant` as done now, with what it made wet; returns the last entry's id."""
    entry = 0
    facts = [one.facts for one in still_on(journal.of_plant(session, plant))]
    for key in dict.fromkeys(one.rinse for one in facts if isinstance(one, Treated) and one.rinse is not None):
        run, step = bench.run_step(session, key)
        for told in wetted(step) or (Step(step.say),):
            entry = journal.add(session, now, told, plant, run=run, step=key)
        bench.change_step(session, key, State.DONE, now, ())
    return entry
