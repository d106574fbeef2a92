"""Nothing in bench mode is cut: every step and question of every shipped protocol, painted on small screens and large.

What is painted is read as it goes to the painter: a word that was cut ends in an ellipsis there.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from zoneinfo import ZoneInfo

import pytest
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.bench import Action, Run, RunStep, Sitting, State, board
from greenhouse_desk.domain.protocols import Protocol
from greenhouse_desk.services.treatments_sitting import choices
from greenhouse_desk.ui.bench.callings import Hands
from greenhouse_desk.ui.bench.dial import Dial
from greenhouse_desk.ui.bench.face import BenchFace
from greenhouse_desk.ui.bench.keymap import KeyMap
from tests.builders import NOW
from tests.ui.bench_builders import soak
from tests.ui.bench_opened import shipped

ZONE = ZoneInfo("Europe/London")
SCREENS = [(1366, 768, 96.0), (1366, 768, 112.0), (2560, 1440, 109.0)]
KNOWN = {128: ("mealybug", "two-spotted-mite")}


@pytest.fixture
def painted(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """All words painted."""
    said: list[str] = []
    whole = QPainter.drawText

    def draw(painter: QPainter, *args: object) -> object:
        said.extend(word for word in args if isinstance(word, str))
        return whole(painter, *args)  # type: ignore[call-overload]

    monkeypatch.setattr(QPainter, "drawText", draw)
    return said


def at_step(protocol: Protocol, place: int, asking: bool) -> Run:
    """A run that has come to its step at `place`, its work done where it is `asking`."""
    def made(n: int) -> RunStep:
        done = n < place or (asking and n == place)
        return RunStep(1000 + n, n, protocol.steps[n], State.DONE if n < place else State.OPEN,
                       NOW - timedelta(minutes=40 - n) if done else None)

    return Run(1, 128, "Phalaenopsis amabilis", protocol.id, protocol.title,
               tuple(made(n) for n in range(len(protocol.steps))), "under treatment")


def sittings() -> Iterator[Sitting]:
    """The bench at each step of each shipped protocol, its longest words for the clock, one soak running."""
    for protocol in shipped().protocols:
        for place, step in enumerate(protocol.steps):
            for asking in (False, True)[:1 + bool(step.asks)]:
                yield Sitting(1, NOW - timedelta(hours=1), (at_step(protocol, place, asking),), (soak(2, 5),),
                              choices=choices(), limit=NOW + timedelta(minutes=125), limit_name="assumed dusk",
                              pests=frozenset({128}), known=KNOWN)


@pytest.mark.parametrize("screen", SCREENS)
def test_every_step_and_question_is_painted_whole(qtbot: QtBot, screen: tuple[int, int, float],
                                                  painted: list[str]) -> None:
    parent = QWidget()
    qtbot.addWidget(parent)
    face = BenchFace(KeyMap(), parent, screen[2])
    face.resize(screen[0], screen[1])
    parent.resize(screen[0], screen[1])
    parent.show()
    for sitting in sittings():
        shown = board(sitting, NOW, ZONE)
        asked = shown.instruction.question
        answers = asked is not None and shown.instruction.action is Action.ANSWER
        face.show_board(shown, Hands(dial=Dial.of(asked)) if asked is not None and answers else Hands(), ())
        face.grab()
    assert "assumed dusk in 2 h 05" in painted
    assert [words for words in painted if words.endswith("…")] == []
