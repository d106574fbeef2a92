"""Is the collection whole: the database, its references, every fact readable, every photo there and unchanged."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Any

from sqlalchemy import select, text
from sqlalchemy.orm import Session

from greenhouse_desk.domain.air_slots import slots
from greenhouse_desk.domain.faults import OutOfRange
from greenhouse_desk.domain.journal import Arrived, Facts, Kind, Photo, Placed, facts_of, read
from greenhouse_desk.domain.plants import Habit
from greenhouse_desk.domain.protocols import ProtocolStep
from greenhouse_desk.store import air_blocks, photos
from greenhouse_desk.store.air import seconds_of
from greenhouse_desk.store.house import rule_faults, year_faults
from greenhouse_desk.store.tables import AirReadingRow, EntryRow, PlaceRow, PlantRow, RunStepRow, SourceRow


def faults(session: Session, photos_folder: Path) -> tuple[str, ...]:
    """Everything that is wrong with the open collection, one sentence each; empty when it is whole."""
    database = tuple(_database_faults(session))
    if database:
        return database  # what such a file tells about its rows cannot be trusted
    return (*_loose_references(session), *rule_faults(session), *year_faults(session), *_plant_faults(session),
            *_step_faults(session), *_entry_faults(session, photos_folder), *_air_faults(session))


def _database_faults(session: Session) -> Iterator[str]:
    for words in session.execute(text("PRAGMA integrity_check(20)")).scalars():
        if words != "ok":
            yield f"database: {words}"


def _loose_references(session: Session) -> Iterator[str]:
    for table, row, parent, _ in session.execute(text("PRAGMA foreign_key_check")):
        yield f"database: {table} row {row} refers to a {parent} that is not there"


def _plant_faults(session: Session) -> Iterator[str]:
    for number, habit in session.execute(select(PlantRow.number, PlantRow.habit)):
        yield from _trouble(f"plant {number}", Habit, habit)


def _step_faults(session: Session) -> Iterator[str]:
    for key, step in session.execute(select(RunStepRow.id, RunStepRow.step)):
        yield from _trouble(f"bench step {key}", read, ProtocolStep, step)


def _air_faults(session: Session) -> Iterator[str]:
    """Packed days of loggers that cannot be unpacked, or whose half hours tell something else."""
    query = select(AirReadingRow.place, AirReadingRow.day, AirReadingRow.readings, AirReadingRow.packed,
                   AirReadingRow.halves).order_by(AirReadingRow.place, AirReadingRow.day)
    for place, day, readings, packed, halves in session.execute(query.execution_options(yield_per=50)):
        where = f"air of place {place} on {day}"
        try:
            log = air_blocks.unpacked(seconds_of(date.fromisoformat(day)), packed)
            told = air_blocks.halves_of(halves)
        except ValueError as error:
            yield f"{where}: {error}"
            continue
        if len(log.at) != readings or told != slots(log):
            yield f"{where}: its readings and what is told of them differ"


def _entry_faults(session: Session, photos_folder: Path) -> Iterator[str]:
    known = {Placed: set(session.scalars(select(PlaceRow.id))), Arrived: set(session.scalars(select(SourceRow.id)))}
    seen: dict[str, bool] = {}
    query = select(EntryRow.id, EntryRow.kind, EntryRow.facts).order_by(EntryRow.id).execution_options(yield_per=500)
    for key, kind, data in session.execute(query):
        where = f"entry {key} ({kind})"
        try:
            facts = facts_of(Kind(kind), data)
        except (ValueError, TypeError, KeyError) as error:
            yield f"{where}: {error}"
            continue
        yield from _reference_faults(where, facts, known)
        if isinstance(facts, Photo):
            yield from _photo_faults(where, facts.sha256, photos_folder, seen)


def _reference_faults(where: str, facts: Facts, known: dict[type, set[int]]) -> Iterator[str]:
    """References that must hold. An answer may outlive the entry it answered: it then says nothing."""
    if isinstance(facts, Placed) and facts.place not in known[Placed]:
        yield f"{where}: place {facts.place} is not there"
    if isinstance(facts, Arrived) and facts.source is not None and facts.source not in known[Arrived]:
        yield f"{where}: source {facts.source} is not there"


def _photo_faults(where: str, sha256: str, photos_folder: Path, seen: dict[str, bool]) -> Iterator[str]:
    if not photos.NAME.match(sha256):
        yield f"{where}: {sha256!r} names no photo"
        return
    if sha256 not in seen:
        seen[sha256] = photos.sound(photos_folder, sha256)
    if not seen[sha256]:
        there = photos.path(photos_folder, sha256).is_file()
        yield f"{where}: photo {sha256} {'is damaged' if there else 'is not there'}"


def _trouble(where: str, reader: Callable[..., Any], *args: Any) -> Iterator[str]:
    try:
        reader(*args)
    except (ValueError, TypeError, KeyError, OutOfRange) as error:
        yield f"{where}: {error}"
