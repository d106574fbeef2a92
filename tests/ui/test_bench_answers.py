"""The answers a question at the bench offers: all of them in sight, whatever else the screen has to show."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.bench import Sitting, board
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.ui import style
from greenhouse_desk.ui.bench.callings import Hands
from greenhouse_desk.ui.bench.detail import DetailView
from greenhouse_desk.ui.bench.dial import Dial
from greenhouse_desk.ui.bench.face import BenchFace
from greenhouse_desk.ui.bench.keymap import KeyMap
from greenhouse_desk.ui.bench.lettering import fitted, sans
from tests.builders import NOW
from tests.ui.bench_builders import asking, run, sitting, soak
from tests.ui.test_bench_look import SCREENS, ZONE


def deciding(soaks: int) -> Sitting:
    """Two of four roots dead on 104, its roots bare and cut, while so many other plants soak."""
    others = tuple(range(105, 105 + soaks))
    return sitting(*(run(plant, 2, True) for plant in others), asking(run(104, 1), (2, 2, 1)),
                   soaks=tuple(soak(plant, 3) for plant in others), unpotted=frozenset({104}),
                   cuts_open=frozenset({104}))


def body(view: DetailView) -> QRectF:
    """The room the choices and their page have, as it is painted."""
    foot = view.u(54 if view.width() - view.u(40) < view.u(600) else 32)
    return view.area().adjusted(view.u(20), view.u(12), -view.u(20), -view.u(12) - foot)


@pytest.mark.parametrize("screen", SCREENS)
def test_every_answer_of_a_decision_is_in_sight_and_whole_beside_any_number_of_soaks(
        qtbot: QtBot, screen: tuple[int, int, float]) -> None:
    parent = QWidget()
    qtbot.addWidget(parent)
    face = BenchFace(KeyMap(), parent, screen[2])
    face.resize(*screen[:2])
    for soaks in range(7):
        shown = board(deciding(soaks), NOW, ZONE)
        asked = shown.instruction.question
        assert asked is not None
        assert len(asked.choices) == 3
        face.show_board(shown, Hands(dial=Dial.of(asked)), ())
        view = face.detail
        room, _page = view.rooms(3, True, body(view))
        rows, columns, high = view.grid(3, room)
        assert rows * columns >= 3, f"{soaks} soaks run"
        assert rows * high <= room.height() + 1
        wide = room.width() / columns - view.u(72)
        for choice in asked.choices:
            told = fitted(choice, sans(600), wide, (view.px(30), view.px(22), view.px(18)), 2)
            assert " ".join(told.lines) == choice, f"{soaks} soaks run"
            assert told.height <= high, f"{soaks} soaks run"


def test_the_longest_page_of_the_shelf_is_never_cut_in_its_middle(qtbot: QtBot) -> None:
    parent = QWidget()
    qtbot.addWidget(parent)
    view = DetailView(style.palette(True), KeyMap(), parent)
    pages = [step.page for protocol in shelf(None).protocols for step in protocol.steps]
    for wide, high in ((914.0, 400.0), (914.0, 198.0), (280.0, 188.0)):
        for page in pages:
            told = " ".join(view.page_lines(page, wide, high).lines)
            assert page.startswith(told)
            assert told.endswith("."), f"whole sentences: {told}"
            assert told == page or wide < 300, f"all of it where there is a row for it: {told}"
