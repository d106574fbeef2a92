"""The Timeline screen of an empty house."""

from __future__ import annotations

from pytestqt.qtbot import QtBot

from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.store.engine import Store
from tests.ui.house import program
from tests.ui.timeline_hands import said


def test_an_empty_house_says_so_and_leads_to_the_collection(store: Store, clock: SteppedClock, qtbot: QtBot) -> None:
    made = program(store, clock)
    qtbot.addWidget(made.window)
    made.window.show_titled("Timeline")
    assert "No plants yet." in said(made.timeline)
    made.timeline.grab()
    made.timeline.fill.click()
    assert made.window.current_title() == "Collection"
    made.close()
