"""Bench mode on a real collection: press what a grower presses, read what a grower reads."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.bench import Key
from greenhouse_desk.services import treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from tests.ui.bench_hands import Bench, chosen, question, soaking

K = Qt.Key


@pytest.fixture
def bench(qtbot: QtBot, desk: Desk, clock: SteppedClock) -> Iterator[Bench]:
    made = Bench(desk, clock)
    yield made
    made.close()


def test_the_instruction_carries_the_plants_number_and_next_goes_on(bench: Bench) -> None:
    first = bench.says
    assert first.startswith("101: ")
    bench.key(K.Key_Space)
    assert bench.says != first
    assert bench.says.startswith("101: ")


def test_a_held_key_is_one_press(bench: Bench) -> None:
    bench.key(K.Key_Space)
    second = bench.says
    held = QKeyEvent(QEvent.Type.KeyPress, K.Key_Space, Qt.KeyboardModifier.NoModifier, " ", True)
    QApplication.sendEvent(bench.mode, held)
    assert bench.says == second


def test_the_pedal_does_what_its_key_does(bench: Bench) -> None:
    first = bench.says
    bench.key(K.Key_PageDown)
    assert bench.says != first


def test_a_finger_on_the_drawn_key_does_the_same(bench: Bench) -> None:
    first = bench.says
    QTest.mouseClick(bench.mode.face.keys[Key.NEXT], Qt.MouseButton.LeftButton)
    assert bench.says != first


def test_undo_takes_back_the_press_and_only_presses(bench: Bench) -> None:
    first = bench.says
    bench.key(K.Key_Space)
    bench.key(K.Key_U)
    assert bench.says == first
    bench.key(K.Key_U)
    assert "No press to take back" in bench.notices
    with bench.desk.store.session() as session:
        assert treatments.sitting(session, bench.session).runs


def test_back_opens_the_step_before_again(bench: Bench) -> None:
    bench.key(K.Key_Space)
    bench.key(K.Key_Space)
    third = bench.says
    bench.key(K.Key_B)
    assert bench.says != third


def test_a_number_is_dialled_typed_and_accepted(bench: Bench) -> None:
    bench.until(lambda: question(bench) and not chosen(bench))
    bench.key(K.Key_1)
    bench.key(K.Key_2)
    assert bench.answer == "Answer: 12"
    bench.key(K.Key_S)
    bench.key(K.Key_S)
    bench.key(K.Key_B)
    assert bench.answer == "Answer: 13"
    asked = bench.says
    bench.key(K.Key_Space)
    assert bench.says != asked
    assert "13" in bench.notices
    bench.key(K.Key_U)
    assert bench.says == asked


def test_a_choice_is_stepped_through_with_two_keys(bench: Bench) -> None:
    bench.until(lambda: question(bench) and bool(bench.mode.board.instruction.question.choices))  # type: ignore[union-attr]
    bench.key(K.Key_S)
    bench.key(K.Key_S)
    bench.key(K.Key_B)
    assert ", 2 of " in bench.answer
    assert bench.mode.face.keys[Key.SOAK].accessibleName() == "Down, key S"


def test_nothing_is_accepted_before_something_was_dialled_or_typed(bench: Bench) -> None:
    bench.until(lambda: question(bench) and not chosen(bench))
    assert bench.answer == "Answer: -"
    asked = bench.says
    bench.key(K.Key_Space)
    assert bench.says == asked
    assert "No answer yet" in bench.notices
    bench.key(K.Key_B)
    assert bench.answer == "Answer: 0"
    bench.key(K.Key_Backspace)
    assert bench.answer == "Answer: -"
    bench.key(K.Key_S)
    bench.key(K.Key_Space)
    assert bench.says != asked


def test_every_part_says_what_it_shows(bench: Bench) -> None:
    plant = soaking(bench)
    face = bench.mode.face
    parts: tuple[QWidget, ...] = (face.call, face.queue, *face.keys.values(), face.leave_key, face.detail)
    for part in parts:
        assert part.accessibleName(), part
    assert f"{bench.mode.board.instruction.plant} clear, now: " in face.queue.accessibleDescription()
    assert any(view.accessibleName().startswith(f"{plant}, roots") for view in face.cells)
