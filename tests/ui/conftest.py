"""The furnished house for the window's tests: its benches, the whole program running on it, its Collection screen."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import Store
from greenhouse_desk.ui.collection.screen import CollectionScreen
from greenhouse_desk.ui.labels.screen import LabelsScreen
from tests.ui.house import furnish, shown


@pytest.fixture
def as_before(qapp: QApplication, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The program's own fault hook and look are taken off again."""
    monkeypatch.setattr(sys, "excepthook", sys.excepthook)
    before = qapp.styleSheet()
    yield
    qapp.setStyleSheet(before)


@pytest.fixture
def where(tmp_path: Path) -> app.Folders:
    """Folders of a test of its own."""
    return app.Folders(tmp_path / "collection", tmp_path / "settings", tmp_path / "log", tmp_path / "cache")


@pytest.fixture
def places(store: Store, clock: SteppedClock) -> dict[str, int]:
    """The furnished house's benches by name."""
    return furnish(Desk(store, clock.now))


@pytest.fixture
def running(places: dict[str, int], store: Store, clock: SteppedClock, qtbot: QtBot) -> Iterator[app.Program]:
    """The whole program on the furnished house."""
    with shown(store, clock, qtbot) as made:
        yield made


@pytest.fixture
def screen(running: app.Program) -> CollectionScreen:
    """Its Collection screen."""
    return running.collection


@pytest.fixture
def labels(running: app.Program) -> LabelsScreen:
    """The screen in front."""
    running.window.show_titled("Labels")
    return running.labels
