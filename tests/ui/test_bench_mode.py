"""Bench mode on a real collection: press what a grower presses, read what a grower reads."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot
from shiboken6 import isValid

from greenhouse_desk.domain.bench import Action, Key, Ring, Soak
from greenhouse_desk.domain.journal import ClockChanged, Note, Step, Treated
from greenhouse_desk.services import collection, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.services.treatments import Choice
from greenhouse_desk.store import journal
from greenhouse_desk.ui.bench.mode import BenchMode

K = Qt.Key
TRIM = "root-trim-and-repot"


class Bench:
    """A bench mode with its surroundings: what rang, what was kept awake."""

    def __init__(self, desk: Desk, clock: SteppedClock, plants: tuple[int, ...] = (101, 102),
                 protocol: str = TRIM, asleep: str = "") -> None:
        for number in plants:
            desk.run(collection.add_plant, NewPlant(f"Phalaenopsis amabilis '{number}'", number))
        self.desk, self.clock = desk, clock
        self.rings: list[Ring] = []
        self.awake: list[bool] = []
        self._asleep = asleep
        choices = tuple(Choice(number, protocol) for number in plants)
        self.session = desk.run(treatments.start, choices, shelf(None))
        self.closed: list[bool] = []
        self.modes: list[BenchMode] = []
        self.mode = self.open()

    def open(self) -> BenchMode:
        mode = BenchMode(self.desk, self.session, self.clock, self.rings.append, self._keep_awake, dpi=96)
        mode.left.connect(lambda _id, ended: self.closed.append(ended))
        self.modes.append(mode)
        mode.resize(1366, 768)
        mode.show()
        mode.setFocus()
        return mode

    def _keep_awake(self, on: bool) -> str:
        self.awake.append(on)
        return self._asleep if on else ""

    def close(self) -> None:
        """Close what is still open; a mode that has closed is gone."""
        for mode in self.modes:
            if isValid(mode):
                mode.close()

    def key(self, key: Qt.Key) -> None:
        QTest.keyClick(self.mode, key)

    def wait(self, seconds: float) -> None:
        self.clock.advance(seconds)
        self.mode.on_second(self.clock.now())

    @property
    def says(self) -> str:
        return self.mode.face.call.accessibleName()

    @property
    def below(self) -> str:
        return self.mode.face.call.accessibleDescription()

    @property
    def notices(self) -> str:
        return self.mode.face.notices.accessibleDescription()

    @property
    def answer(self) -> str:
        return self.mode.face.detail.accessibleName()

    def until(self, wanted: Callable[[], bool], most: int = 80) -> None:
        """Work on, accepting every answer as it is dialled or the first one, until `wanted`."""
        for _ in range(most):
            if wanted():
                return
            self.step()
        raise AssertionError(f"never came to it; stands at {self.says}")

    def step(self) -> None:
        action = self.mode.board.instruction.action
        if action is Action.WAIT:
            self.wait(20)
        elif action in (Action.START_SOAK, Action.END_SOAK):
            self.key(K.Key_S)
        else:
            if self.mode.face.detail.accessibleName() == "Answer: -":
                self.key(K.Key_S)
            self.key(K.Key_Space)
            self.wait(5)

    def plant_soak(self) -> bool:
        """Whether the instruction is to start the soak of the roots."""
        now = self.mode.board.instruction
        return now.action is Action.START_SOAK and now.run is not None and "peroxide" in now.say

    def facts(self, kind: type) -> list[object]:
        with self.desk.store.session() as session:
            return [one.facts for one in journal.everything(session) if isinstance(one.facts, kind)]


@pytest.fixture
def bench(qtbot: QtBot, desk: Desk, clock: SteppedClock) -> Iterator[Bench]:
    made = Bench(desk, clock)
    yield made
    made.close()


def question(bench: Bench) -> bool:
    return bench.mode.board.instruction.question is not None


def chosen(bench: Bench) -> bool:
    asked = bench.mode.board.instruction.question
    return asked is not None and bool(asked.choices)


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
    early = [ended for ended in _soaks(bench) if ended.id == soak.soak.id]
    assert early[0].early


def _soaks(bench: Bench) -> tuple[Soak, ...]:
    return bench.desk.read(treatments.sitting, bench.session).soaks


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
    assert not any(soak.early for soak in _soaks(bench))


def _soaking(bench: Bench) -> int:
    """Go on until the first plant's roots soak; returns its number."""
    bench.until(bench.plant_soak)
    plant = bench.mode.board.instruction.plant
    assert plant is not None
    bench.key(K.Key_S)
    return plant


