"""The window's questions in a large collection, and a press at its bench with the bell running, against bare rows."""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from greenhouse_desk.domain.journal import Note
from greenhouse_desk.services import care, collection, records
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import Store, open_store
from tests.benchmarks import big_collection
from tests.benchmarks.big_collection import NOW
from tests.benchmarks.ratio import Ratio

SMALL, LARGE = 100, 2_000
ONE = 150
Timed = Callable[[], object]


def best(work: Timed, times: int, before: Timed = int) -> float:
    """The shortest of some runs, in seconds of this process; `before` each something is done that is not counted."""
    spent = []
    for _ in range(times):
        before()
        begun = time.process_time()
        work()
        spent.append(time.process_time() - begun)
    return min(spent)


def bare(folder: Path, times: int) -> float:
    """Seconds to read every row of the journal by sqlite3 alone."""
    raw = sqlite3.connect(folder / "collection.db")
    raw.execute("PRAGMA journal_mode=WAL")
    found = best(lambda: raw.execute("SELECT * FROM entry").fetchall(), times)
    raw.close()
    return found


def questions(store: Store, times: int) -> Iterator[tuple[str, float]]:
    """What the window asks, each after one plant's journal was added to, as it is after a deed."""
    desk = Desk(store, lambda: NOW)
    first = best(lambda: desk.read(collection.overview, NOW), 1)
    changed: list[frozenset[int] | None] = []
    desk.listeners.append(lambda change: changed.append(change.plants))

    def deed() -> None:
        desk.run(records.add, ONE, Note("x"))

    yield "overview, the first since the program started", first
    yield "overview after a deed", best(lambda: desk.read(collection.overview, NOW), times, deed)
    yield "drawer of one plant", best(lambda: desk.read(collection.drawer, ONE, NOW), times, deed)
    yield "due, for all plants", best(lambda: desk.read(care.due, NOW), times, deed)
    yield "what the bell reads after a press", best(lambda: desk.read(care.by_plant, NOW, changed[-1]), times, deed)


def ratios(there: Path, quick: bool, press: Callable[[Path], dict[str, float]]) -> Iterator[Ratio]:
    """Each question against the bare rows; `press` measures the bench of the collection in a process of its own."""
    plants, times = (SMALL, 3) if quick else (LARGE, 7)
    folder = there / f"{plants}-plants"
    big_collection.build(folder, plants)
    rows = bare(folder, times)
    store = open_store(folder)
    entries = store.raw.execute("SELECT count(*) FROM entry").fetchone()[0]
    for what, seconds in questions(store, times):
        yield Ratio(f"{plants} plants: {what} / every journal row by bare sqlite3", seconds / rows,
                    f"{seconds * 1000:.0f} ms / {rows * 1000:.0f} ms for {entries} rows")
    store.close()
    found = press(folder)
    yield Ratio(f"{plants} plants: key press to repainted bench screen and the bell's next second / every journal row",
                (found["key_s"] + found["second_s"]) / rows,
                f"{found['key_s'] * 1000:.0f} ms and {found['second_s'] * 1000:.0f} ms / {rows * 1000:.0f} ms")
