"""Bringing an older collection up to date: Alembic's steps inside one real transaction, checked before it counts."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from itertools import count
from pathlib import Path

from alembic.migration import MigrationContext
from alembic.operations import Operations
from alembic.script import Script, ScriptDirectory
from sqlalchemy import Connection, Engine

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.store import backup
from greenhouse_desk.store.disk import disk_refusals, whole
from greenhouse_desk.store.folder import APPLICATION_ID, BACKUPS

VERSIONS = Path(__file__).parent / "migrations" / "versions"


def copy_aside(raw: sqlite3.Connection, folder: Path, version: int) -> Path:
    """Copy the database as it stands, schema `version`, under backups/; returns the copy. Never overwrites one.

    The copy is checked and on the disk before it counts. Raises Refused, with nothing changed, when it does not.
    """
    names = (folder / BACKUPS / f"schema-{version}-before-update-{nth}.db" for nth in count(1))
    target = next(name for name in names if not name.exists())
    with disk_refusals("Copying the older collection aside"), whole(target) as part:
        with closing(sqlite3.connect(part)) as copy:
            raw.backup(copy)
            copy.execute("PRAGMA journal_mode=DELETE")
        bad = backup.database_faults(part)
        if bad:
            raise Refused("The copy of the older collection does not count", f"It failed its check: {'; '.join(bad)}. "
                          "Nothing was changed.", "Go on with the older program, and check the disk.")
    return target


def upgrade(engine: Engine, raw: sqlite3.Connection, start: int, goal: int, versions: Path | None = None) -> None:
    """Run the steps from schema `start` (0 for an empty file) to `goal` in one transaction.

    Foreign keys are off meanwhile, because a table rebuilt with them on would empty the tables that refer to it; the
    references and the number of rows are compared before the commit. The undo history, whose row images fit the old
    schema only, starts afresh. Raises Refused, with nothing changed, when a step or a check fails.
    """
    raw.execute("PRAGMA foreign_keys=OFF")  # without effect inside a transaction, so before BEGIN
    try:
        with engine.begin() as connection:
            for step in steps(start, goal, versions or VERSIONS):
                _apply(connection, step)
            connection.exec_driver_sql("DELETE FROM deed_change")
            connection.exec_driver_sql("DELETE FROM deed")
            connection.exec_driver_sql(f"PRAGMA application_id={APPLICATION_ID}")
            connection.exec_driver_sql(f"PRAGMA user_version={goal}")
    finally:
        raw.execute("PRAGMA foreign_keys=ON")


def steps(start: int, goal: int, versions: Path) -> list[Script]:
    """The migrations from schema `start` to `goal`, in order; revision "0002" leads to schema 2."""
    script = ScriptDirectory(str(versions.parent), version_locations=[str(versions)])
    found = script.iterate_revisions(f"{goal:04}", f"{start:04}" if start else "base")
    return [step for step in reversed(list(found)) if isinstance(step, Script)]


def _apply(connection: Connection, step: Script) -> None:
    before = _rows(connection)
    with Operations.context(MigrationContext.configure(connection)):
        step.module.upgrade()
    after = _rows(connection)
    lost = [f"{table}: {before[table]} rows before, {after[table]} after" for table in sorted(before)
            if table in after and after[table] != before[table] and table not in getattr(step.module, "RESIZES", ())]
    loose = [f"{row[0]} row {row[1]} refers to a missing {row[2]}"
             for row in connection.exec_driver_sql("PRAGMA foreign_key_check")]
    if lost or loose:
        raise Refused("The collection could not be brought up to date",
                      f"Step {step.revision} failed its check ({'; '.join(lost + loose)}). Nothing was changed.",
                      "Go on with the older program and report this.")


def _rows(connection: Connection) -> dict[str, int]:
    tables = connection.exec_driver_sql(
        "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'").scalars().all()
    return {table: connection.exec_driver_sql(f'SELECT count(*) FROM "{table}"').scalar_one() for table in tables}
