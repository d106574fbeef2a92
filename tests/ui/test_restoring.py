"""A backup put back from the House screen: the window goes, comes again, and shows the collection as it stood."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.services import backup, collection, photos
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import open_store
from greenhouse_desk.ui.putting_back import without_photos
from greenhouse_desk.ui.window_settings import WindowSettings
from tests.builders import NOW
from tests.ui.house import form, furnish, picture, pressed, words_of


@pytest.fixture
def opened(qapp: QApplication, where: app.Folders, tmp_path: Path, clock: SteppedClock,
           as_before: None) -> Iterator[app._Opening]:
    """A furnished collection with one backup, opened, one plant added since."""
    store = open_store(where.collection, create=True)
    desk = Desk(store, clock.now)
    furnish(desk)
    desk.run(photos.add, 101, picture(tmp_path / "a.png"))
    backup.make(store, NOW - timedelta(hours=1))
    desk.run(collection.add_plant, NewPlant("Disa uniflora"))
    store.close()
    made = app._Opening(qapp, where, clock, WindowSettings(), "light", False)
    made.begin()
    yield made
    if made._program is not None:
        made._program.window.close()


def put_back(opened: app._Opening, qtbot: QtBot) -> None:
    """Press what a grower presses, and wait until the program has come back."""
    program = opened._program
    assert program is not None
    gone: list[bool] = []
    program.window.destroyed.connect(lambda *_: gone.append(True))
    program.window.show_titled("House")
    (row,) = program.house.backups.rows.values()
    qtbot.waitUntil(row.restore.isEnabled, timeout=10_000)
    row.restore.click()
    with qtbot.waitSignal(opened._putting.ended, timeout=20_000):
        pressed(form(), "Restore this one")
        assert not program.window.isVisible()
        assert opened._putting.shown is not None
        assert "being put in place" in words_of(opened._putting.shown)
    qtbot.waitUntil(lambda: bool(gone), timeout=10_000)  # nothing is collected meanwhile: Qt has deleted it


def test_the_collection_stands_as_it_did_and_the_present_is_kept(opened: app._Opening, qtbot: QtBot) -> None:
    assert opened._program is not None
    assert opened._program.desk.read(collection.find, "107") != ()
    put_back(opened, qtbot)
    assert opened._program is not None
    assert opened._program.window.isVisible()
    assert opened._program.desk.read(collection.find, "107") == ()
    folder = opened._program.desk.store.folder
    newest = backup.list(folder)[0]
    assert newest.before == "restore"
    said = f"Put back: the backup of 18 Nov 2026, 14:30 ({backup.list(folder)[1].name}). What it replaced is kept as "
    assert f"{said}the backup of 18 Nov 2026, 15:30 ({newest.name})." in words_of(opened._program.window)
    assert opened._putting.shown is None


def test_a_photo_that_did_not_come_back_is_named(opened: app._Opening, qtbot: QtBot) -> None:
    assert opened._program is not None
    folder = opened._program.desk.store.folder
    for place in ("photos", "backups/photos"):
        (lost,) = (path for path in (folder / place).rglob("*") if path.is_file())
        lost.unlink()
    put_back(opened, qtbot)
    assert opened._program is not None
    told = words_of(opened._program.window)
    assert "1 photo did not come back" in told
    assert "plant 101: a.png, 2026-11-18" in told
    assert f"({backup.list(folder)[0].name})" in told


def test_of_many_lost_photos_the_window_names_some_and_counts_all() -> None:
    lost = tuple(backup.LostPhoto("ab" * 32, number, "2026-11-18T15:30:00.000000Z", "x.jpg")
                 for number in range(101, 121))
    told = without_photos(backup.Restored("one", "", lost))
    assert told.title == "20 photos did not come back"
    assert told.detail.splitlines()[0] == "Put back: backup one. Lost are:"
    assert told.detail.splitlines()[-2:] == ["plant 108: x.jpg, 2026-11-18", "and 12 more"]


def test_a_restore_that_is_refused_opens_what_was_there(opened: app._Opening, qtbot: QtBot,
                                                       monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_args: object) -> str:
        raise Refused("The disk is full", "No room.")

    monkeypatch.setattr(backup, "restore", refuse)
    put_back(opened, qtbot)
    assert opened._program is not None
    assert "The disk is full" in words_of(opened._program.window)
    assert opened._program.desk.read(collection.find, "107") != ()
