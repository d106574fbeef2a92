"""From the cleanest plant to the most suspect: what may carry something is not begun beside cleaner plants.

Working from the cleanest plant to the most suspect is common practice. That hands wait for a soak rather than begin a
suspect plant meanwhile follows from it: they would come back from it to the cleaner one.
"""

from __future__ import annotations

from greenhouse_desk.domain.bench_values import Run, Sitting, State

PEST_RANKS = {"clear": 0, "exposed": 1, "newcomer": 2, "suspect": 3, "under treatment": 4, "under watch": 4,
              "infested": 5}
PEST_STANDINGS = ("suspect", "infested", "under treatment", "under watch")
"""The standings of a plant that carries something, or may."""


def begun(run: Run) -> bool:
    """Whether hands were on this run; a step left out needs none."""
    return any(step.asking or step.state in (State.SOAKING, State.DONE) for step in run.steps)


def before_it(sitting: Sitting, run: Run) -> tuple[Run, ...]:
    """The runs of cleaner plants to be finished before `run` is begun: those before it in the queue, and those begun.

    None where its plant carries nothing as far as known, or once it is begun. One that the grower put in front of
    cleaner ones waits for none of them.
    """
    if run.standing not in PEST_STANDINGS or begun(run):
        return ()
    first = [other.id for other in sitting.runs].index(run.id)
    return tuple(other for place, other in enumerate(sitting.runs)
                 if rank(other) < rank(run) and (place < first or begun(other)))


def rank(run: Run) -> int:
    """How suspect the plant is, from 0 (clear)."""
    return PEST_RANKS.get(run.standing, 0)
