"""What a session does at its edges: answers of none, things left out, early, open or noted, and taken back."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.bench import Action, Key, ToolState
from greenhouse_desk.domain.bench_turns import tool
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Blotted, Cut, Dressed, Note, Part, Sighted, Step, Wetted
from greenhouse_desk.domain.protocols import Asks, Deed, Protocol
from greenhouse_desk.services import treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import journal
from tests.services.sittings import CUT_ONLY, DIP, LEAVES, REPOT, grower, shelf_of, soak, step, tell


def test_back_leaves_the_growers_note(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: "repot-trial"})
    at.press(Key.NOTE, text="leans to the left")
    at.press(Key.NEXT)
    at.press(Key.BACK)
    assert at.says == (101, "Lay out")
    assert at.facts(101) == [Note("leans to the left")]


def test_a_note_made_at_a_tool_stands_on_the_plant_in_hand(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101, 102]).begins({101: CUT_ONLY.id, 102: CUT_ONLY.id})
    at.press(Key.NEXT)
    assert (at.board.instruction.plant, at.board.note_for) == (None, 101)
    at.press(Key.NOTE, text="spike was hollow")
    assert Note("spike was hollow") in at.facts(101)
    assert any("note: spike was hollow" in line for line in desk.read(treatments.record, at.session))


def test_a_note_on_another_plant_of_the_session_stands_with_it(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101, 102]).begins({101: DIP.id, 102: DIP.id})
    desk.run(treatments.note, at.session, "leans", 102)
    assert at.facts(102) == [Note("leans")]
    with pytest.raises(Refused, match="103 is not in this session"):
        desk.run(treatments.note, at.session, "leans", 103)


def test_a_note_on_no_plant_stands_on_the_session_and_in_its_record(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: DIP.id})
    at.obeys_until(Action.CLOSE)
    assert at.board.note_for is None
    at.press(Key.NOTE, text="window was open")
    assert Note("window was open") not in at.facts(101)
    record = desk.read(treatments.record, at.session)
    assert record[record.index("The session") + 1].endswith("note: window was open")


def test_the_record_tells_roots_and_tools_once_and_joins_them_as_one_says_it(
        desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: REPOT.id})
    at.comes_to(Asks.LIVING)
    for value in (7, 3, 3):
        at.press(Key.NEXT, value)
    at.obeys()
    for value in (2, 30):
        at.press(Key.NEXT, value)
    at.finishes()
    record = desk.read(treatments.record, at.session)
    roots = [line.strip()[6:] for line in record if "roots:" in line]
    assert roots == ["roots: 7 living, 3 dead, 3 new tips, 30 % of all roots cut away"]
    assert sum("cutter A taken to 101" in line for line in record) == 1


def test_one_tool_on_one_plant_is_listed_once_though_taken_up_twice(desk: Desk, clock: SteppedClock) -> None:
    twice = Protocol("twice", "Twice", "For tests.", (step("snip", Deed.CUT, on=(Part.SPIKE,), tool=True),
                                                      step("clip", Deed.CUT, ["snip"], on=(Part.ROOTS,), tool=True)))
    at = grower(desk, clock, [101]).begins({101: twice.id}, shelf_of(twice)).finishes()
    assert len(at.sitting.tool_uses) == 2
    assert sum("taken to" in line for line in desk.read(treatments.record, at.session)) == 1


def test_a_pool_that_was_blotted_stands_no_more(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: "repot-trial"})
    while at.board.instruction.question is None or at.board.instruction.question.asks is not Asks.POOL:
        at.obeys()
    at.press(Key.NEXT, 1)
    assert at.facts(101)[-2:] == [Wetted((Part.CROWN,), pool=True), Blotted()]
    assert not at.sitting.pools


def test_a_cut_whose_count_was_never_told_is_an_open_cut(desk: Desk, clock: SteppedClock) -> None:
    asking = Protocol("asks", "Asks", "For tests.", (step("snip", Deed.CUT, on=(Part.SPIKE,), tool=True,
                                                         asks=(Asks.CUTS,)),))
    at = grower(desk, clock, [101]).begins({101: "asks"}, shelf_of(asking))
    at.press(Key.NEXT)
    assert "101 has an undressed cut" in desk.run(treatments.leave, at.session).words
    desk.run(treatments.end, at.session, "it must wait")
    assert Cut(Part.SPIKE, 1) in at.facts(101)


def test_tools_taken_early_from_their_first_alcohol_are_not_clean(desk: Desk, clock: SteppedClock) -> None:
    first = Protocol("first", "First", "For tests.", (
        soak("stand", Deed.SOAK_TOOLS, least_min=3, most_min=120, on=(Part.TOOLS,), agent="ethanol", strength=70.0),
        step("snip", Deed.CUT, ["stand"], on=(Part.SPIKE,), tool=True)))
    at = grower(desk, clock, [101]).begins({101: "first"}, shelf_of(first))
    at.press(Key.SOAK)
    clock.advance(9)
    at.press(Key.SOAK, sure=True)
    assert tool(at.sitting, "cutter A").state is ToolState.UNCLEAN
    assert at.board.instruction.action is Action.START_SOAK
    assert "before its least" in at.board.instruction.caution
    at.finishes()


def test_a_wash_left_out_wets_and_dries_nothing(desk: Desk, clock: SteppedClock) -> None:
    wash = Protocol("wash", "Wash", "For tests.", (
        soak("wash", Deed.WASH, on=LEAVES, agent="alcohol-soap-wash", strength=20.0, wets=LEAVES),
        step("rinse", Deed.RINSE, ["wash"], wets=(Part.LEAVES, Part.CROWN)),
        step("blot", Deed.BLOT, ["rinse"]), step("air", Deed.AIR, ["blot"])))
    at = grower(desk, clock, [101]).begins({101: "wash"}, shelf_of(wash))
    at.leaves_out("no leaf was tried: a drop is on now")
    assert at.board.instruction.action is Action.CLOSE
    assert at.facts(101) == [Step("Left out: Wash: no leaf was tried: a drop is on now")]


def test_a_root_spray_left_out_leaves_the_rinse_of_the_wash(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101])
    desk.run(tell, 101, Sighted("mealybug", "adult", "axils", 2))
    clock.advance(60)
    at.begins({101: REPOT.id})
    while "Mist" not in at.board.instruction.say or at.board.instruction.plant != 101:
        at.obeys()
    at.leaves_out()
    at.finishes()
    wetted = [facts for facts in at.facts(101) if isinstance(facts, Wetted)]
    assert wetted[-1] == Wetted((Part.ROOTS, Part.LEAVES, Part.CROWN))


def test_where_nothing_was_cut_nothing_is_asked_of_it_and_nothing_powdered(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: REPOT.id})
    while at.board.instruction.question is None or at.board.instruction.question.asks is not Asks.CUTS:
        at.obeys()
    at.press(Key.NEXT, 0)
    assert at.board.instruction.question is None
    at.finishes()
    assert not [facts for facts in at.facts(101) if isinstance(facts, (Cut, Dressed))]


def test_cuts_that_were_made_are_asked_about_and_powdered(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: REPOT.id})
    while at.board.instruction.question is None or at.board.instruction.question.asks is not Asks.CUTS:
        at.obeys()
    at.press(Key.NEXT, 2)
    asked = at.board.instruction.question
    assert asked is not None
    assert (asked.asks, asked.start, asked.first) == (Asks.REMOVED, None, 0)
    at.finishes()
    assert [facts for facts in at.facts(101) if isinstance(facts, (Cut, Dressed))] == [
        Cut(Part.ROOTS, 2), Dressed("cinnamon")]


def test_the_first_press_gives_the_share_that_was_counted_dead(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: REPOT.id})
    at.comes_to(Asks.LIVING)
    for value in (7, 3, 0):
        at.press(Key.NEXT, value)
    at.comes_to(Asks.CUTS)
    at.press(Key.NEXT, 2)
    assert [at.press(key).value for key in (Key.SOAK, Key.BACK)] == [30, 30]


def test_a_missed_alarm_is_nobodys_press_and_leaves_undo_where_it_was(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: DIP.id})
    at.press(Key.SOAK)
    at.press(Key.NOTE, text="one")
    pressed = at.sitting.undo_deed
    clock.advance(3600)
    desk.run(treatments.missed_soak, at.sitting.soaks[-1].id)
    assert at.sitting.undo_deed == pressed
    undone = desk.undo(pressed)
    assert undone is not None
    assert [facts.text[:6] for facts in (entry.facts for entry in desk.read(journal.of_plant, 101))
            if isinstance(facts, Note)] == ["Missed"]
    assert desk.next_redo() == undone


def test_undo_takes_back_only_the_deed_it_was_shown(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: REPOT.id})
    at.press(Key.NEXT)
    shown = at.sitting.undo_deed
    desk.run(tell, 101, Note("from the window"))
    assert desk.undo(shown) is None
    assert at.facts(101) == [Step("Lay out")]
    assert desk.read(journal.of_plant, 101)[-1].facts == Note("from the window")


def test_virus_signs_seen_long_before_keep_the_tool_apart(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101, 102])
    desk.run(tell, 101, Sighted("virus-signs"))
    clock.advance(90 * 86400)
    at.begins({101: REPOT.id, 102: REPOT.id})
    assert at.sitting.virus == {101}
