"""A backup put back from the House screen: the window goes, comes again, and shows the collection as it stood."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.services import backup, collection
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import open_store
from greenhouse_desk.ui.window_settings import WindowSettings
from tests.builders import NOW
from tests.ui.house import form, furnish, pressed, words_of


@pytest.fixture
def opened(qapp: QApplication, tmp_path: Path, clock: SteppedClock,
           monkeypatch: pytest.MonkeyPatch) -> Iterator[app._Opening]:
    """A furnished collection with one backup, opened, one plant added since."""
    monkeypatch.setattr(sys, "excepthook", sys.excepthook)
    before = qapp.styleSheet()
    where = app.Folders(tmp_path / "collection", tmp_path / "settings", tmp_path / "log", tmp_path / "cache")
    store = open_store(where.collection, create=True)
    desk = Desk(store, clock.now)
    furnish(desk)
    backup.make(store, NOW - timedelta(hours=1))
    desk.run(collection.add_plant, NewPlant("Disa uniflora"))
    store.close()
    made = app._Opening(qapp, where, clock, WindowSettings(), "light", False)
    made.begin()
    yield made
    if made._program is not None:
        made._program.window.close()
    qapp.setStyleSheet(before)


def put_back(opened: app._Opening, qtbot: QtBot) -> None:
    """Press what a grower presses, and wait until the program has come back."""
    program = opened._program
    assert program is not None
    program.window.show_titled("House")
    (row,) = program.house.backups.rows.values()
    qtbot.waitUntil(row.restore.isEnabled, timeout=10_000)
    row.restore.click()
    with qtbot.waitSignal(opened._putting.ended, timeout=20_000):
        pressed(form(), "Restore this one")
        assert not program.window.isVisible()
        assert opened._putting.shown is not None
        assert "being put in place" in words_of(opened._putting.shown)


def test_the_collection_stands_as_it_did_and_the_present_is_kept(opened: app._Opening, qtbot: QtBot) -> None:
    assert opened._program is not None
    assert opened._program.desk.read(collection.find, "107") != ()
    put_back(opened, qtbot)
    assert opened._program is not None
    assert opened._program.window.isVisible()
    assert opened._program.desk.read(collection.find, "107") == ()
    newest = backup.list(opened._program.desk.store.folder)[0]
    assert newest.before == "restore"
    assert f"kept as backup {newest.name}" in words_of(opened._program.window)
    assert opened._putting.shown is None


def test_a_restore_that_is_refused_opens_what_was_there(opened: app._Opening, qtbot: QtBot,
                                                       monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_args: object) -> str:
        raise Refused("The disk is full", "No room.")

    monkeypatch.setattr(backup, "restore", refuse)
    put_back(opened, qtbot)
    assert opened._program is not None
    assert "The disk is full" in words_of(opened._program.window)
    assert opened._program.desk.read(collection.find, "107") != ()
