"""Quarantine over a large collection in its store: after one new entry, and from cold, against bare SQL."""

from __future__ import annotations

import json
import random
import sqlite3
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

from greenhouse_desk.domain.journal import (
    KINDS,
    Arrived,
    Facts,
    Looked,
    Note,
    Placed,
    Poured,
    Purpose,
    Sighted,
    Treated,
    written,
)
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services import collection, quarantine, records
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import open_store
from greenhouse_desk.store.folder import DATABASE
from greenhouse_desk.store.tables import INSTANT_FORMAT
from tests.benchmarks.ratio import Ratio

NOW = datetime(2026, 11, 18, 15, 30, tzinfo=UTC)
EACH = 100
"""Entries a plant."""
ON_A_BENCH = 10
YEARS = 5 * 365.0
INFESTED = 0.03
LARGE, SAMPLE = 10_000, 100
ROW = "INSERT INTO entry (at, kind, plant, facts, note) VALUES (?, ?, ?, ?, '')"


def facts_of_one(dice: random.Random, benches: list[int]) -> Iterator[tuple[float, Facts]]:
    """A hundred entries of an invented plant with how many days ago: ten moves, thirty looks, pours and notes."""
    yield YEARS, Arrived()
    yield YEARS - 0.1, Placed(dice.choice(benches), 1.0)
    for _ in range(9):
        yield dice.uniform(1, YEARS - 1), Placed(dice.choice(benches), 1.0)
    found = dice.uniform(5, 170) if dice.random() < INFESTED else None
    if found is not None:
        yield found, Sighted("mealybug")
        yield found - 1, Treated("mild-soap", Purpose.PEST_WASH)
    for _ in range(30):
        yield dice.uniform(0, YEARS - 1), Looked(True, "10x")
    for nth in range(EACH - 41 - 2 * (found is not None)):
        yield dice.uniform(0, YEARS - 1), Poured(300) if nth % 3 else Note("leaf count noted")


def built(folder: Path, plants: int) -> Path:
    """A collection of `plants` with a hundred entries each, written by bare SQL; its folder."""
    store = open_store(folder, create=True)
    desk = Desk(store, lambda: NOW - timedelta(days=YEARS))
    benches = [desk.run(collection.save_place, Place(0, f"Bench {nth}", position=nth, isolation=nth == 0))
               for nth in range(max(2, plants // ON_A_BENCH))]
    store.close()
    raw = sqlite3.connect(folder / DATABASE)
    dice = random.Random(f"{plants} plants")
    raw.executemany("INSERT INTO plant (number, name, habit, notes) VALUES (?, 'Laelia anceps', 'unknown', '')",
                    ((number,) for number in range(1, plants + 1)))
    raw.executemany(ROW, _rows(plants, dice, benches))
    raw.commit()
    raw.close()
    return folder


def _rows(plants: int, dice: random.Random, benches: list[int]) -> Iterator[tuple[str, str, int, str]]:
    for number in range(1, plants + 1):
        for ago, facts in facts_of_one(dice, benches):
            at = (NOW - timedelta(days=ago)).strftime(INSTANT_FORMAT)
            yield at, KINDS[type(facts)].value, number, json.dumps(written(facts), sort_keys=True,
                                                                  separators=(",", ":"))


def seconds(work: Callable[[], object]) -> float:
    """How long it takes in this process: others on the machine do not count."""
    begun = time.process_time()
    work()
    return time.process_time() - begun


def ratios(there: Path, plants: int) -> Iterator[Ratio]:
    """From cold, and after one new entry, for a collection of `plants`."""
    folder = built(there / f"{plants} plants", plants)
    entries, size = plants * EACH, f"{plants:,} plants with {plants * EACH:,} entries"
    raw = sqlite3.connect(folder / DATABASE)
    bare = seconds(lambda: raw.execute("SELECT * FROM entry ORDER BY at, id").fetchall())
    one = min(seconds(lambda: raw.execute("SELECT * FROM entry WHERE plant = 7 ORDER BY at, id").fetchall())
              for _ in range(9))
    raw.close()
    store = open_store(folder)
    clock = [NOW]
    desk = Desk(store, lambda: clock[0])
    cold = seconds(lambda: desk.read(quarantine.status, NOW))
    yield Ratio(f"status of {size} from cold / reading all its rows by bare SQL", cold / bare,
                f"{cold:.2f} s / {bare:.2f} s, {entries / cold:,.0f} entries a second")
    warm = min(after_a_look(desk, clock, number) for number in (7, 9, 11))
    yield Ratio(f"status of {size} after one new entry / re-reading that plant's rows by bare SQL", warm / one,
                f"{warm * 1000:.1f} ms / {one * 1000:.3f} ms; from cold {cold / warm:.0f} times as long")
    store.close()


def after_a_look(desk: Desk, clock: list[datetime], number: int) -> float:
    """Seconds to ask for the status again, a minute later, after a look at one plant."""
    clock[0] += timedelta(minutes=1)
    desk.run(records.add, number, Looked(True, "10x"))
    return seconds(lambda: desk.read(quarantine.status, clock[0]))
