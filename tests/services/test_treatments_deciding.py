"""What is decided at the bench is an answer with choices, never a second press; the first choice is the safe way."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.bench import Action, Key, LooseKind
from greenhouse_desk.domain.bench_deciding import GOES_ON
from greenhouse_desk.domain.care import CareKind
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Dressed, Part, Potted, Roots, Step, Treated
from greenhouse_desk.domain.protocols import Asks, Deed, Protocol
from greenhouse_desk.domain.roots import DEAD_SHARE, many_dead
from greenhouse_desk.services import care, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from tests.services.sittings import DIP, REPOT, Grower, grower, shelf_of, soak, step

BARE = "stop: leave its roots bare, knowingly"
MOVE = Protocol("move-trial", "Move", "For tests.", (
    step("tips", Deed.INSPECT, asks=(Asks.GO_ON,)), step("out", Deed.UNPOT, ["tips"]), step("in", Deed.POT, ["out"])))


def counted(desk: Desk, clock: SteppedClock, living: int, dead: int) -> Grower:
    """A plant unpotted, its roots counted."""
    at = grower(desk, clock, [101]).begins({101: REPOT.id})
    at.comes_to(Asks.LIVING)
    for value in (living, dead, 0):
        at.press(Key.NEXT, value)
    return at


@pytest.mark.parametrize(("living", "dead", "much"), [(6, 3, False), (5, 3, True), (0, 0, False), (0, 1, True)])
def test_more_than_a_third_dead_is_strictly_more(living: int, dead: int, much: bool) -> None:
    """Published: more than a third dead points at the culture."""
    assert DEAD_SHARE.value == pytest.approx(1 / 3)
    assert many_dead(living, dead) is much


def test_nothing_is_accepted_before_an_answer_was_given(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: REPOT.id})
    at.comes_to(Asks.LIVING)
    before = at.sitting
    told = at.press(Key.NEXT)
    assert (at.sitting, told.words) == (before, "No answer yet: dial or type one first.")
    assert at.press(Key.SOAK).value == 0
    assert at.press(Key.BACK).value == 0
    assert at.press(Key.SOAK, 0).value == 1


def test_many_dead_roots_are_told_and_asked_about(desk: Desk, clock: SteppedClock) -> None:
    at = counted(desk, clock, 6, 4)
    wanted = at.board.instruction
    assert wanted.question is not None
    assert wanted.question.prompt == "4 of 10 roots dead: the culture. Go on?"
    assert "not at bad luck" in wanted.page
    assert wanted.question.start is None
    at.answers(GOES_ON[0])
    assert at.says == (101, "Cut")
    assert Roots(6, 4, 0, 0) in at.facts(101)


def test_few_dead_roots_ask_nothing(desk: Desk, clock: SteppedClock) -> None:
    assert counted(desk, clock, 6, 3).says == (101, "Cut")


def test_stopping_leaves_what_is_owed_and_back_takes_the_stop_back(desk: Desk, clock: SteppedClock) -> None:
    at = counted(desk, clock, 6, 4)
    at.answers(BARE)
    assert at.facts(101)[-2:] == [Roots(6, 4, 0, 0), Step(
        "Stopped with this plant: 4 of 10 roots dead; its roots are bare, left so knowingly")]
    assert [end.kind for end in at.board.loose_ends] == [LooseKind.UNPOTTED]
    assert (at.board.instruction.action, at.board.instruction.say) == (Action.LOOSE_END, "Pot 101 up for now")
    assert at.board.queue[0].words == "stopped, 101 is out of its pot, its roots bare"
    at.press(Key.BACK)
    assert at.says == (101, "Count")
    assert not [facts for facts in at.facts(101) if isinstance(facts, Roots)]
    at.finishes()
    assert [type(facts).__name__ for facts in at.facts(101)][-4:] == ["Potted", "Poured", "Blotted", "Aired"]


def test_stopping_names_bare_roots_and_open_cuts_and_sees_to_them_before_the_next_plant(
        desk: Desk, clock: SteppedClock) -> None:
    late = Protocol("late-stop", "Late", "For tests.", (
        step("out", Deed.UNPOT), step("snip", Deed.CUT, ["out"], on=(Part.ROOTS,), asks=(Asks.CUTS, Asks.GO_ON)),
        step("in", Deed.POT, ["snip"], medium="expanded clay pellets", transition=True)))
    at = grower(desk, clock, [101, 102]).begins({101: late.id, 102: late.id}, shelf_of(late))
    at.comes_to(Asks.CUTS)
    at.press(Key.NEXT, 1)
    asked = at.board.instruction.question
    assert asked is not None
    assert asked.choices == ("go on with this plant", "stop: dress its cuts and pot it up for now",
                             "stop: leave its cuts open and its roots bare, knowingly")
    assert "its cuts are open and its roots are bare" in at.board.instruction.page
    at.answers(asked.choices[1])
    assert (at.board.queue[0].done, at.board.queue[0].still) == (False, "cut open, roots bare")
    said = []
    while at.board.instruction.action is Action.LOOSE_END:
        said.append(at.says)
        assert at.board.keys[1].sub == "none runs", "the session does not end here: 102 is still to come"
        at.press(Key.NEXT)
    assert said == [(101, "Dress the cuts of 101"), (101, "Pot 101 up for now")]
    assert at.says == (102, "Out")
    assert (at.board.queue[0].done, at.board.queue[0].still) == (True, "")
    assert at.facts(101)[-2:] == [Dressed(), Potted("bark", "12 cm")], "back into its own medium, not moved"
    assert at.told(101)[-1].note == "for now: the work on it was stopped"


def test_what_is_left_bare_is_told_by_the_session_list_and_by_care(desk: Desk, clock: SteppedClock) -> None:
    at = counted(desk, clock, 6, 4)
    at.answers(BARE)
    assert at.board.queue[0].still == "roots bare"
    desk.run(treatments.leave, at.session, sure=True)
    (left,) = desk.read(treatments.open_sittings, clock.now())
    assert left.words == "1 plant, 0 done; 101 is out of its pot, its roots bare"
    at.press(Key.SOAK)
    at.answers("it must wait")
    owed = next(one for one in desk.read(care.due, clock.now()) if one.kind is CareKind.POT_UP)
    assert "left so knowingly" in owed.why[1].text


def test_a_step_may_ask_whether_to_go_on_at_all(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101, 102]).begins({101: MOVE.id, 102: MOVE.id}, shelf_of(MOVE))
    at.comes_to(Asks.GO_ON)
    at.answers(GOES_ON[1])
    assert at.facts(101) == [Step("Tips"), Step("Stopped with this plant: Tips")]
    assert at.says == (102, "Tips")


def test_a_soak_is_left_out_only_with_a_reason_and_the_first_choice_keeps_it(
        desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: DIP.id})
    assert not at.press(Key.NEXT).needs_second
    asked = at.board.instruction.question
    assert asked is not None
    assert (asked.start, asked.choices[0]) == (None, "no: do it now")
    at.answers("no: do it now")
    assert (at.board.instruction.action, at.says) == (Action.START_SOAK, (101, "Dip"))
    assert at.facts(101) == []
    at.leaves_out("the plant is too weak for it")
    assert at.facts(101) == [Step("Left out: Dip: the plant is too weak for it")]
    assert at.board.instruction.action is Action.CLOSE, "nothing to swill off where nothing was dipped"


def test_back_brings_what_was_left_out_with_a_soak(desk: Desk, clock: SteppedClock) -> None:
    late = Protocol("late-trial", "Late", "For tests.", (step("ready", Deed.PREPARE), *DIP.steps))
    at = grower(desk, clock, [101]).begins({101: late.id}, shelf_of(late))
    at.press(Key.NEXT)
    at.leaves_out()
    assert at.board.instruction.action is Action.CLOSE
    at.press(Key.BACK)
    assert at.says == (101, "Dip")
    at.finishes()
    assert [type(facts).__name__ for facts in at.facts(101)] == ["Step", "Wetted", "Treated", "Wetted"]


def test_tools_left_unsoaked_still_cut(desk: Desk, clock: SteppedClock) -> None:
    cut = Protocol("cut-late", "Cut", "For tests.", (
        soak("stand", Deed.SOAK_TOOLS, on=(Part.TOOLS,), agent="ethanol", strength=70.0),
        step("snip", Deed.CUT, ["stand"], on=(Part.SPIKE,), tool=True)))
    at = grower(desk, clock, [101]).begins({101: cut.id}, shelf_of(cut))
    at.leaves_out("it was done before")
    assert at.says == (101, "Snip")


def test_the_end_with_something_open_asks_why_and_the_first_choice_goes_back(desk: Desk, clock: SteppedClock) -> None:
    at = counted(desk, clock, 6, 4)
    at.answers(BARE)
    assert not at.press(Key.SOAK).needs_second
    wanted = at.board.instruction
    assert wanted.question is not None
    assert "101 is out of its pot, its roots bare. Pot 101 up for now." in wanted.page
    at.answers("no: see to it first")
    assert (at.sitting.ended_at, at.board.instruction.action) == (None, Action.LOOSE_END)
    at.press(Key.SOAK)
    at.answers("it must wait")
    assert at.sitting.ended_at == clock.now()
    assert at.facts(101)[-1] == Step(
        "The session ended all the same: 101 is out of its pot, its roots bare (it must wait)")
    record = desk.read(treatments.record, at.session)
    assert "Left open: 101 is out of its pot, its roots bare. Pot 101 up for now. Why: it must wait." in record


def test_an_end_asked_for_is_asked_again_after_a_restart(desk: Desk, clock: SteppedClock) -> None:
    at = counted(desk, clock, 6, 4)
    at.answers(BARE)
    at.press(Key.SOAK)
    desk.run(treatments.take_up, at.session)
    assert at.board.instruction.question is not None
    desk.undo()
    assert at.board.instruction.action is Action.LOOSE_END


def test_ending_from_outside_with_a_soak_running_names_it_and_wants_a_reason(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: DIP.id})
    at.press(Key.SOAK)
    clock.advance(60)
    assert "101 is still in its soak" in desk.run(treatments.end, at.session).words
    assert at.sitting.ended_at is None
    desk.run(treatments.end, at.session, "it must wait")
    record = desk.read(treatments.record, at.session)
    assert ("Left open: 101 is still in its soak: roots in hydrogen peroxide. End the soak of 101. "
            "Why: it must wait.") in record
    treated = [facts for facts in at.facts(101) if isinstance(facts, Treated)]
    assert [(facts.minutes, facts.early) for facts in treated] == [(1.0, True)]
    with pytest.raises(Refused):
        at.press(Key.NEXT)


def test_the_record_says_how_far_over_its_most_a_soak_went(desk: Desk, clock: SteppedClock) -> None:
    """"15.6 min" alone does not tell that the roots lay three minutes too long."""
    at = grower(desk, clock, [101]).begins({101: DIP.id})
    at.press(Key.SOAK)
    (running,) = at.sitting.soaks
    clock.advance(running.most_s + 214)
    at.press(Key.SOAK)
    record = desk.read(treatments.record, at.session)
    most = f"{running.most_s / 60:g} min"
    assert f"  {running.what}, 3 min 34 s over its most of {most}" in record
    in_time = grower(desk, clock, [102]).begins({102: DIP.id})
    in_time.press(Key.SOAK)
    clock.advance(running.most_s)
    in_time.press(Key.SOAK)
    assert not any("over its most" in line for line in desk.read(treatments.record, in_time.session))


def test_while_hands_wait_a_plant_left_bare_is_named_and_when_its_pot_comes_out_of_the_soak(
        desk: Desk, clock: SteppedClock) -> None:
    bare = Protocol("bare-trial", "Bare", "For tests.", (
        step("out", Deed.UNPOT), soak("stand", Deed.SCRUB, ["out"], on=(Part.POT,), agent="hydrogen-peroxide",
                                      strength=3.0, meanwhile=True),
        step("tips", Deed.INSPECT, ["out"], asks=(Asks.GO_ON,), meanwhile=True)))
    at = grower(desk, clock, [101, 102]).begins({101: bare.id, 102: DIP.id}, shelf_of(bare, DIP))
    at.comes_to(Asks.GO_ON)
    at.answers(BARE)
    wanted = at.obeys_until(Action.WAIT).instruction
    assert wanted.caution == "Hands are free for what was left open: pot 101 up for now."
    assert wanted.page.endswith("but to see to what was left open: 101 is out of its pot, its roots bare.")
    ends = at.obeys_until(Action.END_SOAK, 101).instruction
    assert ends.page == "No step follows on this plant, but 101 is out of its pot, its roots bare."


def test_plants_of_which_the_same_stands_open_are_told_together(desk: Desk, clock: SteppedClock) -> None:
    bare = Protocol("bare-trial", "Bare", "For tests.", (
        step("out", Deed.UNPOT), step("tips", Deed.INSPECT, ["out"], asks=(Asks.GO_ON,))))
    at = grower(desk, clock, [101, 102]).begins({101: bare.id, 102: bare.id}, shelf_of(bare))
    for _ in range(2):
        at.comes_to(Asks.GO_ON)
        at.answers(BARE)
    (left,) = desk.read(treatments.open_sittings, clock.now())
    assert left.words == "2 plants, 0 done; 101 and 102 are out of their pots, their roots bare"
