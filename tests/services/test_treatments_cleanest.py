"""A clear and an infested plant at one bench: hands do not come back from the one to the other, and it stays clear."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.bench import Action, Key
from greenhouse_desk.domain.bench_questions import NOT_TOLD, NOTHING_MORE, NOTHING_SEEN
from greenhouse_desk.domain.journal import Looked, Part, Placed, Sighted
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.domain.protocols import Asks, Deed, Protocol
from greenhouse_desk.services import collection, quarantine, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.records import histories
from greenhouse_desk.services.treatments import Choice
from greenhouse_desk.services.treatments_steps import Pressed
from greenhouse_desk.store.engine import Session
from tests.services.sittings import CUT_ONLY, DIP, REPOT, Grower, grower, shelf_of, soak, step, tell


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
    assert (at.says[0], at.board.instruction.action) == (101, Action.WAIT), "hands do not pass to 102 and back to 101"
    at.finishes()
    assert len(exposed(desk, clock, 102)) == 1, "and it is told what that did"


LOOK = Protocol("look-trial", "Look", "For tests.", (
    step("look", Deed.INSPECT, asks=(Asks.SIGHTINGS,)), step("out", Deed.UNPOT, ["look"]),
    soak("dip", Deed.TREAT, ["out"], on=(Part.ROOTS,), agent="hydrogen-peroxide", strength=3.0),
    step("in", Deed.POT, ["dip"], medium="expanded clay pellets")))

LATE = Protocol("late-look", "Late", "For tests.", (
    step("out", Deed.UNPOT), step("look", Deed.INSPECT, ["out"], asks=(Asks.SIGHTINGS,)),
    soak("dip", Deed.TREAT, ["look"], on=(Part.ROOTS,), agent="hydrogen-peroxide", strength=3.0),
    step("in", Deed.POT, ["dip"], medium="expanded clay pellets")))


def looks(at: Grower, what: str) -> Pressed:
    """Look at the plant in hand and tell a pest with its stage, place and number, or "looked: nothing seen"."""
    at.comes_to(Asks.SIGHTINGS)
    told = at.answers(what)
    if what != NOTHING_SEEN:
        at.answers(NOT_TOLD)
        at.answers("axils")
        at.press(Key.NEXT, 2)
        told = at.answers(NOTHING_MORE)
    return told


def queue(at: Grower) -> list[tuple[int, str]]:
    return [(row.plant, row.standing) for row in at.board.queue]


def test_a_find_at_the_look_puts_the_plant_behind_the_cleaner_ones_and_says_why(
        desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock).begins(dict.fromkeys((101, 102, 103), LOOK.id), shelf_of(LOOK))
    told = looks(at, "mealybug")
    assert [plant for plant, _ in queue(at)][-1] == 101
    assert "101 is infested now" in told.also
    assert told.also.endswith(": the queue goes 102, 103, 101, cleanest first.")
    assert "mealybug" in at.board.queue[-1].why
    assert at.board.words == ("Found on 101, only looked at so far: cleaner plants go first.",)
    order = turns(at)
    assert set(order[order.index(101):]) == {101}
    assert set(order[:order.index(101)]) == {102, 103}


def test_a_find_taken_back_sets_the_queue_back(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock).begins(dict.fromkeys((101, 102, 103), LOOK.id), shelf_of(LOOK))
    before = queue(at)
    looks(at, "mealybug")
    assert queue(at) != before
    desk.undo()
    assert queue(at) == before


def test_a_look_opened_again_sets_the_standing_back(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock).begins(dict.fromkeys((101, 102), LATE.id), shelf_of(LATE))
    looks(at, "mealybug")
    assert queue(at) == [(101, "infested"), (102, "newcomer")]
    at.press(Key.BACK)
    assert queue(at) == [(101, "newcomer"), (102, "newcomer")], "nothing was seen yet"


def test_a_find_on_an_opened_plant_has_it_finished_before_a_cleaner_one_is_begun(
        desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock).begins(dict.fromkeys((101, 102), LATE.id), shelf_of(LATE))
    told = looks(at, "mealybug")
    assert told.also.startswith("101 is infested now")
    assert at.board.words == ("Found on 101: it is finished before a cleaner plant is begun.",)
    at.obeys()
    wanted = at.board.instruction
    assert (wanted.action, wanted.plant) == (Action.WAIT, 101)
    assert wanted.caution == "Found on 101: 102 waits until 101 is finished. Wash your hands."
    order = turns(at)
    assert set(order[:order.index(102)]) == {101}
    assert set(order[order.index(102):]) == {102}


def test_where_the_grower_set_the_queue_it_stays_as_it_is(desk: Desk, clock: SteppedClock) -> None:
    at = one_infested(desk, clock)
    at.begins(dict.fromkeys((101, 102, 103), LOOK.id), shelf_of(LOOK), order=(103, 101, 102))
    looks(at, "mealybug")
    assert [plant for plant, _ in queue(at)] == [103, 101, 102]


def test_an_order_of_the_growers_own_says_what_it_does_against_the_rule(desk: Desk, clock: SteppedClock) -> None:
    one_infested(desk, clock)
    clock.advance(60 * 86_400)  # nobody is a newcomer any more
    desk.run(tell, 103, Looked(True, "10x"))
    choices = [Choice(plant, DIP.id) for plant in (101, 102, 103)]

    def overruled(*order: int) -> tuple[str, ...]:
        found = desk.read(treatments.preparation, clock.now(), choices, shelf_of(), order)
        return tuple(words.split(",")[0] for words in found.overruled)

    assert overruled() == (), "by the rule"
    assert overruled(103, 102, 101) == ()
    assert overruled(101, 102, 103) == ("101 (infested) is worked on before 102 and 103",
                                        "102 (never looked at) is worked on before 103")
    session = desk.run(treatments.start, choices, shelf_of(), (103, 101, 102))
    told = [line.strip() for line in desk.read(treatments.record, session) if "by your own order" in line]
    assert [line.partition(": ")[2] for line in told] == [
        "At the start: 101 (infested) is worked on before 102, by your own order: what it carries can go on to it by "
        "hands, tools and splashes. The rule is cleanest first."]


def test_a_session_taken_up_another_day_counts_what_was_found_meanwhile(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock).begins(dict.fromkeys((101, 102, 103), LOOK.id), shelf_of(LOOK))
    looks(at, NOTHING_SEEN)
    at.press(Key.NEXT)
    desk.run(treatments.leave, at.session, sure=True)
    clock.advance(20 * 3600)
    desk.run(tell, 102, Sighted("mealybug", "adult", "axils", 2))
    told = desk.run(treatments.take_up, at.session)
    assert [plant for plant, _ in queue(at)] == [101, 103, 102]
    assert told.also.startswith("102 is infested now")
    assert at.board.instruction.plant == 101, "the one in hand goes on"


@pytest.mark.parametrize("protocol", [REPOT.id, DIP.id])
def test_where_the_grower_puts_the_infested_plant_first_hands_leave_it_once(
        desk: Desk, clock: SteppedClock, protocol: str) -> None:
    at = one_infested(desk, clock).begins(dict.fromkeys((101, 102, 103), protocol), order=(101, 102, 103))
    cautions: dict[int, str] = {}
    order = []
    while at.sitting.ended_at is None:
        wanted = at.board.instruction
        if wanted.plant is not None and wanted.action is not Action.WAIT:
            order.append(wanted.plant)
            cautions.setdefault(wanted.plant, wanted.caution)
        at.obeys()
    assert order[0] == 101
    assert 101 not in order[order.index(102):], "hands do not come back to it"
    assert "Coming from 101 (infested): fresh gloves first." in cautions[order[order.index(102)]]
