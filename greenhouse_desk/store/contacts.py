"""What passed between plants at the bench, from all sessions: tools taken, soaks of tools, and who was worked on."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import and_, func, select
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
    """The tools taken to plants from `since` (aware) on."""
    rows = session.execute(select(ToolUseRow.tool, ToolUseRow.plant, ToolUseRow.at, ToolUseRow.session)
                           .where(ToolUseRow.at >= since).order_by(ToolUseRow.at, ToolUseRow.id))
    return tuple(Touch(row.tool, row.plant, row.at, row.session) for row in rows)


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
    run = func.coalesce(RunRow.id, 0)  # so that the entries of its plant are searched, not all there are
    asked = (
        select(RunRow.session, RunRow.plant, func.min(EntryRow.at), func.max(EntryRow.at))
        .join(EntryRow, and_(EntryRow.plant == RunRow.plant, EntryRow.run == run))
        .where(EntryRow.at >= since, EntryRow.kind.not_in(BESIDE))
        .group_by(RunRow.session, RunRow.plant),
        select(ToolUseRow.session, ToolUseRow.plant, func.min(ToolUseRow.at), func.max(ToolUseRow.at))
        .where(ToolUseRow.at >= since).group_by(ToolUseRow.session, ToolUseRow.plant))
    for query in asked:
        for sitting, plant, first, last in session.execute(query):
            spans[sitting, plant] += [first, last]
    return tuple(Worked(sitting, plant, min(ats), max(ats)) for (sitting, plant), ats in sorted(spans.items()))
