"""Bench mode opened on a real collection, for its tests, with hands that press what a grower presses."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from shiboken6 import isValid

from greenhouse_desk.domain.bench import Action, Ring, Soak
from greenhouse_desk.services import collection, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.services.treatments import Choice
from greenhouse_desk.store import journal
from greenhouse_desk.ui.bench.keymap import KeyMap
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

    def open(self, keys: KeyMap | None = None) -> BenchMode:
        """Open bench mode on the session, with keys of the grower's own."""
        mode = BenchMode(self.desk, self.session, self.clock, self.rings.append, self._keep_awake, keys=keys, dpi=96)
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
        """Press a key."""
        QTest.keyClick(self.mode, key)

    def wait(self, seconds: float) -> None:
        """Let time pass."""
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


def question(bench: Bench) -> bool:
    """Whether something is asked."""
    return bench.mode.board.instruction.question is not None


def chosen(bench: Bench) -> bool:
    """Whether one of several is asked for."""
    asked = bench.mode.board.instruction.question
    return asked is not None and bool(asked.choices)


def soaks(bench: Bench) -> tuple[Soak, ...]:
    """All soaks of the session."""
    return bench.desk.read(treatments.sitting, bench.session).soaks


def soaking(bench: Bench) -> int:
    """Go on until the first plant's roots soak; returns its number."""
    bench.until(bench.plant_soak)
    plant = bench.mode.board.instruction.plant
    assert plant is not None
    bench.key(K.Key_S)
    return plant
