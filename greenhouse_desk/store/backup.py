"""Backups: a checked copy of the database, the grower's protocols, a list of photos, and one pool of photo copies."""

from __future__ import annotations

import json
import os
import re
import shutil
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path
from typing import Any

from greenhouse_desk.domain.faults import Damaged, Refused
from greenhouse_desk.store import disk, own_protocols, photos, pool, thinning
from greenhouse_desk.store.folder import APPLICATION_ID, BACKUPS, DATABASE

MANIFEST = "manifest.json"
STAMP = "%Y%m%dT%H%M%S%fZ"
NAME = re.compile(r"([0-9]{8}T[0-9]{12}Z)(?:-before-([a-z]{1,20}))?\Z")
MAKING = ".making-"
STALE = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Backup:
    """One backup below backups/: its folder's name, when it was made (aware UTC), and before which risky deed ("")."""

    name: str
    made: datetime
    before: str


@dataclass(frozen=True, slots=True)
class Soundness:
    """What is wrong with a backup.

    `grave`: what keeps it from being put back at all, in sentences; `missing`: the photos it had that would not come
    back; `lost_before`: those that were gone when it was made, and are still. Photos go by their SHA-256.
    """

    grave: tuple[str, ...]
    missing: tuple[str, ...] = ()
    lost_before: tuple[str, ...] = ()


def named(name: str) -> Backup | None:
    """The backup this folder name stands for, None for a name that is not ours."""
    match = NAME.match(name)
    if match is None:
        return None
    try:
        made = datetime.strptime(match[1], STAMP).replace(tzinfo=UTC)
    except ValueError:
        return None
    return Backup(name, made, match[2] or "")


def kept(folder: Path) -> tuple[Backup, ...]:
    """The finished backups of the collection folder, newest first; other files there are passed over."""
    inside = folder / BACKUPS
    names = [entry.name for entry in inside.iterdir() if (entry / MANIFEST).is_file()] if inside.is_dir() else []
    return tuple(sorted((one for one in map(named, names) if one), key=lambda one: one.made, reverse=True))


def due(folder: Path, now: datetime) -> bool:
    """Whether the newest backup is old enough for another."""
    newest = next(iter(kept(folder)), None)
    return newest is None or now - newest.made >= thinning.APART or newest.made > now


def snapshot(raw: sqlite3.Connection, folder: Path, now: datetime, before: str = "") -> Path:
    """Copy the open database (short, on the thread that owns `raw`); `complete` does the rest on any thread.

    Returns the folder of the unfinished backup. Raises Refused when the disk fails, sqlite3.Error when SQLite does.
    """
    name = _free_name(folder, now.astimezone(UTC), f"-before-{before}" if before else "")
    making = folder / BACKUPS / f"{MAKING}{name}"
    with disk_refusals_for_backup():
        shutil.rmtree(making, ignore_errors=True)
        making.mkdir(parents=True)
    with _or_nothing(making), closing(sqlite3.connect(making / DATABASE, isolation_level=None)) as copy:
        copy.execute("PRAGMA synchronous=OFF")
        raw.backup(copy)
        copy.execute("PRAGMA journal_mode=DELETE")
    return making


def _free_name(folder: Path, made: datetime, ending: str) -> str:
    """The name for this instant, or one just after where two are made at one (a clock may be told to stand)."""
    names = (f"{made + timedelta(microseconds=n):{STAMP}}{ending}" for n in count())
    return next(name for name in names if not (folder / BACKUPS / name).exists())


def complete(folder: Path, making: Path) -> Backup | None:
    """Check the copy, add its photos and manifest, and let it count; None when nothing changed since the last one.

    A backup made before a risky deed is never passed over. Raises Damaged when the copy fails its check.
    """
    name = making.name.removeprefix(MAKING)
    backup = named(name)
    if backup is None:
        raise ValueError(f"not an unfinished backup: {making}")
    with disk_refusals_for_backup(), _or_nothing(making):
        if faults := database_faults(making / DATABASE):
            raise Damaged("The backup does not count", f"The copy failed its check: {'; '.join(faults)}.",
                          "Check the collection; older backups were left alone.")
        disk.sync(making / DATABASE)
        print_now = disk.fingerprint(making / DATABASE)
        protocols = own_protocols.pack(folder, making)
        wanted = photo_names(making / DATABASE)
        held = pool.fill(folder, wanted, backup.made)
        if not backup.before and (print_now, protocols) == _last_prints(folder):
            shutil.rmtree(making)
            return None
        manifest = {"made": backup.made.isoformat(), "before": backup.before, "database": print_now, "photos": held,
                    "missing": sorted(set(wanted).difference(held)), "protocols": protocols}
        disk.put(making / MANIFEST, json.dumps(manifest, indent=1).encode())
        os.replace(making, folder / BACKUPS / name)
        disk.sync(folder / BACKUPS)
    return backup


@contextmanager
def _or_nothing(making: Path) -> Iterator[None]:
    """Take an unfinished backup away again when it cannot be finished: on a full disk it would lie there for good."""
    try:
        yield
    except BaseException:
        shutil.rmtree(making, ignore_errors=True)
        raise


def disk_refusals_for_backup() -> Any:
    """The refusals of the disk, said for a backup."""
    return disk.disk_refusals("The backup")


def _last_prints(folder: Path) -> tuple[Any, Any]:
    newest = next(iter(kept(folder)), None)
    try:
        manifest = {} if newest is None else manifest_of(folder, newest.name)
    except Refused:  # one that cannot be read any more must not keep the next from being made
        manifest = {}
    return manifest.get("database"), manifest.get("protocols", {})


