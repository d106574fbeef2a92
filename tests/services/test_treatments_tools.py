"""A tool carries what it touched into the next session, until a whole soak has made it good."""

from __future__ import annotations

from datetime import timedelta

import pytest

from greenhouse_desk.domain.bench import Action, Key, ToolState
from greenhouse_desk.domain.bench_turns import tool
from greenhouse_desk.domain.journal import Part, Sighted
from greenhouse_desk.domain.protocols import Deed, Protocol
from greenhouse_desk.services import treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui.bench import callings
from tests.services.sittings import CUT_ONLY, DIP, Grower, grower, shelf_of, soak, step, tell

STAND = Protocol("stand-trial", "Stand", "For tests.", (
    soak("stand", Deed.SOAK_TOOLS, on=(Part.TOOLS,), agent="ethanol", strength=70.0, least_min=3, most_min=120),
    step("snip", Deed.CUT, ["stand"], on=(Part.SPIKE,), tool=True)))
BLEACH = Protocol("bleach-trial", "Bleach", "For tests.", (
    soak("bleach", Deed.SOAK_TOOLS, on=(Part.TOOLS,), agent="bleach", strength=0.5, least_min=10, most_min=30),))
SHELF = shelf_of(CUT_ONLY, STAND, BLEACH, DIP)


def state(at: Grower, name: str = "cutter A") -> ToolState:
    return tool(at.sitting, name).state


def one_evening(desk: Desk, clock: SteppedClock, soaks: bool = False) -> Grower:
    """A spike of 101 cut with cutter A; the session ended with the tool as it was, or soaked."""
    at = grower(desk, clock, [101, 102, 103]).begins({101: CUT_ONLY.id}, SHELF)
    at.press(Key.NEXT)
    if soaks:
        at.press(Key.SOAK)
        clock.advance(181)
        at.press(Key.SOAK)
    desk.run(treatments.end, at.session, "it must wait")
    clock.advance(5 * 86400)
    return Grower(desk, clock)


def test_a_tool_used_last_week_and_not_soaked_is_not_clean(desk: Desk, clock: SteppedClock) -> None:
    at = one_evening(desk, clock).begins({102: CUT_ONLY.id}, SHELF)
    assert state(at) is ToolState.UNCLEAN
    assert (at.board.instruction.action, at.board.instruction.tool) == (Action.START_SOAK, "cutter A")
    assert "touched 101" in at.board.instruction.caution
    at.finishes()
    assert state(at) is ToolState.CLEAN


def test_a_tool_soaked_last_week_is_clean(desk: Desk, clock: SteppedClock) -> None:
    at = one_evening(desk, clock, soaks=True).begins({102: CUT_ONLY.id}, SHELF)
    assert state(at) is ToolState.CLEAN
    assert at.says == (102, "Snip")


def test_the_soak_of_the_tools_laid_out_makes_them_good_and_they_are_not_soaked_twice(
        desk: Desk, clock: SteppedClock) -> None:
    at = one_evening(desk, clock).begins({102: STAND.id}, SHELF)
    assert (state(at), at.says) == (ToolState.UNCLEAN, (None, "Stand"))
    at.press(Key.SOAK)
    assert state(at) is ToolState.SOAKING
    clock.advance(181)
    at.press(Key.SOAK)
    assert (state(at), at.says) == (ToolState.CLEAN, (102, "Snip"))


def test_left_out_the_soak_of_the_tools_makes_nothing_good(desk: Desk, clock: SteppedClock) -> None:
    at = one_evening(desk, clock).begins({102: STAND.id}, SHELF)
    at.leaves_out()
    assert at.board.instruction.say == "Put cutter A into 70 % ethanol"


def test_a_session_without_a_cut_asks_for_no_tool(desk: Desk, clock: SteppedClock) -> None:
    at = one_evening(desk, clock).begins({102: DIP.id}, SHELF)
    assert (state(at), at.says) == (ToolState.UNCLEAN, (102, "Dip"))


