"""One confirmed press at the bench, commit included, against the same rows written by bare sqlite3."""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median

from greenhouse_desk.domain import bench
from greenhouse_desk.services import collection, shelf, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import Store, open_store
from tests.benchmarks.ratio import Ratio
from tests.builders import NOW
from tests.end_to_end import grower
from tests.end_to_end.scripted import CHOICES, ZONE

WRITES = ("INSERT", "UPDATE", "DELETE")
Press = Callable[[], object]


def begun(folder: Path) -> tuple[Store, Desk, SteppedClock, int]:
    """A fresh collection of three plants with a session on them begun."""
    store = open_store(folder, create=True)
    clock = SteppedClock(NOW)
    desk = Desk(store, clock.now)
    for plant, _ in CHOICES:
        desk.run(collection.add_plant, collection.NewPlant("Phalaenopsis amabilis", number=plant, medium="LECA"))
    choices = tuple(treatments.Choice(plant, protocol) for plant, protocol in CHOICES)
    return store, desk, clock, desk.run(treatments.start, choices, shelf.shelf(None))


def work(folder: Path, presses: int, done: Callable[[Store, Press], None]) -> None:
    """Make `presses` moves of the grower; each press is handed to `done`, which must run it."""
    store, desk, clock, session = begun(folder)
    for _ in range(presses):
        board = bench.board(desk.read(treatments.sitting, session), clock.now(), ZONE)
        move = grower.move(board)
        clock.advance(move.wait_s)
        if move.key is None:
            continue
        key, value = move.key, move.number
        done(store, lambda key=key, value=value: desk.run(treatments.press, session, key, value=value))  # type: ignore[misc]
    store.close()


def timed(folder: Path, presses: int) -> list[float]:
    """Seconds of each press by the program."""
    seconds: list[float] = []

    def run(_store: Store, press: Press) -> None:
        start = time.perf_counter()
        press()
        seconds.append(time.perf_counter() - start)

    work(folder, presses, run)
    return seconds


def rows_of(folder: Path, presses: int) -> list[list[str]]:
    """The writing statements of each press, with their values; what the undo triggers write is left out."""
    written: list[list[str]] = []

    def run(store: Store, press: Press) -> None:
        statements: list[str] = []
        store.raw.set_trace_callback(statements.append)
        press()
        store.raw.set_trace_callback(None)
        written.append([one for one in statements if one.lstrip().upper().startswith(WRITES) and "deed_now" not in one])

    work(folder, presses, run)
    return written


def bare(folder: Path, written: list[list[str]]) -> list[float]:
    """Seconds of writing the same rows, a transaction a press, by sqlite3 alone with the same settings."""
    store, *_ = begun(folder)
    store.close()
    raw = sqlite3.connect(folder / "collection.db", isolation_level=None)
    for pragma in ("locking_mode=EXCLUSIVE", "journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON"):
        raw.execute(f"PRAGMA {pragma}")
    seconds: list[float] = []
    for statements in written:
        start = time.perf_counter()
        raw.execute("BEGIN IMMEDIATE")
        for statement in statements:
            raw.execute(statement)
        raw.execute("COMMIT")
        seconds.append(time.perf_counter() - start)
    raw.close()
    return seconds


def ratio(folder: Path, presses: int) -> Ratio:
    """The median press against the median of its bare rows."""
    program = median(timed(folder / "program", presses))
    alone = median(bare(folder / "bare", rows_of(folder / "traced", presses)))
    return Ratio("one confirmed step, commit included / the same rows by bare sqlite3", program / alone,
                 f"{program * 1000:.1f} ms / {alone * 1000:.2f} ms, median of {presses} moves, undo rows not counted")
