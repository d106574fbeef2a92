"""Pages that tell of the same thing agree: bench and care strip, timeline and care, a wait and its move."""

from __future__ import annotations

from datetime import time, timedelta

import pytest

from greenhouse_desk.domain.bench import Job, plan
from greenhouse_desk.domain.care import CareKind
from greenhouse_desk.domain.journal import Potted, Reply, Roots, Sighted
from greenhouse_desk.domain.plants import Home, Place
from greenhouse_desk.services import care, collection, house, records, shelf, timeline, transitions_start, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.treatments_drying import drying_of
from greenhouse_desk.store import plants

DAY = 86_400.0
WASH = next(one for one in shelf.shelf(None).protocols if one.id == "pest-wash")


@pytest.mark.parametrize("off", [time(23, 30), time(0, 0), time(1, 30)])
def test_lamps_that_go_off_after_midnight_have_an_hour_early_enough_too(off: time, desk: Desk,
                                                                        clock: SteppedClock) -> None:
    desk.run(house.save_home, Home(51.5, 0.0, "Europe/London"))
    rack = desk.run(collection.save_place, Place(0, "Lamp rack", lights_out=off))
    desk.run(collection.add_plant, NewPlant("Phalaenopsis amabilis", number=101, place=rack))
    desk.run(collection.record_air, rack, 21.0, 0.5, 0.1)
    around = desk.read(care.surroundings)
    (plant,) = desk.read(plants.plants, around.zone)
    local = clock.now().astimezone(around.zone)
    late = local.replace(hour=off.hour, minute=off.minute) + timedelta(days=1) - timedelta(minutes=45)
    verdict, possible = drying_of(around, late, [(plant, WASH)], plan([Job(101, WASH.steps)]))
    assert verdict.ok is False
    assert possible.startswith("Possible another day: with the fan on, rinse by ")
    assert "that of the slowest bench" in possible, "it is not the time under the clock: that is said"


def test_a_wash_put_off_for_weeks_is_not_due_rather_than_not_owed(desk: Desk, clock: SteppedClock) -> None:
    desk.run(collection.add_plant, NewPlant("Vanda tricolor", number=101, medium="clay pellets"))
    desk.run(records.add, 101, Sighted("mealybug"))
    (wash,) = [one for one in desk.read(care.due, clock.now()) if one.kind is CareKind.FIRST_WASH]
    later = clock.now().date() + timedelta(days=30)
    desk.run(care.answer, wash, Reply.PUT_OFF, later)
    (found,) = desk.read(treatments.proposed, clock.now(), desk.read(treatments.candidates, clock.now()))
    assert found.wash_words == f"wash not due yet: from {later.day} {later:%b}"


def test_the_timeline_owes_what_care_owes_of_a_genus_written_short(desk: Desk, clock: SteppedClock) -> None:
    desk.run(collection.add_plant, NewPlant("Paph. callosum", number=101, medium="bark"))
    clock.advance(DAY)
    desk.run(records.add, 101, Potted("clay pellets", "12 cm", transition=True))
    clock.advance(15 * DAY)
    desk.run(records.add, 101, Roots(5, 1, 0))
    owed = desk.read(care.of_plant, 101, clock.now())
    roster = desk.read(timeline.roster, clock.now())
    lane = desk.read(timeline.lanes, roster, clock.now(), [101])[101]
    assert sorted(item.detail for item in lane.ahead.items) == sorted(one.what for one in owed)


@pytest.mark.parametrize(("medium", "waits"), [("bark", True), ("clay pellets, moss on top", False), ("pumice", False)])
def test_only_a_plant_that_has_a_move_before_it_waits_for_one(medium: str, waits: bool, desk: Desk) -> None:
    desk.run(collection.add_plant, NewPlant("Vanda tricolor", number=101, medium=medium))
    assert bool(desk.read(transitions_start.waiting)) is waits
