"""Bench sessions, runs, steps, soaks and tool uses: rows in, domain values out."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import lru_cache
from typing import cast

from sqlalchemy import Text, delete, select, type_coerce, update
from sqlalchemy.orm import Session

from greenhouse_desk.domain.bench import Run, RunStep, Soak, State, ToolUse
from greenhouse_desk.domain.journal import read, written
from greenhouse_desk.domain.protocols import ProtocolStep
from greenhouse_desk.store.tables import EntryRow, PlantRow, RunRow, RunStepRow, SessionRow, SoakRow, ToolUseRow


@dataclass(frozen=True, slots=True)
class Sat:
    """A bench session as kept: when it started, ended and was left (aware UTC), and what was left open at its end."""

    id: int
    started_at: datetime
    ended_at: datetime | None
    left_at: datetime | None
    loose_ends: tuple[str, ...]


def add_session(session: Session, at: datetime) -> int:
    """A new bench session; returns its id."""
    row = SessionRow(started_at=at, loose_ends=[])
    session.add(row)
    session.flush()
    return row.id


def one(session: Session, sitting: int) -> Sat | None:
    """The bench session with this id."""
    row = session.get(SessionRow, sitting)
    return None if row is None else _sat(row)


def unended(session: Session) -> tuple[Sat, ...]:
    """Bench sessions that were not ended, newest first."""
    rows = session.scalars(select(SessionRow).where(SessionRow.ended_at.is_(None)).order_by(SessionRow.id.desc()))
    return tuple(_sat(row) for row in rows)


def newest(session: Session) -> Sat | None:
    """The bench session that was begun last."""
    return next(iter(latest(session, 1)), None)


def latest(session: Session, most: int) -> tuple[Sat, ...]:
    """The bench sessions that were begun last, newest first, at most `most`."""
    rows = session.scalars(select(SessionRow).order_by(SessionRow.id.desc()).limit(most))
    return tuple(_sat(row) for row in rows)


def mark(session: Session, sitting: int, ended_at: datetime | None = None, left_at: datetime | None = None,
         loose_ends: Iterable[str] = ()) -> None:
    """Keep that a session was ended or left (both None: taken up again), and what stood open."""
    session.execute(update(SessionRow).where(SessionRow.id == sitting).values(
        ended_at=ended_at, left_at=left_at, loose_ends=list(loose_ends)))


def add_run(session: Session, sitting: int, run: Run) -> int:
    """A run and the copies of its steps (their ids and the run's are given by the store); returns the run's id."""
    row = RunRow(session=sitting, plant=run.plant, protocol=run.protocol, title=run.title, position=run.order,
                 standing=run.standing, standing_why=run.standing_why)
    session.add(row)
    session.flush()
    for step in run.steps:
        session.add(RunStepRow(run=row.id, ordinal=step.ordinal, step=written(step.step), state=step.state.value,
                               found=[]))
    session.flush()
    return row.id


def runs(session: Session, sitting: int) -> tuple[Run, ...]:
    """A session's runs in queue order, each with its steps."""
    steps = _steps(session, sitting)
    rows = session.execute(
        select(RunRow.id, RunRow.plant, PlantRow.name, RunRow.protocol, RunRow.title, RunRow.standing,
               RunRow.standing_why, RunRow.position)
        .join(PlantRow, PlantRow.number == RunRow.plant).where(RunRow.session == sitting)
        .order_by(RunRow.position, RunRow.id))
    return tuple(Run(row.id, row.plant, row.name, row.protocol, row.title, tuple(steps[row.id]), row.standing,
                     row.standing_why, row.position) for row in rows)


def change_run(session: Session, run: int, standing: str, why: str, position: float) -> None:
    """Write how a run's plant stands, and its place in the queue."""
    session.execute(update(RunRow).where(RunRow.id == run).values(standing=standing, standing_why=why,
                                                                  position=position))


def run_step(session: Session, step: int) -> tuple[int, ProtocolStep]:
    """The run a step belongs to, and the step as it was copied."""
    row = session.execute(select(RunStepRow.run, type_coerce(RunStepRow.step, Text).label("copied"))
                          .where(RunStepRow.id == step)).one()
    return row.run, _step(row.copied)


def change_step(session: Session, step: int, state: State, done_at: datetime | None, found: Iterable[int]) -> None:
    """Write how a step stands."""
    session.execute(update(RunStepRow).where(RunStepRow.id == step).values(
        state=state.value, done_at=done_at, found=list(found)))


def add_soak(session: Session, sitting: int, soak: Soak) -> int:
    """A soak that starts (its id is given by the store); returns the id."""
    row = SoakRow(session=sitting, run=soak.run, step=soak.step, tool=soak.tool, what=soak.what, agent=soak.agent,
                  started_at=soak.started_at, least_s=soak.least_s, most_s=soak.most_s, boot=soak.boot,
                  boot_s=soak.boot_s)
    session.add(row)
    session.flush()
    return row.id


def end_soak(session: Session, soak: int, at: datetime | None, early: bool = False) -> None:
    """A soak ended at `at` (None: it goes on again after all)."""
    session.execute(update(SoakRow).where(SoakRow.id == soak).values(ended_at=at, early=early))


def shift_soak(session: Session, soak: int, started_at: datetime) -> None:
    """Put a soak's start where a changed wall clock now has it."""
    session.execute(update(SoakRow).where(SoakRow.id == soak).values(started_at=started_at))


def shift_kept(session: Session, by: timedelta) -> None:
    """Put what the sessions not ended yet keep of the past where a wall clock changed by `by` now has it.

    Beginnings, tools taken, steps done and soaks ended: so that what came first stays first. Journal entries keep the
    instant they were written with.
    """
    open_ones = select(SessionRow.id).where(SessionRow.ended_at.is_(None))
    for sat in session.scalars(select(SessionRow).where(SessionRow.id.in_(open_ones))):
        sat.started_at += by
    for use in session.scalars(select(ToolUseRow).where(ToolUseRow.session.in_(open_ones))):
        use.at += by
    for soak in session.scalars(select(SoakRow).where(SoakRow.session.in_(open_ones), SoakRow.ended_at.is_not(None))):
        soak.started_at += by
        soak.ended_at = soak.ended_at + by if soak.ended_at else None
    for step in session.scalars(select(RunStepRow).join(RunRow, RunRow.id == RunStepRow.run).where(
            RunRow.session.in_(open_ones), RunStepRow.done_at.is_not(None))):
        step.done_at = step.done_at + by if step.done_at else None
    session.flush()


def soaks(session: Session, sitting: int | None = None) -> tuple[Soak, ...]:
    """All soaks of a session, ended ones too; without a session all that still run."""
    where = SoakRow.ended_at.is_(None) if sitting is None else SoakRow.session == sitting
    return tuple(_soak(row) for row in session.scalars(
        select(SoakRow).where(where).order_by(SoakRow.started_at, SoakRow.id)))


def soaks_of(session: Session, plants: Iterable[int]) -> tuple[tuple[int, Soak], ...]:
    """Every soak on one of these plants, with the plant's number, oldest first; ended and running ones."""
    rows = session.execute(select(RunRow.plant, SoakRow).join(RunRow, RunRow.id == SoakRow.run)
                           .where(RunRow.plant.in_(list(plants))).order_by(SoakRow.started_at, SoakRow.id))
    return tuple((plant, _soak(row)) for plant, row in rows)


def soak_of_step(session: Session, step: int) -> int | None:
    """The newest soak of a step."""
    return session.scalar(select(SoakRow.id).where(SoakRow.step == step).order_by(SoakRow.id.desc()).limit(1))


def session_of(session: Session, soak: int) -> int:
    """The bench session a soak belongs to."""
    return session.execute(select(SoakRow.session).where(SoakRow.id == soak)).scalar_one()


def add_tool_use(session: Session, sitting: int, tool: str, plant: int, at: datetime) -> None:
    """A tool taken to a plant."""
    session.add(ToolUseRow(session=sitting, tool=tool, plant=plant, at=at))
    session.flush()


def tool_uses(session: Session, sitting: int) -> tuple[ToolUse, ...]:
    """The tools taken to plants in a session, oldest first."""
    rows = session.execute(select(ToolUseRow.tool, ToolUseRow.plant, ToolUseRow.at)
                           .where(ToolUseRow.session == sitting).order_by(ToolUseRow.at, ToolUseRow.id))
    return tuple(ToolUse(row.tool, row.plant, row.at) for row in rows)


def last_use(session: Session, tool: str, but: int) -> tuple[ToolUse, bool] | None:
    """The last use of a tool in any session but `but`, and whether that was an earlier session."""
    row = session.execute(select(ToolUseRow.tool, ToolUseRow.plant, ToolUseRow.at, ToolUseRow.session)
                          .where(ToolUseRow.tool == tool, ToolUseRow.session != but)
                          .order_by(ToolUseRow.at.desc(), ToolUseRow.id.desc()).limit(1)).first()
    return None if row is None else (ToolUse(row.tool, row.plant, row.at), row.session < but)


def soaked_since(session: Session, tools: Iterable[str], since: datetime, but: int) -> tuple[tuple[str, str], ...]:
    """Tool and agent of the soaks of these tools kept to their least, begun from `since` on in any session but `but`.
    """
    rows = session.execute(select(SoakRow.tool, SoakRow.agent).where(
        SoakRow.tool.in_(list(tools)), SoakRow.session != but, SoakRow.started_at >= since,
        SoakRow.ended_at.is_not(None), SoakRow.early.is_(False)).order_by(SoakRow.id))
    return tuple((row.tool, row.agent) for row in rows)


def withdraw_of_step(session: Session, step: int, kept: Iterable[str] = ()) -> None:
    """Take back what a step wrote, but not entries of the kinds `kept`."""
    session.execute(delete(EntryRow).where(EntryRow.step == step, EntryRow.kind.not_in(list(kept))))


def _soak(row: SoakRow) -> Soak:
    return Soak(row.id, row.what, row.agent, row.started_at, row.least_s, row.most_s, row.run, row.step, row.tool,
                row.ended_at, row.early, row.boot, row.boot_s)


def _sat(row: SessionRow) -> Sat:
    return Sat(row.id, row.started_at, row.ended_at, row.left_at, tuple(str(item) for item in row.loose_ends))


def _steps(session: Session, sitting: int) -> dict[int, list[RunStep]]:
    found: dict[int, list[RunStep]] = defaultdict(list)
    rows = session.execute(
        select(RunStepRow.id, RunStepRow.run, RunStepRow.ordinal, type_coerce(RunStepRow.step, Text).label("copied"),
               RunStepRow.state, RunStepRow.done_at, RunStepRow.found)
        .join(RunRow, RunRow.id == RunStepRow.run).where(RunRow.session == sitting).order_by(RunStepRow.ordinal))
    for row in rows:
        found[row.run].append(RunStep(row.id, row.ordinal, _step(row.copied), State(row.state), row.done_at,
                                      tuple(row.found)))
    return found


@lru_cache(maxsize=2048)
def _step(copied: str) -> ProtocolStep:
    """A copied step read from its text; the same text is read once."""
    return cast(ProtocolStep, read(ProtocolStep, json.loads(copied)))
