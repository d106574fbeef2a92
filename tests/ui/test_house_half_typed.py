"""What is half typed on the House page: it stays when the page is read anew, and is said not to be kept."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.plants import Home
from greenhouse_desk.services import collection, house
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui import style
from greenhouse_desk.ui.house.screen import HouseScreen
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.window_settings import WindowSettings
from tests.ui.house import pressed, words_of

KEPT = Home(51.5, 0.0, "Europe/London")


@pytest.fixture
def screen(desk: Desk, qtbot: QtBot) -> Iterator[HouseScreen]:
    """The page of a house whose home is set; it reads itself anew after every deed, as in the window."""
    desk.run(house.save_home, KEPT)
    signals = Signals()
    desk.listeners.append(signals.changed.emit)
    made = HouseScreen(desk, signals, WindowSettings(), style.palette(False))
    signals.changed.connect(lambda *_: made.show_now())
    qtbot.addWidget(made)
    made.show_now()
    made.show()
    yield made
    made.close_tasks()


def another_deed(desk: Desk) -> None:
    """Something else is done, here or in another window."""
    desk.run(collection.add_plant, NewPlant("Cattleya walkeriana"))


def test_a_place_half_typed_stays_through_another_deed_and_is_said_not_to_be_kept(
        screen: HouseScreen, desk: Desk) -> None:
    assert "Not kept" not in words_of(screen)
    zone = screen.home.controls["zone"].widget
    assert isinstance(zone, QLineEdit)
    zone.setFocus()
    zone.clear()
    QTest.keyClicks(zone, "Europe/Vi")
    zone.setCursorPosition(3)
    screen.home.controls["latitude"].put(48.2)
    another_deed(desk)
    assert zone.text() == "Europe/Vi"
    assert zone.cursorPosition() == 3, "typing goes on where it was"
    told = "Not kept yet: Latitude 48.2 degrees (kept: 51.5 degrees); Time zone Europe/Vi (kept: Europe/London)."
    assert told in words_of(screen)
    pressed(screen, "Back to what is kept")
    assert "Not kept" not in words_of(screen)
    assert screen.home.values() == {"latitude": 51.5, "longitude": 0.0, "zone": "Europe/London"}


def test_what_is_typed_and_kept_is_no_longer_called_open(screen: HouseScreen, desk: Desk) -> None:
    screen.home.controls["zone"].put(" Europe/Vienna ")
    pressed(screen, "Keep this place")
    assert desk.read(house.home).zone == "Europe/Vienna"
    assert "Not kept" not in words_of(screen)


def test_a_field_not_touched_follows_what_is_kept_elsewhere(screen: HouseScreen, desk: Desk) -> None:
    screen.home.controls["latitude"].put(48.2)
    desk.run(house.save_home, Home(10.0, 20.0, "Asia/Singapore"))
    assert screen.home.values() == {"latitude": 48.2, "longitude": 20.0, "zone": "Asia/Singapore"}
    assert "Latitude 48.2 degrees (kept: 10 degrees)." in words_of(screen)


def test_look_and_text_size_chosen_and_not_kept_stay_and_are_said(screen: HouseScreen, desk: Desk) -> None:
    screen.window_rows.controls["look"].put("dark")
    screen.window_rows.controls["text_percent"].put(150)
    another_deed(desk)
    assert screen.window_rows.values() == {"look": "dark", "text_percent": 150}
    assert "Not kept yet: Light or dark: dark (kept: system); Text size: 150 % (kept: 100 %)." in words_of(screen)
    pressed(screen, "Keep")
    assert "Not kept" not in words_of(screen)


def test_leaving_says_what_stands_there_not_kept_and_keeps_it_open(screen: HouseScreen, desk: Desk) -> None:
    notes: list[str] = []
    screen._signals.noted.connect(notes.append)
    screen.leave()
    assert notes == []
    screen.home.controls["latitude"].put(48.2)
    screen.leave()
    assert notes == ["Not kept yet on House: Latitude 48.2 degrees (kept: 51.5 degrees)."]
    assert desk.read(house.home) == KEPT
    screen.show_now()
    assert screen.home.values()["latitude"] == 48.2
