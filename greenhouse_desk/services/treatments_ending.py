"""Leaving a bench session, taking it up, ending it: never quietly with something left open."""

from __future__ import annotations

from datetime import datetime

from greenhouse_desk.domain.bench import Sitting, State
from greenhouse_desk.domain.bench_facts import Kept
from greenhouse_desk.domain.bench_open import loose_ends, still_open
from greenhouse_desk.domain.bench_turns import needed, plant_of, running, whose
from greenhouse_desk.domain.countdown import Phase, view
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Note, Step
from greenhouse_desk.domain.protocols import Deed
from greenhouse_desk.services.desk import Done
from greenhouse_desk.services.treatments_clock import mend
from greenhouse_desk.services.treatments_rank import rank_anew
from greenhouse_desk.services.treatments_sitting import PRESSES, Steady, at_bench
from greenhouse_desk.services.treatments_steps import Pressed, end_soak, finish
from greenhouse_desk.store import bench, journal
from greenhouse_desk.store.engine import Session

SITS = frozenset({"bench", "sessions"})
MISSES = frozenset({"bench", "missed"})
AGAIN = "Press again to do it all the same; it is recorded."


def end(session: Session, now: datetime, session_id: int, why: str = "",
        steady: Steady = ("", 0.0)) -> Done[Pressed]:
    """End the session. With something left open it names each with its way out and wants a reason (`why`)."""
    mend(session, now, steady)
    at = at_bench(session, session_id, now, steady)
    if at.ended_at is not None:
        raise Refused("This session is over", "It was ended before.")
    left = still_open(at)
    if left and not why:
        return Done("", PRESSES, Pressed(" ".join(left)))
    return end_now(session, now, at, why)


def end_now(session: Session, now: datetime, at: Sitting, why: str = "") -> Done[Pressed]:
    """End the session as read in `at`; running soaks end with it, their contact time recorded, and what stands open on
    a plant is told in its journal with the reason."""
    left = still_open(at)
    _tell_open(session, now, at, why)
    for soak in running(at):
        end_soak(session, now, at, soak, asks=False)
    for run in at.runs:
        for step in run.steps:
            if step.asking and not step.leaving and step.step.deed is Deed.CUT:
                finish(session, now, at, run, step, Kept())  # the cut was made: what was not answered stays unknown
            elif step.state is State.OPEN and not step.asking and step not in needed(at, run):
                bench.change_step(session, step.id, State.SKIPPED, None, ())
    bench.mark(session, at.id, ended_at=now, loose_ends=[f"{one}{f' Why: {why}.' if why else ''}" for one in left])
    return Done("End the bench session", PRESSES, Pressed("The session is over."))


def leave(session: Session, now: datetime, session_id: int, sure: bool = False) -> Done[Pressed]:
    """Leave the session to take it up another day; what stands open is named first and wants a second press."""
    at = at_bench(session, session_id, now)
    if at.ended_at is not None:
        raise Refused("This session is over", "It was ended before.")
    left = [f"{loose.words}. {loose.way_out}." for loose in loose_ends(at)]
    if left and not sure:
        return Done("", SITS, Pressed(" ".join((*left, AGAIN)), True))
    bench.mark(session, session_id, left_at=now, loose_ends=left)
    return Done("Leave the bench", SITS, Pressed("Left; take it up when you like."))


def take_up(session: Session, now: datetime, session_id: int, steady: Steady = ("", 0.0)) -> Done[Pressed]:
    """Take up a session that was left or broken off; running soaks are put right by the steady clock."""
    at = at_bench(session, session_id, now, steady)
    if at.ended_at is not None:
        raise Refused("This session is over", "It was ended before.", "Start another one.")
    mend(session, now, steady)
    also = ""
    if at.left_at is not None:
        bench.mark(session, session_id)
        also = rank_anew(session, now, session_id)  # what was found or released meanwhile counts
    return Done("Take up the bench session", SITS, Pressed(" ".join(at.notices) or "Taken up.", also=also))


def missed_soak(session: Session, now: datetime, soak_id: int) -> Done[None]:
    """A soak's alarm rang to its upper limit with nobody there: an entry says so. Silent for an ended soak."""
    soak = next((soak for soak in bench.soaks(session) if soak.id == soak_id), None)
    if soak is None or view(soak, now).phase is Phase.LEAVE:
        return Done("", MISSES, None)
    at = at_bench(session, bench.session_of(session, soak_id))
    plant = None if soak.tool else plant_of(at, soak.run)
    text = f"Missed: the alarm for {whose(at, soak) if soak.tool else soak.what} rang unanswered; the soak goes on."
    journal.add(session, now, Note(text), plant, run=soak.run)
    return Done(f"Missed alarm: {whose(at, soak)}", MISSES, None, own=False)


def _tell_open(session: Session, now: datetime, at: Sitting, why: str) -> None:
    """One entry for each thing left open on a plant."""
    for loose in loose_ends(at):
        run = next((run for run in at.runs if run.plant == loose.plant), None)
        if run is not None:
            told = f"The session ended all the same: {loose.words}{f' ({why})' if why else ''}"
            journal.add(session, now, Step(told), run.plant, run=run.id)
