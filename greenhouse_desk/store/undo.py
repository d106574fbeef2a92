"""Undo kept in the store: triggers write down, for every changed row, what it held before."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import Connection, Row, delete, select, text, update
from sqlalchemy import Table as SqlTable
from sqlalchemy.orm import Session

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.store.tables import INSTANT_FORMAT, DeedChangeRow, DeedRow, Table

KEPT_DEEDS = 500
UNWATCHED = {"deed", "deed_change"}
TURNS = {"INSERT": ("NEW", None), "UPDATE": ("NEW", "OLD"), "DELETE": (None, "OLD")}
OWNED = {"plant": "number", "entry": "plant", "run": "plant", "tool_use": "plant"}
"""The tables whose rows are a plant's own, and the column that names it."""
KEYS = {"plant": "number", "entry": "id", "run": "id", "tool_use": "id"}
AT_THE_BENCH = {"bench_session", "run_step", "soak"}
"""What a sitting keeps for itself: the plants of its runs, entries and tools are named by those."""
OPEN_DEED = "INSERT INTO deed (label, at, kinds, undone) VALUES ('', ?, '[]', 0) RETURNING id"
NAME_DEED = ("UPDATE deed SET label = ?, kinds = ? WHERE id = ? "
             "AND EXISTS (SELECT 1 FROM deed_change WHERE deed_change.deed = deed.id)")
PRUNE = "DELETE FROM deed WHERE id < (SELECT id FROM deed ORDER BY id DESC LIMIT 1 OFFSET ?)"


@dataclass(frozen=True, slots=True)
class Deed:
    """A deed that can be undone or redone: its label, when it was done (aware UTC), and what kinds it touched."""

    id: int
    label: str
    at: datetime
    kinds: frozenset[str]


def watch(raw: sqlite3.Connection) -> None:
    """Put the recording triggers on this connection (temporary: they live as long as it does).

    Images are JSON written by Python, because SQLite's own quote() does not give every float and text back exactly.
    """
    raw.create_function("row_image", -1, _image, deterministic=True)
    raw.execute("CREATE TEMP TABLE IF NOT EXISTS deed_now (deed INTEGER NOT NULL)")
    for table in watched():
        for statement in _triggers(table):
            raw.execute(statement)


def watched() -> tuple[SqlTable, ...]:
    """The tables whose changes can be undone."""
    return tuple(table for table in Table.metadata.sorted_tables if table.name not in UNWATCHED)


def _image(*values: object) -> str:
    return json.dumps(values, ensure_ascii=False, separators=(",", ":"))


def _triggers(table: SqlTable) -> Iterable[str]:
    for verb, (new, old) in TURNS.items():
        key = _call(new, [column.name for column in table.primary_key])
        image = _call(old, [column.name for column in table.columns])
        yield (f'CREATE TEMP TRIGGER IF NOT EXISTS "undo_{table.name}_{verb.lower()}" AFTER {verb} '
               f'ON main."{table.name}" WHEN EXISTS (SELECT 1 FROM deed_now) BEGIN '
               f"INSERT INTO deed_change (deed, subject, key, image) "
               f"SELECT deed, '{table.name}', {key}, {image} FROM deed_now; END")


def _call(side: str | None, columns: list[str]) -> str:
    return "NULL" if side is None else "row_image({})".format(", ".join(f'{side}."{name}"' for name in columns))


def begin(session: Session, now: datetime) -> int:
    """Open a deed: what the session changes from here on is recorded under it. Returns its id.

    Its bookkeeping is plain SQL, because it is paid with every confirmed step.
    """
    at = now.astimezone(UTC).strftime(INSTANT_FORMAT)
    connection = session.connection()
    deed = connection.exec_driver_sql(OPEN_DEED, (at,)).scalar_one()
    _record_under(connection, deed)
    return int(deed)


def finish(session: Session, deed: int, label: str, kinds: frozenset[str], own: bool = True) -> bool:
    """Close the deed under its label. Returns False when it changed nothing: then the caller rolls back.

    With `own` False the changes are kept and the deed is forgotten: undo and redo stand as before.
    """
    session.flush()
    connection = session.connection()
    _record_under(connection, None)
    named = connection.exec_driver_sql(NAME_DEED, (label, json.dumps(sorted(kinds)), deed))
    if not named.rowcount:
        return False
    if not own:
        connection.exec_driver_sql("DELETE FROM deed WHERE id = ?", (deed,))
        return True
    connection.exec_driver_sql("DELETE FROM deed WHERE undone")
    connection.exec_driver_sql(PRUNE, (KEPT_DEEDS - 1,))
    return True


