"""What loggers wrote, in the store: packed small, damage told, and beside what was read by hand."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.air_log import Log
from greenhouse_desk.domain.air_slots import slots
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Reading
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services import backup, collection
from greenhouse_desk.services.desk import Desk, Done
from greenhouse_desk.store import air, air_blocks, engine, journal, migrate
from greenhouse_desk.store.air import Block, Import
from greenhouse_desk.store.engine import Session
from greenhouse_desk.store.folder import DATABASE, SCHEMA
from tests.builders import NOW

DAY = date(2026, 11, 18)
START = air.seconds_of(DAY)
MINUTES = Log([START + 60 * nth for nth in range(900)], [1800 + nth % 60 for nth in range(900)],
              [6000 + 7 * (nth % 50) for nth in range(900)], [-1 if nth % 3 else 25 for nth in range(900)])
FIGURES = st.integers(-3000, 6000)


def block(log: Log = MINUTES) -> Block:
    return Block(DAY, len(log.at), air_blocks.packed(START, log), air_blocks.halves(log))


def keep(session: Session, now: object, place: int, *days: Block) -> Done[None]:
    """A verb: these packed days of a place."""
    at = datetime(2026, 11, 18, tzinfo=UTC)
    air.save(session, Import(place, "a.csv", at, at, at, 1, 0), days, air.blocks(session, place))
    return Done("Keep", frozenset({"air"}), None)


@pytest.fixture
def sill(desk: Desk) -> int:
    """A place."""
    return desk.run(collection.save_place, Place(0, "Sill"))


@given(st.lists(st.tuples(st.integers(0, 86_399), FIGURES, st.integers(0, 10_000), st.integers(-1, 1000)), min_size=1,
                max_size=60, unique_by=lambda row: row[0]))
def test_what_is_packed_comes_back_whole(rows: list[tuple[int, int, int, int]]) -> None:
    told = sorted(rows)
    log = Log([START + row[0] for row in told], *([row[nth] for row in told] for nth in (1, 2, 3)))
    assert air_blocks.unpacked(START, air_blocks.packed(START, log)) == log
    assert air_blocks.halves_of(air_blocks.halves(log)) == slots(log)


def test_a_day_of_minutes_is_small() -> None:
    assert len(block().packed) + len(block().halves) < 4_000


@pytest.mark.parametrize("spoil", [
    lambda text: text[2:], lambda text: text[:-8], lambda text: "1:" + "0" * 40, lambda text: "2:" + text[2:],
    lambda text: "1:"])
def test_a_damaged_day_is_told_not_believed(desk: Desk, sill: int, spoil: Callable[[str], str]) -> None:
    desk.run(keep, sill, block())
    assert backup.check(desk.store) == ()
    desk.store.raw.execute("UPDATE air_reading SET packed = ?", (spoil(block().packed),))
    (fault,) = backup.check(desk.store)
    assert fault.startswith(f"air of place {sill} on 2026-11-18: ")


def test_half_hours_that_do_not_fit_their_readings_are_told(desk: Desk, sill: int) -> None:
    other = Log(MINUTES.at, [2500] * 900, MINUTES.rh, MINUTES.speed)
    desk.run(keep, sill, Block(DAY, 900, block().packed, air_blocks.halves(other)))
    assert backup.check(desk.store) == (f"air of place {sill} on 2026-11-18: its readings and what is told of them "
                                        "differ",)


def test_readings_by_hand_and_by_logger_are_one_record(desk: Desk, sill: int) -> None:
    desk.run(keep, sill, block())
    assert desk.read(air.newest)[sill].temp_c == 18.59, "of a place where nothing was read by hand"
    with desk.store.transaction() as session:
        journal.add(session, NOW - timedelta(hours=1), Reading(30.0, 0.5), place=sill)
        journal.add(session, NOW - timedelta(hours=1), Reading(31.0, 0.5), place=sill)
    last = datetime.fromtimestamp(MINUTES.at[-1], UTC)
    newest = desk.read(air.newest)[sill]
    assert (newest.at, newest.logged, newest.temp_c) == (last, True, 18.59)
    told = desk.read(air.record, sill, last - timedelta(hours=2), 600)
    assert [one.at for one in told] == sorted(one.at for one in told)
    assert sum(one.logged for one in told) == 12
    assert sum(not one.logged for one in told) == 2
    assert [one.temp_c for one in desk.read(air.by_hand, sill, NOW - timedelta(days=1), NOW)] == [30.0, 31.0]
    found = desk.read(air.logged, sill, last - timedelta(hours=2), last)
    assert [one.start for one in found] == [START + 1800 * nth for nth in (26, 27, 28, 29)]


def test_a_collection_of_the_first_schema_is_brought_up_to_date(desk: Desk, sill: int,
                                                                 reopened: Callable[[], Desk]) -> None:
    """Made by the step of the first schema itself, so that no table is there but those it had."""
    folder = desk.store.folder
    desk.store.close()
    (folder / DATABASE).unlink()
    with closing(sqlite3.connect(folder / DATABASE, isolation_level=None)) as raw:
        migrate.upgrade(engine._engine(folder / DATABASE, raw), raw, 0, 1, migrate.VERSIONS)
        raw.execute("INSERT INTO place (id, name, position, isolation, bench) VALUES (7, 'Sill', 0, 0, 1)")
        raw.execute("INSERT INTO entry (at, kind, place, facts, note) VALUES ('2026-11-18T10:00:00.000000Z', "
                    "'reading', 7, '{\"rh\":0.5,\"temp_c\":21.0}', '')")
        assert raw.execute("SELECT count(*) FROM sqlite_master WHERE name LIKE 'air%'").fetchone() == (0,)
    again = reopened()
    assert again.store.raw.execute("PRAGMA user_version").fetchone() == (SCHEMA,)
    assert again.read(air.newest)[7].temp_c == 21.0
    again.run(keep, 7, block())
    assert again.read(air.newest)[7].logged
    assert backup.check(again.store) == ()
    assert [path.name for path in (folder / "backups").glob("*.db")] == ["schema-1-before-update-1.db"]


def test_a_collection_whose_loggers_all_told_humidity_is_brought_up_to_date_with_every_reading(
        desk: Desk, sill: int, reopened: Callable[[], Desk]) -> None:
    """The second schema had the tables of today: what is there must be the same afterwards."""
    folder = desk.store.folder
    desk.run(keep, sill, block())
    desk.store.raw.execute("PRAGMA user_version=2")
    desk.store.close()
    again = reopened()
    assert again.store.raw.execute("PRAGMA user_version").fetchone() == (3,)
    assert again.read(air.blocks, sill) == {DAY: block()}
    assert backup.check(again.store) == ()
    assert [path.name for path in (folder / "backups").glob("*.db")] == ["schema-2-before-update-1.db"]


def test_a_program_that_takes_unmeasured_humidity_for_a_figure_refuses_the_collection(
        desk: Desk, sill: int, monkeypatch: pytest.MonkeyPatch) -> None:
    desk.run(keep, sill, block(Log(MINUTES.at, MINUTES.temp, [-1] * 900, MINUTES.speed)))
    desk.store.close()
    monkeypatch.setattr(engine, "SCHEMA", 2)
    with pytest.raises(Refused, match="newer"):
        engine.open_store(desk.store.folder)
