"""The furnished house for the window's tests: its benches, the whole program running on it, its Collection screen."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import Store
from greenhouse_desk.ui.collection.screen import CollectionScreen
from tests.ui.house import furnish, program


@pytest.fixture
def places(store: Store, clock: SteppedClock) -> dict[str, int]:
    """The furnished house's benches by name."""
    return furnish(Desk(store, clock.now))


@pytest.fixture
def running(places: dict[str, int], store: Store, clock: SteppedClock, qtbot: QtBot) -> Iterator[app.Program]:
    """The whole program on the furnished house."""
    made = program(store, clock)
    qtbot.addWidget(made.window)
    with qtbot.waitExposed(made.window):
        made.window.show()
    yield made
    made.close()


@pytest.fixture
def screen(running: app.Program) -> CollectionScreen:
    """Its Collection screen."""
    return running.collection
