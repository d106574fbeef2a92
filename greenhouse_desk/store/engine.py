"""The collection's one SQLite connection: opened, identified, brought up to date, watched, and shared as sessions."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from datetime import datetime
from pathlib import Path

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.orm import Session as Session
from sqlalchemy.pool import StaticPool

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.store import backup, holder, reading_copy, undo
from greenhouse_desk.store.folder import (
    APPLICATION_ID,
    BACKUPS,
    DATABASE,
    PHOTOS,
    SCHEMA,
    holds_remains,
    make_folders,
)
from greenhouse_desk.store.kept import Kept
from greenhouse_desk.store.refusals import damaged, refusals, unreadable
from greenhouse_desk.store.tables import Table

BUSY_S = 0.2


class Store:
    """An open collection folder. One connection, owned by the thread that opened it.

    `read_only` is what cannot be written, its file or folder, where it was opened for reading; else None. `end` holds
    what is to be let go of when it is closed.
    """

    def __init__(self, folder: Path, engine: Engine, raw: sqlite3.Connection, kept: Kept, end: ExitStack,
                 read_only: Path | None = None) -> None:
        self.folder = folder
        self.engine = engine
        self.raw = raw
        self.read_only = read_only
        self._kept = kept
        self._end = end

    @property
    def photos(self) -> Path:
        return self.folder / PHOTOS

    @property
    def backups(self) -> Path:
        return self.folder / BACKUPS

    @property
    def changes(self) -> int:
        """How many rows were written since the store was opened, those rolled back too: the same number, the same
        collection, its house rules and places included."""
        return self.raw.total_changes

    def session(self) -> Session:
        """A session on the one connection; the caller commits or rolls back."""
        return Session(self.engine, expire_on_commit=False,
                       info={"photos": self.photos, "folder": self.folder, "kept": self._kept})

    @contextmanager
    def transaction(self) -> Iterator[Session]:
        """A session that commits at the end, or rolls back on any error; expected failures come out as Refused."""
        self._must_be_writable()
        with refusals(self.folder), self.session() as session, session.begin():
            yield session

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """A session of which nothing is kept; expected failures come out as Refused."""
        with refusals(self.folder), self.session() as session:
            yield session

    def snapshot(self, now: datetime, before: str = "") -> Path:
        """A copy of the database for a backup in the making (backup.py); expected failures come out as Refused."""
        self._must_be_writable()
        with refusals(self.folder):
            return backup.snapshot(self.raw, self.folder, now, before)

    def close(self) -> None:
        """Let go of the file; the write-ahead log is folded into it."""
        if self.read_only is None:
            holder.let_go(self.folder)
        self._end.close()

    def _must_be_writable(self) -> None:
        if self.read_only is not None:
            raise reading_copy.refusal(self.read_only)


def open_store(folder: Path, create: bool = False, who: str = "another program", reading: bool = False) -> Store:
    """Open the collection in `folder`; with `create` make it when missing. `who` is told to those who find it held.

    With `reading` one that cannot be written is opened all the same, and refuses every deed. Raises Refused with what
    to do next: Held when another copy has it, Damaged with the latest good backup.
    """
    path = folder / DATABASE
    if not path.exists() and holds_remains(folder):
        raise damaged(folder, f"{DATABASE} is missing, though its photos or backups are here")
    if not path.exists() and not create:
        raise Refused("No collection here", f"{folder} holds no {DATABASE}.", "Name another folder, begin a new "
                      "collection there in the window, or import a list of plants into it.")
    if create:
        make_folders(folder)
    shut = reading_copy.unwritable(path)
    if shut is not None and not reading:
        raise reading_copy.refusal(shut)
    with refusals(folder), ExitStack() as opened:
        lies = folder if shut is None else opened.enter_context(reading_copy.copied(folder))
        raw = connect(lies / DATABASE)
        opened.callback(raw.close)
        version = identify(raw, folder)
        engine, kept = _brought_up(lies, raw, version, opened)
        if shut is None:
            holder.note(folder, who)
        return Store(folder, engine, raw, kept, opened.pop_all(), shut)


def _brought_up(lies: Path, raw: sqlite3.Connection, version: int, opened: ExitStack) -> tuple[Engine, Kept]:
    """The connection to the file in the folder `lies` made ready, its schema of today, its changes watched."""
    make_folders(lies)
    _set_up(raw)
    engine = _engine(lies / DATABASE, raw)
    opened.callback(engine.dispose)
    _bring_up(engine, raw, version, lies)
    undo.watch(raw)
    kept = Kept()
    kept.watch(raw)
    event.listen(engine, "begin", kept.on_begin)
    return engine, kept


def connect(path: Path) -> sqlite3.Connection:
    """A bare connection that keeps every lock it takes; nothing in the file is changed yet."""
    raw = sqlite3.connect(path, timeout=BUSY_S, isolation_level=None)
    raw.execute("PRAGMA locking_mode=EXCLUSIVE")
    return raw


def identify(raw: sqlite3.Connection, folder: Path) -> int:
    """The schema version of the open file, 0 for an empty one. Raises Refused for a foreign, newer or damaged one."""
    mark, version, objects = (raw.execute(question).fetchone()[0] for question in (
        "PRAGMA application_id", "PRAGMA user_version", "SELECT count(*) FROM sqlite_master"))
    if not objects and mark in (0, APPLICATION_ID):
        if holds_remains(folder):
            raise damaged(folder, f"{DATABASE} is empty, though its photos or backups are here")
        return 0
    if mark != APPLICATION_ID:
        raise Refused("This is not a collection", f"{folder / DATABASE} was made by another program.",
                      "Choose another folder; nothing was changed.")
    if version > SCHEMA:
        raise Refused("This collection is newer than the program",
                      f"{folder} has schema {version}, this program knows {SCHEMA}.",
                      "Install the newer program; nothing was changed.")
    words = raw.execute("PRAGMA quick_check(1)").fetchone()[0]
    if words != "ok":
        raise unreadable(folder, words)
    return int(version)


def _set_up(raw: sqlite3.Connection) -> None:
    for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON", "recursive_triggers=ON"):
        raw.execute(f"PRAGMA {pragma}")


def _engine(path: Path, raw: sqlite3.Connection) -> Engine:
    engine = create_engine(f"sqlite:///{path}", poolclass=StaticPool, creator=lambda: raw)

    @event.listens_for(engine, "begin")
    def _on_begin(connection: Connection) -> None:
        connection.exec_driver_sql("BEGIN IMMEDIATE")

    return engine


def _bring_up(engine: Engine, raw: sqlite3.Connection, version: int, folder: Path) -> None:
    if version == 0:
        with engine.begin() as connection:
            Table.metadata.create_all(connection)
            connection.exec_driver_sql(f"PRAGMA application_id={APPLICATION_ID}")
            connection.exec_driver_sql(f"PRAGMA user_version={SCHEMA}")
    elif version < SCHEMA:
        from greenhouse_desk.store import migrate  # a door: Alembic is slow to import and rarely needed
        migrate.copy_aside(raw, folder, version)
        migrate.upgrade(engine, raw, version, SCHEMA)
    else:
        with engine.begin():
            pass  # takes the lock even when nothing is to be written