def manifest_of(folder: Path, name: str) -> dict[str, Any]:
    """What a backup says about itself. Raises Refused for a name that is not ours or a manifest that cannot be read."""
    if named(name) is None:
        raise Refused("Not a backup", f"{name!r} is no name of a backup.", "Choose one from the list.")
    try:
        manifest = json.loads((folder / BACKUPS / name / MANIFEST).read_bytes())
    except (OSError, ValueError) as error:
        raise Refused("The backup cannot be read", f"{name}: {error}.", "Choose another backup.") from error
    lists = [manifest.get("photos"), manifest.get("missing", [])] if isinstance(manifest, dict) else [None]
    if not all(isinstance(one, list) for one in lists):
        raise Refused("The backup cannot be read", f"{name}: its manifest is not one.", "Choose another backup.")
    return dict(manifest)


def database_faults(path: Path) -> tuple[str, ...]:
    """What is wrong with a closed database file; empty when it is sound and ours."""
    try:
        with closing(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)) as copy:
            words = [row[0] for row in copy.execute("PRAGMA quick_check(5)")]
            mark = copy.execute("PRAGMA application_id").fetchone()[0]
    except sqlite3.Error as error:
        return (str(error),)
    faults = [] if words == ["ok"] else words
    return tuple(faults if mark == APPLICATION_ID else [*faults, "it is not a collection"])


def photo_names(path: Path) -> list[str]:
    """The photos that the journal in a closed database file refers to."""
    with closing(sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)) as copy:
        rows = copy.execute("SELECT DISTINCT json_extract(facts, '$.sha256') FROM entry WHERE kind = 'photo'")
        return sorted(name for (name,) in rows if isinstance(name, str) and photos.NAME.match(name))


def size(folder: Path, name: str) -> int:
    """Bytes of a backup with its photos, which other backups may share."""
    own = [path for path in (folder / BACKUPS / name).rglob("*") if path.is_file()]
    shared = [path for sha256 in manifest_of(folder, name)["photos"] if photos.NAME.match(str(sha256))
              and (path := photos.path(folder / BACKUPS / pool.POOL, sha256)).is_file()]
    return sum(path.stat().st_size for path in (*own, *shared))


def soundness(folder: Path, name: str, whole: Callable[[str], bool] | None = None) -> Soundness:
    """What is wrong with a backup. `whole` tells of a photo whether it could be put back (`pool.whole`)."""
    whole = whole or pool.whole(folder)
    try:
        manifest = manifest_of(folder, name)
        database = folder / BACKUPS / name / DATABASE
        if disk.fingerprint(database) != manifest.get("database"):
            return Soundness((f"{name}: the database is not the one that was backed up",))
        protocols = own_protocols.faults(database.parent, manifest.get("protocols"))
    except Refused as refused:
        return Soundness((str(refused),))
    except OSError as error:
        return Soundness((f"{name}: {error}",))
    listed = (*manifest["photos"], *manifest.get("missing", ()))
    odd = tuple(f"{name}: {sha256!r} names no photo" for sha256 in listed if not photos.NAME.match(str(sha256)))
    grave = (*database_faults(database), *(f"{name}: {words}" for words in protocols), *odd)
    if odd:
        return Soundness(grave)
    missing, before = (tuple(one for one in manifest.get(key, ()) if not whole(one)) for key in ("photos", "missing"))
    return Soundness(grave, missing, before)


def faults(folder: Path, name: str) -> tuple[str, ...]:
    """What is wrong with a backup, in sentences; empty when all it had can be put back."""
    found = soundness(folder, name)
    return (*found.grave, *(f"{name}: photo {sha256} is missing or damaged" for sha256 in found.missing))


def grave(folder: Path, name: str) -> tuple[str, ...]:
    """What keeps a backup from being restored at all: its database or the grower's protocols; never a lost photo."""
    return soundness(folder, name, lambda _: True).grave


def latest_good(folder: Path) -> Backup | None:
    """The newest backup that can be restored, be it without some photos."""
    return next((one for one in kept(folder) if not grave(folder, one.name)), None)


def thin(folder: Path, now: datetime) -> tuple[str, ...]:
    """Remove the backups that are too many (thinning.py), and pool photos no backup needs; returns the names removed.

    Backups made before a risky deed stay until the grower removes them, and files with other names are never touched.
    """
    by_time = {one.made: one for one in kept(folder) if not one.before}
    going = [by_time[made].name for made in sorted(thinning.too_many(by_time, now))]
    for name in going:
        with disk_refusals_for_backup():
            (folder / BACKUPS / name / MANIFEST).unlink()
            shutil.rmtree(folder / BACKUPS / name)
    if going:
        _drain_pool(folder)
    _sweep(folder, now)
    return tuple(going)


def _sweep(folder: Path, now: datetime) -> None:
    """Remove what a crash left of backups in the making a day ago."""
    for left in (folder / BACKUPS).glob(f"{MAKING}*"):
        backup = named(left.name.removeprefix(MAKING))
        if backup is not None and now - backup.made > STALE:
            shutil.rmtree(left, ignore_errors=True)


def _drain_pool(folder: Path) -> None:
    needed: set[str] = set()
    try:
        for one in kept(folder):
            manifest = manifest_of(folder, one.name)
            needed.update(manifest["photos"], manifest.get("missing", ()))
    except Refused:
        return  # a manifest that cannot be read may need any of them
    with disk_refusals_for_backup():
        pool.drain(folder, needed)
