"""Backups with pictures, made, listed, thinned and put back; and the check whether the collection is whole."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, tzinfo
from pathlib import Path

from greenhouse_desk.domain.care_day import moment_words
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.services.labels_shelf import layouts
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.store import backup as backups
from greenhouse_desk.store import check as checks
from greenhouse_desk.store import pool
from greenhouse_desk.store import restore as restoring
from greenhouse_desk.store.backup import Backup as Backup
from greenhouse_desk.store.backup import Soundness as Soundness
from greenhouse_desk.store.engine import Store
from greenhouse_desk.store.folder import BACKUPS
from greenhouse_desk.store.folder import warnings_for as warnings_for
from greenhouse_desk.store.refusals import refusals
from greenhouse_desk.store.restore import LostPhoto as LostPhoto
from greenhouse_desk.store.restore import Restored as Restored

NAMED = 5


def due(folder: Path, now: datetime) -> bool:
    """Whether the newest backup of the collection in `folder` is half an hour old, so that another may be made."""
    return backups.due(folder, now)


def snapshot(store: Store, now: datetime, before: str = "") -> Path:
    """Copy the database: short, on the thread that owns the store. Hand the result to `complete` on the pool.

    `before` is one word for the risky deed this goes before ("import"); such a backup is never thinned.
    """
    return store.snapshot(now, before)


def complete(folder: Path, making: Path, now: datetime) -> Backup | None:
    """Check the copy, add its photos, let it count, thin the others; None when nothing changed since the last one."""
    with refusals(folder):
        made = backups.complete(folder, making)
        backups.thin(folder, now)
        return made


def make(store: Store, now: datetime, before: str = "") -> Backup | None:
    """A backup from start to end, whenever the last one was; None when nothing changed since. Raises Refused."""
    return complete(store.folder, snapshot(store, now, before), now)


def list(folder: Path) -> tuple[Backup, ...]:
    """The backups of the collection in `folder`, newest first."""
    return backups.kept(folder)


def faults(folder: Path, name: str) -> tuple[str, ...]:
    """What is wrong with a backup, its photos included; empty when it can be restored whole."""
    return backups.faults(folder, name)


def grave(folder: Path, name: str) -> tuple[str, ...]:
    """What keeps a backup from being put back at all; lost photos do not."""
    return backups.grave(folder, name)


def latest_good(folder: Path) -> Backup | None:
    """The newest backup that can be put back, be it without some photos; the one a damaged collection offers."""
    return backups.latest_good(folder)


@dataclass(frozen=True, slots=True)
class Told:
    """A backup with its bytes (its photos, which others share, counted in) and what is wrong with it."""

    backup: Backup
    bytes: int
    soundness: Soundness

    @property
    def lacks(self) -> str:
        """What would be wanting after it was put back, in words; "" when all would be as it was."""
        gone, before = len(self.soundness.missing), len(self.soundness.lost_before)
        return "; ".join(filter(None, (f"{photos_words(gone)} will not come back" if gone else "",
                                       f"{photos_words(before)} lost before it was made" if before else "")))


def photos_words(count: int) -> str:
    """ "1 photo", "2 photos"."""
    return f"{count} photo{'' if count == 1 else 's'}"


def told(folder: Path) -> tuple[Told, ...]:
    """The backups, newest first, each read to its last photo: long, for the pool."""
    whole = pool.whole(folder)
    found = []
    for one in backups.kept(folder):
        try:
            size = backups.size(folder, one.name)
        except (Refused, OSError):
            size = 0
        found.append(Told(one, size, backups.soundness(folder, one.name, whole)))
    return tuple(found)


def restore(folder: Path, name: str, now: datetime) -> Restored:
    """Put backup `name` in the place of the collection in `folder`, which must be closed (Held otherwise).

    Raises Refused, with nothing replaced.
    """
    known = {one.name for one in backups.kept(folder)}
    if name not in known and not (backups.named(name) and (folder / BACKUPS / name).is_dir()):
        newest = ", ".join(called(one.name) for one in backups.kept(folder)[:NAMED]) or "none"
        raise Refused(f"There is no backup {name}", f"There is {newest}.",
                      "Name one of them as it stands in brackets, or none for the newest good one.")
    return restoring.restore(folder, name, now)


def restored_words(done: Restored, zone: tzinfo | None = None) -> str:
    """What a restore did, in a sentence or two, by the clock of `zone` (None: that of this computer); the photos that
    did not come back are for `lost_lines`."""
    kept = f" What it replaced is kept as {called(done.replaced, zone)}." if done.replaced else ""
    return f"Put back: {called(done.name, zone)}.{kept}"


def called(name: str, zone: tzinfo | None = None) -> str:
    """ "the backup of 27 Nov 2026, 14:05 (its folder's name)"; by its name alone where that tells no moment."""
    known = backups.named(name.removeprefix(restoring.ASIDE))
    if known is None:
        return f"backup {name}"
    what = "the damaged files" if name.startswith(restoring.ASIDE) else "the backup"
    return f"{what} of {moment_words(known.made, zone)} ({name})"


def lost_lines(done: Restored) -> tuple[str, ...]:
    """A line for each photo that did not come back: plant, file name, day of the entry (UTC)."""
    return tuple(f"{f'plant {one.plant}' if one.plant else 'no plant'}: {one.name or one.sha256}, {one.at[:10]}"
                 for one in done.lost)


def check(store: Store) -> tuple[str, ...]:
    """Everything that is wrong with the collection, its own protocols and label layouts, one sentence each; empty when
    it is whole."""
    own = (*shelf(store.folder).faults, *layouts(store.folder).faults)
    with store.reading() as session:
        return (*checks.faults(session, store.photos), *map(str, own))
