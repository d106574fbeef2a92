"""Undo kept in the store: triggers write down, for every changed row, the statement that takes the change back."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Connection, delete, func, select, text, update
from sqlalchemy.orm import Session

from greenhouse_desk.store.tables import DeedChangeRow, DeedRow, Table

KEPT_DEEDS = 500
UNWATCHED = {"deed", "deed_change"}


@dataclass(frozen=True, slots=True)
class Deed:
    """A deed that can be undone or redone: its label, when it was done (aware UTC), and what kinds it touched."""

    id: int
    label: str
    at: datetime
    kinds: frozenset[str]


def watch(connection: Connection) -> None:
    """Put the recording triggers on this connection (temporary: they live as long as it does)."""
    connection.exec_driver_sql("CREATE TEMP TABLE IF NOT EXISTS deed_now (deed INTEGER NOT NULL)")
    for table in Table.metadata.sorted_tables:
        if table.name not in UNWATCHED:
            for statement in _triggers(table.name, [column.name for column in table.columns]):
                connection.exec_driver_sql(statement)


def _triggers(table: str, columns: list[str]) -> Iterable[str]:
    names = ", ".join(f'"{name}"' for name in columns)
    values = " || ', ' || ".join(f'quote(OLD."{name}")' for name in columns)
    sets = " || ', ' || ".join(f"'\"{name}\"=' || quote(OLD.\"{name}\")" for name in columns)
    inverse = {
        "INSERT": f"'DELETE FROM \"{table}\" WHERE rowid=' || NEW.rowid",
        "UPDATE": f"'UPDATE \"{table}\" SET ' || {sets} || ' WHERE rowid=' || NEW.rowid",
        "DELETE": f"'INSERT INTO \"{table}\" (rowid, {names}) VALUES (' || OLD.rowid || ', ' || {values} || ')'",
    }
    for verb, statement in inverse.items():
        yield (f"CREATE TEMP TRIGGER IF NOT EXISTS undo_{table}_{verb.lower()} AFTER {verb} ON main.\"{table}\" "
               f"WHEN EXISTS (SELECT 1 FROM deed_now) BEGIN "
               f"INSERT INTO deed_change (deed, statement) SELECT deed, {statement} FROM deed_now; END")


def begin(session: Session, now: datetime) -> int:
    """Open a deed: what the session changes from here on is recorded under it. Returns its id."""
    row = DeedRow(label="", at=now, kinds=[])
    session.add(row)
    session.flush()
    _record_under(session, row.id)
    return row.id


def finish(session: Session, deed: int, label: str, kinds: frozenset[str]) -> bool:
    """Close the deed under its label. Returns False, and forgets it, when it changed nothing."""
    session.flush()
    _record_under(session, None)
    if not session.scalar(select(func.count()).where(DeedChangeRow.deed == deed)):
        session.execute(delete(DeedRow).where(DeedRow.id == deed))
        return False
    session.execute(delete(DeedRow).where(DeedRow.undone))
    session.execute(update(DeedRow).where(DeedRow.id == deed).values(label=label, kinds=sorted(kinds)))
    session.execute(delete(DeedRow).where(DeedRow.id <= deed - KEPT_DEEDS))
    return True


def next_undo(session: Session) -> Deed | None:
    """The deed that undo would take back."""
    return _deed(session, False)


def next_redo(session: Session) -> Deed | None:
    """The deed that redo would do again."""
    return _deed(session, True)


def flip(session: Session, deed: Deed, undone: bool) -> None:
    """Take `deed` back (`undone` True) or do it again (False), recording the way back."""
    rows = session.execute(
        select(DeedChangeRow.id, DeedChangeRow.statement).where(DeedChangeRow.deed == deed.id)
        .order_by(DeedChangeRow.id.desc())).all()
    session.execute(delete(DeedChangeRow).where(DeedChangeRow.deed == deed.id))
    session.execute(text("PRAGMA defer_foreign_keys=ON"))
    _record_under(session, deed.id)
    connection = session.connection()
    for _, statement in rows:
        connection.exec_driver_sql(statement)
    _record_under(session, None)
    session.execute(update(DeedRow).where(DeedRow.id == deed.id).values(undone=undone))


def _deed(session: Session, undone: bool) -> Deed | None:
    order = DeedRow.id.asc() if undone else DeedRow.id.desc()
    row = session.execute(
        select(DeedRow.id, DeedRow.label, DeedRow.at, DeedRow.kinds).where(DeedRow.undone == undone)
        .order_by(order).limit(1)).first()
    return None if row is None else Deed(row.id, row.label, row.at, frozenset(row.kinds))


def _record_under(session: Session, deed: int | None) -> None:
    session.execute(text("DELETE FROM deed_now"))
    if deed is not None:
        session.execute(text("INSERT INTO deed_now (deed) VALUES (:deed)"), {"deed": deed})
