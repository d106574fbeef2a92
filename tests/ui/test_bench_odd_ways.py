"""Bench mode pressed in odd ways: Esc at every step, Back across a soak, Undo after a stop, six soaks and a seventh."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.bench import Action, LooseKind
from greenhouse_desk.domain.journal import Potted, Step, Treated
from greenhouse_desk.domain.protocols import Asks
from greenhouse_desk.services import treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from tests.ui.bench_hands import Bench, K, question, soaking, soaks


@pytest.fixture
def bench(qtbot: QtBot, desk: Desk, clock: SteppedClock) -> Iterator[Bench]:
    made = Bench(desk, clock)
    yield made
    made.close()


def test_esc_and_stay_at_every_step_change_nothing(bench: Bench) -> None:
    seen = set()

    def over() -> bool:
        if bench.closed:
            return True
        before, at = bench.mode.board, treatments_of(bench)
        bench.key(K.Key_Escape)
        assert bench.says == "Leave for another day?"
        assert bench.answer == "Leave for another day"
        bench.key(K.Key_Space)
        assert bench.mode.board == before
        assert treatments_of(bench) == at
        seen.add(before.instruction.action)
        return False

    bench.until(over, 300)
    assert {Action.HANDS, Action.ANSWER, Action.START_SOAK, Action.END_SOAK, Action.CLOSE} <= seen


def treatments_of(bench: Bench) -> object:
    """The sitting as stored."""
    return bench.desk.read(treatments.sitting, bench.session)


def test_back_across_a_soak_lets_it_run_on_from_its_true_start(bench: Bench) -> None:
    plant = soaking(bench)
    started = soaks(bench)[-1].started_at
    bench.wait(11 * 60)
    bench.until(lambda: bench.mode.board.instruction.action is Action.END_SOAK
                and bench.mode.board.instruction.plant == plant, 30)
    bench.key(K.Key_S)
    assert bench.facts(Treated)
    bench.key(K.Key_B)
    assert not bench.facts(Treated)
    assert started in [soak.started_at for soak in soaks(bench) if soak.ended_at is None and "roots" in soak.what]
    bench.key(K.Key_Escape)
    assert f"{plant} is still in its soak" in bench.mode.face.detail.accessibleDescription()


def to_the_stop(bench: Bench) -> None:
    """Count roots, most of them dead, and be asked whether to go on."""
    def asks() -> Asks | None:
        asked = bench.mode.board.instruction.question
        return asked.asks if asked is not None else None

    bench.until(lambda: asks() is Asks.LIVING)
    for keys in ((K.Key_4,), (K.Key_6,), (K.Key_0,)):
        for key in keys:
            bench.key(key)
        bench.key(K.Key_Space)
    assert asks() is Asks.GO_ON


def test_a_stop_is_taken_back_and_taken_again(bench: Bench) -> None:
    to_the_stop(bench)
    plant = bench.mode.board.instruction.plant
    bench.key(K.Key_2)
    bench.key(K.Key_Space)
    assert bench.says == f"{plant}: Pot {plant} up for now"
    bench.key(K.Key_U)
    assert question(bench)
    assert not any(isinstance(one, Step) and one.title.startswith("Stopped") for one in bench.facts(Step))
    bench.key(K.Key_3)
    bench.key(K.Key_Space)
    assert bench.mode.board.queue[0].still == "roots bare"
    assert bench.mode.board.instruction.plant != plant, "left bare knowingly: hands go on to the next plant"
    bench.key(K.Key_Escape)
    assert f"{plant} is out of its pot, its roots bare: Pot {plant} up for now" in (
        bench.mode.face.detail.accessibleDescription())
    bench.key(K.Key_Space)
    bench.key(K.Key_U)
    bench.key(K.Key_2)
    bench.key(K.Key_Space)
    bench.key(K.Key_Space)
    assert len(bench.facts(Potted)) == 1
    assert not [end for end in bench.mode.board.loose_ends if end.kind is LooseKind.UNPOTTED]
    bench.key(K.Key_U)
    assert plant in [end.plant for end in bench.mode.board.loose_ends if end.kind is LooseKind.UNPOTTED]


def test_a_stop_survives_the_bench_being_broken_off(bench: Bench) -> None:
    to_the_stop(bench)
    bench.key(K.Key_3)
    bench.key(K.Key_Space)
    at = bench.mode.board
    bench.mode.close()
    (left,) = bench.desk.read(treatments.open_sittings, bench.clock.now())
    assert "its roots bare" in left.words
    again = bench.open()
    assert (again.board.queue, again.board.loose_ends) == (at.queue, at.loose_ends)


def test_six_soaks_run_and_the_seventh_waits(qtbot: QtBot, desk: Desk, clock: SteppedClock) -> None:
    bench = Bench(desk, clock, tuple(range(101, 108)), "tools-and-pots")
    try:
        bench.until(lambda: len(bench.mode.board.cells) == 6, 200)
        bench.until(lambda: bench.mode.board.waiting > 0, 60)
        assert "countdowns are taken" in bench.notices
        for _ in range(3):
            bench.key(K.Key_Escape)
            assert bench.mode.face.detail.accessibleDescription().count("soak") >= 6
            bench.key(K.Key_Space)
        assert len(bench.mode.board.cells) == 6
    finally:
        bench.close()
