"""The air of places: what was read by hand (the journal) and what loggers wrote (packed days), behind one question."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Any

from sqlalchemy import Row, delete, func, insert, select, update
from sqlalchemy.orm import Session, aliased

from greenhouse_desk.domain.air_log import Log
from greenhouse_desk.domain.air_newest import newest_of, readings_of, thinned
from greenhouse_desk.domain.air_slots import Slot, slots
from greenhouse_desk.domain.journal import Kind, Reading, facts_of
from greenhouse_desk.domain.plants import Air
from greenhouse_desk.store import air_blocks
from greenhouse_desk.store.tables import AirImportRow, AirReadingRow, EntryRow, PlaceRow


@dataclass(frozen=True, slots=True)
class Block:
    """A day (UTC) of a logger's readings at a place, packed, with its half hours."""

    day: date
    readings: int
    packed: str
    halves: str


@dataclass(frozen=True, slots=True)
class Import:
    """A file that was taken in: its name, when (aware UTC), what it covered, how many readings were new and how many
    took the place of others."""

    place: int
    file: str
    at: datetime
    first: datetime
    last: datetime
    added: int
    changed: int


def newest(session: Session) -> dict[int, Air]:
    """The newest air of each place, by hand or by logger."""
    hand, logger = _newest_by_hand(session), _newest_logged(session)
    return {place: newest_of(hand.get(place), logger.get(place)) for place in sorted({*hand, *logger})}


def record(session: Session, place: int, since: datetime, apart_s: int = 0) -> tuple[Air, ...]:
    """A place's readings, by hand and by logger, from `since` (aware) on, oldest first; a logger's at least `apart_s`
    apart. For days: a logger's year is for `logged`."""
    start = since.timestamp()
    told = [one for block in blocks(session, place, since.astimezone(UTC).date()).values()
            if (log := readable(block.day, block.packed)) is not None
            for one in readings_of(thinned(log, apart_s)) if one.at.timestamp() >= start]
    return tuple(sorted((*by_hand(session, place, since), *told), key=lambda one: one.at))


def by_hand(session: Session, place: int, since: datetime, until: datetime | None = None) -> tuple[Air, ...]:
    """A place's readings written by hand from `since` to `until` (aware; None: on), oldest first."""
    query = select(EntryRow.at, EntryRow.facts).where(
        EntryRow.kind == Kind.READING.value, EntryRow.place == place, EntryRow.at >= since)
    if until is not None:
        query = query.where(EntryRow.at <= until)
    return tuple(_air(row) for row in session.execute(query.order_by(EntryRow.at, EntryRow.id)))


def logged(session: Session, place: int, since: datetime, until: datetime) -> tuple[Slot, ...]:
    """The half hours of a place's logger that begin from `since` to `until` (aware), oldest first."""
    start, end = since.timestamp(), until.timestamp()
    return tuple(one for _, halves in _days_of_halves(session, place, since, until) for one in halves or ()
                 if start <= one.start <= end)


def lost(session: Session, place: int, since: datetime, until: datetime) -> tuple[date, ...]:
    """The days (UTC) of a place's logger from `since` to `until` (aware) that are damaged and missing in `logged`."""
    return tuple(day for day, halves in _days_of_halves(session, place, since, until) if halves is None)


def _days_of_halves(session: Session, place: int, since: datetime,
                    until: datetime) -> Iterator[tuple[date, tuple[Slot, ...] | None]]:
    """The half hours of each day; made anew from its readings where they are damaged, None where those are too."""
    query = select(AirReadingRow.day, AirReadingRow.halves, AirReadingRow.packed).where(
        AirReadingRow.place == place, AirReadingRow.day >= _key(since), AirReadingRow.day <= _key(until)).order_by(
        AirReadingRow.day)
    for row in session.execute(query):
        day = date.fromisoformat(row.day)
        try:
            yield day, air_blocks.halves_of(row.halves)
        except ValueError:
            log = readable(day, row.packed)
            yield day, None if log is None else slots(log)


def readable(day: date, packed: str) -> Log | None:
    """A packed day's readings; None where it is damaged, so that one day does not take the others with it: `check`
    names it."""
    try:
        return air_blocks.unpacked(seconds_of(day), packed)
    except ValueError:
        return None


def blocks(session: Session, place: int, since: date | None = None) -> dict[date, Block]:
    """A place's packed days by day."""
    query = select(AirReadingRow.day, AirReadingRow.readings, AirReadingRow.packed, AirReadingRow.halves).where(
        AirReadingRow.place == place).order_by(AirReadingRow.day)
    if since is not None:
        query = query.where(AirReadingRow.day >= since.isoformat())
    return {block.day: block for row in session.execute(query)
            if (block := Block(date.fromisoformat(row.day), *row[1:]))}


