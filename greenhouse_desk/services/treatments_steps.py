"""Closing a bench step or a soak: its facts go into the journal, its state into the store."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime

from greenhouse_desk.domain.bench import Run, RunStep, Sitting, Soak, State
from greenhouse_desk.domain.bench_facts import Kept, Potting, facts_of_step
from greenhouse_desk.domain.bench_questions import question
from greenhouse_desk.domain.countdown import view
from greenhouse_desk.domain.protocols import Deed
from greenhouse_desk.services import house
from greenhouse_desk.store import bench, journal, plants
from greenhouse_desk.store.engine import Session


@dataclass(frozen=True, slots=True)
class Pressed:
    """What a press did, in words; `needs_second` when only a second press does it; `value` is where a dial stands,
    `also` what it changed elsewhere, in words."""

    words: str
    needs_second: bool = False
    value: int | None = None
    also: str = ""


def finish(session: Session, now: datetime, at: Sitting, run: Run, step: RunStep, kept: Kept) -> None:
    """Write the step's facts at `now` and close it."""
    potting = potting_of(session, run.plant) if step.step.deed is Deed.POT else Potting()
    for facts in facts_of_step(run, step, kept, potting, at.choices):
        journal.add(session, now, facts, run.plant, run=run.id, step=step.id)
    bench.change_step(session, step.id, State.DONE, now, step.found)


def end_soak(session: Session, now: datetime, at: Sitting, soak: Soak, asks: bool = True) -> bool:
    """End a soak at `now`; returns whether that was before its least. With `asks` its step's questions come next."""
    shown = view(soak, now)
    early = shown.to_least_s > 0
    bench.end_soak(session, soak.id, now, early)
    if soak.run is None:
        return early
    run = next(run for run in at.runs if run.id == soak.run)
    step = replace(next(step for step in run.steps if step.id == soak.step), found=())
    if asks and question(step, at.choices) is not None:
        bench.change_step(session, step.id, State.OPEN, now, ())
    else:
        finish(session, now, at, run, step, Kept(shown.elapsed_s / 60, early))
    return early


def kept_of(at: Sitting, step: RunStep) -> Kept:
    """How the soak of a step that still asks was kept; no contact time for hands work."""
    soak = next((soak for soak in reversed(at.soaks) if soak.step == step.id), None)
    if soak is None or soak.ended_at is None:
        return Kept()
    return Kept((soak.ended_at - soak.started_at).total_seconds() / 60, soak.early)


def potting_of(session: Session, plant: int) -> Potting:
    """What the plant stands in, or last stood in."""
    now = plants.plants(session, house.zone(session), [plant])
    return Potting(now[0].medium, now[0].pot) if now else Potting()
