"""A whole session by key presses: three plants, one infested, until nothing is left to do; and what it wrote."""

from __future__ import annotations

from datetime import timedelta

from greenhouse_desk.domain.bench import Action, Key, LooseKind, Ring, ToolState
from greenhouse_desk.domain.bench_turns import tool
from greenhouse_desk.domain.journal import (
    Aired,
    Blotted,
    Cut,
    Dressed,
    Looked,
    Part,
    Potted,
    Poured,
    Purpose,
    Roots,
    Sighted,
    Step,
    Treated,
    Unpotted,
    Wetted,
)
from greenhouse_desk.domain.protocols import Deed, Protocol
from greenhouse_desk.services import treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from tests.services.sittings import CUT_ONLY, DIP, REPOT, Grower, grower, shelf_of, soak, step, tell


def three(desk: Desk, clock: SteppedClock) -> Grower:
    """Three plants to be repotted, 101 known to be infested."""
    at = grower(desk, clock)
    desk.run(tell, 101, Sighted("mealybug", "adult", "axils", 2))
    clock.advance(60)
    return at.begins({101: REPOT.id, 102: REPOT.id, 103: REPOT.id})


def of_type(at: Grower, plant: int, *types: type) -> list[object]:
    return [facts for facts in at.facts(plant) if isinstance(facts, types)]


def test_a_whole_session_writes_what_was_done(desk: Desk, clock: SteppedClock) -> None:
    at = three(desk, clock).finishes()
    assert [type(facts) for facts in at.facts(102)] == [
        Step, Unpotted, Step, Roots, Step, Wetted, Step, Treated, Wetted, Potted, Poured, Blotted, Aired]
    treated = of_type(at, 102, Treated)
    assert len(treated) == 1
    assert isinstance(treated[0], Treated)
    assert (treated[0].purpose, treated[0].strength, treated[0].early) == (Purpose.ROOT_DISINFECTION, 3.0, False)
    assert 10 <= (treated[0].minutes or 0) <= 12
    assert of_type(at, 102, Potted) == [Potted("expanded clay pellets", "12 cm", True)]
    assert of_type(at, 102, Poured) == [Poured(150)]
    assert Step("Not looked: Look") in at.facts(102), "an answer without a look is no clean look"
    assert not of_type(at, 102, Dressed, Cut), "no cut was made: none is dressed"


def test_the_infested_plant_comes_last_and_alone_is_washed(desk: Desk, clock: SteppedClock) -> None:
    at = three(desk, clock)
    assert [row.plant for row in at.board.queue] == [102, 103, 101]
    at.finishes()
    assert [plant for plant in (101, 102, 103)
            if any(isinstance(f, Treated) and f.purpose is Purpose.PEST_WASH for f in at.facts(plant))] == [101]


def test_the_grower_may_overrule_the_order(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock).begins({101: DIP.id, 102: DIP.id, 103: DIP.id}, order=(103, 101, 102))
    assert [row.plant for row in at.board.queue] == [103, 101, 102]
    assert at.says[0] == 103


def test_a_pest_seen_at_the_bench_brings_the_wash(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: REPOT.id})
    at.obeys_until(Action.ANSWER)
    names = at.board.instruction.question
    assert names is not None
    for value in (2, 0, 1, 7, 0):
        at.press(Key.NEXT, value)
    at.finishes()
    seen = of_type(at, 101, Sighted)
    assert len(seen) == 1
    assert isinstance(seen[0], Sighted)
    assert (seen[0].where, seen[0].count) == ("axils", 7)
    assert of_type(at, 101, Looked) == [Looked(False)]
    assert any(isinstance(facts, Treated) and facts.purpose is Purpose.PEST_WASH for facts in at.facts(101))


def test_roots_are_counted_over_two_steps(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: REPOT.id})
    while at.board.instruction.say != "Count":
        at.obeys()
    at.press(Key.NEXT)
    for value in (7, 3, 2):
        at.press(Key.NEXT, value)
    assert of_type(at, 101, Roots) == [Roots(7, 3, 2, 0)]
    at.obeys()
    for value in (4, 30):
        at.press(Key.NEXT, value)
    assert of_type(at, 101, Roots)[-1] == Roots(7, 3, 2, 30)
    assert of_type(at, 101, Cut) == [Cut(Part.ROOTS, 4)]
    assert [end.kind for end in at.board.loose_ends] == [LooseKind.UNPOTTED, LooseKind.CUT]


