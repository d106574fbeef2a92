"""What is asked at each press and for one plant is searched for by an index, not by going through the whole journal."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from greenhouse_desk.domain.bench import Key
from greenhouse_desk.domain.journal import Entry, Note, Reading, Wetted
from greenhouse_desk.services import care, shelf, treatments
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.treatments import Choice
from greenhouse_desk.store import air as air_store
from greenhouse_desk.store import journal
from greenhouse_desk.store.engine import Session, open_store
from tests.benchmarks import big_collection
from tests.benchmarks.big_collection import NOW

READS = ("SELECT", "WITH")


@pytest.fixture
def big(tmp_path: Path) -> Iterator[Desk]:
    """A collection of two benches, opened anew."""
    big_collection.build(tmp_path / "big", 40)
    store = open_store(tmp_path / "big")
    yield Desk(store, lambda: NOW)
    store.close()


@contextmanager
def searched(desk: Desk) -> Iterator[list[str]]:
    """How SQLite goes about each question asked meanwhile, as it says itself; filled in afterwards."""
    asked: list[str] = []
    plans: list[str] = []
    desk.store.raw.set_trace_callback(asked.append)
    yield plans
    desk.store.raw.set_trace_callback(None)
    for statement in asked:
        if statement.lstrip().upper().startswith(READS):
            plans += [row[3] for row in desk.store.raw.execute(f"EXPLAIN QUERY PLAN {statement}")]


def through_all(plans: list[str]) -> list[str]:
    """The questions that go through the whole journal."""
    return [plan for plan in plans if plan.startswith("SCAN entry")]


def test_the_check_finds_what_goes_through_the_whole_journal(big: Desk) -> None:
    with searched(big) as plans:
        big.read(journal.everything)
    assert through_all(plans)


def test_a_press_at_the_bench_and_what_the_bell_reads_after_it(big: Desk) -> None:
    session = big.run(treatments.start, (Choice(101, "pest-wash"), Choice(103, "pest-wash")), shelf.shelf(None))
    named: list[frozenset[int] | None] = []
    big.listeners.append(lambda changed: named.append(changed.plants))
    with searched(big) as plans:
        for _ in range(4):
            big.run(treatments.press, session, Key.NEXT, sure=True)
            big.read(treatments.sitting, session, NOW)
            big.read(care.by_plant, NOW, named[-1])
    assert len(plans) > 20
    assert through_all(plans) == []


def test_what_one_plant_is_owed(big: Desk) -> None:
    with searched(big) as plans:
        big.read(care.of_plant, 103, NOW)
    assert through_all(plans) == []


def of_runs(session: Session, runs: list[int]) -> list[Entry]:
    """What these runs wrote, told by reading everything."""
    return sorted((entry for entry in journal.everything(session) if entry.run in runs), key=lambda entry: entry.id)


def test_what_a_run_wrote_is_found_whole_also_what_names_no_plant(big: Desk) -> None:
    session = big.run(treatments.start, (Choice(101, "pest-wash"), Choice(103, "pest-wash")), shelf.shelf(None))
    big.run(treatments.press, session, Key.NEXT, sure=True)
    big.run(treatments.note, session, "on a plant", 103)
    runs = [row[0] for row in big.store.raw.execute("SELECT id FROM run")]
    with big.store.transaction() as writing:
        journal.add(writing, NOW, Note("on the session"), run=runs[-1])
    for some in (runs, *([run] for run in runs)):
        assert list(big.read(journal.of_runs, some)) == big.read(of_runs, some)
    assert any(entry.plant is None for entry in big.read(journal.of_runs, runs))


def test_the_newest_air_of_each_place(big: Desk) -> None:
    with big.store.transaction() as session:
        journal.add(session, NOW, Reading(15.0, 0.5), place=3)
        journal.add(session, NOW, Reading(16.0, 0.6), place=3)
        journal.add(session, NOW, Wetted(()), place=3)
    newest: dict[int, float] = {}
    for entry in big.read(journal.everything):
        if isinstance(entry.facts, Reading) and entry.place is not None:
            newest[entry.place] = entry.facts.temp_c
    with searched(big) as plans:
        air = big.read(air_store.newest)
    assert {place: one.temp_c for place, one in air.items()} == newest
    assert newest[3] == 16.0
    assert len(newest) >= 2
    assert through_all(plans) == []


