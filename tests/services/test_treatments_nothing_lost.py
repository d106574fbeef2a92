"""Nothing is lost at the bench: any presses, a restart between any two, undo, and a session left."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

import pytest

from greenhouse_desk.domain.bench import Action, Key, Sitting, State
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Kind, Note
from greenhouse_desk.services import treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import journal
from tests.services.sittings import DIP, REPOT, Grower, grower

KEYS = (Key.NEXT, Key.NEXT, Key.NEXT, Key.SOAK, Key.SOAK, Key.BACK, Key.NOTE, Key.UNDO)
WAITS = (0, 0, 1, 30, 120, 400)


def without_undo(sitting: Sitting) -> Sitting:
    return replace(sitting, undo_label="", undo_at=None)


def closed(sitting: Sitting) -> set[int]:
    return {step.id for run in sitting.runs for step in run.steps if step.state is State.DONE}


def presses(at: Grower, key: Key, dice: random.Random) -> None:
    """Press `key` as somebody might, with any answer."""
    asked = at.board.instruction.question
    value = dice.randint(asked.low, asked.high) if asked is not None else None
    if asked is not None and asked.choices and dice.random() < 0.7:
        value = 0
    if key is Key.UNDO:
        if at.sitting.undo_label:
            at.desk.undo()
    else:
        at.press(key, value, sure=dice.random() < 0.2, text="looks well")


def walk(at: Grower, clock: SteppedClock, seed: int, count: int, reopen: Callable[[], Desk]) -> None:
    """`count` random presses, each checked; the store is opened again now and then."""
    dice = random.Random(seed)
    for _ in range(count):
        clock.advance(dice.choice(WAITS))
        before, key = at.sitting, dice.choice(KEYS)
        if before.ended_at is not None:
            return
        presses(at, key, dice)
        after = at.sitting
        check_soaks(before, after, key)
        check_steps(at, before, after, key)
        if dice.random() < 0.15:
            shown = at.board
            at.desk = reopen()
            assert at.board == shown
        elif dice.random() < 0.2 and key is not Key.UNDO and after != before:
            at.desk.undo()
            assert without_undo(at.sitting) == without_undo(before)


def check_soaks(before: Sitting, after: Sitting, key: Key) -> None:
    """A soak never starts at another time, and vanishes only by undo."""
    kept = {soak.id: soak.started_at for soak in after.soaks}
    for soak in before.soaks:
        assert kept.get(soak.id, soak.started_at if key is Key.UNDO else None) == soak.started_at
    assert sum(soak.ended_at is None for soak in after.soaks) <= 6


def check_steps(at: Grower, before: Sitting, after: Sitting, key: Key) -> None:
    """No confirmed step goes missing but by Back and Undo, and what is confirmed stands in the journal."""
    lost, won = closed(before) - closed(after), closed(after) - closed(before)
    assert not lost or key in (Key.BACK, Key.UNDO)
    assert len(lost) + len(won) <= 1 or key is Key.UNDO or after.ended_at is not None
    assert closed(after) <= {entry.step for entry in at.desk.read(journal.everything)}


@pytest.mark.parametrize("seed", range(6))
def test_any_presses_with_restarts_between_lose_nothing(
        seed: int, desk: Desk, clock: SteppedClock, reopened: Callable[[], Desk]) -> None:
    at = grower(desk, clock).begins({101: REPOT.id, 102: REPOT.id, 103: DIP.id})
    walk(at, clock, seed, 60, reopened)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(100, 120))
def test_any_presses_with_restarts_between_lose_nothing_long(
        seed: int, desk: Desk, clock: SteppedClock, reopened: Callable[[], Desk]) -> None:
    at = grower(desk, clock, range(101, 109)).begins({number: REPOT.id for number in range(101, 109)})
    walk(at, clock, seed, 400, reopened)


def test_a_whole_session_reopened_before_every_press_comes_to_the_same_end(
        desk: Desk, clock: SteppedClock, reopened: Callable[[], Desk]) -> None:
    at = grower(desk, clock, (101, 102)).begins({101: REPOT.id, 102: REPOT.id})
    while at.sitting.ended_at is None:
        shown = at.board
        at.desk = reopened()
        assert at.board == shown
        at.obeys()
    assert all(step.closed for run in at.sitting.runs for step in run.steps)


def test_a_press_meant_for_another_instruction_does_nothing(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: REPOT.id})
    token = at.board.instruction.token_for(Key.NEXT)
    at.press(Key.NEXT, expect=token)
    assert at.says == (101, "Unpot")
    before = at.sitting
    at.press(Key.NEXT, expect=token)
    assert at.sitting == before
    assert at.says == (101, "Unpot")


def test_back_opens_the_step_before_and_takes_its_entries_back(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: REPOT.id})
    for _ in range(2):
        at.press(Key.NEXT)
    assert [entry.kind for entry in at.told(101)] == [Kind.STEP, Kind.UNPOTTED]
    at.press(Key.BACK)
    assert at.says == (101, "Unpot")
    assert [entry.kind for entry in at.told(101)] == [Kind.STEP]
    at.press(Key.BACK)
    assert at.says == (101, "Lay out")
    assert not at.board.keys[2].live


def test_back_after_a_soak_lets_it_go_on_as_it_always_did(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: DIP.id})
    at.press(Key.SOAK)
    started = at.sitting.soaks[0].started_at
    clock.advance(610)
    at.press(Key.SOAK)
    at.press(Key.BACK)
    assert at.sitting.soaks[0].ended_at is None
    assert at.sitting.soaks[0].started_at == started
    assert at.board.instruction.action is Action.END_SOAK
    assert [entry.kind for entry in at.told(101)] == [Kind.WETTED]


def test_undo_inside_a_finding_goes_back_one_question(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: REPOT.id})
    while at.board.instruction.say != "Count":
        at.obeys()
    at.press(Key.NEXT)
    at.press(Key.NEXT, 7)
    first, second = "How many living roots?", "How many dead roots?"
    asked = at.board.instruction.question
    assert asked is not None
    assert asked.prompt == second
    assert at.press(Key.SOAK, 3).value == 4
    assert at.press(Key.BACK, 0).value == 0
    desk.undo()
    asked = at.board.instruction.question
    assert asked is not None
    assert asked.prompt == first


def test_an_answer_out_of_range_is_refused_and_changes_nothing(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: REPOT.id})
    at.obeys_until(Action.ANSWER)
    before = at.sitting
    with pytest.raises(Refused):
        at.press(Key.NEXT, 400)
    assert at.sitting == before


def test_undo_stops_at_the_start_of_the_session(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: DIP.id})
    assert at.sitting.undo_label == ""
    at.press(Key.SOAK)
    assert at.sitting.undo_label == "Soak: 101 roots in hydrogen peroxide"


def test_leaving_with_a_soak_running_names_it_and_taking_up_goes_on(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: DIP.id})
    at.press(Key.SOAK)
    first = desk.run(treatments.leave, at.session)
    assert first.needs_second
    assert "101 is still in its soak" in first.words
    desk.run(treatments.leave, at.session, sure=True)
    assert at.sitting.left_at == clock.now()
    clock.advance(700)
    desk.run(treatments.take_up, at.session, clock.steady())
    assert at.sitting.left_at is None
    assert at.board.instruction.action is Action.END_SOAK


def test_a_session_left_between_plants_is_taken_up_another_day(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, (101, 102)).begins({101: DIP.id, 102: DIP.id})
    at.press(Key.SOAK)
    clock.advance(620)
    at.press(Key.SOAK)
    at.press(Key.NEXT)
    assert not desk.run(treatments.leave, at.session).needs_second
    clock.advance(86400)
    assert [one.id for one in desk.read(treatments.open_sittings)] == [at.session]
    desk.run(treatments.take_up, at.session, clock.steady())
    assert at.says == (102, "Dip")
    limit = at.sitting.limit
    assert limit is not None
    assert limit - clock.now() < timedelta(days=1)
    at.finishes()


def test_an_alarm_that_rang_unanswered_leaves_a_missed_entry(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: DIP.id})
    at.press(Key.SOAK)
    soak = at.sitting.soaks[0].id
    desk.run(treatments.missed_soak, soak)
    assert not [facts for facts in at.facts(101) if isinstance(facts, Note)], "nothing rings before the least"
    clock.advance(1500)
    desk.run(treatments.missed_soak, soak)
    notes = [facts for facts in at.facts(101) if isinstance(facts, Note)]
    assert len(notes) == 1
    assert notes[0].text.startswith("Missed")


def test_a_note_stands_on_the_plant_of_the_instruction(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: DIP.id})
    desk.run(treatments.note, at.session, "  roots very long ")
    assert at.facts(101) == [Note("roots very long")]
    before = at.sitting
    at.press(Key.NOTE, text=" ")
    assert at.sitting == before