def test_a_soak_goes_on_while_hands_work_on_the_next_plant_and_calls_them_back(desk: Desk, clock: SteppedClock) -> None:
    at = three(desk, clock)
    at.obeys_until(Action.START_SOAK, 102)
    at.obeys()
    assert at.says == (102, "Scrub")
    at.obeys()
    assert at.says == (103, "Lay out")
    at.obeys()
    assert at.says == (103, "Unpot")
    clock.advance(at.board.cells[-1].view.to_least_s)
    seen = at.board
    assert (seen.instruction.action, seen.instruction.plant, seen.ring) == (Action.END_SOAK, 102, Ring.CHIME)
    clock.advance(100)
    assert at.board.ring is Ring.WARN
    clock.advance(60)
    seen = at.board
    assert (seen.instruction.plant, seen.ring) == (102, Ring.LOUD)
    at.press(Key.SOAK)
    assert at.says == (102, "Rinse")


def test_ending_a_soak_before_its_least_needs_a_second_press_and_is_recorded(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: DIP.id})
    at.press(Key.SOAK)
    clock.advance(240)
    assert at.board.instruction.action is Action.WAIT
    before = at.sitting
    first = at.press(Key.SOAK)
    assert first.needs_second
    assert first.words == ("101: 6 min short of its least. Sooner is allowed on a plant. "
                           "Press again to end it; it is noted.")
    assert at.sitting == before
    assert not at.press(Key.SOAK, sure=True).needs_second
    treated = of_type(at, 101, Treated)[0]
    assert isinstance(treated, Treated)
    assert (treated.minutes, treated.early) == (4.0, True)
    assert at.says == (101, "Swill")


def test_a_seventh_soak_waits_and_the_board_says_so(desk: Desk, clock: SteppedClock) -> None:
    numbers = tuple(range(101, 109))
    at = grower(desk, clock, numbers).begins({number: DIP.id for number in numbers})
    for _ in range(6):
        at.obeys()
    seen = at.board
    assert len(seen.cells) == 6
    assert seen.waiting == 2
    assert seen.instruction.action is Action.WAIT
    assert any("countdowns are taken" in words for words in seen.words)
    assert seen.queue[6].words == "waits for a free countdown"
    at.obeys()
    at.obeys()
    assert at.says == (101, "Swill")
    at.finishes()


def test_a_tool_is_unclean_for_the_next_plant_until_its_soak_is_over(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock).begins({101: CUT_ONLY.id, 102: CUT_ONLY.id, 103: CUT_ONLY.id})
    seen = at.board
    assert seen.tool is not None
    assert (seen.tool.title, seen.tool.tool) == ("take up now", "cutter A")
    at.obeys()
    assert tool(at.sitting, "cutter A").state is ToolState.UNCLEAN
    assert at.board.instruction.say == "Put cutter A into 70 % ethanol"
    at.press(Key.SOAK)
    seen = at.board
    assert (seen.cells[0].plant, seen.cells[0].title) == (None, "cutter A in 70 % ethanol")
    at.obeys()
    assert at.board.tool is not None
    assert at.board.tool.tool == "cutter B"
    at.press(Key.NEXT)
    at.press(Key.SOAK)
    at.obeys()
    seen = at.board
    assert (seen.instruction.action, seen.instruction.tool) == (Action.WAIT, "cutter A")
    assert seen.queue[2].words == "waits for a clean tool"
    assert seen.tool is not None
    assert (seen.tool.title, seen.tool.tool) == ("not clean yet", "cutter A")
    at.obeys()
    assert at.board.instruction.say == "Take cutter A out of 70 % ethanol"
    at.press(Key.SOAK)
    assert at.says == (103, "Snip")


def test_a_tool_soak_ended_early_leaves_the_tool_unclean(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: CUT_ONLY.id})
    at.obeys()
    at.press(Key.SOAK)
    first = at.press(Key.SOAK)
    assert first.needs_second
    assert "3 min short of its least. It is not clean then." in first.words
    at.press(Key.SOAK, sure=True)
    assert tool(at.sitting, "cutter A").state is ToolState.UNCLEAN


