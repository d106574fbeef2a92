"""A collection that may be read and not written: a copy of its database is opened, and the collection left as it lies.

SQLite itself cannot read a database with a write-ahead log where it may write nothing beside it. So the file is copied
with what a killed program left of its log, under the lock that another copy of the program would need, and what is read
is the collection as it stood then. Photos are read where they lie.
"""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from tempfile import TemporaryDirectory

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.store import holder
from greenhouse_desk.store.disk import disk_refusals
from greenhouse_desk.store.folder import DATABASE, LOGS

if sys.platform != "win32":
    import fcntl

SHARED_FIRST, SHARED_SIZE = 0x40000002, 510
"""The bytes that SQLite locks in its file: whoever writes locks all of them against others."""


def unwritable(path: Path) -> Path | None:
    """The database file or its folder, whichever is there and read-only; None when both can be written."""
    effective = os.access in os.supports_effective_ids
    parts = (part for part in (path, path.parent) if part.exists())
    return next((part for part in parts if not os.access(part, os.W_OK, effective_ids=effective)), None)


def refusal(part: Path) -> Refused:
    """The refusal of a deed where `part` is read-only: SQLite itself would only speak of the disk."""
    return Refused("The collection cannot be written", f"{part} is read-only.",
                   "Give yourself the right to write there, or choose another folder.")


def notice(part: Path) -> Refused:
    """What is said when a collection was opened for reading because `part` is read-only."""
    return Refused("This collection is open for reading only", f"{part} is read-only: nothing new can be written down, "
                   "and what is shown stays as it was when the window opened.",
                   "To write in it, close the window and give yourself the right to write there, or copy the whole "
                   "folder to a place of yours and open that.")


@contextmanager
def copied(folder: Path) -> Iterator[Path]:
    """The database of `folder` with its log, copied into a folder of its own that goes at the end. Raises Refused."""
    with TemporaryDirectory(prefix="greenhouse-desk-", ignore_cleanup_errors=True) as name:
        with disk_refusals("Reading the collection"), _nobody_writes(folder):
            for ending in ("", *LOGS):
                with suppress(FileNotFoundError):
                    shutil.copyfile(folder / f"{DATABASE}{ending}", Path(name) / f"{DATABASE}{ending}")
        yield Path(name)


@contextmanager
def _nobody_writes(folder: Path) -> Iterator[None]:
    """Hold the lock of a reader. Windows has no such lock to be had from here; there the copy is only checked."""
    if sys.platform == "win32":
        yield
        return
    with (folder / DATABASE).open("rb") as file:
        try:
            fcntl.lockf(file, fcntl.LOCK_SH | fcntl.LOCK_NB, SHARED_SIZE, SHARED_FIRST)
        except (BlockingIOError, PermissionError) as error:
            raise holder.held(folder) from error
        yield
