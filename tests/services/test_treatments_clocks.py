"""Clocks at the bench: one that is set, jumps or restarts neither shortens nor lengthens a soak, and it is told."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from greenhouse_desk.domain.bench import Action, Key, board
from greenhouse_desk.domain.journal import ClockChanged, Kind
from greenhouse_desk.services import treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import journal
from tests.services.sittings import DIP, REPOT, ZONE, grower


def test_a_soak_that_passed_its_most_meanwhile_says_when_and_how_long_ago(
        desk: Desk, clock: SteppedClock, reopened: Callable[[], Desk]) -> None:
    at = grower(desk, clock, [101]).begins({101: DIP.id})
    at.press(Key.SOAK)
    clock.advance(47 * 60)
    at.desk = reopened()
    assert at.board.words == ("101: most passed at 15:42, 35 min ago.",)
    told = at.desk.read(treatments.open_sittings, clock.now())
    assert [one.words for one in told] == ["1 plant, 0 done; the soak of 101 passed its most at 15:42, 35 min ago"]


@pytest.mark.parametrize("jump_s", [3600, -3600, 2.5, -300])
def test_a_changed_wall_clock_neither_shortens_nor_lengthens_a_soak(
        jump_s: float, desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: DIP.id})
    at.press(Key.SOAK)
    clock.advance(300)
    clock.set_wall(jump_s)
    shown = at.board
    assert shown.cells[0].view.digits == "5:00"
    assert "steady clock is used" in shown.words[0]
    assert desk.run(treatments.mend_clock, jump_s, clock.steady())
    shown = at.board
    assert (shown.cells[0].view.digits, shown.words) == ("5:00", ())
    assert not desk.run(treatments.mend_clock, 0.5, clock.steady())
    told = [entry.facts for entry in desk.read(journal.of_kinds, [Kind.CLOCK])]
    assert told == [ClockChanged(jump_s, "steady clock")]


def test_a_press_puts_the_clock_right_by_itself_and_it_is_told_once(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: DIP.id})
    at.press(Key.SOAK)
    clock.advance(300)
    clock.set_wall(3600)
    at.press(Key.NOTE, text="the clock went")
    desk.run(treatments.mend_clock, 3600.0, clock.steady())
    clock.advance(360)
    at.press(Key.SOAK)
    treated = [entry.facts for entry in at.told(101) if entry.kind is Kind.TREATED]
    assert "minutes=11.0" in str(treated)
    assert len(desk.read(journal.of_kinds, [Kind.CLOCK])) == 1


def test_a_jump_without_a_known_boot_shifts_what_runs(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: DIP.id})
    desk.run(treatments.press, at.session, Key.SOAK)
    clock.advance(300)
    clock.set_wall(-1800)
    desk.run(treatments.mend_clock, -1800.0)
    assert board(desk.read(treatments.sitting, at.session), clock.now(), ZONE).cells[0].view.digits == "5:00"


def test_after_a_restart_of_the_machine_the_wall_clock_tells_and_that_is_said(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: DIP.id})
    at.press(Key.SOAK)
    clock.advance(300)
    sitting = desk.read(treatments.sitting, at.session, clock.now(), ("another boot", 12.0))
    assert "restarted" in sitting.notices[0]
    assert board(sitting, clock.now(), ZONE).cells[0].view.digits == "5:00"


@pytest.mark.parametrize("back_s", [-3600, -120, 3600])
def test_a_clock_changed_between_two_steps_leaves_the_order_of_the_session(
        back_s: float, desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock, [101]).begins({101: REPOT.id})
    at.obeys_until(Action.START_SOAK)
    told = {"unpotted": at.sitting.unpotted, "now": at.says}
    clock.set_wall(back_s)
    desk.run(treatments.mend_clock, back_s, clock.steady())
    assert {"unpotted": at.sitting.unpotted, "now": at.says} == told
    at.finishes()
    said = [line for line in at.log if "cutter" in line]
    assert len(said) == len(set(said)), "a tool went into alcohol twice"
    assert not at.sitting.unpotted
