"""Deciding at the bench: a step left out and why, the work on a plant stopped, a session ended with something open."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

from greenhouse_desk.domain.bench import LooseEnd, LooseKind, Question, Run, RunStep, Sitting, State
from greenhouse_desk.domain.bench_deciding import BACK, left_knowingly, why_ended
from greenhouse_desk.domain.bench_facts import Kept, potted
from greenhouse_desk.domain.bench_open import left_on, still_open, stopped
from greenhouse_desk.domain.bench_questions import answers
from greenhouse_desk.domain.bench_rinse import unrinsed
from greenhouse_desk.domain.bench_turns import in_vain
from greenhouse_desk.domain.bench_values import LEAVING
from greenhouse_desk.domain.journal import Aired, Dressed, Facts, Step
from greenhouse_desk.domain.journal_words import FOR_NOW, STOPPED
from greenhouse_desk.domain.protocols import Asks, Deed, ProtocolStep
from greenhouse_desk.services.desk import Done
from greenhouse_desk.services.treatments_ending import end_now
from greenhouse_desk.services.treatments_sitting import PRESSES
from greenhouse_desk.services.treatments_steps import Pressed, finish, potting_of
from greenhouse_desk.store import bench, journal
from greenhouse_desk.store.engine import Session

BACK_INTO_ITS_OWN = ProtocolStep("", "", "", Deed.POT)


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
    """Stop with this plant at `step`: what is not begun is skipped; what stands open on the plant is seen to next, or
    left so knowingly, and the entry says it."""
    told = answers(step, at.choices)
    dead, living = told.numbers.get(Asks.DEAD), told.numbers.get(Asks.LIVING)
    why = step.step.say if dead is None or living is None else f"{dead} of {dead + living} roots dead"
    for other in run.steps:
        if other.state is State.OPEN and other.id != step.id:
            bench.change_step(session, other.id, State.SKIPPED, None, (step.id,))
    left = left_knowingly(left_on(at, run)) if told.leaves_open else ""
    journal.add(session, now, Step(f"{STOPPED}: {why}{f'; {left}, left so knowingly' if left else ''}"), run.plant,
                run=run.id, step=step.id)


def take_way_out(session: Session, now: datetime, at: Sitting, loose: LooseEnd) -> Done[Pressed]:
    """The way out of something left open on a plant was taken: it is written down."""
    if loose.kind is LooseKind.AGENT:
        return _rinse(session, now, at, loose)
    run = next(run for run in at.runs if run.plant == loose.plant)
    ways: dict[LooseKind, Callable[[], Facts]] = {
        LooseKind.CUT: Dressed, LooseKind.WET: Aired,
        LooseKind.UNPOTTED: lambda: potted(_pot_step(at, run), potting_of(session, run.plant))}
    note = FOR_NOW if loose.kind is LooseKind.UNPOTTED and stopped(at, run) else ""
    journal.add(session, now, ways[loose.kind](), loose.plant, note=note, run=run.id)
    return Done(f"Next: {loose.way_out}", PRESSES, Pressed("Done."))


def _rinse(session: Session, now: datetime, at: Sitting, loose: LooseEnd) -> Done[Pressed]:
    """The rinse that was still to come, or was skipped when the work was stopped, is done now."""
    run = next(run for run in at.runs if run.plant == loose.plant and unrinsed(run))
    for rinse in {rinse.id: rinse for _, rinse in unrinsed(run)}.values():
        finish(session, now, at, run, replace(rinse, found=()), Kept())
    return Done(f"Next: {loose.way_out}", PRESSES, Pressed("Done."))


def _pot_step(at: Sitting, run: Run) -> ProtocolStep:
    """The run's potting step; a plain one back into the same medium where it has none or the work was stopped."""
    if stopped(at, run):
        return BACK_INTO_ITS_OWN
    return next((step.step for step in run.steps if step.step.deed is Deed.POT), BACK_INTO_ITS_OWN)


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
