"""Putting a backup in the place of a closed collection, with a copy of what it replaces."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from greenhouse_desk.domain.faults import Damaged, Refused
from greenhouse_desk.store import backup, disk, own_protocols, photos, pool, reading_copy
from greenhouse_desk.store.engine import connect
from greenhouse_desk.store.folder import BACKUPS, DATABASE, SCHEMA, SIDECARS
from greenhouse_desk.store.refusals import refusals

ASIDE = "replaced-"
"""How the folder below backups/ begins that keeps the files of a damaged collection."""


@dataclass(frozen=True, slots=True)
class LostPhoto:
    """A photo of the restored journal that is nowhere any more: its entry's plant, instant (UTC, ISO), file name."""

    sha256: str
    plant: int | None
    at: str
    name: str


@dataclass(frozen=True, slots=True)
class Restored:
    """What a restore did: the copy of what it replaced, by its name below backups/ ("": there was no database), and
    the photos that did not come back, oldest first."""

    name: str
    replaced: str
    lost: tuple[LostPhoto, ...] = ()


def restore(folder: Path, name: str, now: datetime) -> Restored:
    """Replace database and own protocols of the closed collection in `folder` by backup `name`; lost photos come back.

    What is replaced is kept first, as a backup when it is sound, else file by file. Photos taken since stay; one that
    was lost from the backup too stays lost and is told. Raises Refused, with nothing replaced, when the database or the
    protocols of the backup are not whole, Held when a copy of the program still has the collection.
    """
    source = folder / BACKUPS / name / DATABASE
    bad = backup.grave(folder, name)
    if bad:
        raise Refused("The backup is not whole", "; ".join(bad[:5]), "Choose another backup; nothing was replaced.")
    _must_be_known(source, name)
    shut = reading_copy.unwritable(folder / DATABASE)
    if shut is not None:
        raise reading_copy.refusal(shut)
    replaced = _put_aside(folder, now)
    with disk.disk_refusals("Restoring the backup"):
        lost = tuple(one for one in _photos(source) if not pool.put_back(folder, one.sha256))
        own_protocols.unpack(source.parent, backup.manifest_of(folder, name).get("protocols"), folder)
        _swap_in(source, folder / DATABASE)
    return Restored(name, replaced, lost)


def _must_be_known(source: Path, name: str) -> None:
    with closing(sqlite3.connect(f"{source.absolute().as_uri()}?mode=ro", uri=True)) as copy:
        version = copy.execute("PRAGMA user_version").fetchone()[0]
    if version > SCHEMA:
        raise Refused("The backup is newer than the program", f"{name} has schema {version}.",
                      "Install the newer program; nothing was replaced.")


def _photos(source: Path) -> tuple[LostPhoto, ...]:
    """The photos that the journal in a closed database file tells of, entry by entry, oldest first."""
    with closing(sqlite3.connect(f"{source.absolute().as_uri()}?mode=ro", uri=True)) as copy:
        rows = copy.execute("SELECT json_extract(facts, '$.sha256'), plant, at, json_extract(facts, '$.name') "
                            "FROM entry WHERE kind = 'photo' ORDER BY at, id").fetchall()
    return tuple(LostPhoto(sha256, plant, str(at), str(file or "")) for sha256, plant, at, file in rows
                 if isinstance(sha256, str) and photos.NAME.match(sha256))


def _swap_in(source: Path, target: Path) -> None:
    """A stale log beside a new file would be replayed onto it, so the sidecars go before the rename."""
    part = target.with_name(f".restoring-{target.name}")
    disk.copy(source, part)
    for ending in SIDECARS:
        Path(f"{target}{ending}").unlink(missing_ok=True)
    os.replace(part, target)
    disk.sync(target.parent)


def _put_aside(folder: Path, now: datetime) -> str:
    database = folder / DATABASE
    if not database.exists():
        return _put_files_aside(folder, now)
    try:
        with refusals(folder), closing(connect(database)) as raw:
            raw.execute("BEGIN EXCLUSIVE")  # nobody else may have it open
            raw.execute("ROLLBACK")
            making = backup.snapshot(raw, folder, now, "restore")
        kept = backup.complete(folder, making)
    except Damaged:
        kept = None
    return _put_files_aside(folder, now) if kept is None else kept.name


def _put_files_aside(folder: Path, now: datetime) -> str:
    aside = folder / BACKUPS / f"{ASIDE}{now.astimezone(UTC).strftime(backup.STAMP)}"
    files = [file for ending in ("", *SIDECARS) if (file := Path(f"{folder / DATABASE}{ending}")).exists()]
    with disk.disk_refusals("Keeping the damaged database"):
        for file in files:
            disk.copy(file, aside / file.name)
        own_protocols.pack(folder, aside)
    return aside.name if files else ""
