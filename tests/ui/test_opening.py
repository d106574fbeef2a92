"""Opening the collection: the window, a new collection, a damaged one put back from its backup, a held one."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from greenhouse_desk import __main__, app
from greenhouse_desk.services import backup, collection, photos
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import holder
from greenhouse_desk.store.engine import open_store
from greenhouse_desk.ui import window_settings
from greenhouse_desk.ui.window_settings import WindowSettings
from tests.rights import opened, public_folder, shut, unprivileged
from tests.ui.house import furnish, order, picture, pressed, words_of

pytestmark = pytest.mark.usefixtures("as_before")


def opening(qapp: QApplication, where: app.Folders, clock: SteppedClock, look: str = "light",
            create: bool = False) -> app._Opening:
    """The opening, begun."""
    made = app._Opening(qapp, where, clock, WindowSettings(), look, create)
    made.begin()
    return made


def closed(made: app._Opening) -> None:
    """Close the window that was opened."""
    assert made._program is not None
    made._program.window.close()


def test_a_missing_collection_is_made_in_the_default_place(qapp: QApplication, where: app.Folders,
                                                           clock: SteppedClock) -> None:
    made = opening(qapp, where, clock, create=True)
    assert made._program is not None
    assert made._program.window.isVisible()
    assert (where.collection / "collection.db").exists()
    assert holder.told(where.collection)[0].startswith("the window (process ")
    closed(made)


def test_a_named_folder_without_one_asks_first(qapp: QApplication, where: app.Folders, clock: SteppedClock) -> None:
    made = opening(qapp, where, clock)
    assert made._program is None
    assert made._trouble is not None
    assert "No collection here" in words_of(made._trouble)
    pressed(made._trouble, "Begin a new collection here")
    assert made._program is not None
    assert not made._trouble.isVisible()
    closed(made)


def test_a_damaged_collection_is_put_back_from_its_backup(qapp: QApplication, where: app.Folders,
                                                          clock: SteppedClock) -> None:
    store = open_store(where.collection, create=True)
    desk = Desk(store, clock.now)
    furnish(desk)
    desk.run(photos.add, 101, picture(where.collection / "a.png"))
    backup.make(store, clock.now())
    for place in ("photos", "backups/photos"):
        (lost,) = (path for path in (where.collection / place).rglob("*") if path.is_file())
        lost.unlink()
    store.close()
    database = where.collection / "collection.db"
    data = bytearray(database.read_bytes())
    data[4096:20_000] = b"\xff" * (20_000 - 4096)
    database.write_bytes(data)
    clock.advance(60)
    made = opening(qapp, where, clock)
    assert made._trouble is not None
    assert "damaged" in words_of(made._trouble)
    pressed(made._trouble, "Restore that backup")
    assert made._program is not None
    assert order(made._program.desk)[0] == [101, 102, 103, 104]
    assert "plant 101: a.png" in words_of(made._program.window), "the photo that did not come back"
    closed(made)


def test_a_demo_copy_that_is_gone_is_told_and_the_program_can_be_ended(qapp: QApplication, where: app.Folders,
                                                                       clock: SteppedClock) -> None:
    made = opening(qapp, where, clock, create=True)
    made._on_demo_ready(where.collection.parent / "gone")
    assert made._program is None
    assert made._trouble is not None
    assert "No collection here" in words_of(made._trouble)
    assert qapp.quitOnLastWindowClosed()
    made._trouble.close()


def test_a_collection_held_elsewhere_says_so(qapp: QApplication, where: app.Folders, clock: SteppedClock,
                                             qtbot: QtBot) -> None:
    other = open_store(where.collection, create=True, who=holder.WINDOW)
    made = opening(qapp, where, clock)
    assert made._trouble is not None
    assert "Another copy holds this collection" in words_of(made._trouble)
    assert "Use that window, or close it, then try again." in words_of(made._trouble)
    assert not made._trouble.remedy_button.isVisible()
    pressed(made._trouble, "Close")
    other.close()


def test_the_look_is_followed_and_window_and_density_are_kept(qapp: QApplication, where: app.Folders,
                                                              clock: SteppedClock) -> None:
    made = opening(qapp, where, clock, "dark", create=True)
    assert made._program is not None
    assert made._colours.dark
    made._program.house.window_rows.controls["look"].put("light")
    pressed(made._program.house, "Keep")
    assert not made._colours.dark
    made._program.collection.toolbar.dense_button.click()
    made._program.window.resize(1200, 700)
    closed(made)
    kept = window_settings.read(where.settings / "window.toml")
    assert (kept.look, kept.dense, kept.width, kept.height) == ("light", True, 1200, 700)


def test_a_later_start_brings_the_window_forward(qapp: QApplication, where: app.Folders, clock: SteppedClock) -> None:
    made = opening(qapp, where, clock, create=True)
    assert made._program is not None
    made._program.window.showMinimized()
    made._on_called()
    assert not made._program.window.isMinimized()
    closed(made)


def test_arguments_name_store_and_instant_and_an_instant_needs_its_zone(capsys: pytest.CaptureFixture[str]) -> None:
    given = __main__.arguments(["--store", "here", "--now", "2026-11-25T17:00:00+00:00", "due", "--json"])
    assert (given.store, given.verb, given.rest) == (Path("here"), "due", ["--json"])
    assert given.now.utcoffset().total_seconds() == 0
    with pytest.raises(SystemExit):
        __main__.arguments(["--now", "2026-11-25T17:00:00"])
    assert "time zone" in capsys.readouterr().err


def test_every_doubt_about_its_folder_is_told(qapp: QApplication, where: app.Folders, clock: SteppedClock,
                                              monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(backup, "warnings_for", lambda _folder: ("It lies on the network.", "It is copied about."))
    made = opening(qapp, where, clock, create=True)
    assert made._program is not None
    told = words_of(made._program.window.messages)
    assert "It lies on the network." in told
    assert "It is copied about." in told
    closed(made)


def test_one_that_cannot_be_written_is_opened_for_reading(qapp: QApplication, clock: SteppedClock) -> None:
    with public_folder() as folder:
        store = open_store(folder, create=True)
        furnish(Desk(store, clock.now))
        store.close()
        shut(folder)
        with unprivileged():
            beside = (folder.parent / name for name in ("settings", "log", "cache"))
            made = opening(qapp, app.Folders(folder, *beside), clock)
        program = made._program
        assert program is not None
        told = words_of(program.window.messages)
        assert "This collection is open for reading only" in told
        assert f"{folder / 'collection.db'} is read-only" in told
        assert "give yourself the right to write there" in told
        program.window.messages.hide()
        program.collection.open_drawer(101)
        assert not program.signals.attempt(lambda: program.desk.run(collection.add_plant, NewPlant("Vanda")))
        assert "The collection cannot be written" in words_of(program.window.messages)
        program.tick(clock.now() + timedelta(hours=1))
        clock.advance(3600)
        program.tick(clock.now())
        assert not list((folder / "backups").iterdir())
        assert order(program.desk)[0] == [101, 102, 103, 104]
        closed(made)
        assert not (folder / holder.NOTE).exists()
        opened(folder)