def test_the_screen_turns_and_rings_when_a_most_is_passed(bench: Bench) -> None:
    plant = _soaking(bench)
    assert bench.rings[-1:] != [Ring.LOUD]
    bench.wait(12 * 60 + 35)
    assert bench.rings[-1] is Ring.LOUD
    call = bench.mode.face.call.value
    assert call is not None
    assert call.loud
    assert bench.says == f"{plant}: End the soak: roots in hydrogen peroxide"
    assert f"{plant}, roots in hydrogen peroxide, is" in bench.below
    assert "0:35 over its most: press S to end it now." in bench.below
    cell = next(view for view in bench.mode.face.cells if view.accessibleName().startswith(f"{plant}, roots"))
    assert cell.accessibleDescription() == "over most, end it now: +0:35"
    bench.key(K.Key_S)
    assert bench.rings[-1] is not Ring.LOUD


def test_the_ring_is_told_only_when_it_changes(bench: Bench) -> None:
    _soaking(bench)
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
    _soaking(bench)
    before = [cell.view.digits for cell in bench.mode.board.cells]
    bench.clock.set_wall(3600)
    bench.mode.on_jumped(3600.0)
    assert [cell.view.digits for cell in bench.mode.board.cells] == before
    assert "The wall clock was set forward by 60:00." in bench.notices
    assert bench.facts(ClockChanged)


def test_a_ready_phrase_is_kept_without_a_clean_finger(bench: Bench) -> None:
    bench.key(K.Key_N)
    assert bench.answer.startswith("Note: Look at this one again tomorrow.")
    bench.key(K.Key_S)
    phrase = bench.answer.removeprefix("Note: ")
    bench.key(K.Key_Space)
    assert phrase in [fact.text for fact in bench.facts(Note) if isinstance(fact, Note)]
    assert f"Noted: {phrase}" in bench.notices


def test_a_typed_note_takes_every_letter_and_esc_drops_it(bench: Bench) -> None:
    bench.key(K.Key_N)
    bench.key(K.Key_N)
    QTest.keyClicks(bench.mode, "sub nubs")
    assert bench.answer == "Note: sub nubs"
    bench.key(K.Key_Escape)
    assert not bench.facts(Note)
    bench.key(K.Key_N)
    bench.key(K.Key_N)
    QTest.keyClicks(bench.mode, "sub nubs")
    bench.key(K.Key_Return)
    assert bench.facts(Note) == [Note("sub nubs")]


def test_a_note_stays_with_the_plant_it_was_begun_on(bench: Bench) -> None:
    soaking = _soaking(bench)
    bench.until(lambda: bench.mode.board.instruction.plant not in (soaking, None) and not question(bench), 12)
    other = bench.mode.board.instruction.plant
    bench.key(K.Key_N)
    bench.wait(11 * 60 + 40)
    assert bench.mode.board.instruction.plant == soaking
    bench.key(K.Key_Space)
    with bench.desk.store.session() as session:
        assert [one.plant for one in journal.everything(session) if isinstance(one.facts, Note)] == [other]


def test_leaving_names_what_stands_open_and_the_session_is_taken_up_where_it_was(bench: Bench) -> None:
    plant = _soaking(bench)
    at = bench.mode.board.instruction
    bench.key(K.Key_Escape)
    assert bench.says == "Leave for another day?"
    said = bench.mode.face.detail.accessibleDescription()
    assert f"{plant} is still in its soak" in said
    assert f"{plant} is out of its pot: Pot {plant} up" in said
    bench.key(K.Key_B)
    assert bench.says != "Leave for another day?"
    bench.key(K.Key_Escape)
    bench.key(K.Key_Space)
    assert bench.closed == [False]
    assert bench.awake[-1] is False
    bench.desk.run(treatments.take_up, bench.session)
    again = bench.open()
    assert again.board.instruction == at
    assert len(again.board.cells) >= 1


def test_the_touch_target_asks_first_too(bench: Bench) -> None:
    QTest.mouseClick(bench.mode.face.leave_key, Qt.MouseButton.LeftButton)
    assert bench.says == "Leave for another day?"
    assert not bench.closed


def test_a_whole_session_to_its_end(bench: Bench) -> None:
    bench.until(lambda: bool(bench.closed), 300)
    assert bench.closed == [True]
    assert len([fact for fact in bench.facts(Treated) if isinstance(fact, Treated) and not fact.early]) >= 2
    assert bench.rings[-1] is Ring.SILENT


def test_a_press_on_a_session_ended_elsewhere_is_refused_calmly(bench: Bench) -> None:
    bench.desk.run(treatments.end, bench.session, "another reason")
    bench.key(K.Key_Space)
    assert "This session is over" in bench.below


def test_every_part_says_what_it_shows(bench: Bench) -> None:
    plant = _soaking(bench)
    face = bench.mode.face
    parts: tuple[QWidget, ...] = (face.call, face.queue, *face.keys.values(), face.leave_key, face.detail)
    for part in parts:
        assert part.accessibleName(), part
    assert f"{bench.mode.board.instruction.plant} clear, now: " in face.queue.accessibleDescription()
    assert any(view.accessibleName().startswith(f"{plant}, roots") for view in face.cells)
