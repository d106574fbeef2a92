"""A bench session that was left or broken off is said at the top of the first page, and one button takes it up."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.services import shelf, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Changed, Desk
from greenhouse_desk.services.treatments import Choice
from greenhouse_desk.store.engine import Store
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
