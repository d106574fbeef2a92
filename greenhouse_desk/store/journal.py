"""Reading and writing journal entries."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from functools import lru_cache, partial
from typing import Any

from sqlalchemy import ColumnElement, Row, Select, Text, and_, delete, insert, or_, select, type_coerce, union, update
from sqlalchemy.orm import Session

from greenhouse_desk.domain.journal import KINDS, Entry, Facts, Kind, ProtocolCheck, facts_of, read, written
from greenhouse_desk.store.kept import Kept, Told
from greenhouse_desk.store.tables import EntryRow, RunRow, RunStepRow, Table

ENTRY, RUN_STEP = (Table.metadata.tables[row.__tablename__] for row in (EntryRow, RunStepRow))
AT_ONCE = 500
NOT_CLEAN = '"clean":false'
"""How a look that was not clean is written (see `tables.Json`)."""
INSERT = insert(ENTRY).returning(ENTRY.c.id)  # past the ORM: paid with every confirmed step


def add(session: Session, at: datetime, facts: Facts, plant: int | None = None, place: int | None = None,
        note: str = "", run: int | None = None, step: int | None = None) -> int:
    """Write one entry; returns its id."""
    session.flush()
    return int(session.connection().execute(INSERT, {
        "at": at, "kind": KINDS[type(facts)].value, "plant": plant, "place": place, "facts": written(facts),
        "note": note, "run": run, "step": step}).scalar_one())


def correct(session: Session, entry: int, at: datetime, facts: Facts, note: str) -> None:
    """Rewrite an entry: when it happened, its facts and its note."""
    session.execute(update(EntryRow).where(EntryRow.id == entry).values(
        at=at, kind=KINDS[type(facts)].value, facts=written(facts), note=note))


def withdraw(session: Session, entries: Iterable[int]) -> None:
    """Take entries back; what they owed goes with them."""
    session.execute(delete(EntryRow).where(EntryRow.id.in_(list(entries))))


def one(session: Session, entry: int) -> Entry | None:
    """The entry with this id."""
    row = session.execute(_query().where(EntryRow.id == entry)).first()
    return None if row is None else _entry(row)


def of_plant(session: Session, plant: int) -> tuple[Entry, ...]:
    """A plant's whole journal, oldest first."""
    return kept(session).one(plant, partial(_journals, session)).entries


def told(session: Session, plants: Iterable[int] | None = None) -> Mapping[int, Told]:
    """The whole journals of these plants (None: of all) by number; a plant without an entry may be left out."""
    known, read = kept(session), partial(_journals, session)
    return known.all(read) if plants is None else known.some(plants, read)


def telling(session: Session) -> frozenset[int]:
    """The plants whose journals tell on others: on which something was ever found (a pest or disease seen, a look that
    was not clean) or tested for, or that shared water or a tray."""
    return _plants(session, ENTRY.c.kind.in_((Kind.SIGHTED.value, Kind.TESTED.value, Kind.SHARED.value)),
                   and_(ENTRY.c.kind == Kind.LOOKED.value, type_coerce(ENTRY.c.facts, Text).contains(NOT_CLEAN)))


def came_from(session: Session, source: int) -> frozenset[int]:
    """The plants that came from the source with this key."""
    facts = type_coerce(ENTRY.c.facts, Text)
    return _plants(session, and_(ENTRY.c.kind == Kind.ARRIVED.value, or_(
        facts.contains(f'"source":{source},'), facts.contains(f'"source":{source}}}'))))


def _plants(session: Session, *conditions: ColumnElement[bool]) -> frozenset[int]:
    """The plants with an entry of which one of these holds; each is asked by itself, so that it finds its index."""
    rows = session.connection().execute(union(*(select(ENTRY.c.plant).where(one) for one in conditions)))
    return frozenset(plant for plant, in rows if plant is not None)


def oldest(session: Session) -> datetime | None:
    """When the first entry on a plant happened (aware UTC); None where there is none."""
    return session.scalar(select(EntryRow.at).where(EntryRow.plant.is_not(None)).order_by(EntryRow.at).limit(1))


