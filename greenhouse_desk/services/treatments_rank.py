"""The queue after a find at the bench: how each plant stands now, and what is not opened yet set anew."""

from __future__ import annotations

from datetime import datetime

from greenhouse_desk.domain.bench_order import Stands, reranked, told_anew
from greenhouse_desk.services import quarantine
from greenhouse_desk.services.treatments_sitting import at_bench
from greenhouse_desk.store import bench
from greenhouse_desk.store.engine import Session


def rank_anew(session: Session, now: datetime, session_id: int) -> str:
    """Write what a find, or one taken back, changed for the session's plants; returns it in words, "" for nothing."""
    at = at_bench(session, session_id)
    standing = quarantine.standings(session, quarantine.histories(session), now)
    left = [run for run in at.runs if not all(step.closed for step in run.steps)]
    after = reranked(at, {run.plant: Stands(standing[run.plant].word, standing[run.plant].why) for run in left})
    was = {run.id: run for run in at.runs}
    for run in after:
        if run != was[run.id]:
            bench.change_run(session, run.id, run.standing, run.standing_why, run.order)
    return told_anew(at.runs, after)
