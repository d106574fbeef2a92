"""Soaks in bench mode: least and most, the alarm, the clocks, and what is left out."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.bench import Key, Ring
from greenhouse_desk.domain.journal import ClockChanged, Step
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from tests.ui.bench_hands import Bench, question, soaking, soaks

K = Qt.Key


@pytest.fixture
def bench(qtbot: QtBot, desk: Desk, clock: SteppedClock) -> Iterator[Bench]:
    made = Bench(desk, clock)
    yield made
    made.close()


def test_a_soak_ends_early_only_by_a_second_press_that_is_recorded(bench: Bench) -> None:
    bench.until(bench.plant_soak)
    bench.key(K.Key_S)
    bench.until(lambda: bench.mode.board.instruction.soak is not None and not question(bench))
    soak = next(cell for cell in bench.mode.board.cells if cell.soak.id == bench.mode.board.instruction.soak)
    bench.key(K.Key_S)
    assert "Least not reached: " in bench.says
    assert "Press S again to end it early; that is recorded." in bench.below
    assert soak.soak.id in [cell.soak.id for cell in bench.mode.board.cells]
    bench.key(K.Key_S)
    assert soak.soak.id not in [cell.soak.id for cell in bench.mode.board.cells]
    early = [ended for ended in soaks(bench) if ended.id == soak.soak.id]
    assert early[0].early


def test_whether_a_soak_of_tools_ends_early_is_asked_without_the_number_of_the_plant_at_hand(bench: Bench) -> None:
    bench.until(lambda: any(cell.plant is None for cell in bench.mode.board.cells) and not question(bench)
                and bench.mode.board.instruction.plant is not None)
    plant = bench.mode.board.instruction.plant
    assert bench.says.startswith(f"{plant}: ")
    bench.key(K.Key_S)
    assert bench.says.startswith("Least not reached: ")


def test_a_soak_that_is_not_to_be_is_left_out_with_a_reason(bench: Bench) -> None:
    bench.until(bench.plant_soak)
    plant, wanted = bench.mode.board.instruction.plant, bench.mode.board.instruction.say
    bench.key(K.Key_Space)
    assert bench.says == f"{plant}: Leave this out? Why?"
    bench.key(K.Key_S)
    assert bench.answer == "Answer: no: do it now, 1 of 5"
    bench.key(K.Key_3)
    bench.key(K.Key_Space)
    assert wanted not in bench.says
    assert Step(f"Left out: {wanted}: the plant is too weak for it") in bench.facts(Step)


def test_the_second_press_is_no_longer_waited_for_after_a_while(bench: Bench) -> None:
    bench.until(bench.plant_soak)
    bench.key(K.Key_S)
    bench.until(lambda: bench.mode.board.instruction.soak is not None and not question(bench))
    bench.key(K.Key_S)
    assert "Least not reached" in bench.says
    bench.wait(11)
    assert "Least not reached" not in bench.says
    bench.key(K.Key_S)
    assert not any(soak.early for soak in soaks(bench))


def test_any_other_key_only_closes_the_question_whether_a_soak_is_to_end_early(bench: Bench) -> None:
    bench.until(bench.plant_soak)
    bench.key(K.Key_S)
    bench.until(lambda: bench.mode.board.instruction.soak is not None and not question(bench))
    before = bench.mode.board.instruction, bench.mode.board.queue, soaks(bench)
    for other in (K.Key_Space, K.Key_U, K.Key_B, K.Key_N, K.Key_Escape):
        bench.key(K.Key_S)
        assert "Least not reached" in bench.says
        bench.key(other)
        assert "Least not reached" not in bench.says
        assert (bench.mode.board.instruction, bench.mode.board.queue, soaks(bench)) == before
        assert bench.mode.face.keys[Key.NOTE].face.word != "Leave", "Esc does not ask to leave yet"


def test_the_screen_turns_and_rings_when_a_most_is_passed(bench: Bench) -> None:
    plant = soaking(bench)
    assert bench.rings[-1:] != [Ring.LOUD]
    bench.wait(12 * 60 + 35)
    assert bench.rings[-1] is Ring.LOUD
    call = bench.mode.face.call.value
    assert call is not None
    assert call.loud
    assert bench.says == f"{plant}: End the soak: roots in hydrogen peroxide"
    assert f"{plant}, roots in hydrogen peroxide, is" in bench.below
    assert "35 s over its most: press S to end it now." in bench.below
    cell = next(view for view in bench.mode.face.cells if view.accessibleName().startswith(f"{plant}, roots"))
    assert cell.accessibleDescription() == "end it now, over most by +0:35"
    bench.key(K.Key_S)
    assert bench.rings[-1] is not Ring.LOUD


def test_the_ring_is_told_only_when_it_changes(bench: Bench) -> None:
    soaking(bench)
    for _ in range(14 * 6):
        bench.wait(10)
    assert bench.rings == [ring for n, ring in enumerate(bench.rings) if n == 0 or bench.rings[n - 1] is not ring]
    assert bench.rings[-1] is Ring.LOUD


def test_a_machine_that_is_not_kept_awake_is_said(qtbot: QtBot, desk: Desk, clock: SteppedClock) -> None:
    bench = Bench(desk, clock, asleep="The machine may fall asleep.")
    assert "fall asleep" not in bench.notices
    bench.until(lambda: bool(bench.mode.board.cells))
    assert "The machine may fall asleep." in bench.notices
    assert bench.awake == [True]
    bench.close()


def test_a_clock_set_by_hand_is_said_and_no_soak_is_shortened(bench: Bench) -> None:
    soaking(bench)
    before = [cell.view.digits for cell in bench.mode.board.cells]
    bench.clock.set_wall(3600)
    bench.mode.on_jumped(3600.0)
    assert [cell.view.digits for cell in bench.mode.board.cells] == before
    assert "The wall clock was set forward by 1 h." in bench.notices
    assert bench.facts(ClockChanged)
