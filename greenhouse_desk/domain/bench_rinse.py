"""An agent still on a plant: the soak that put it on was ended, and the rinse that takes it off was not done."""

from __future__ import annotations

from greenhouse_desk.domain.bench_turns import on_plant
from greenhouse_desk.domain.bench_values import Run, RunStep, State
from greenhouse_desk.domain.protocols import Deed, Work


def rinse_after(run: Run, soaked: RunStep) -> RunStep | None:
    """The first rinse of the plant that follows this soak of it, straight or after other steps; None where none does.
    """
    if soaked.step.work is not Work.SOAK or not on_plant(soaked.step):
        return None
    follows = {soaked.step.id}
    for step in run.steps:
        if follows.intersection(step.step.after):
            if step.step.deed is Deed.RINSE and on_plant(step.step):
                return step
            follows.add(step.step.id)
    return None


def unrinsed(run: Run) -> tuple[tuple[RunStep, RunStep], ...]:
    """Each soak of the plant that was ended with its agent still on, and the rinse that takes it off.

    A rinse that was skipped because the work was stopped leaves the agent on all the same.
    """
    ended = [step for step in run.steps if step.state in (State.OPEN, State.DONE) and step.done_at is not None]
    pairs = [(step, rinse_after(run, step)) for step in ended]
    return tuple((step, rinse) for step, rinse in pairs if rinse is not None and rinse.state is not State.DONE)