def of_runs(session: Session, runs: Iterable[int], plants: Iterable[int] = (),
            since: datetime | None = None) -> tuple[Entry, ...]:
    """What these runs wrote, and what else these plants' journals tell from `since` (aware) on, in the order it was
    written: at the bench that order holds even where the clock was set back meanwhile.

    What is written at the bench is on a plant of that session or on none, so that no other journal is searched.
    """
    sittings = select(RunRow.session).where(RunRow.id.in_(asked := list(runs)))
    there = select(RunRow.plant).where(RunRow.session.in_(sittings))
    wanted: ColumnElement[bool] = or_(and_(EntryRow.plant.in_(there), EntryRow.run.in_(asked)),
                                      and_(EntryRow.plant.is_(None), EntryRow.run.in_(asked)))
    if since is not None:
        wanted = or_(wanted, and_(EntryRow.plant.in_(list(plants)), EntryRow.at >= since))
    return _entries(session, _query().where(wanted).order_by(None).order_by(EntryRow.id))


def of_kinds(session: Session, kinds: Sequence[Kind], since: datetime | None = None) -> tuple[Entry, ...]:
    """All entries of these kinds, oldest first, from `since` (aware) on."""
    query = _query().where(EntryRow.kind.in_([kind.value for kind in kinds]))
    return _entries(session, query if since is None else query.where(EntryRow.at >= since))


def everything(session: Session) -> tuple[Entry, ...]:
    """The whole journal, oldest first."""
    return _entries(session, _query())


def kept(session: Session) -> Kept:
    """What was read of the journal on this session's connection."""
    session.flush()
    session.connection()  # begins, where nothing was asked yet: what is kept must know that a transaction ended
    found = session.info["kept"]
    assert isinstance(found, Kept)
    return found


def _journals(session: Session, plants: Sequence[int] | None) -> Iterator[Entry]:
    """The entries on these plants (None: on any), each plant's oldest first; past the ORM, for there are many."""
    asked = [ENTRY.c.plant.is_not(None)] if plants is None else [
        ENTRY.c.plant.in_(plants[first:first + AT_ONCE]) for first in range(0, len(plants), AT_ONCE)]
    for condition in asked:
        for row in session.connection().execute(ALL_COLUMNS.where(condition)):
            entry, at, kind, facts, plant, place, note, run, step, copied = row
            yield Entry(entry, datetime.fromisoformat(at), _facts(kind, facts), plant, place, note, run, step,
                        _checks(copied) if copied else ())


ALL_COLUMNS = (select(ENTRY.c.id, type_coerce(ENTRY.c.at, Text), ENTRY.c.kind, type_coerce(ENTRY.c.facts, Text),
                      ENTRY.c.plant, ENTRY.c.place, ENTRY.c.note, ENTRY.c.run, ENTRY.c.step,
                      type_coerce(RUN_STEP.c.step, Text))
               .outerjoin(RUN_STEP, RUN_STEP.c.id == ENTRY.c.step).order_by(ENTRY.c.plant, ENTRY.c.at, ENTRY.c.id))


@lru_cache(maxsize=5_000)
def _checks(text: str) -> tuple[ProtocolCheck, ...]:
    """The checks a copied step asks for by itself."""
    found: tuple[ProtocolCheck, ...] = read(tuple[ProtocolCheck, ...], json.loads(text).get("checks", []), "checks")
    return found


def _query() -> Select[Any]:
    return (select(EntryRow.id, EntryRow.at, EntryRow.kind, type_coerce(EntryRow.facts, Text).label("facts"),
                   EntryRow.plant, EntryRow.place, EntryRow.note, EntryRow.run, EntryRow.step,
                   RunStepRow.step.label("copied"))
            .outerjoin(RunStepRow, RunStepRow.id == EntryRow.step).order_by(EntryRow.at, EntryRow.id))


def _entries(session: Session, query: Select[Any]) -> tuple[Entry, ...]:
    return tuple(_entry(row) for row in session.execute(query))


def _entry(row: Row[*tuple[Any, ...]]) -> Entry:
    checks = read(tuple[ProtocolCheck, ...], row.copied.get("checks", []), "checks") if row.copied else ()
    return Entry(row.id, row.at, _facts(row.kind, row.facts), row.plant, row.place, row.note, row.run, row.step,
                 checks)


@lru_cache(maxsize=50_000)
def _facts(kind: str, text: str) -> Facts:
    """Facts are frozen, and the whole journal is read at every change: each text is understood once."""
    return facts_of(Kind(kind), json.loads(text))
