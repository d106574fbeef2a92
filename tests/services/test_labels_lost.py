"""Finding a plant whose number is gone, by place and genus."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.journal import Leaving, Photo
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services import collection, records
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.labels_lost import candidates
from greenhouse_desk.services.shelf import shelf

PICTURE = "ab" * 32


@pytest.fixture
def room(desk: Desk) -> dict[str, int]:
    """A room with a shelf in it, and a sill elsewhere; 104 has left."""
    room = desk.run(collection.save_place, Place(0, "Study", bench=False))
    shelf_ = desk.run(collection.save_place, Place(0, "Shelf", parent=room))
    sill = desk.run(collection.save_place, Place(0, "Sill"))
    for number, name, place in ((101, "Phal. amabilis", shelf_), (102, "Phalaenopsis Dawn", sill),
                                (103, "Cattleya Dusk", shelf_), (104, "Phalaenopsis alba", shelf_),
                                (105, "no name", shelf_)):
        desk.run(collection.add_plant, NewPlant(name, number, place=place))
    desk.run(collection.part_with, 104, Leaving.DEAD, "rot")
    desk.run(records.add, 101, Photo(PICTURE, "a.jpg"))
    return {"Study": room, "Shelf": shelf_, "Sill": sill}


@pytest.mark.parametrize(("where", "genus", "numbers"), [
    (None, "", [101, 102, 103, 105]), ("Shelf", "", [101, 103, 105]), ("Study", "", [101, 103, 105]),
    ("Sill", "", [102]), (None, "Phalaenopsis", [101, 102]), ("Study", "Phalaenopsis", [101]),
    ("Sill", "Cattleya", [])])
def test_who_it_may_be(desk: Desk, room: dict[str, int], where: str | None, genus: str, numbers: list[int]) -> None:
    found = desk.read(candidates, room.get(where or ""), genus, shelf(None).genera)
    assert [one.number for one in found] == numbers


def test_what_is_told_of_one(desk: Desk, room: dict[str, int]) -> None:
    one = desk.read(candidates, room["Shelf"], "", shelf(None).genera)[0]
    assert (one.genus, one.where, one.photo) == ("Phalaenopsis", "Study, Shelf", PICTURE)
