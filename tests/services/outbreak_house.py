"""A house for the tests of outbreaks, looks and dealings: a bench, an isolation shelf, plants, and a hundred days."""

from __future__ import annotations

from datetime import datetime

from greenhouse_desk.domain.journal import Facts, Looked, Part, Purpose, Sighted, Treated
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services import collection, records
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from tests.builders import NOW, ago

BUG = Sighted("mealybug", "adult", "axils", 2)
CLEAN = Looked(True, "10x")
WASH = Treated("mild-soap", Purpose.PEST_WASH, (Part.LEAVES,))


def furnished(desk: Desk) -> dict[str, int]:
    """101 to 103 on East sill since a hundred days ago, 104 alone on a ledge; an isolation shelf nobody stands on."""
    desk.clock = lambda: ago(days=100)
    places = {name: desk.run(collection.save_place, Place(0, name, position=nth, isolation=name == "Shelf"))
              for nth, name in enumerate(("East sill", "Ledge", "Shelf"))}
    for number, place in ((101, "East sill"), (102, "East sill"), (103, "East sill"), (104, "Ledge")):
        desk.run(collection.add_plant, NewPlant("Stelis gelida", number, place=places[place]))
    desk.clock = lambda: NOW
    return places


def add(desk: Desk, number: int, facts: Facts, at: datetime = NOW) -> int:
    """Write one entry."""
    return desk.run(records.add, number, facts, at)
