"""The collection folder and its one SQLite connection: pragmas, identity, schema version, lock."""

from __future__ import annotations

import sqlite3
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event, text
from sqlalchemy.exc import DatabaseError, OperationalError
from sqlalchemy.orm import Session as Session
from sqlalchemy.pool import StaticPool

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.store import undo
from greenhouse_desk.store.tables import Table

APPLICATION_ID = 0x47524E48
SCHEMA = 1
DATABASE = "collection.db"


class Store:
    """An open collection folder. One connection, owned by the thread that opened it."""

    def __init__(self, folder: Path, engine: Engine) -> None:
        self.folder = folder
        self.engine = engine

    @property
    def photos(self) -> Path:
        return self.folder / "photos"

    @property
    def backups(self) -> Path:
        return self.folder / "backups"

    def session(self) -> Session:
        """A session on the one connection; the caller commits or rolls back."""
        return Session(self.engine, expire_on_commit=False)

    def close(self) -> None:
        self.engine.dispose()


def open_store(folder: Path, create: bool = False) -> Store:
    """Open the collection in `folder`; with `create` make it when missing. Raises Refused with what to do next."""
    path = folder / DATABASE
    if not path.exists() and not create:
        raise Refused("No collection here", f"{folder} holds no {DATABASE}.", "Name another folder, or create one.")
    for part in (folder, folder / "photos", folder / "backups"):
        part.mkdir(parents=True, exist_ok=True)
    fresh = not path.exists()
    engine = _engine(path)
    try:
        with engine.begin() as connection:
            _prepare(connection, fresh, folder)
    except OperationalError as error:
        engine.dispose()
        if "locked" in str(error.orig):
            raise Refused("Another copy holds this collection", str(folder), "Close the other copy first.") from error
        raise Refused("The collection cannot be opened", str(error.orig), "Check the folder and the disk.") from error
    except DatabaseError as error:
        engine.dispose()
        raise Refused("The collection is damaged", str(error.orig), "Restore the latest good backup.") from error
    return Store(folder, engine)


def _engine(path: Path) -> Engine:
    engine = create_engine(f"sqlite:///{path}", poolclass=StaticPool, connect_args={"timeout": 0.2})

    @event.listens_for(engine, "connect")
    def _on_connect(raw: sqlite3.Connection, _record: Any) -> None:
        raw.isolation_level = None
        for pragma in ("locking_mode=EXCLUSIVE", "journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON"):
            raw.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def _on_begin(connection: Connection) -> None:
        connection.exec_driver_sql("BEGIN IMMEDIATE")

    return engine


def _prepare(connection: Connection, fresh: bool, folder: Path) -> None:
    if fresh:
        Table.metadata.create_all(connection)
        connection.exec_driver_sql(f"PRAGMA application_id={APPLICATION_ID}")
        connection.exec_driver_sql(f"PRAGMA user_version={SCHEMA}")
    version = connection.execute(text("PRAGMA user_version")).scalar_one()
    if version > SCHEMA:
        raise Refused("This collection is newer than the program", f"{folder} has schema {version}.",
                      "Install the newer program; nothing was changed.")
    undo.watch(connection)
