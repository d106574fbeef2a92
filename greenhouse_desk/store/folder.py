"""The collection folder: what its files are called, and whether a folder is a safe place for a database."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from greenhouse_desk.domain.faults import Refused

APPLICATION_ID = 0x47524E48
SCHEMA = 3
DATABASE = "collection.db"
PHOTOS = "photos"
BACKUPS = "backups"
PROTOCOLS = "protocols"
LABELS = "labels"
GENERA = "genera.toml"
LOGS = ("-wal", "-journal")
SIDECARS = (*LOGS, "-shm")
NETWORK = {"nfs", "nfs3", "nfs4", "cifs", "smb3", "smbfs", "9p", "afs", "ceph", "davfs", "ncpfs", "vboxsf", "webdav"}
CONFLICT = re.compile(r"^collection\b.*conflict", re.IGNORECASE)
SYNC_MARK = re.compile(r"^\..*sync", re.IGNORECASE)


def make_folders(folder: Path) -> None:
    """Make the collection folder and its rooms. Raises Refused when that is not allowed."""
    try:
        for part in (folder, folder / PHOTOS, folder / BACKUPS):
            part.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise Refused("The collection folder cannot be used", f"{error.filename}: {error.strerror}.",
                      "Choose a folder you may write to.") from error


def holds_remains(folder: Path) -> bool:
    """Whether photos or backups of a collection lie in `folder`: then its database cannot be a new one."""
    return any(part.is_dir() and any(part.iterdir()) for part in (folder / PHOTOS, folder / BACKUPS))


def warnings_for(folder: Path, mounts: Path = Path("/proc/mounts")) -> tuple[str, ...]:
    """What makes `folder` a doubtful place for the collection, in words; empty when nothing was noticed.

    Noticed are: network and user-space mounts (Linux, from the table of mounts), network paths of Windows, hidden
    entries with "sync" in their name in the folder or above it, and conflict copies beside the database. Not noticed
    are network drives of other systems under a letter or volume, and sync folders that leave neither mark.
    """
    found = []
    lies = folder.resolve()  # where it is, not by which link it is reached
    kind = _mounted_as(lies, mounts)
    if str(folder).startswith("\\\\") or kind in NETWORK or kind.startswith("fuse."):
        found.append(f"{folder} lies on a network or virtual drive ({kind or 'network path'}). Databases get damaged "
                     "there. Keep the collection on a disk of this computer.")
    marks = [*_names(folder, CONFLICT), *_sync_marks(lies)]
    if marks:
        found.append(f"{folder} looks like a folder that is copied between computers ({', '.join(sorted(marks))}). "
                     "Copying an open database damages it. Keep the collection outside, and copy its backups instead.")
    return tuple(found)


def _sync_marks(folder: Path) -> Iterable[str]:
    for place in (folder, *folder.parents[:-1]):
        if place != Path.home():
            yield from _names(place, SYNC_MARK)


def _names(place: Path, pattern: re.Pattern[str]) -> Iterable[str]:
    try:
        return [entry.name for entry in place.iterdir() if pattern.search(entry.name)]
    except OSError:
        return []


def _mounted_as(folder: Path, mounts: Path) -> str:
    try:
        lines = mounts.read_text(encoding="utf-8", errors="replace").splitlines()
    except OSError:
        return ""
    holding = [(len(at), kind) for at, kind in map(_mount, lines) if folder.is_relative_to(at)]
    return max(holding, default=(0, ""))[1]


def _mount(line: str) -> tuple[str, str]:
    _, at, kind, *_ = line.split(" ")
    return re.sub(r"\\([0-7]{3})", lambda code: chr(int(code[1], 8)), at), kind