def plants_of(session: Session, deed: int) -> frozenset[int] | None:
    """The plants whose own rows (their journal, their runs) a deed changed, as recorded so far; None where it changed
    what may concern any plant: a place, a house rule, a source, an entry that names no plant."""
    session.flush()
    connection = session.connection()
    rows = connection.exec_driver_sql("SELECT subject, key, image FROM deed_change WHERE deed = ?", (deed,))
    found: set[int | None] = set()
    for subject, key, image in rows.fetchall():
        column = OWNED.get(subject, "")
        if not column:
            found |= set() if subject in AT_THE_BENCH else {None}
            continue
        if image is not None:
            names = [one.name for one in Table.metadata.tables[subject].columns]
            found.add(json.loads(image)[names.index(column)])
        if key is not None:
            there = connection.exec_driver_sql(f"SELECT {column} FROM {subject} WHERE {KEYS[subject]} = ?",
                                               tuple(json.loads(key))).first()
            found |= set() if there is None else {there[0]}
    return None if None in found else frozenset(plant for plant in found if plant is not None)


def next_undo(session: Session) -> Deed | None:
    """The deed that undo would take back."""
    return _deed(session, False)


def next_redo(session: Session) -> Deed | None:
    """The deed that redo would do again."""
    return _deed(session, True)


def flip(session: Session, deed: Deed, undone: bool) -> None:
    """Take `deed` back (`undone` True) or do it again (False), recording the way back.

    Raises Refused where an entry outside the deeds (a missed alarm) rests on what it made.
    """
    rows = session.execute(
        select(DeedChangeRow.subject, DeedChangeRow.key, DeedChangeRow.image).where(DeedChangeRow.deed == deed.id)
        .order_by(DeedChangeRow.id.desc())).all()
    session.execute(delete(DeedChangeRow).where(DeedChangeRow.deed == deed.id))
    session.execute(text("PRAGMA defer_foreign_keys=ON"))
    connection = session.connection()
    _record_under(connection, deed.id)
    for row in rows:
        _turn_back(connection, row)
    _record_under(connection, None)
    if connection.exec_driver_sql("PRAGMA foreign_key_check").first() is not None:
        raise Refused("This cannot be taken back", f"{deed.label}: something written down since then rests on it.",
                      "Withdraw that entry first; nothing was changed.")
    session.execute(update(DeedRow).where(DeedRow.id == deed.id).values(undone=undone))


def _turn_back(connection: Connection, change: Row[str, str | None, str | None]) -> None:
    table = Table.metadata.tables[change.subject]
    columns = [f'"{column.name}"' for column in table.columns]
    key = _values(change.key)
    image = _values(change.image)
    where = " AND ".join(f'"{column.name}"=?' for column in table.primary_key)
    if change.image is None:
        statement = f'DELETE FROM "{table.name}" WHERE {where}'
    elif change.key is None:
        statement = f'INSERT INTO "{table.name}" ({", ".join(columns)}) VALUES ({", ".join("?" * len(columns))})'
    else:
        statement = f'UPDATE "{table.name}" SET {", ".join(f"{column}=?" for column in columns)} WHERE {where}'
    connection.exec_driver_sql(statement, (*image, *key))


def _values(recorded: str | None) -> tuple[Any, ...]:
    return () if recorded is None else tuple(json.loads(recorded))


def _deed(session: Session, undone: bool) -> Deed | None:
    order = DeedRow.id.asc() if undone else DeedRow.id.desc()
    row = session.execute(
        select(DeedRow.id, DeedRow.label, DeedRow.at, DeedRow.kinds).where(DeedRow.undone == undone)
        .order_by(order).limit(1)).first()
    return None if row is None else Deed(row.id, row.label, row.at, frozenset(row.kinds))


def _record_under(connection: Connection, deed: int | None) -> None:
    connection.exec_driver_sql("DELETE FROM deed_now")
    if deed is not None:
        connection.exec_driver_sql("INSERT INTO deed_now (deed) VALUES (?)", (deed,))
