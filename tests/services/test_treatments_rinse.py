"""An agent whose soak was ended and whose rinse was not done is never left quietly, and never dried on."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.bench import Action, Key, LooseKind
from greenhouse_desk.domain.care import Care, CareKind
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Part, Purpose, Reply, Treated, Wetted
from greenhouse_desk.domain.protocols import Asks, Deed, Protocol
from greenhouse_desk.services import care, records, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from tests.services.sittings import Grower, grower, shelf_of, soak, step

LEAVES = (Part.LEAVES,)
WASH = Protocol("wash-trial", "Wash", "For tests.", (
    soak("wash", Deed.WASH, on=LEAVES, agent="alcohol-soap-wash", strength=20.0, wets=LEAVES, amount_ml=100),
    step("rinse", Deed.RINSE, ["wash"], on=LEAVES, wets=(Part.LEAVES, Part.CROWN)),
    step("air", Deed.AIR, ["rinse"])))
STOPS = Protocol("stop-trial", "Stop", "For tests.", (
    soak("wash", Deed.WASH, on=LEAVES, agent="alcohol-soap-wash", strength=20.0, wets=LEAVES, amount_ml=100),
    step("tips", Deed.INSPECT, ["wash"], asks=(Asks.GO_ON,)), step("rinse", Deed.RINSE, ["tips"], wets=LEAVES)))
OPEN = "101 has its agent still on, not rinsed off"


def washed(desk: Desk, clock: SteppedClock, protocol: Protocol = WASH) -> Grower:
    """A plant whose wash was kept to its least and ended."""
    at = grower(desk, clock, [101]).begins({101: protocol.id}, shelf_of(protocol))
    at.press(Key.SOAK)
    clock.advance(601)
    at.press(Key.SOAK)
    return at


def owed(at: Grower, kind: CareKind) -> list[Care]:
    return [one for one in at.desk.read(care.of_plant, 101, at.clock.now()) if one.kind is kind]


def test_leaving_before_the_rinse_says_so_and_does_not_send_the_wash_to_dry(desk: Desk, clock: SteppedClock) -> None:
    at = washed(desk, clock)
    assert [(end.kind, end.words) for end in at.board.loose_ends] == [(LooseKind.AGENT, OPEN)]
    assert "Rinse 101 before it dries" in desk.run(treatments.leave, at.session).words
    desk.run(treatments.leave, at.session, sure=True)
    (left,) = desk.read(treatments.open_sittings, clock.now())
    assert OPEN in left.words
    assert "moving air" not in left.words
    assert owed(at, CareKind.RINSE)
    assert f"{OPEN}. Rinse 101 before it dries." in desk.run(treatments.end, at.session).words


def test_the_rinse_ends_it_and_back_on_the_rinse_opens_it_again(desk: Desk, clock: SteppedClock) -> None:
    at = washed(desk, clock)
    at.obeys()
    assert [end.kind for end in at.board.loose_ends] == [LooseKind.WET]
    assert not owed(at, CareKind.RINSE)
    at.press(Key.BACK)
    assert [end.kind for end in at.board.loose_ends] == [LooseKind.AGENT]
    assert owed(at, CareKind.RINSE)


def test_stopping_names_the_rinse_and_sees_to_it(desk: Desk, clock: SteppedClock) -> None:
    at = washed(desk, clock, STOPS)
    at.comes_to(Asks.GO_ON)
    asked = at.board.instruction.question
    assert asked is not None
    assert asked.choices[1:] == ("stop: rinse it", "stop: leave its agent on, knowingly")
    at.answers(asked.choices[1])
    assert (at.board.instruction.action, at.board.instruction.say) == (Action.LOOSE_END, "Rinse 101 before it dries")
    at.press(Key.NEXT)
    assert at.facts(101)[-1] == Wetted(LEAVES)
    assert [end.kind for end in at.board.loose_ends] == [LooseKind.WET]
    assert not owed(at, CareKind.RINSE)


def test_a_rinse_told_to_care_does_the_bench_step_too_and_undo_takes_both_back(desk: Desk, clock: SteppedClock) -> None:
    at = washed(desk, clock)
    desk.run(treatments.leave, at.session, sure=True)
    (rinse,) = owed(at, CareKind.RINSE)
    with pytest.raises(Refused):
        desk.run(care.answer, rinse, Reply.PUT_OFF, clock.now().date().replace(year=2099))
    desk.run(care.answer, rinse, Reply.DONE)
    assert not owed(at, CareKind.RINSE)
    assert [end.kind for end in at.board.loose_ends] == [LooseKind.WET]
    assert at.facts(101)[-1] == Wetted((Part.LEAVES, Part.CROWN))
    desk.undo()
    assert owed(at, CareKind.RINSE)
    assert [end.kind for end in at.board.loose_ends] == [LooseKind.AGENT]


def test_a_plant_counts_as_done_though_a_step_that_was_not_needed_stands_open(
        desk: Desk, clock: SteppedClock) -> None:
    spare = Protocol("spare-trial", "Spare", "For tests.", (
        step("lay out", Deed.PREPARE), step("wipe", Deed.HYGIENE, ["lay out"], only_if="pests")))
    at = grower(desk, clock, [101, 102]).begins({101: spare.id, 102: spare.id}, shelf_of(spare))
    at.obeys()
    assert at.board.queue[0].words == "done"
    (left,) = desk.read(treatments.open_sittings, clock.now())
    assert left.words == "2 plants, 1 done"


def test_an_entry_put_right_keeps_the_rinse_it_waits_for(desk: Desk, clock: SteppedClock) -> None:
    at = washed(desk, clock)
    entry = next(one for one in at.told(101) if isinstance(one.facts, Treated))
    desk.run(records.correct, entry.id, entry.at, Treated("mild-soap", Purpose.PEST_WASH, LEAVES), "soap alone")
    assert owed(at, CareKind.RINSE)


def test_a_session_that_ends_over_a_running_soak_owes_the_rinse(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: WASH.id}, shelf_of(WASH))
    at.press(Key.SOAK)
    clock.advance(601)
    desk.run(treatments.end, at.session, "it must wait")
    assert owed(at, CareKind.RINSE)
