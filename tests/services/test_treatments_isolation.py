"""A plant in isolation is told at the bench to the end: a find or a night between does not take its warnings away."""

from __future__ import annotations

from greenhouse_desk.domain.bench import Key
from greenhouse_desk.domain.bench_questions import NOTHING_SEEN
from greenhouse_desk.domain.journal import Placed, Sighted
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.domain.protocols import Deed, Protocol
from greenhouse_desk.services import collection, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from tests.services.sittings import Grower, grower, shelf_of, step, tell
from tests.services.test_treatments_cleanest import LOOK, looks

HANDS = Protocol("hands-trial", "Hands", "For tests.", (step("wipe", Deed.HYGIENE), step("tidy", Deed.HYGIENE)))
TAKEN_UP = "Kept apart: afterwards wash hands, soak tools, wipe the bench."
LEFT = "From 103, kept apart: wash hands, fresh gloves, soak tools, wipe the bench."


def isolated(desk: Desk, clock: SteppedClock) -> Grower:
    """101 and 102 on a bench, 103 in a tent kept for isolation."""
    at = grower(desk, clock)
    put(desk, 103, desk.run(collection.save_place, Place(0, "Tent", isolation=True)))
    clock.advance(60)
    return at


def put(desk: Desk, plant: int, place: int) -> None:
    desk.run(tell, plant, Placed(place, 1.0))


def told_apart(at: Grower) -> list[int]:
    """The plants whose row in the queue tells that they stand apart."""
    return [row.plant for row in at.board.queue if "it stands apart: after it wash your hands" in row.why]


def overnight(desk: Desk, clock: SteppedClock, at: Grower) -> None:
    """Leave the bench and take the session up the next day."""
    desk.run(treatments.leave, at.session, sure=True)
    clock.advance(20 * 3600)
    desk.run(treatments.take_up, at.session)


def test_a_find_on_another_plant_leaves_the_warnings_of_one_in_isolation(desk: Desk, clock: SteppedClock) -> None:
    at = isolated(desk, clock).begins({101: LOOK.id, 102: HANDS.id, 103: HANDS.id}, shelf_of(LOOK, HANDS))
    assert told_apart(at) == [103]
    looks(at, "mealybug")
    assert told_apart(at) == [103]
    while at.says[0] != 103:
        at.obeys()
    assert at.board.instruction.caution.endswith(TAKEN_UP)


def test_a_session_taken_up_again_still_tells_who_stands_in_isolation(desk: Desk, clock: SteppedClock) -> None:
    at = isolated(desk, clock).begins({103: HANDS.id, 101: HANDS.id}, shelf_of(HANDS), order=(103, 101))
    overnight(desk, clock, at)
    assert told_apart(at) == [103]
    assert at.board.instruction.caution == TAKEN_UP
    at.obeys()
    put(desk, 103, desk.run(collection.save_place, Place(0, "Sill")))
    overnight(desk, clock, at)
    assert told_apart(at) == [103], "hands were on it while it stood apart"
    at.obeys()
    assert at.board.instruction.caution == LEFT


def test_one_put_into_isolation_meanwhile_is_told_and_one_taken_out_before_its_turn_is_not(
        desk: Desk, clock: SteppedClock) -> None:
    at = isolated(desk, clock).begins({101: LOOK.id, 102: HANDS.id, 103: HANDS.id}, shelf_of(LOOK, HANDS))
    looks(at, NOTHING_SEEN)
    at.press(Key.NEXT)
    put(desk, 103, desk.run(collection.save_place, Place(0, "Sill")))
    put(desk, 102, desk.run(collection.save_place, Place(0, "Shelf", isolation=True)))
    desk.run(tell, 102, Sighted("mealybug", "adult", "axils", 2))
    overnight(desk, clock, at)
    assert told_apart(at) == [102]
