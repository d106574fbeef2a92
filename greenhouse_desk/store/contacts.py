"""What passed between plants at the bench, from all sessions: tools taken, soaks of tools, and who was worked on."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from greenhouse_desk.domain.contacts import Touch, Worked
from greenhouse_desk.store.tables import EntryRow, RunRow, RunStepRow, SoakRow, ToolUseRow


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
    """Who was worked on in each session, from the first deed to the last, told by steps done, entries written and tools
    taken from `since` (aware) on. A run nobody began is left out."""
    spans: dict[tuple[int, int], list[datetime]] = defaultdict(list)
    asked = (
        select(RunRow.session, RunRow.plant, func.min(EntryRow.at), func.max(EntryRow.at))
        .join(EntryRow, EntryRow.run == RunRow.id).where(EntryRow.at >= since).group_by(RunRow.session, RunRow.plant),
        select(RunRow.session, RunRow.plant, func.min(RunStepRow.done_at), func.max(RunStepRow.done_at))
        .join(RunStepRow, RunStepRow.run == RunRow.id).where(RunStepRow.done_at >= since, RunStepRow.state == "done")
        .group_by(RunRow.session, RunRow.plant),
        select(ToolUseRow.session, ToolUseRow.plant, func.min(ToolUseRow.at), func.max(ToolUseRow.at))
        .where(ToolUseRow.at >= since).group_by(ToolUseRow.session, ToolUseRow.plant))
    for query in asked:
        for sitting, plant, first, last in session.execute(query):
            spans[sitting, plant] += [at for at in (first, last) if at is not None]
    return tuple(Worked(sitting, plant, min(ats), max(ats)) for (sitting, plant), ats in sorted(spans.items()))
