"""Files that are whole or not there: written beside their place, brought to the disk, then renamed into it."""

from __future__ import annotations

import hashlib
import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from greenhouse_desk.domain.faults import Refused


@contextmanager
def disk_refusals(doing: str) -> Iterator[None]:
    """Turn the operating system's failures inside into Refused; `doing` says what was tried."""
    try:
        yield
    except OSError as error:
        raise Refused(f"{doing} failed", f"{error.filename or 'The disk'}: {error.strerror or error}.",
                      "Check the folder, its rights and the room on the disk, then try again.") from error


def put(target: Path, data: bytes) -> None:
    """Write `data` to `target` in one piece; its folder is made when missing. Raises OSError, leaving no half file."""
    target.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=".part-")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.replace(name, target)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
    sync(target.parent)


def copy(source: Path, target: Path) -> None:
    """Copy a file in one piece, as `put` does."""
    target.parent.mkdir(parents=True, exist_ok=True)
    part = target.with_name(f".part-{target.name}")
    shutil.copyfile(source, part)
    sync(part)
    os.replace(part, target)
    sync(target.parent)


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
