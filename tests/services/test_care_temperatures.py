"""The dates of washes rest on readings in the store: of the plant's own place, else of the one around it."""

from __future__ import annotations

from datetime import timedelta

import pytest

from greenhouse_desk.domain.bench import Action
from greenhouse_desk.domain.care import Care, CareKind
from greenhouse_desk.domain.journal import Placed, Purpose, Reading, Reply, Sighted, Step, Treated
from greenhouse_desk.domain.journal_words import NOT_TRIED
from greenhouse_desk.domain.plants import Habit, Place
from greenhouse_desk.services import care, collection
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk, Done
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.store import journal, plants
from greenhouse_desk.store.engine import Session
from tests.builders import NOW, ago
from tests.services.sittings import grower, tell
from tests.services.test_care import WASH, put

THRIPS = Sighted("thrips")


def furnish(session: Session, now: object) -> Done[tuple[int, int]]:
    """A verb: a room, a shelf in it, and the plants 101 and 102 on the shelf."""
    room = plants.save_place(session, Place(0, "Landing", bench=False))
    shelf = plants.save_place(session, Place(0, "East sill", parent=room))
    for number in (101, 102):
        plants.add_plant(session, number, "Phalaenopsis equestris", Habit.MONOPODIAL)
        journal.add(session, ago(days=40), Placed(shelf, float(number)), plant=number)
    journal.add(session, ago(days=2), THRIPS, plant=101)
    journal.add(session, ago(days=1), WASH, plant=101)
    return Done("Furnish", frozenset({"plants"}), (room, shelf))


def measured(session: Session, now: object, place: int, *read: tuple[float, float]) -> Done[None]:
    """A verb: readings at a place, each (hours before NOW, deg C)."""
    for hours, temp in read:
        journal.add(session, ago(hours=hours), Reading(temp, 0.6), place=place)
    return Done("Read the air", frozenset({"air"}), None)


def again(desk: Desk, number: int = 101) -> Care:
    (found,) = (one for one in desk.read(care.of_plant, number, desk.clock()) if one.kind is CareKind.WASH_REPEAT)
    return found


def why(one: Care) -> str:
    return " | ".join(reason.text for reason in one.why)


def test_a_new_reading_moves_the_repeat_and_taking_it_back_moves_it_back(desk: Desk) -> None:
    _, shelf = desk.run(furnish)
    assert "No temperature was read around this plant lately." in why(again(desk))
    desk.run(measured, shelf, (20, 18.0), (3, 18.0))
    cool = again(desk)
    assert "2 readings at East sill, the newest 3 h old" in why(cool)
    desk.run(collection.record_air, shelf, 27.0, 0.6)
    warm = again(desk)
    assert warm.due < cool.due
    assert [one.due for one in desk.read(care.due, NOW) if one.kind is CareKind.WASH_REPEAT] == [warm.due]
    desk.undo()
    assert again(desk).due == cool.due


def test_a_place_without_readings_of_its_own_borrows_those_around_it(desk: Desk) -> None:
    room, shelf = desk.run(furnish)
    desk.run(measured, room, (20, 20.0), (3, 20.0))
    assert "East sill has no readings of its own lately. 2 readings at Landing" in why(again(desk))
    desk.run(measured, shelf, (2, 20.0))
    assert "1 reading at East sill" in why(again(desk))
    assert "no readings of its own" not in why(again(desk))


def test_old_readings_of_its_own_are_passed_over_for_newer_ones_around_it(desk: Desk) -> None:
    room, shelf = desk.run(furnish)
    desk.run(measured, shelf, (24 * 20, 25.0))
    assert "No temperature was read around this plant lately." in why(again(desk))
    desk.run(measured, room, (3, 20.0))
    assert "East sill has no readings of its own lately. 1 reading at Landing" in why(again(desk))


def test_a_reading_to_come_is_not_used(desk: Desk) -> None:
    _, shelf = desk.run(furnish)
    desk.run(measured, shelf, (3, 20.0), (-5, 29.0))
    assert "1 reading at East sill" in why(again(desk))
    assert "29.0" not in why(again(desk))


@pytest.mark.parametrize("told", [THRIPS, Step(f"Left out: Wash leaves and axils: {NOT_TRIED}")])
def test_a_first_wash_is_owed_done_as_a_wash_that_wets_and_repeats_in_turn(desk: Desk, told: Sighted | Step) -> None:
    desk.run(furnish)
    desk.run(lambda session, now: Done("Tell", frozenset({"journal"}),
                                       journal.add(session, ago(hours=50), told, plant=102)))
    (first,) = (one for one in desk.read(care.due, NOW) if one.plant == 102)
    assert (first.kind, first.short) == (CareKind.FIRST_WASH, "first wash")
    assert first.due == NOW.date()
    desk.run(care.answer, first, Reply.DONE)
    written = [entry.facts for entry in desk.read(journal.of_plant, 102)]
    assert [facts.purpose for facts in written if isinstance(facts, Treated)] == [Purpose.PEST_WASH]
    kinds = [one.kind for one in desk.read(care.of_plant, 102, NOW)]
    assert CareKind.AIR in kinds
    assert CareKind.FIRST_WASH not in kinds
    assert (CareKind.WASH_REPEAT in kinds) is (told is THRIPS)


def test_a_first_wash_is_declined_with_its_reason(desk: Desk) -> None:
    desk.run(put, 101, (ago(hours=1), THRIPS))
    (first,) = (one for one in desk.read(care.of_plant, 101, NOW) if one.kind is CareKind.FIRST_WASH)
    desk.run(care.answer, first, Reply.DECLINED, None, "flowers cut off instead")
    for now in (NOW, NOW + timedelta(days=3)):
        assert [one.kind for one in desk.read(care.of_plant, 101, now)] == [CareKind.PEST_LOOK], "a look is left"


def test_a_wash_left_out_at_the_bench_for_a_drop_is_owed_in_two_days(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101])
    desk.run(tell, 101, THRIPS)
    clock.advance(5 * 24 * 3600)
    at.begins({101: "pest-wash"}, shelf(None))
    while at.board.instruction.action is not Action.START_SOAK:
        at.obeys()
    at.leaves_out(NOT_TRIED)
    at.finishes()
    (wash,) = (one for one in desk.read(care.of_plant, 101, clock.now()) if one.kind is CareKind.FIRST_WASH)
    assert wash.due == (clock.now() + timedelta(days=2)).date()
    assert "a drop put on one leaf" in why(wash)
