"""The record of a bench session in words: plant by plant, then notes on the session, tools, and what was left open."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime, tzinfo
from itertools import pairwise

from greenhouse_desk.domain.bench import Run, Soak, ToolUse
from greenhouse_desk.domain.care_day import full_day
from greenhouse_desk.domain.countdown import spoken
from greenhouse_desk.domain.journal import Entry, Kind, Roots
from greenhouse_desk.services import house, records
from greenhouse_desk.services.treatments_sitting import kept_session
from greenhouse_desk.store import bench, journal
from greenhouse_desk.store.engine import Session


def record(session: Session, session_id: int) -> tuple[str, ...]:
    """The session's record in words, a line for every entry, plant by plant in queue order. Refused: no such session.
    """
    kept = kept_session(session, session_id)
    zone, named = house.zone(session), records.labels(session)
    ended = f", ended {_clock(kept.ended_at, zone)}" if kept.ended_at else ", not ended"
    lines = [f"Bench session of {full_day(kept.started_at, zone)} {_clock(kept.started_at, zone)}{ended}"]
    on_session: list[Entry] = []
    soaks = bench.soaks(session, session_id)
    for run in bench.runs(session, session_id):
        entries = journal.of_runs(session, [run.id])
        on_session += [entry for entry in entries if entry.plant is None]
        lines.append(_head(run))
        lines += [f"  {_line(entry, named, zone)}" for entry in _told(entries)]
        lines += [f"  {soak.what}{_over(soak)}" for soak in soaks if soak.run == run.id and _over(soak)]
    if on_session:
        lines += ["The session", *(f"  {_line(entry, named, zone)}" for entry in on_session)]
    lines += [f"{soak.tool} in {soak.what}: {_kept(soak)}" for soak in soaks if soak.tool]
    lines += [f"{_clock(use.at, zone)} {use.tool} taken to {use.plant}"
              for use in _taken(bench.tool_uses(session, session_id))]
    lines += [f"Left open: {words}" for words in kept.loose_ends]
    return tuple(lines)


def _head(run: Run) -> str:
    return f"{run.plant} {run.name}: {run.title} ({run.standing})"


def _told(entries: Iterable[Entry]) -> list[Entry]:
    """A plant's own entries; a root count that a later one only completed is told once."""
    own = [entry for entry in entries if entry.plant is not None]
    counts = [entry for entry in own if isinstance(entry.facts, Roots)]
    said_again = {first.id for first, last in pairwise(counts) if _completes(last, first)}
    return [entry for entry in own if entry.id not in said_again]


def _completes(last: Entry, first: Entry) -> bool:
    return (isinstance(last.facts, Roots) and isinstance(first.facts, Roots)
            and replace(last.facts, removed_percent=first.facts.removed_percent) == first.facts)


def _line(entry: Entry, named: records.Labels, zone: tzinfo) -> str:
    said = records.line(entry, named, entry.at, zone)
    between = ": " if entry.kind is Kind.NOTE else ", "
    return f"{_clock(entry.at, zone)} {between.join(filter(None, (said.title, said.detail)))}"


def _taken(uses: Sequence[ToolUse]) -> list[ToolUse]:
    """A tool that goes on working on the same plant was taken to it once."""
    last: dict[str, int] = {}
    found = []
    for use in uses:
        if last.get(use.tool) != use.plant:
            found.append(use)
        last[use.tool] = use.plant
    return found


def _clock(moment: datetime, zone: tzinfo) -> str:
    return f"{moment.astimezone(zone):%H:%M}"


def _kept(soak: Soak) -> str:
    if soak.ended_at is None:
        return "not ended"
    minutes = (soak.ended_at - soak.started_at).total_seconds() / 60
    return f"{minutes:.1f} min{', ended early on purpose' if soak.early else ''}{_over(soak)}"


def _over(soak: Soak) -> str:
    """How long past its most a soak went on, and what that was; "" where it ended in time."""
    if soak.ended_at is None or soak.ended_at <= soak.most_at:
        return ""
    past = (soak.ended_at - soak.most_at).total_seconds()
    return f", {spoken(past)} over its most of {spoken(soak.most_s)}"
