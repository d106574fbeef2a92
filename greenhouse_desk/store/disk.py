"""Files that are whole or not there: written beside their place, brought to the disk, then renamed into it."""

from __future__ import annotations

import errno
import hashlib
import os
import secrets
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from greenhouse_desk.domain.faults import Refused

PART = ".part-"
FULL = {errno.ENOSPC, errno.EDQUOT}


@contextmanager
def disk_refusals(doing: str) -> Iterator[None]:
    """Turn the operating system's failures inside into Refused; `doing` says what was tried."""
    try:
        yield
    except OSError as error:
        if error.errno in FULL:
            raise full(f"for {error.filename}" if error.filename else "on it", f"{doing} failed") from error
        raise Refused(f"{doing} failed", f"{error.filename or 'The disk'}: {error.strerror or error}.",
                      "Check the folder, its rights and the room on the disk, then try again.") from error


def full(where: str, came_of_it: str) -> Refused:
    """The refusal of a full disk: where room is wanting, and what came of what was tried."""
    return Refused("The disk is full", f"There is no room left {where}. {came_of_it}; nothing was changed.",
                   "Make room on the disk and do it again.")


def unwritten(path: Path, error: OSError, title: str = "The file cannot be written") -> Refused:
    """The refusal of a file a grower named, for what the disk said."""
    if error.errno in FULL:
        return full(f"for {path}", "It was not written")
    return Refused(title, f"{path}: {error.strerror}.", "Choose another folder, or give yourself the right to write "
                   "there.")


@contextmanager
def whole(target: Path, lasting: bool = True) -> Iterator[Path]:
    """A path beside `target` to write to: at the end it takes the place of `target` in one piece, or on an error goes.

    The folder is made when missing. `lasting` brings it to the disk first; without, a power cut may empty it, which
    does for a cache. Raises OSError, leaving what was there.
    """
    target.parent.mkdir(parents=True, exist_ok=True)
    part = target.with_name(f"{PART}{secrets.token_hex(8)}")
    try:
        yield part
        if lasting:
            sync(part)
        os.replace(part, target)
    except BaseException as error:
        part.unlink(missing_ok=True)
        if isinstance(error, OSError) and error.filename in (None, str(part)):
            error.filename = str(target)  # what a grower knows
        raise
    if lasting:
        sync(target.parent)


def put(target: Path, data: bytes, lasting: bool = True) -> None:
    """Write `data` to `target` in one piece, as `whole` does."""
    with whole(target, lasting) as part:
        part.write_bytes(data)


def copy(source: Path, target: Path) -> None:
    """Copy a file in one piece, as `whole` does."""
    with whole(target) as part:
        shutil.copyfile(source, part)


def sync(path: Path) -> None:
    """Bring a file, or the names in a folder, to the disk. Folders are left alone where the system cannot do that."""
    if path.is_dir() and os.name == "nt":
        return
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def fingerprint(path: Path) -> str:
    """The SHA-256 of a file's bytes, in hexadecimal."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
