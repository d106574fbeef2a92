"""What passed between plants at the bench, from all sessions: tools taken, soaks of tools, and who was worked on."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import and_, func, null, select
from sqlalchemy.orm import Session

from greenhouse_desk.domain.contacts import Touch, Worked
from greenhouse_desk.domain.journal import Kind
from greenhouse_desk.store.tables import EntryRow, RunRow, SoakRow, ToolUseRow

BESIDE = (Kind.STEP.value, Kind.NOTE.value, Kind.PHOTO.value, Kind.ANSWER.value, Kind.SHARED.value)
"""Kinds of entry that tell of no hand on the plant."""


@dataclass(frozen=True, slots=True)
class ToolSoak:
    """A soak of a tool as kept: when it began (aware UTC), its least in seconds, its end (None: runs), ended early."""

    tool: str
    agent: str
    started_at: datetime
    least_s: float
    ended_at: datetime | None
    early: bool


def touches(session: Session, since: datetime) -> tuple[Touch, ...]:
    """The tools taken to plants from `since` (aware) on, each with the first entry of what was done with it."""
    done = (select(EntryRow.id).join(RunRow, EntryRow.run == func.coalesce(RunRow.id, 0))
            .where(EntryRow.plant == ToolUseRow.plant, EntryRow.at >= ToolUseRow.at, EntryRow.kind.not_in(BESIDE),
                   RunRow.session == ToolUseRow.session)
            .order_by(EntryRow.at, EntryRow.id).limit(1).scalar_subquery())
    rows = session.execute(select(ToolUseRow.tool, ToolUseRow.plant, ToolUseRow.at, ToolUseRow.session, done)
                           .where(ToolUseRow.at >= since).order_by(ToolUseRow.at, ToolUseRow.id))
    return tuple(Touch(*row) for row in rows)


def touched(session: Session) -> tuple[int, Touch | None]:
    """How often tools were ever taken to plants, and the last time: another answer after each one more or less."""
    columns = (ToolUseRow.tool, ToolUseRow.plant, ToolUseRow.at, ToolUseRow.session)
    last = session.execute(select(*columns).order_by(ToolUseRow.id.desc()).limit(1)).one_or_none()
    times = session.scalar(select(func.count()).select_from(ToolUseRow)) or 0
    return times, None if last is None else Touch(*last)


def tool_soaks(session: Session, since: datetime) -> tuple[ToolSoak, ...]:
    """The soaks of tools begun from `since` (aware) on."""
    rows = session.execute(
        select(SoakRow.tool, SoakRow.agent, SoakRow.started_at, SoakRow.least_s, SoakRow.ended_at, SoakRow.early)
        .where(SoakRow.tool != "", SoakRow.started_at >= since).order_by(SoakRow.started_at, SoakRow.id))
    return tuple(ToolSoak(*row) for row in rows)


def worked(session: Session, since: datetime) -> tuple[Worked, ...]:
    """Who was worked on in each session, from the first deed to the last, from `since` (aware) on.

    Told by what its run wrote on the plant, and by tools taken to it; a step that only tidies writes nothing on it.
    """
    spans: dict[tuple[int, int], list[datetime]] = defaultdict(list)
    told: dict[tuple[int, int], int] = {}
    run = func.coalesce(RunRow.id, 0)  # so that the entries of its plant are searched, not all there are
    asked = (
        select(RunRow.session, RunRow.plant, func.min(EntryRow.at), func.max(EntryRow.at), func.max(EntryRow.id))
        .join(EntryRow, and_(EntryRow.plant == RunRow.plant, EntryRow.run == run))
        .where(EntryRow.at >= since, EntryRow.kind.not_in(BESIDE))
        .group_by(RunRow.session, RunRow.plant),
        select(ToolUseRow.session, ToolUseRow.plant, func.min(ToolUseRow.at), func.max(ToolUseRow.at),
               null())
        .where(ToolUseRow.at >= since).group_by(ToolUseRow.session, ToolUseRow.plant))
    for query in asked:
        for sitting, plant, first, last, entry in session.execute(query):
            spans[sitting, plant] += [first, last]
            told.setdefault((sitting, plant), entry)
    return tuple(Worked(*key, min(ats), max(ats), told[key]) for key, ats in sorted(spans.items()))
