"""Run as a child process and killed: works at the bench, goes back, takes back, notes, leaves, and marks each deed.

Arguments: the collection folder, the file of markers, the instant it is (ISO, with offset). It takes up the session
that stands open, or starts one, and goes on until it is killed. To standard output it writes one byte at each
statement the database runs, so that its parent can pick any of them as the instant to kill it at.
"""

from __future__ import annotations

import json
import os
import random
import sys
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import IO, Any
from zoneinfo import ZoneInfo

from sqlalchemy import text

from greenhouse_desk.domain import bench
from greenhouse_desk.domain.bench import Action, Key
from greenhouse_desk.services import shelf, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import journal
from greenhouse_desk.store.engine import open_store
from tests.end_to_end import grower

CHOICES = ((101, "root-trim-and-repot"), (102, "pest-wash"), (103, "root-trim-and-repot"))
ZONE = ZoneInfo("UTC")
WORK, BACK, UNDO, NOTE = "work", "back", "undo", "note"
LEAVE, TAKE_UP, LEAVE_OUT = "leave", "take up", "leave out"
OTHERS = 0.4
"""How often another move than the work is made where one can be made."""


def session_of(desk: Desk) -> int:
    """The open session, or a new one on the same plants."""
    standing = desk.read(treatments.open_sittings)
    if standing:
        return standing[0].id
    choices = tuple(treatments.Choice(plant, protocol) for plant, protocol in CHOICES)
    return desk.run(treatments.start, choices, shelf.shelf(None))


def snapshot(desk: Desk, session_id: int) -> dict[str, Any]:
    """What stands in the collection now: the session's steps and soaks, and every journal entry, by their keys."""
    now = desk.clock()
    sitting = desk.read(treatments.sitting, session_id, now)
    wanted = bench.board(sitting, now, ZONE).instruction
    last = desk.next_undo()
    with desk.store.session() as session:
        deeds = session.execute(text("SELECT id FROM deed WHERE NOT undone ORDER BY id DESC LIMIT 5")).scalars().all()
    return {
        "session": session_id,
        "deed": last.id if last else 0,
        "deeds": list(deeds),
        "at": now.isoformat(),
        "wanted": [wanted.action.value, wanted.plant, wanted.step],
        "ended": sitting.ended_at is not None,
        "steps": {str(step.id): [step.state.value, step.done_at.isoformat() if step.done_at else None, list(step.found)]
                  for run in sitting.runs for step in run.steps},
        "soaks": {str(soak.id): [soak.started_at.isoformat(), soak.ended_at.isoformat() if soak.ended_at else None]
                  for soak in sitting.soaks},
        "entries": [entry.id for entry in desk.read(journal.everything)],
    }


def mark(file: IO[str], told: dict[str, Any]) -> None:
    """Write one marker so that it outlives the process."""
    file.write(json.dumps(told) + "\n")
    file.flush()
    os.fsync(file.fileno())


def pick(desk: Desk, session_id: int, dice: random.Random) -> str:
    """What is done next: mostly the work itself, at times any other thing a grower does at the bench."""
    now = desk.clock()
    sitting = desk.read(treatments.sitting, session_id, now)
    if sitting.left_at is not None:
        return TAKE_UP
    wanted = bench.board(sitting, now, ZONE).instruction
    may = {BACK: wanted.question is None, UNDO: bool(sitting.undo_label), NOTE: True, LEAVE: True,
           LEAVE_OUT: wanted.action is Action.START_SOAK and wanted.step is not None}
    other = dice.choice((BACK, UNDO, NOTE, LEAVE, LEAVE_OUT))
    return other if may[other] and dice.random() < OTHERS else WORK


def work(desk: Desk, clock: SteppedClock, session_id: int) -> None:
    """One move of the grower in the protocol's order."""
    board = bench.board(desk.read(treatments.sitting, session_id, clock.now()), clock.now(), ZONE)
    move = grower.move(board)
    clock.advance(move.wait_s)
    if move.key is not None:
        desk.run(treatments.press, session_id, move.key, value=move.number)


def undo(desk: Desk, session_id: int) -> None:
    """Take the last press back."""
    desk.undo(desk.read(treatments.sitting, session_id).undo_deed)


def do(what: str, desk: Desk, clock: SteppedClock, session_id: int) -> None:
    """Do it: one deed at the most, committed when this returns."""
    deeds: dict[str, Callable[[], object]] = {
        WORK: lambda: work(desk, clock, session_id),
        BACK: lambda: desk.run(treatments.press, session_id, Key.BACK),
        UNDO: lambda: undo(desk, session_id),
        NOTE: lambda: desk.run(treatments.note, session_id, "leans to the left"),
        LEAVE: lambda: desk.run(treatments.leave, session_id, sure=True),
        TAKE_UP: lambda: desk.run(treatments.take_up, session_id),
        LEAVE_OUT: lambda: desk.run(treatments.press, session_id, Key.NEXT)}
    clock.advance(1.0)
    deeds[what]()


def main(folder: Path, markers: Path, start: datetime) -> None:
    """Go on until killed: each marker tells what stands there, and what is done next."""
    clock = SteppedClock(start)
    store = open_store(folder)
    desk = Desk(store, clock.now)
    dice = random.Random(start.isoformat())
    traced = False
    with markers.open("a", encoding="utf-8") as file:
        while True:
            session_id = session_of(desk)
            what = pick(desk, session_id, dice)
            mark(file, {**snapshot(desk, session_id), "next": what})
            if not traced:
                store.raw.set_trace_callback(lambda _statement: os.write(1, b".") and None)
                traced = True
            do(what, desk, clock, session_id)
            os.write(1, b"!")


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]), datetime.fromisoformat(sys.argv[3]))