def test_a_tool_that_touched_virus_signs_stays_with_that_plant(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock).begins({101: CUT_ONLY.id, 102: CUT_ONLY.id, 103: CUT_ONLY.id}, order=(101, 102, 103))
    at.obeys()
    desk.run(tell, 101, Sighted("virus-signs"))
    assert at.says == (101, "Tidy"), "no ethanol soak is offered for it"
    assert any("keep it for that plant, ethanol is not enough" in words for words in at.board.words)
    at.finishes()
    assert [use.tool for use in at.sitting.tool_uses] == ["cutter A", "cutter B", "cutter B"]


def test_virus_signs_seen_before_the_first_cut_have_it_made_with_a_blade_of_its_own(
        desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock).begins({101: CUT_ONLY.id, 102: CUT_ONLY.id}, order=(101, 102))
    desk.run(tell, 101, Sighted("virus-signs"))
    seen = at.board
    assert seen.tool is not None
    assert "for this plant alone" in seen.tool.detail
    at.finishes()
    assert [use.tool for use in at.sitting.tool_uses] == ["blade of 101", "cutter A"]


def test_it_cannot_end_quietly_with_an_undressed_cut_and_each_has_one_way_out(desk: Desk, clock: SteppedClock) -> None:
    wet = Protocol("wet-trial", "Wet", "", (
        step("snip", Deed.CUT, on=(Part.SPIKE,)), step("out", Deed.UNPOT, ["snip"]),
        step("swill", Deed.RINSE, ["out"], wets=(Part.CROWN,))))
    at = grower(desk, clock, [101]).begins({101: wet.id}, shelf_of(wet))
    for _ in range(3):
        at.obeys()
    seen = at.board
    assert seen.instruction.action is Action.LOOSE_END
    assert [end.kind for end in seen.loose_ends] == [LooseKind.UNPOTTED, LooseKind.CUT, LooseKind.WET]
    assert "undressed cut" in desk.run(treatments.end, at.session).words
    assert at.sitting.ended_at is None
    for _ in range(3):
        at.obeys()
    assert at.facts(101)[-3:] == [Potted("bark", "12 cm"), Dressed(), Aired()]
    assert at.board.instruction.action is Action.CLOSE
    at.obeys()
    assert at.sitting.ended_at == clock.now()


def test_a_washed_plant_is_rinsed_before_the_pot_is_scrubbed(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: REPOT.id})
    at.obeys_until(Action.START_SOAK, 101)
    at.press(Key.SOAK)
    assert at.says == (101, "Scrub")
    clock.advance(601)
    at.press(Key.SOAK)
    assert at.says == (101, "Rinse")


def test_clean_tools_stand_in_alcohol_once_and_used_ones_are_the_benchs_own_matter(
        desk: Desk, clock: SteppedClock) -> None:
    cut = Protocol("tool-trial", "Tools", "", (
        step("lay out", Deed.PREPARE), soak("stand", Deed.SOAK_TOOLS, on=(Part.TOOLS,), agent="ethanol", strength=70.0),
        step("snip", Deed.CUT, ["stand"], tool=True), soak("stand again", Deed.SOAK_TOOLS, ["snip"], on=(Part.TOOLS,)),
        step("dress", Deed.DRESS, ["snip"])))
    at = grower(desk, clock, (101, 102)).begins({101: cut.id, 102: cut.id}, shelf_of(cut)).finishes()
    said = [line for line in at.log if "Stand" in line or "Lay out" in line]
    assert said == ["hands 101  Lay out", "start soak None  Stand", "hands 102  Lay out"]
    assert any("cutter A into 70 %" in line for line in at.log)


def test_the_soak_key_names_the_soak_that_soonest_needs_hands(desk: Desk, clock: SteppedClock) -> None:
    at = three(desk, clock)
    at.obeys_until(Action.START_SOAK, 102)
    at.obeys()
    wanted = at.board.instruction
    soonest = min(at.board.cells, key=lambda cell: cell.soak.least_at)
    assert wanted.action is Action.HANDS
    assert wanted.soak == soonest.soak.id
    assert at.press(Key.SOAK).needs_second


def test_the_clock_line_counts_to_dusk_and_past_it(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: DIP.id})
    limit = at.sitting.limit
    assert limit is not None
    clock.advance((limit - clock.now() - timedelta(minutes=30)).total_seconds())
    assert at.board.clock.endswith(f"{at.sitting.limit_name} in 30 min")
    clock.advance(42 * 60)
    assert at.board.clock.endswith(f"12 min past {at.sitting.limit_name}")