def test_a_soak_in_a_session_between_counts(desk: Desk, clock: SteppedClock) -> None:
    one_evening(desk, clock).begins({102: STAND.id}, SHELF).finishes()
    clock.advance(86400)
    later = Grower(desk, clock).begins({103: CUT_ONLY.id}, SHELF)
    assert state(later) is ToolState.CLEAN


@pytest.mark.parametrize(("protocol", "good"), [(STAND, False), (BLEACH, True)])
def test_after_virus_signs_only_another_agent_makes_a_tool_good(
        protocol: Protocol, good: bool, desk: Desk, clock: SteppedClock) -> None:
    at = one_evening(desk, clock)
    desk.run(tell, 101, Sighted("virus-signs"))
    at.begins({102: protocol.id}, SHELF).finishes()
    clock.advance(86400)
    later = Grower(desk, clock).begins({103: CUT_ONLY.id}, SHELF)
    assert (state(later) is ToolState.CLEAN) is good
    later.press(Key.NEXT)
    assert [use.tool for use in later.sitting.tool_uses] == ["cutter A" if good else "cutter B"]


def test_a_clock_set_back_between_two_sessions_does_not_keep_a_tool_unclean(desk: Desk, clock: SteppedClock) -> None:
    at = one_evening(desk, clock)
    clock.set_wall(-timedelta(days=6).total_seconds())
    at.begins({102: CUT_ONLY.id}, SHELF)
    at.press(Key.SOAK)
    clock.advance(181)
    at.press(Key.SOAK)
    assert state(at) is ToolState.CLEAN


def test_the_soak_of_the_tools_is_told_as_theirs_and_never_as_the_plants(desk: Desk, clock: SteppedClock) -> None:
    """It was begun with 101's protocol; 101 lies on the bench and soaks in nothing."""
    meanwhile = Protocol("beside-trial", "Beside", "For tests.", (*STAND.steps, step("lay", Deed.PREPARE)))
    at = grower(desk, clock, [101]).begins({101: meanwhile.id}, shelf_of(meanwhile))
    assert at.says == (None, "Stand")
    at.press(Key.SOAK)
    assert "the tools in 70 % ethanol" in at.sitting.undo_label
    shown = at.board
    assert (shown.cells[0].plant, shown.cells[0].title) == (None, "tools in 70 % ethanol")
    assert shown.keys[1].sub == "end the tools now"
    assert shown.loose_ends[0].words == "the tools are still in their soak: 70 % ethanol"
    assert shown.loose_ends[0].way_out == "End the soak of the tools"
    assert at.press(Key.SOAK).words == ("The tools: 3 min short of their least. They are not clean then. "
                                        "Press again to end it early; it is recorded.")
    at.press(Key.NEXT)
    assert at.says == (None, "Wait for the tools: 70 % ethanol")
    assert at.board.queue[0].words == "waits for the tools, least at 15:33"
    (left,) = desk.read(treatments.open_sittings, clock.now())
    assert left.words == "1 plant, 0 done; the tools are in their soak, least at 15:33, most at 17:30"
    clock.advance(121 * 60)
    assert callings.alarm(at.board).startswith("tools in 70 % ethanol are 1 min over their most: ")
    assert at.board.words[0].startswith("the tools: most passed at ")
    assert at.says == (None, "Take the tools out of 70 % ethanol")
    at.press(Key.SOAK)
    assert at.sitting.undo_label == "Soak ended: the tools"


def test_the_soak_of_a_pot_is_told_as_the_pots(desk: Desk, clock: SteppedClock) -> None:
    scrub = Protocol("pot-trial", "Pot", "For tests.", (
        soak("stand", Deed.SCRUB, on=(Part.POT,), agent="quaternary-ammonium"), step("dry", Deed.RINSE, ["stand"])))
    at = grower(desk, clock, [101]).begins({101: scrub.id}, shelf_of(scrub))
    at.press(Key.SOAK)
    assert at.says == (101, "Wait for 101's pot: in quaternary ammonium disinfectant")
    assert at.board.keys[1].sub == "end 101's pot now"
    assert at.board.loose_ends[0].words == "101's pot is still in its soak: in quaternary ammonium disinfectant"
    assert at.board.loose_ends[0].way_out == "End the soak of 101's pot"
