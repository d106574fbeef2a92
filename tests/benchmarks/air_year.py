"""A year of minute readings from a logger's file to the commit, against bare sqlite3 given the same rows ready."""

from __future__ import annotations

import math
import random
import sqlite3
import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

from greenhouse_desk.domain.plants import Home, Place
from greenhouse_desk.services import air_import, collection, findings, house
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.findings import Question, Topic
from greenhouse_desk.store.engine import open_store
from tests.benchmarks.ratio import Ratio

END = datetime(2026, 11, 18, 12, 0, tzinfo=UTC)
YEAR, SAMPLE = 525_600, 43_200
Row = tuple[int, str, float, float]


def rows(count: int) -> list[Row]:
    """Readings at a place, one a minute up to END: they swing with the day, in steps of a tenth."""
    start, dice = END - timedelta(minutes=count), random.Random("a year of minutes")
    return [(1, f"{start + timedelta(minutes=nth):%Y-%m-%dT%H:%M}Z",
             round(20 + 3 * math.sin(nth / 1440 * math.tau) + dice.gauss(0, 0.1), 1),
             round(65 - 9 * math.sin(nth / 1440 * math.tau) + dice.gauss(0, 0.3), 1)) for nth in range(count)]


def written(path: Path, told: list[Row]) -> Path:
    """The logger's file of these readings."""
    lines = ["time,temperature,humidity", *(f"{at},{temp},{rh}" for _, at, temp, rh in told)]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def bare(path: Path, told: list[Row]) -> tuple[float, float]:
    """Seconds by executemany of rows that are ready in memory, a row a reading, commit included; and MB on disk."""
    raw = sqlite3.connect(path, isolation_level=None)
    for pragma in ("locking_mode=EXCLUSIVE", "journal_mode=WAL", "synchronous=FULL"):
        raw.execute(f"PRAGMA {pragma}")
    raw.execute("CREATE TABLE air (place INTEGER, at TEXT, temp REAL, rh REAL, PRIMARY KEY (place, at))")
    begun = time.perf_counter()
    raw.execute("BEGIN IMMEDIATE")
    raw.executemany("INSERT INTO air VALUES (?, ?, ?, ?)", told)
    raw.execute("COMMIT")
    took = time.perf_counter() - begun
    raw.close()
    return took, path.stat().st_size / 1e6


def ratios(folder: Path, quick: bool) -> Iterator[Ratio]:
    """Taken in, taken in again, and shown under Findings."""
    count = SAMPLE if quick else YEAR
    told = rows(count)
    folder.mkdir(parents=True)
    file = written(folder / "year.csv", told)
    alone, alone_mb = bare(folder / "bare.db", told)
    store = open_store(folder / "collection", create=True)
    desk = Desk(store, lambda: END)
    desk.run(house.save_home, Home(43.3, -8.2, "Europe/Madrid"))
    place = desk.run(collection.save_place, Place(0, "East sill"))

    def take() -> tuple[float, float]:
        begun = time.perf_counter()
        looked = desk.read(air_import.look, file)
        known = desk.read(air_import.known_days, place)
        made = air_import.prepare(looked, place, desk.read(house.zone), END, known)
        ready = time.perf_counter()
        desk.run(air_import.take_in, made)
        return time.perf_counter() - begun, time.perf_counter() - ready

    first, commit = take()
    size = sum(store.raw.execute("SELECT sum(length(packed) + length(halves)) FROM air_reading").fetchone()) / 1e6
    again, _ = take()
    begun = time.perf_counter()
    found = desk.read(findings.answer, END, Question(Topic.AIR, place=place))
    asked = time.perf_counter() - begun
    store.close()
    assert f"{count:,}" in found.rests_on
    yield Ratio(f"{count:,} readings of a logger from file to commit / ready rows by bare executemany", first / alone,
                f"{first:.2f} s, of which {commit * 1000:.0f} ms in the window's thread / {alone:.2f} s; {size:.1f} MB "
                f"packed / {alone_mb:.1f} MB; the same file again {again:.2f} s; its finding {asked * 1000:.0f} ms")
