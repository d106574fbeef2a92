"""Care that falls due while bench mode fills the screen: seen there too, and quieted without leaving it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.services import treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.services.treatments import Choice
from greenhouse_desk.ui.bench.mode import BenchMode
from greenhouse_desk.ui.bench.notices import NoticeView
from greenhouse_desk.ui.bench.sizes import Sizes
from greenhouse_desk.ui.style import palette
from tests.ui.house import wet


@pytest.fixture
def mode(running: app.Program, monkeypatch: pytest.MonkeyPatch) -> Iterator[BenchMode]:
    """At the bench with 105, water left on the crown of 101, which is to be dry by dusk. No sound is made."""
    monkeypatch.setattr(running.alarm, "ring", lambda ring, source: None)
    wet(running.desk, 101)
    session = running.desk.run(treatments.start, [Choice(105, "root-trim-and-repot")], shelf(None))
    running.ticker.tick()
    running.bench.open_session(session)
    assert running.bench.mode is not None
    yield running.bench.mode
    running.bench.put_away()


def tick(running: app.Program, clock: SteppedClock, seconds: float) -> None:
    """Let time pass, a minute at a time."""
    for _ in range(int(seconds // 60)):
        clock.advance(60)
        running.ticker.tick()


def test_what_falls_due_is_said_at_the_bench_and_the_next_press_quiets_it(
        running: app.Program, mode: BenchMode, clock: SteppedClock) -> None:
    for _ in range(120):
        if running.watch.bell.ringing:
            break
        tick(running, clock, 60)
    assert running.watch.bell.ringing
    said = mode.face.notices.accessibleDescription()
    assert said.startswith("Due now: 101 ")
    assert "The next press quiets the bell." in said
    step = mode.board.instruction
    QTest.keyClick(mode, Qt.Key.Key_B)
    assert not running.watch.bell.ringing
    assert "Still due: 101 " in mode.face.notices.accessibleDescription()
    assert mode.board.instruction == step
    tick(running, clock, 120)
    assert "101 " not in mode.face.notices.accessibleDescription()


def test_notices_are_left_off_whole_where_there_is_no_room(qtbot: QtBot) -> None:
    view = NoticeView(palette(True), None)  # type: ignore[arg-type]
    qtbot.addWidget(view)
    view.resize(1318, 60)
    view.resized(Sizes(1366, 768, 96))
    said = tuple(f"{plant}: least reached at 15:12, {plant} min ago, and some more words." for plant in range(101, 112))
    lines = view.lines(said)
    assert lines[:2] == list(said[:2])
    assert lines[2].startswith(said[2])
    assert lines[2].endswith("and some more words.")
    assert 1 < lines[2].count("least reached") < 9
