"""A bench session that was left or broken off is said at the top of the first page, and one button takes it up."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.domain.bench import Key
from greenhouse_desk.services import shelf, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Changed, Desk
from greenhouse_desk.services.treatments import Choice
from greenhouse_desk.store.engine import Store
from tests.services.sittings import shelf_of
from tests.ui.house import furnish, pressed, program, words_of


def begun(desk: Desk) -> int:
    """A session with one plant, begun by a program that is gone."""
    return desk.run(treatments.start, (Choice(101, "pest-wash"),), shelf.shelf(None), ())


@pytest.fixture
def after_a_kill(store: Store, clock: SteppedClock, qtbot: QtBot) -> Iterator[app.Program]:
    """The program started again after a session was broken off."""
    desk = Desk(store, clock.now)
    furnish(desk)
    begun(desk)
    clock.advance(1200)
    made = program(store, clock)
    qtbot.addWidget(made.window)
    with qtbot.waitExposed(made.window):
        made.window.show()
    yield made
    made.close()


def test_the_first_page_names_the_broken_session_and_one_button_takes_it_up(after_a_kill: app.Program) -> None:
    window = after_a_kill.window
    assert window.current_title() == "Collection"
    assert window.session.isVisible()
    assert "A bench session was broken off" in words_of(window.session)
    assert "Begun 15:30, broken off: " in words_of(window.session)
    pressed(window.session, "Take up the session")
    assert after_a_kill.bench.mode is not None
    after_a_kill.bench.mode.close()


def space(program: app.Program, button: str) -> None:
    """Press Space where the window has the keyboard, which is at this button."""
    at = program.window.focusWidget()
    assert isinstance(at, QPushButton), at
    assert at.text() == button
    QTest.keyClick(at, Qt.Key.Key_Space)


def test_after_a_start_space_takes_the_broken_session_up(after_a_kill: app.Program) -> None:
    space(after_a_kill, "Take up the session")
    assert after_a_kill.bench.mode is not None
    after_a_kill.bench.mode.close()


def test_after_leaving_the_bench_space_goes_on_with_it(running: app.Program, clock: SteppedClock,
                                                       qtbot: QtBot) -> None:
    session = begun(running.desk)
    running.window.show_titled("Bench")
    running.bench.open_session(session)
    for _ in range(2):
        mode = running.bench.mode
        assert mode is not None
        QTest.keyClick(mode, Qt.Key.Key_Escape)
        QTest.keyClick(mode, Qt.Key.Key_N)
        qtbot.waitUntil(lambda: running.bench.mode is None, timeout=5_000)
        running.signals.changed.emit(Changed("", frozenset()))
        space(running, "Take it up again")
    assert running.bench.mode is not None
    running.bench.mode.close()


def test_a_session_taken_up_from_another_page_and_left_again_is_offered_there(after_a_kill: app.Program,
                                                                              qtbot: QtBot) -> None:
    for _ in range(2):
        space(after_a_kill, "Take up the session")
        mode = after_a_kill.bench.mode
        assert mode is not None
        QTest.keyClick(mode, Qt.Key.Key_Escape)
        QTest.keyClick(mode, Qt.Key.Key_N)
        qtbot.waitUntil(lambda: after_a_kill.bench.mode is None, timeout=5_000)
        after_a_kill.ticker.tick()
    assert after_a_kill.window.current_title() == "Collection"


def test_a_soak_left_running_past_its_most_turns_the_notice_and_follows_the_clock(
        running: app.Program, clock: SteppedClock) -> None:
    session = running.desk.run(treatments.start, (Choice(101, "dip-trial"),), shelf_of(), ())
    running.desk.run(treatments.press, session, Key.SOAK)
    running.signals.changed.emit(Changed("", frozenset()))
    notice = running.window.session
    assert "least at 15:40, most at 15:42" in words_of(notice)
    assert notice.property("edge") == "due"
    for minutes, told in ((12, "passed its most at 15:42, 0 min ago"), (12, "passed its most at 15:42, 12 min ago")):
        clock.advance(minutes * 60)
        running.window.tick(clock.now())
        assert told in words_of(notice)
        assert "A soak ran past its most" in words_of(notice)
        assert notice.property("edge") == "urgent"


def test_the_bench_page_has_its_own_word_for_it(after_a_kill: app.Program, qtbot: QtBot) -> None:
    window = after_a_kill.window
    window.show_titled("Bench")
    assert not window.session.isVisible()
    qtbot.waitUntil(lambda: "broken off" in words_of(after_a_kill.bench), timeout=5_000)
    window.show_titled("House")
    assert window.session.isVisible()


def test_a_session_under_way_is_not_called_broken_off(running: app.Program) -> None:
    running.bench.open_session(begun(running.desk))
    running.signals.changed.emit(Changed("", frozenset()))
    assert not running.window.session.isVisible()
    assert running.bench.mode is not None
    running.bench.mode.close()
