"""A clear and an infested plant at one bench: hands do not come back from the one to the other, and it stays clear."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.bench import Action
from greenhouse_desk.domain.journal import Placed, Sighted
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services import collection, quarantine, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.treatments import Choice
from greenhouse_desk.services.treatments_candidates import histories
from greenhouse_desk.store.engine import Session
from tests.services.sittings import CUT_ONLY, DIP, REPOT, Grower, grower, shelf_of, tell


def one_infested(desk: Desk, clock: SteppedClock) -> Grower:
    """102 and 103 free of pests, 101 known to be infested and standing by itself."""
    at = grower(desk, clock)
    desk.run(tell, 101, Placed(desk.run(collection.save_place, Place(0, "Window sill")), 1.0))
    desk.run(tell, 101, Sighted("mealybug", "adult", "axils", 2))
    clock.advance(60)
    return at


def exposed(desk: Desk, clock: SteppedClock, plant: int) -> list[str]:
    """What is said of a plant that was worked on after another one."""
    def asked(session: Session) -> list[str]:
        standing = quarantine.standings(session, histories(session), clock.now())[plant]
        return [status.why for status in standing.statuses if "worked on after" in status.why]

    return desk.read(asked)


def turns(at: Grower) -> list[int]:
    """The plants in the order of the presses that act on them, until the session is over."""
    found = []
    while at.sitting.ended_at is None:
        wanted = at.board.instruction
        if wanted.plant is not None and wanted.action is not Action.WAIT:
            found.append(wanted.plant)
        at.obeys()
    return found


@pytest.mark.parametrize("protocol", [REPOT.id, DIP.id, CUT_ONLY.id])
def test_no_press_of_the_infested_plant_is_offered_before_the_clear_ones_are_finished(
        desk: Desk, clock: SteppedClock, protocol: str) -> None:
    at = one_infested(desk, clock).begins(dict.fromkeys((101, 102, 103), protocol))
    order = turns(at)
    assert set(order) == {101, 102, 103}
    assert set(order[order.index(101):]) == {101}
    assert [exposed(desk, clock, plant) for plant in (102, 103)] == [[], []]


def test_the_board_says_what_is_waited_for(desk: Desk, clock: SteppedClock) -> None:
    at = one_infested(desk, clock).begins({101: DIP.id, 102: DIP.id})
    at.obeys()
    seen = at.board
    assert (seen.instruction.action, seen.instruction.plant) == (Action.WAIT, 102)
    assert seen.instruction.caution == "Cleanest first: 101 waits until 102 is finished. Wash your hands."
    assert seen.queue[1].words == "waits until 102 is finished"


def test_the_plan_before_the_start_keeps_to_it(desk: Desk, clock: SteppedClock) -> None:
    one_infested(desk, clock)
    choices = [Choice(plant, REPOT.id, reason="for the test") for plant in (101, 102, 103)]
    bars = [bar for bar in desk.read(treatments.preparation, clock.now(), choices, shelf_of()).plan.steps
            if bar.lane == "hands"]
    order = [bar.plant for bar in sorted(bars, key=lambda bar: bar.start_min)]
    assert set(order[order.index(101):]) == {101}


def test_an_order_of_the_growers_own_is_left_as_it_is(desk: Desk, clock: SteppedClock) -> None:
    at = one_infested(desk, clock).begins(dict.fromkeys((101, 102), DIP.id), order=(101, 102))
    assert at.says[0] == 101
    at.obeys()
    assert at.says[0] == 102, "the soak of 101 runs, and nobody holds 102 back"
    at.finishes()
    assert len(exposed(desk, clock, 102)) == 1, "and it is told what that did"