def save(session: Session, made: Import, days: Iterable[Block], known: Mapping[date, Block]) -> None:
    """Keep these packed days of a place, in the place of those `known`, and the import that brought them."""
    session.add(AirImportRow(place=made.place, file=made.file, at=made.at, first=made.first, last=made.last,
                             added=made.added, changed=made.changed))
    session.flush()
    connection, new = session.connection(), []
    for block in days:
        figures = {"readings": block.readings, "packed": block.packed, "halves": block.halves}
        if block.day in known:
            connection.execute(update(AirReadingRow).where(
                AirReadingRow.place == made.place, AirReadingRow.day == block.day.isoformat()).values(figures))
        else:
            new.append({"place": made.place, "day": block.day.isoformat(), **figures})
    if new:
        connection.execute(insert(AirReadingRow), new)


def put(session: Session, place: int, days: Mapping[date, Block | None]) -> None:
    """Keep these packed days of a place in the place of those known; a day of None goes."""
    for day, block in days.items():
        where = (AirReadingRow.place == place, AirReadingRow.day == day.isoformat())
        session.execute(delete(AirReadingRow).where(*where) if block is None else update(AirReadingRow).where(
            *where).values(readings=block.readings, packed=block.packed, halves=block.halves))


def forget(session: Session, place: int, made: Iterable[Import]) -> None:
    """Forget that these files were taken in at a place."""
    for one in made:
        session.execute(delete(AirImportRow).where(AirImportRow.place == place, AirImportRow.at == one.at,
                                                   AirImportRow.file == one.file))


def imports(session: Session, place: int | None = None) -> tuple[Import, ...]:
    """The files taken in (of one place), newest first."""
    query = select(AirImportRow.place, AirImportRow.file, AirImportRow.at, AirImportRow.first, AirImportRow.last,
                   AirImportRow.added, AirImportRow.changed).order_by(AirImportRow.id.desc())
    if place is not None:
        query = query.where(AirImportRow.place == place)
    return tuple(Import(*row) for row in session.execute(query))


def _newest_by_hand(session: Session) -> dict[int, Air]:
    reading = func.coalesce(EntryRow.kind, "") == Kind.READING.value  # so that the place's own entries are searched
    last = (select(EntryRow.id).where(reading, EntryRow.place == PlaceRow.id)
            .order_by(EntryRow.at.desc(), EntryRow.id.desc()).limit(1).scalar_subquery())
    found = [entry for entry in session.scalars(select(last).select_from(PlaceRow)) if entry is not None]
    query = select(EntryRow.place, EntryRow.at, EntryRow.facts).where(EntryRow.id.in_(found))
    return {row.place: _air(row) for row in session.execute(query)}


def _newest_logged(session: Session) -> dict[int, Air]:
    days = aliased(AirReadingRow)
    last = select(func.max(days.day)).where(days.place == PlaceRow.id).scalar_subquery()  # searched, place by place
    query = select(AirReadingRow.place, AirReadingRow.day, AirReadingRow.packed).select_from(PlaceRow).join(
        AirReadingRow, (AirReadingRow.place == PlaceRow.id) & (AirReadingRow.day == last))
    found = {row.place: readable(date.fromisoformat(row.day), row.packed) for row in session.execute(query)}
    logs = {place: _newest_readable(session, place) if log is None else log for place, log in found.items()}
    return {place: readings_of(Log(log.at[-1:], log.temp[-1:], log.rh[-1:], log.speed[-1:]))[0]
            for place, log in logs.items() if log is not None}


def _newest_readable(session: Session, place: int) -> Log | None:
    """The readings of the newest day that is whole."""
    query = select(AirReadingRow.day, AirReadingRow.packed).where(AirReadingRow.place == place).order_by(
        AirReadingRow.day.desc())
    logs = (readable(date.fromisoformat(row.day), row.packed) for row in session.execute(query))
    return next((log for log in logs if log is not None), None)


def seconds_of(day: date) -> int:
    """When a day of UTC begins, seconds since 1970."""
    return int(datetime(day.year, day.month, day.day, tzinfo=UTC).timestamp())


def _key(at: datetime) -> str:
    return at.astimezone(UTC).date().isoformat()


def _air(row: Row[*tuple[Any, ...]]) -> Air:
    facts = facts_of(Kind.READING, row.facts)
    assert isinstance(facts, Reading)
    return Air(row.at, facts.temp_c, facts.rh, facts.air_speed_m_s, facts.moving)
