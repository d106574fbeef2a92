"""Plants, places and sources: rows in, domain values out; where a plant stands is read from its newest entries."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, time, tzinfo
from typing import Any

from sqlalchemy import delete, func, select, update
from sqlalchemy.orm import Session

from greenhouse_desk.domain.journal import Arrived, Entry, Facts, Kind, Left, Photo, Placed, Potted
from greenhouse_desk.domain.plants import Habit, Place, Plant, Source
from greenhouse_desk.store import journal
from greenhouse_desk.store.kept import Told
from greenhouse_desk.store.tables import PlaceRow, PlantRow, SourceRow

Columns = tuple[Any, ...]
"""Number, name, habit and notes, as their row has them."""


def plants(session: Session, zone: tzinfo, numbers: list[int] | None = None) -> tuple[Plant, ...]:
    """Plants as they stand now, by number; `zone` turns instants into care days. All of them without `numbers`."""
    query = select(PlantRow.number, PlantRow.name, PlantRow.habit, PlantRow.notes).order_by(PlantRow.number)
    if numbers is not None:
        query = query.where(PlantRow.number.in_(numbers))
    told = journal.told(session, numbers)
    return tuple(_stands(tuple(row), told.get(row.number), zone) for row in session.connection().execute(query))


def add_plant(session: Session, number: int, name: str, habit: Habit, notes: str = "") -> None:
    """A new plant; its arrival, place and potting are entries of its journal."""
    session.add(PlantRow(number=number, name=name, habit=habit.value, notes=notes))
    session.flush()


def change_plant(session: Session, number: int, name: str, habit: Habit, notes: str) -> None:
    """Rewrite what is kept on the plant itself."""
    session.execute(update(PlantRow).where(PlantRow.number == number).values(
        name=name, habit=habit.value, notes=notes))


def next_number(session: Session) -> int:
    """The number after the highest ever given, 101 in an empty collection."""
    return int(session.scalar(select(func.coalesce(func.max(PlantRow.number), 100))) or 100) + 1


def places(session: Session) -> tuple[Place, ...]:
    """All places in house order."""
    rows = session.execute(select(PlaceRow.id, PlaceRow.name, PlaceRow.parent, PlaceRow.position, PlaceRow.isolation,
                                  PlaceRow.bench, PlaceRow.lights_out).order_by(PlaceRow.position, PlaceRow.id))
    return tuple(Place(*row[:6], time.fromisoformat(row.lights_out) if row.lights_out else None) for row in rows)


def save_place(session: Session, place: Place) -> int:
    """Write a place, a new one when its id is 0; returns its id."""
    row = session.get(PlaceRow, place.id) if place.id else PlaceRow()
    if row is None:
        raise LookupError(f"no place {place.id}")
    row.name, row.parent, row.position = place.name, place.parent, place.position
    row.isolation, row.bench = place.isolation, place.bench
    row.lights_out = place.lights_out.isoformat("minutes") if place.lights_out else None
    session.add(row)
    session.flush()
    return row.id


def remove_place(session: Session, place: int) -> None:
    """Take a place away; nothing may refer to it any more."""
    session.execute(delete(PlaceRow).where(PlaceRow.id == place))


def sources(session: Session) -> tuple[Source, ...]:
    """All sources by name."""
    return tuple(Source(*row) for row in session.execute(
        select(SourceRow.id, SourceRow.name, SourceRow.notes).order_by(SourceRow.name)))


def source_named(session: Session, name: str) -> int:
    """The key of the source with this name, made when there is none."""
    found = session.scalar(select(SourceRow.id).where(SourceRow.name == name))
    if found is not None:
        return found
    row = SourceRow(name=name)
    session.add(row)
    session.flush()
    return row.id


def how_many(session: Session) -> int:
    """How many plants there are, those that left too."""
    return session.scalar(select(func.count()).select_from(PlantRow)) or 0


def _stands(row: Columns, told: Told | None, zone: tzinfo) -> Plant:
    """The plant of this row as it stands by its journal, which may have no entry."""
    return told.plant((row, zone), lambda told: _plant(row, told.newest, zone)) if told else _plant(row, {}, zone)


def _plant(row: Columns, newest: Mapping[Kind, Entry], zone: tzinfo) -> Plant:
    number, name, habit, notes = row

    def day(kind: Kind) -> date | None:
        return newest[kind].at.astimezone(zone).date() if kind in newest else None

    def facts(kind: Kind) -> Facts | None:
        return newest[kind].facts if kind in newest else None

    where, potted, arrived, left, photo = (facts(kind) for kind in (
        Kind.PLACED, Kind.POTTED, Kind.ARRIVED, Kind.LEFT, Kind.PHOTO))
    return Plant(
        number, name, Habit(habit), notes=notes,
        place=where.place if isinstance(where, Placed) else None,
        order=where.order if isinstance(where, Placed) else 0.0,
        medium=potted.medium if isinstance(potted, Potted) else "",
        pot=potted.pot if isinstance(potted, Potted) else "",
        transition=potted.transition if isinstance(potted, Potted) else False,
        potted_on=day(Kind.POTTED) if isinstance(potted, Potted) and potted.day_known else None,
        source=arrived.source if isinstance(arrived, Arrived) else None,
        acquired_on=day(Kind.ARRIVED) if isinstance(arrived, Arrived) and arrived.day_known else None,
        photo=photo.sha256 if isinstance(photo, Photo) else None,
        left=left.how if isinstance(left, Left) else None, left_on=day(Kind.LEFT),
        left_reason=left.reason if isinstance(left, Left) else "")
