"""Deciding at the bench: a step left out and why, the work on a plant stopped, a session ended with something open."""

from __future__ import annotations

from datetime import datetime

from greenhouse_desk.domain.bench import Question, Run, RunStep, Sitting, State
from greenhouse_desk.domain.bench_deciding import BACK, why_ended
from greenhouse_desk.domain.bench_questions import answers
from greenhouse_desk.domain.bench_turns import in_vain, still_open
from greenhouse_desk.domain.bench_values import LEAVING
from greenhouse_desk.domain.journal import Step
from greenhouse_desk.domain.protocols import Asks
from greenhouse_desk.services.desk import Done
from greenhouse_desk.services.treatments_ending import end_now
from greenhouse_desk.services.treatments_sitting import PRESSES
from greenhouse_desk.services.treatments_steps import Pressed
from greenhouse_desk.store import bench, journal
from greenhouse_desk.store.engine import Session


def ask_why_left_out(session: Session, run: Run, step: RunStep) -> Done[Pressed]:
    """Ask why a soak is to be left out: nothing is left out yet."""
    bench.change_step(session, step.id, State.OPEN, None, LEAVING)
    return Done(f"Leave out? {run.plant} {step.step.deed.word}", PRESSES, Pressed("Why is it left out?"))


def leave_out(session: Session, now: datetime, run: Run, step: RunStep, asked: Question, why: int) -> Done[Pressed]:
    """Leave the soak out with its reason, and with it what would only have rinsed it off and dried the plant again."""
    if why == BACK:
        bench.change_step(session, step.id, State.OPEN, None, ())
        return Done(f"Not left out: {run.plant} {step.step.deed.word}", PRESSES, Pressed("It stays."))
    bench.change_step(session, step.id, State.SKIPPED, now, ())
    for other in in_vain(run, step):
        bench.change_step(session, other.id, State.SKIPPED, None, (step.id,))
    told = f"Left out: {step.step.say}: {asked.choices[why]}"
    journal.add(session, now, Step(told), run.plant, run=run.id, step=step.id)
    return Done(f"Left out: {run.plant} {step.step.deed.word}", PRESSES, Pressed("Left out."))


def stop(session: Session, now: datetime, at: Sitting, run: Run, step: RunStep) -> None:
    """Stop with this plant at `step`: what is not begun is skipped; what stands open on the plant stays open."""
    numbers = answers(step, at.choices).numbers
    dead, living = numbers.get(Asks.DEAD), numbers.get(Asks.LIVING)
    why = step.step.say if dead is None or living is None else f"{dead} of {dead + living} roots dead"
    for other in run.steps:
        if other.state is State.OPEN and other.id != step.id:
            bench.change_step(session, other.id, State.SKIPPED, None, (step.id,))
    journal.add(session, now, Step(f"Stopped with this plant: {why}"), run.plant, run=run.id, step=step.id)


def ask_why_ended(session: Session, now: datetime, at: Sitting) -> Done[Pressed]:
    """End the session; with something left open it is asked why first."""
    left = still_open(at)
    if not left:
        return end_now(session, now, at)
    bench.mark(session, at.id, loose_ends=left)
    return Done("End the session?", PRESSES, Pressed(" ".join(left)))


def end_for(session: Session, now: datetime, at: Sitting, why: int) -> Done[Pressed]:
    """End the session for the reason chosen, or go on with it."""
    if why == BACK:
        bench.mark(session, at.id)
        return Done("Not ended", PRESSES, Pressed("See to it first."))
    return end_now(session, now, at, why_ended().choices[why])


def reopen_skipped(session: Session, run: Run, cause: int) -> None:
    """Open the steps again that were skipped because of the step `cause`."""
    for step in run.steps:
        if step.state is State.SKIPPED and step.found == (cause,):
            bench.change_step(session, step.id, State.OPEN, None, ())
