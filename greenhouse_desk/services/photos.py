"""Photos of plants: taken in without the place they were taken at, kept, and written into the journal."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Photo
from greenhouse_desk.services import house
from greenhouse_desk.services.desk import Done
from greenhouse_desk.store import journal, photos, plants
from greenhouse_desk.store.engine import Session, Store

KINDS = frozenset({"journal", "plants", "photos"})
PRINT_MOST = 900
"""Pixels a side of a photo for print: 82 mm at 279 dots to the inch."""


@dataclass(frozen=True, slots=True)
class Printable:
    """A photo for print: a JPEG, and its width and height in pixels."""

    data: bytes
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Taken:
    """A photo already kept on disk: SHA-256, the file name it came with, and the camera's time (naive = local)."""

    sha256: str
    name: str
    at: datetime | None


def path(store: Store, sha256: str) -> Path:
    """The file of the photo with this SHA-256, as it is kept. ValueError for anything that is no SHA-256."""
    return photos.path(store.photos, sha256)


def printable(folder: Path, wanted: Sequence[str], most: int = PRINT_MOST) -> dict[str, Printable]:
    """The photos below `folder` (`store.photos`) with these SHA-256, at most `most` pixels a side and without anything
    the camera noted; those that are lost or damaged are left out."""
    made = ((sha256, photos.small(folder, sha256, most)) for sha256 in dict.fromkeys(wanted))
    return {sha256: Printable(*found) for sha256, found in made if found is not None}


def take_in(folder: Path, sources: Sequence[Path]) -> tuple[Taken | Refused, ...]:
    """Decode the files in another process and keep them below `folder` (`store.photos`); for the pool, not the window.

    One answer for each file, in order. `write` then puts each into a journal.
    """
    return tuple(answer if isinstance(answer, Refused) else _kept(folder, answer)
                 for answer in photos.look_at_apart(sources))


def _kept(folder: Path, picture: photos.Picture) -> Taken:
    photos.keep(folder, picture)
    return Taken(picture.sha256, picture.name, picture.taken)


def write(session: Session, now: datetime, plant: int, taken: Sequence[Taken]) -> Done[tuple[int, ...]]:
    """Write kept photos into the plant's journal at the camera's time, `now` where it has none or one to come."""
    if not plants.plants(session, UTC, [plant]):
        raise Refused("No such plant", f"There is no plant {plant}.", "Choose a plant of the collection.")
    zone = house.zone(session)
    entries = []
    for one in taken:
        at = now if one.at is None else one.at.replace(tzinfo=one.at.tzinfo or zone)
        entries.append(journal.add(session, min(at, now), Photo(one.sha256, one.name), plant))
    many = "Photo" if len(entries) == 1 else f"{len(entries)} photos"
    return Done(f"{many} of {plant}", KINDS, tuple(entries))


def add(session: Session, now: datetime, plant: int, path: Path, taken_at: datetime | None = None) -> Done[int]:
    """Decode one file here, keep it, and write it into the plant's journal; the value is the entry's id.

    `taken_at` (aware) outranks the camera's time. For pictures that are trusted or few; the window uses `take_in`.
    """
    taken = _kept(session.info["photos"], photos.look_at(path))
    done = write(session, now, plant, [Taken(taken.sha256, taken.name, taken_at or taken.at)])
    return Done(done.label, done.kinds, done.value[0])


def decoded(source: Path) -> bytes:
    """The bytes of a picture file that another process could decode, kept nowhere; for the pool. Raises Refused."""
    (answer,) = photos.look_at_apart([source])
    if isinstance(answer, Refused):
        raise answer
    return answer.data
