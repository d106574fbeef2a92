"""The pool of photo copies that all backups share: filled, read again now and then, rid of what no backup needs."""

from __future__ import annotations

import json
from collections.abc import Callable, Container, Iterable
from datetime import datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any

from greenhouse_desk.store import disk, photos
from greenhouse_desk.store.folder import BACKUPS, PHOTOS

POOL = "photos"
READ = "photos-read.json"
READ_AGAIN = timedelta(days=7)


def fill(folder: Path, wanted: Iterable[str], now: datetime) -> list[str]:
    """Copy the `wanted` photos the pool lacks out of the collection; returns those it holds whole then. Raises OSError.

    A copy is read to its last byte when it is new, when its size or times are others than then, and every READ_AGAIN:
    a disk that rots changes neither. Reading all of them each half hour would keep a slow disk busy for minutes.
    """
    before = _read_before(folder)
    held = {sha256: told for sha256 in wanted if (told := _held(folder, sha256, before.get(sha256), now))}
    if held != before:
        disk.put(folder / BACKUPS / READ, json.dumps(held, indent=1).encode(), lasting=False)
    return sorted(held)


def _held(folder: Path, sha256: str, before: Any, now: datetime) -> dict[str, Any] | None:
    """What is known of a copy that is whole, the one there or one made anew; None when there is none to be had."""
    pool, collection = folder / BACKUPS / POOL, folder / PHOTOS
    copy = photos.path(pool, sha256)
    if _known_good(before, copy, now):
        return dict(before)
    looks = _looks(copy)
    if not photos.sound(pool, sha256):
        if not photos.sound(collection, sha256):
            return None
        disk.copy(photos.path(collection, sha256), copy)
        looks = _looks(copy)
        if not photos.sound(pool, sha256):
            return None
    return {"looks": looks, "read": now.isoformat()}


def _known_good(before: Any, copy: Path, now: datetime) -> bool:
    try:
        return before["looks"] == _looks(copy) and timedelta() <= now - datetime.fromisoformat(
            before["read"]) < READ_AGAIN
    except (TypeError, KeyError, ValueError):
        return False


def _looks(file: Path) -> list[int]:
    """What changes when a file is written to, read without opening it; empty when it is not there."""
    try:
        told = file.stat()
    except OSError:
        return []
    return [told.st_size, told.st_mtime_ns, told.st_ctime_ns]


def _read_before(folder: Path) -> dict[str, Any]:
    """What was found out at earlier readings; nothing where that cannot be told any more."""
    try:
        told = json.loads((folder / BACKUPS / READ).read_bytes())
    except (OSError, ValueError):
        return {}
    return told if isinstance(told, dict) else {}


def whole(folder: Path) -> Callable[[str], bool]:
    """Tells whether a photo could be put back: whole in the pool, or still whole in the collection itself.

    Each is read once, however many backups need it.
    """
    pool, collection = folder / BACKUPS / POOL, folder / PHOTOS
    return cache(lambda sha256: photos.sound(pool, sha256) or photos.sound(collection, sha256))


def put_back(folder: Path, sha256: str) -> bool:
    """Bring a photo the collection lacks back out of the pool; whether it is whole there then. Raises OSError."""
    pool, collection = folder / BACKUPS / POOL, folder / PHOTOS
    if not photos.sound(collection, sha256) and photos.sound(pool, sha256):
        disk.copy(photos.path(pool, sha256), photos.path(collection, sha256))
    return photos.sound(collection, sha256)


def drain(folder: Path, needed: Container[str]) -> None:
    """Remove the copies that are not `needed`. Raises OSError."""
    pool = folder / BACKUPS / POOL
    for sha256 in [name for name in photos.all_kept(pool) if name not in needed]:
        photos.path(pool, sha256).unlink()
