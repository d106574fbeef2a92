"""Sessions on a real collection: begin, leave, take up, read the record; soaks left running go on ringing."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.bench import Key, Ring
from greenhouse_desk.domain.journal import Sharing
from greenhouse_desk.services import treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from tests.ui.bench_opened import Opened, begin, furnished, press, words_of

K = Qt.Key


@pytest.fixture
def opened(qtbot: QtBot, desk: Desk, clock: SteppedClock, tmp_path: Path) -> Iterator[Opened]:
    furnished(desk, clock)
    made = Opened(desk, clock, tmp_path)
    yield made
    made.close()


def test_begin_leave_and_take_up_again(opened: Opened) -> None:
    begin(opened, 101)
    mode = opened.screen.mode
    assert mode is not None
    QTest.keyClick(mode, K.Key_Space)
    at = mode.board.instruction
    QTest.keyClick(mode, K.Key_Escape)
    QTest.keyClick(mode, K.Key_N)
    assert opened.screen.mode is None
    rows = opened.screen.chooser.open_rows
    assert len(rows) == 1
    assert "Session of 15:30, left 15:30: 1 plant" in words_of(rows[0])
    later = words_of(rows[0]).rpartition(", to ")[2]
    assert "What is left takes about " in words_of(rows[0])
    opened.clock.advance(3600)
    opened.screen.show_now()
    anew = words_of(opened.screen.chooser.open_rows[0]).rpartition(", to ")[2]
    assert int(anew[:2]) == int(later[:2]) + 1
    assert anew[3:5] == later[3:5]
    rows = opened.screen.chooser.open_rows
    press(rows[0].button)
    again = opened.screen.mode
    assert again is not None
    assert again.board.instruction == at


def test_the_record_is_shown_after_the_end(opened: Opened) -> None:
    begin(opened, 101)
    mode = opened.screen.mode
    assert mode is not None
    session = opened.desk.read(treatments.open_sittings)[0].id
    opened.desk.run(treatments.end, session, "another reason")
    mode.read()
    assert opened.screen.mode is None
    assert opened.screen.pages.currentWidget() is opened.screen.record
    assert opened.screen.record.lines[0].startswith("Bench session of 18 Nov 2026 15:30, ended 15:30")
    assert not opened.screen.record.shared.isVisible(), "101 was alone"
    press(opened.screen.record.back_button)
    assert opened.screen.pages.currentWidget() is opened.screen.chooser


def test_what_plants_of_a_session_shared_is_told_on_its_record_and_taken_back(opened: Opened) -> None:
    begin(opened, 101, 102, 103)
    mode = opened.screen.mode
    assert mode is not None
    opened.desk.run(treatments.end, opened.desk.read(treatments.open_sittings)[0].id, "another reason")
    mode.read()
    shared = opened.screen.record.shared
    assert shared.isVisible()
    assert shared.plants.text() == "101, 102, 103"
    shared.plants.setText("101, 103")
    press(shared.buttons[Sharing.WATER])
    assert any("shared wash water with 103" in line for line in opened.screen.record.lines)
    press(shared.buttons[Sharing.WATER])
    shared.plants.setText("the next one")
    press(shared.buttons[Sharing.TRAY])
    assert [refusal.title for refusal in opened.refused] == ["That is written down already", "'the' is no plant number"]
    opened.desk.undo()
    assert not any("shared" in line for line in opened.screen.record.lines)


def test_bench_mode_hears_the_second_hand(opened: Opened) -> None:
    begin(opened, 101)
    mode = opened.screen.mode
    assert mode is not None
    opened.wait(60)
    assert mode.board.clock.startswith("15:31")


def test_a_soak_left_running_rings_while_bench_mode_is_closed(opened: Opened) -> None:
    begin(opened, 104)
    mode = opened.screen.mode
    assert mode is not None
    for _ in range(40):
        if mode.board.cells:
            break
        mode.press(Key.SOAK if mode.board.instruction.action.value == "start soak" else Key.NEXT)
    left = mode.board.cells[0]
    QTest.keyClick(mode, K.Key_Escape)
    QTest.keyClick(mode, K.Key_N)
    opened.wait(left.soak.most_s + 5)
    assert opened.rings[-1] is Ring.LOUD
    assert f"past its most since {left.soak.most_at:%H:%M}. Take the session up again." in opened.noted[-1]
    opened.wait(12 * 60)
    assert "passed its most" in words_of(opened.screen.chooser.open_rows[0])
    assert "12 min ago" in words_of(opened.screen.chooser.open_rows[0]), "it follows the clock"
    opened.screen.on_alarm_gave_up("bench")
    record = opened.desk.read(treatments.record, opened.desk.read(treatments.open_sittings)[0].id)
    assert any("rang unanswered" in line for line in record)
