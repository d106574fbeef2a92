"""Drying asked of the store: before a wetting, until when one may begin, and anew whenever a reading comes in."""

from __future__ import annotations

from datetime import datetime, time, timedelta

import pytest

from greenhouse_desk.domain.airflow import drying_span
from greenhouse_desk.domain.care import CareKind, Drying
from greenhouse_desk.domain.journal import Moving, Part, Placed, Wetted
from greenhouse_desk.domain.plants import Air, Habit, Home, Place
from greenhouse_desk.services import airflow, care, collection, house, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk, Done
from greenhouse_desk.services.treatments import Choice
from greenhouse_desk.store import journal, plants
from greenhouse_desk.store.engine import Session
from tests.services.sittings import REPOT, shelf_of

LISBON = Home(38.72, -9.14, "Europe/Lisbon")


def furnish(session: Session, now: datetime, *places: Place) -> Done[list[int]]:
    """A verb: a bench for each place, with one plant on each, numbered from 101."""
    keys = []
    for number, place in enumerate(places, start=101):
        keys.append(plants.save_place(session, place))
        plants.add_plant(session, number, "Phalaenopsis equestris", Habit.MONOPODIAL)
        journal.add(session, now, Placed(keys[-1], 1.0), plant=number)
    return Done("Furnish", frozenset({"plants"}), keys)


def wet(session: Session, now: datetime) -> Done[int]:
    """A verb: plant 101 rinsed."""
    return Done("Rinse", frozenset({"journal"}), journal.add(session, now, Wetted((Part.CROWN,)), plant=101))


def drying(desk: Desk) -> Drying:
    """The airing owed to plant 101."""
    (found,) = (one.drying for one in desk.read(care.of_plant, 101, desk.clock()) if one.kind is CareKind.AIR)
    assert found is not None
    return found


def test_the_outlook_is_that_of_the_places_own_air(desk: Desk, clock: SteppedClock) -> None:
    (shelf,) = desk.run(furnish, Place(0, "Shelf", lights_out=time(22, 0)))
    desk.run(collection.record_air, shelf, 22.0, 0.55, 0.1)
    told = desk.read(airflow.outlook, clock.now(), shelf)
    assert told.hours == drying_span(Air(clock.now(), 22.0, 0.55, 0.1))
    assert told.ok is True
    nowhere = desk.read(airflow.outlook, clock.now(), None)
    assert nowhere.hours == drying_span(None)


def test_a_word_for_the_air_gives_a_span_and_a_measured_speed_stands_before_it(desk: Desk, clock: SteppedClock) -> None:
    (shelf,) = desk.run(furnish, Place(0, "Shelf"))
    desk.run(collection.record_air, shelf, 22.0, 0.55, None, None, Moving.LIGHT)
    assert desk.read(airflow.outlook, clock.now(), shelf).hours == drying_span(
        Air(clock.now(), 22.0, 0.55, moving=Moving.LIGHT))
    desk.run(collection.record_air, shelf, 22.0, 0.55, 0.3, None, Moving.LIGHT)
    assert desk.read(airflow.outlook, clock.now(), shelf).hours == drying_span(Air(clock.now(), 22.0, 0.55, 0.3))


def test_a_new_reading_changes_what_is_owed_at_once(desk: Desk, clock: SteppedClock) -> None:
    (shelf,) = desk.run(furnish, Place(0, "Shelf", lights_out=time(22, 0)))
    desk.run(wet)
    blind = drying(desk)
    clock.advance(600)
    desk.run(collection.record_air, shelf, 24.0, 0.40, 0.3)
    dry = drying(desk)
    clock.advance(600)
    desk.run(collection.record_air, shelf, 18.0, 0.85, 0.1)
    damp = drying(desk)
    assert blind.latest is not None
    assert dry.latest is not None
    assert damp.latest is not None
    assert dry.latest < blind.latest
    assert damp.latest - dry.latest > timedelta(hours=10)
    assert damp.gain_hours > 5 * dry.gain_hours


def test_rinses_are_told_most_pressing_first_and_the_window_gets_the_earliest(desk: Desk, clock: SteppedClock) -> None:
    early, late, never = desk.run(furnish, Place(0, "Lamps", lights_out=time(19, 0)),
                                  Place(0, "Hall", lights_out=time(23, 0)), Place(0, "Cave", lights_out=time(23, 0)))
    for place in (early, late):
        desk.run(collection.record_air, place, 22.0, 0.55, 0.1)
    found = desk.read(airflow.rinses, clock.now())
    fan = timedelta(hours=drying_span(Air(clock.now(), 22.0, 0.55, 0.1), fan=True).high)
    by_place = {one.place: one for one in found}
    assert by_place[early].limit_name == "lights-out"
    assert by_place[early].start_by == datetime.combine(clock.now().date(), time(19), clock.now().tzinfo) - fan
    assert [one.place for one in found if not one.read] == [never]
    assert desk.read(airflow.rinse_by, clock.now()) == by_place[early].start_by, "where no air is known nothing is said"
    desk.run(collection.record_air, never, 18.0, 0.97, 0.1)
    assert desk.read(airflow.rinses, clock.now())[0].place == never
    assert desk.read(airflow.rinse_by, clock.now()) is None


def test_an_unset_home_is_told_until_the_grower_sets_one(desk: Desk, clock: SteppedClock) -> None:
    (shelf,) = desk.run(furnish, Place(0, "Shelf"))
    desk.run(wet)
    assert drying(desk).limit_name == "assumed dusk"
    unset = desk.read(airflow.outlook, clock.now(), shelf)
    assert "The home is not set" in unset.words
    assert any("only assumed" in reason.text for reason in unset.why)
    desk.run(house.save_home, LISBON)
    assert drying(desk).limit_name == "dusk"
    assert "not set" not in desk.read(airflow.outlook, clock.now(), shelf).words


@pytest.mark.parametrize(("hours_before_dusk", "warned"), [(5.5, False), (1.5, True)])
def test_a_rinse_too_late_for_dusk_is_warned_of_before_anything_is_wet(desk: Desk, clock: SteppedClock,
                                                                     hours_before_dusk: float, warned: bool) -> None:
    """The bench's preparation counts the session itself: dusk in Lisbon that day is 17:18."""
    desk.run(house.save_home, LISBON)
    (shelf,) = desk.run(furnish, Place(0, "Shelf"))
    clock.advance(timedelta(hours=17.3 - hours_before_dusk - 15.5).total_seconds() + 86400)
    desk.run(collection.record_air, shelf, 24.0, 0.45, 0.3)
    told = desk.read(treatments.preparation, clock.now(), [Choice(101, REPOT.id)], shelf_of())
    assert (told.drying.ok is not True) is warned
    assert ("101: It " in told.drying.words)
    if warned:
        assert "fan" in told.drying.words
    assert desk.read(care.of_plant, 101, clock.now()) == (), "nothing was wetted by asking"
