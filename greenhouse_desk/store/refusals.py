"""SQLite's expected failures, said so that a grower can act on them."""

from __future__ import annotations

import logging
import shlex
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from greenhouse_desk.domain.care_day import moment_words
from greenhouse_desk.domain.faults import Damaged, Refused
from greenhouse_desk.store import backup, holder

LOG = logging.getLogger(__name__)
BUSY = {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED}
SHUT = {sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM, sqlite3.SQLITE_CANTOPEN}
BROKEN = {sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB}


@contextmanager
def refusals(folder: Path) -> Iterator[None]:
    """Turn expected database failures inside into Refused (Held, Damaged); anything else is a bug and passes."""
    try:
        yield
    except (DBAPIError, sqlite3.Error) as error:
        refused = refusal(error.orig if isinstance(error, DBAPIError) else error, folder)
        if refused is None:
            raise
        raise refused from error


def refusal(error: BaseException | None, folder: Path) -> Refused | None:
    """The refusal that says this database error to a grower, None for an error nobody should meet."""
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF
    if code in BUSY:
        return holder.held(folder)
    if code in SHUT:
        return Refused("The collection cannot be written", f"{folder} or its database is read-only: {error}.",
                       "Give yourself the right to write there, or choose another folder.")
    if code == sqlite3.SQLITE_FULL:
        return Refused("The disk is full", f"There is no room left for {folder}. This deed was not done.",
                       "Make room on the disk and do it again.")
    if code == sqlite3.SQLITE_IOERR:
        return Refused("The disk does not answer", f"{folder}: {error}. This deed was not done.",
                       "Check the disk and its cable, then try again.")
    return unreadable(folder, str(error)) if code in BROKEN else None


def unreadable(folder: Path, words: str) -> Damaged:
    """The refusal for a database that cannot be read whole; SQLite's own `words` on it go to the log."""
    LOG.info("the database in %s is damaged: %s", folder, words)
    return damaged(folder, "its file cannot be read whole")


def damaged(folder: Path, words: str) -> Damaged:
    """The refusal for a damaged database file, naming the latest good backup."""
    good = backup.latest_good(folder)
    detail = f"The database in {folder} is damaged: {words}. Nothing was changed."
    if good is None:
        return Damaged("The collection is damaged", detail,
                       "No good backup was found. Keep the folder as it is and copy it before trying anything.")
    return Damaged("The collection is damaged", detail,
                   f"Restore the latest good backup, of {moment_words(good.made, None)} by this computer's clock "
                   f"({good.name}). "
                   f"Without the window: greenhouse-desk --store {shlex.quote(str(folder))} restore {good.name}",
                   good.name)
