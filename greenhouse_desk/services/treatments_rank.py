"""The queue after a find at the bench: how each plant stands now, and what is not opened yet set anew."""

from __future__ import annotations

from datetime import datetime

from greenhouse_desk.domain.bench_order import Stands, reranked, told_anew
from greenhouse_desk.services import quarantine
from greenhouse_desk.services.treatments_sitting import at_bench
from greenhouse_desk.store import bench, plants
from greenhouse_desk.store.engine import Session


def rank_anew(session: Session, now: datetime, session_id: int) -> str:
    """Write what a find, or one taken back, changed for the session's plants; returns it in words, "" for nothing."""
    at = at_bench(session, session_id)
    everyone = quarantine.histories(session)
    standing = quarantine.standings(session, everyone, now)
    isolation = {place.id for place in plants.places(session) if place.isolation}
    isolated = {one.plant.number for one in everyone if one.plant.place in isolation}
    left = {run.plant: standing[run.plant] for run in at.runs if not all(step.closed for step in run.steps)}
    after = reranked(at, {plant: Stands(how.word, how.why, plant in isolated) for plant, how in left.items()})
    was = {run.id: run for run in at.runs}
    for run in after:
        if run != was[run.id]:
            bench.change_run(session, run.id, run.standing, run.standing_why, run.order)
    return told_anew(at.runs, after)
