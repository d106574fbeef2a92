"""Leaving a bench session, taking it up, ending it: never quietly with something left open."""

from __future__ import annotations

from datetime import datetime

from greenhouse_desk.domain.bench import Sitting, State
from greenhouse_desk.domain.bench_facts import Kept
from greenhouse_desk.domain.bench_turns import Blocked, loose_ends, needed, plant_of, running, turn
from greenhouse_desk.domain.countdown import Phase, view
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Note
from greenhouse_desk.domain.protocols import Deed
from greenhouse_desk.services.desk import Done
from greenhouse_desk.services.treatments_clock import mend
from greenhouse_desk.services.treatments_sitting import PRESSES, Steady, at_bench
from greenhouse_desk.services.treatments_steps import Pressed, end_soak, finish
from greenhouse_desk.store import bench, journal
from greenhouse_desk.store.engine import Session

SITS = frozenset({"bench", "sessions"})
MISSES = frozenset({"bench", "missed"})
AGAIN = "Press again to do it all the same; it is recorded."


def end(session: Session, now: datetime, session_id: int, sure: bool = False,
        steady: Steady = ("", 0.0)) -> Done[Pressed]:
    """End the session. With something left open it names each with its way out and wants a second press (`sure`)."""
    mend(session, now, steady)
    return end_now(session, now, at_bench(session, session_id, now, steady), sure)


def end_now(session: Session, now: datetime, at: Sitting, sure: bool) -> Done[Pressed]:
    """End the session as read in `at`; running soaks end with it, their contact time recorded."""
    if at.ended_at is not None:
        raise Refused("This session is over", "It was ended before.")
    left = _left_open(at)
    if left and not sure:
        return Done("", PRESSES, Pressed(" ".join((*left, AGAIN)), True))
    for soak in running(at):
        end_soak(session, now, at, soak, asks=False)
    for run in at.runs:
        for step in run.steps:
            if step.asking and step.step.deed is Deed.CUT:
                finish(session, now, at, run, step, Kept())  # the cut was made: what was not answered stays unknown
            elif step.state is State.OPEN and not step.asking and step not in needed(at, run):
                bench.change_step(session, step.id, State.SKIPPED, None, ())
    bench.mark(session, at.id, ended_at=now, loose_ends=left)
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
    if at.left_at is not None:
        bench.mark(session, session_id)
    return Done("Take up the bench session", SITS, Pressed(" ".join(at.notices) or "Taken up."))


def missed_soak(session: Session, now: datetime, soak_id: int) -> Done[None]:
    """A soak's alarm rang to its upper limit with nobody there: an entry says so. Silent for an ended soak."""
    soak = next((soak for soak in bench.soaks(session) if soak.id == soak_id), None)
    if soak is None or view(soak, now).phase is Phase.LEAVE:
        return Done("", MISSES, None)
    at = at_bench(session, bench.session_of(session, soak_id))
    plant = None if soak.tool else plant_of(at, soak.run)
    text = f"Missed: the alarm for {soak.tool or soak.what} rang unanswered; the soak goes on."
    journal.add(session, now, Note(text), plant, run=soak.run)
    return Done(f"Missed alarm: {plant or soak.tool}", MISSES, None, own=False)


def _left_open(at: Sitting) -> tuple[str, ...]:
    words = [f"{loose.words}. {loose.way_out}." for loose in loose_ends(at)]
    for run in at.runs:
        if turn(at, run).blocked is not Blocked.DONE:
            count = sum(not step.closed for step in needed(at, run))
            words.append(f"{run.plant}: {count} step{'s' if count > 1 else ''} not done. Leave and take it up later.")
    return tuple(words)
