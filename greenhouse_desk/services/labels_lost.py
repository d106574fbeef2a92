"""A plant whose number is gone: who it may be, by where it stands, what genus it is, and its picture."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from greenhouse_desk.domain.names import BotanicalName, parse
from greenhouse_desk.domain.names_genera import Genera
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services.collection_reading import path_of
from greenhouse_desk.services.house import zone
from greenhouse_desk.services.shelf import NO_GENERA
from greenhouse_desk.store import plants
from greenhouse_desk.store.engine import Session


@dataclass(frozen=True, slots=True)
class Candidate:
    """A plant that it may be: its genus spelled out, where it is written to stand, its newest picture (SHA-256)."""

    number: int
    name: BotanicalName
    genus: str
    where: str
    medium: str
    photo: str | None


def candidates(session: Session, place: int | None = None, genus: str = "",
               genera: Genera = NO_GENERA) -> tuple[Candidate, ...]:
    """The plants that grow at a place or in it (None: anywhere) and are of a genus ("": any), by number."""
    places = {one.id: one for one in plants.places(session)}
    found = []
    for plant in plants.plants(session, zone(session)):
        if plant.left is not None or not (place is None or _inside(plant.place, place, places)):
            continue
        name = parse(plant.name)
        full = genera.full(name.genus)
        if not genus or full == genus:
            found.append(Candidate(plant.number, name, full, path_of(plant.place, places), plant.medium, plant.photo))
    return tuple(found)


def _inside(here: int | None, place: int, places: Mapping[int, Place]) -> bool:
    """Whether a place is `place` or lies in it."""
    for _ in range(len(places) + 1):
        if here is None or here == place:
            break
        here = places[here].parent if here in places else None
    return here == place
