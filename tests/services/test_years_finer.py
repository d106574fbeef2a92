"""Years of a species or of one plant, where the kinds of a genus differ: they come before that of the genus."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from greenhouse_desk.domain.care import CareKind
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Leaving
from greenhouse_desk.domain.year import GenusYear, Stretch
from greenhouse_desk.services import care, collection, transitions_start, years
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk

WET = GenusYear("Dendrobium cuthbertsonii", growth=Stretch(1, 12), repot=Stretch(1, 1))
NAMES = {101: "Dendrobium nobile", 102: "Den. cuthbertsonii 'Lamp'", 103: "Dendrobium aff. cuthbertsonii",
         104: "Dendrobium nobile"}


@pytest.fixture
def house(desk: Desk) -> Desk:
    """November in the north: the genus rests dry from November to January."""
    for number, name in NAMES.items():
        desk.run(collection.add_plant, NewPlant(name, number, medium="bark", acquired_on=date(2020, 5, 1)))
    return desk


def resting(desk: Desk) -> set[int]:
    return {one.plant for one in desk.read(care.ahead, desk.clock(), 60) if one.kind is CareKind.DRY_REST}


def windows(desk: Desk) -> dict[int, str]:
    return {one.plant: one.why[0].text for one in desk.read(care.ahead, desk.clock(), 60)
            if one.kind is CareKind.REPOT_WINDOW}


def test_a_species_has_a_year_of_its_own_and_its_genus_keeps_the_others(house: Desk) -> None:
    assert resting(house) == {101, 102, 103, 104}
    house.run(years.save, WET)
    assert resting(house) == {101, 103, 104}, "one that is only like the species is not taken for it"
    assert windows(house) == {102: "A Dendrobium cuthbertsonii is best repotted Jan."}
    house.undo()
    assert resting(house) == {101, 102, 103, 104}


def test_one_plant_has_a_year_of_its_own_before_its_species(house: Desk) -> None:
    house.run(years.save, GenusYear("Dendrobium nobile", rest=Stretch(10, 11), dry=True))
    house.run(years.save, GenusYear("104", growth=Stretch(1, 12)))
    assert resting(house) == {101, 102, 103}
    (rest,) = [one for one in house.read(care.of_plant, 101, house.clock()) if one.kind is CareKind.DRY_REST]
    assert rest.why[0].text == "A Dendrobium nobile usually rests dry Oct to Nov."
    assert not any("Kinds of one genus differ" in reason.text for reason in rest.why)
    house.run(years.save, GenusYear("104", rest=Stretch(11, 2), dry=True))
    (own,) = [one for one in house.read(care.of_plant, 104, house.clock()) if one.kind is CareKind.DRY_REST]
    assert own.why[0].text == "Plant 104 usually rests dry Nov to Feb."
    assert house.next_undo().label == "Year of plant 104"  # type: ignore[union-attr]


def test_it_speaks_when_one_asks_whether_a_move_may_start(house: Desk) -> None:
    def said() -> str:
        return " ".join(reason.text for reason in house.read(transitions_start.asked, 104, house.clock()).why)

    assert "a Dendrobium usually rests now" in said()
    house.run(years.save, GenusYear("104", growth=Stretch(1, 12)))
    assert "usually rests now" not in said()


def test_it_is_listed_with_its_plants_and_put_back(house: Desk) -> None:
    house.run(years.save, GenusYear("Dendrobium nobile", rest=Stretch(10, 11), dry=True))
    house.run(years.save, GenusYear("104", growth=Stretch(1, 12)))
    listed = {row.genus: (row.plants, row.own, row.shipped) for row in house.read(years.rows)}
    assert listed["Dendrobium"] == (4, False, True)
    assert listed["Dendrobium nobile"] == (2, True, False)
    assert listed["104"] == (1, True, False)
    house.run(years.forget, "104")
    assert "104" not in {row.genus for row in house.read(years.rows)}


def test_what_no_plant_here_is_is_refused(house: Desk) -> None:
    house.run(collection.part_with, 103, Leaving.TRADED, "to a friend", house.clock().date() - timedelta(days=1))
    for number in ("103", "999"):
        with pytest.raises(Refused, match=f"No plant {number} grows here"):
            house.run(years.save, GenusYear(number, growth=Stretch(1, 12)))
    for key in ("Dendrobium Nobile", "dendrobium nobile", "Dendrobium nobile alba", "012"):
        with pytest.raises(Refused):
            house.run(years.save, GenusYear(key, growth=Stretch(1, 12)))
