"""Run as a child process and killed: works at the bench and writes a marker after each confirmed press.

Arguments: the collection folder, the file of markers, the instant it is (ISO, with offset). It takes up the session
that stands open, or starts one, and goes on until it is killed. To standard output it writes one byte at each
statement the database runs, so that its parent can pick any of them as the instant to kill it at.
"""

from __future__ import annotations

import json
import os
import sys
from datetime import datetime
from pathlib import Path
from typing import IO, Any
from zoneinfo import ZoneInfo

from greenhouse_desk.domain import bench
from greenhouse_desk.services import shelf, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import journal
from greenhouse_desk.store.engine import open_store
from tests.end_to_end import grower

CHOICES = ((101, "root-trim-and-repot"), (102, "pest-wash"), (103, "root-trim-and-repot"))
ZONE = ZoneInfo("UTC")


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
    return {
        "session": session_id,
        "deed": last.id if last else 0,
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


def press_on(desk: Desk, clock: SteppedClock, session_id: int) -> None:
    """One move of the grower, committed when this returns."""
    board = bench.board(desk.read(treatments.sitting, session_id, clock.now()), clock.now(), ZONE)
    move = grower.move(board)
    clock.advance(move.wait_s)
    if move.key is not None:
        desk.run(treatments.press, session_id, move.key, value=move.number)


def main(folder: Path, markers: Path, start: datetime) -> None:
    """Press on until killed."""
    clock = SteppedClock(start)
    store = open_store(folder)
    desk = Desk(store, clock.now)
    with markers.open("a", encoding="utf-8") as file:
        session_id = session_of(desk)
        mark(file, snapshot(desk, session_id))
        store.raw.set_trace_callback(lambda _statement: os.write(1, b".") and None)
        while True:
            press_on(desk, clock, session_id)
            mark(file, snapshot(desk, session_id))
            os.write(1, b"!")
            session_id = session_of(desk)


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]), datetime.fromisoformat(sys.argv[3]))
