"""The window: screens in turn, undo and redo by label, the day, messages, a second start, trouble told calmly."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import NamedTuple
from unittest.mock import MagicMock, call
from zoneinfo import ZoneInfo

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.domain.plants import Home
from greenhouse_desk.services import collection
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.shelf import Shelves
from greenhouse_desk.store.engine import Store
from greenhouse_desk.ui import first_copy, style, window_settings
from greenhouse_desk.ui.daypanel import day_at
from greenhouse_desk.ui.first_copy import FirstCopy
from greenhouse_desk.ui.main_window import MainWindow, Screen
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.window_settings import WindowSettings
from tests.builders import NOW
from tests.ui.house import furnish, order, pressed, shown, wet, words_of

CTRL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
LONDON = ZoneInfo("Europe/London")


class Waiting(NamedTuple):
    """A deed that can be taken back."""

    at: datetime
    label: str


class Page(QWidget):
    """A screen that counts how often it was read."""

    def __init__(self) -> None:
        super().__init__()
        self.read = 0

    def show_now(self) -> None:
        """Read anew."""
        self.read += 1


@pytest.fixture
def running(store: Store, clock: SteppedClock, qtbot: QtBot) -> Iterator[app.Program]:
    """The whole program on a furnished house."""
    furnish(Desk(store, clock.now))
    clock.advance(60)
    with shown(store, clock, qtbot) as made:
        yield made


def test_a_hidden_screen_reads_only_when_it_is_shown(desk: Desk, qtbot: QtBot) -> None:
    pages, signals = [Page(), Page()], Signals()
    desk.listeners.append(signals.changed.emit)
    window = MainWindow(desk, signals, [Screen("One", pages[0]), Screen("Two", pages[1])], style.palette(False))
    qtbot.addWidget(window)
    assert [page.read for page in pages] == [1, 0]
    furnish(desk)
    assert pages[0].read > 1
    assert pages[1].read == 0
    window.show_screen(1)
    window.show_screen(1)
    assert pages[1].read == 1
    window.show_titled("One")
    assert window.current_title() == "One"


def test_every_screen_comes_by_its_plate_and_by_key(running: app.Program) -> None:
    window = running.window
    for number, title in enumerate(("Collection", "Timeline", "Bench", "Quarantine", "Transitions", "Labels",
                                    "Findings", "Protocols", "House")):
        window.navigation.plates[number].click()
        assert window.current_title() == title
    QTest.keyClick(window, Qt.Key.Key_1, CTRL)
    assert window.current_title() == "Collection"
    assert window.navigation.plates[0].accessibleName() == "Collection, 6"


def test_undo_and_redo_say_what_they_do_and_do_it(running: app.Program) -> None:
    place = running.collection.view.benches()[1].place.id
    running.desk.run(collection.move, (101,), place, None)
    panel = running.window.undo_panel
    assert panel.undo_button.accessibleName() == "Undo: Move 101 to North sill"
    QTest.keyClick(running.window, Qt.Key.Key_Z, CTRL)
    assert order(running.desk)[1] == [105]
    assert panel.redo_button.accessibleName() == "Redo: Move 101 to North sill"
    QTest.keyClick(running.window, Qt.Key.Key_Z, CTRL | SHIFT)
    assert order(running.desk)[1] == [105, 101]
    pressed(panel, "Undo")
    assert order(running.desk)[1] == [105]


def test_a_deed_from_before_this_start_says_when_it_was_done(running: app.Program) -> None:
    assert running.window.undo_panel.undo_button.toolTip() == "Undo: Air at Long bench, done 15:30"


def test_undo_and_redo_with_long_labels_stand_whole_in_a_low_window(running: app.Program) -> None:
    """Both at once in 768 pixels: each line as high as it needs, the whole in the tip."""
    panel, yesterday = running.window.undo_panel, NOW - timedelta(days=1)
    deeds = [Waiting(yesterday, f"{word} the bench session of three plants and tools") for word in ("End", "Begin")]
    for undo, redo in (deeds, (deeds[0], None)):
        panel.show_deeds(undo, redo, NOW, LONDON)
        QApplication.processEvents()
        for told in panel.findChildren(QLabel):
            if told.isVisible():
                assert told.height() >= told.heightForWidth(told.width()), told.text()
    assert "17 Nov 15:30" in panel.undo_button.toolTip()


def test_nothing_to_undo_is_said(desk: Desk, qtbot: QtBot) -> None:
    window = MainWindow(desk, Signals(), [Screen("One", Page())], style.palette(False))
    qtbot.addWidget(window)
    assert not window.undo_panel.undo_button.isEnabled()
    assert window.undo_panel.undo_button.toolTip() == "Nothing to undo"
    window.undo()
    window.redo()


def test_the_day_panel_tells_date_clock_dusk_and_what_is_left(running: app.Program) -> None:
    told = running.window.day.accessibleName()
    assert told.startswith("Wed 18 Nov, 15:31, light 7:")
    assert "dusk 16:" in told
    assert "Roots only: a wet crown would not dry in time" in told, "half an hour before dusk"


def test_after_dusk_only_roots_are_worked_on() -> None:
    home = Home(51.5, 0.0, "Europe/London")
    evening = day_at(NOW + timedelta(hours=3), home, LONDON)
    assert evening.left.startswith("It is dark")
    assert day_at(datetime(2026, 6, 21, 12, tzinfo=UTC), Home(78.2, 15.6, "Arctic/Longyearbyen"), LONDON).left == ""


def test_a_refusal_is_said_calmly_and_goes_with_the_next_deed(running: app.Program) -> None:
    bar = running.window.messages
    assert not running.signals.attempt(lambda: running.desk.run(collection.move, (999,), 1, None))
    assert bar.isVisible()
    assert "There is no plant 999" in words_of(bar)
    assert "Check the number." in bar.accessibleName()
    wet(running.desk, 101)
    assert not bar.isVisible()
    running.signals.noted.emit("Backed up.")
    pressed(bar, "Close")
    assert not bar.isVisible()


@pytest.mark.parametrize(("width", "flat"), [(1366, False), (683, True)])
def test_a_narrow_window_has_its_navigation_on_top(running: app.Program, qtbot: QtBot, width: int, flat: bool) -> None:
    running.window.resize(width, 384)
    navigation = running.window.navigation
    qtbot.waitUntil(lambda: (navigation.width() > 400) is flat, timeout=5_000)
    assert navigation.height() < 90 if flat else navigation.width() == 152
    for plate in navigation.plates:
        assert navigation.rect().contains(plate.geometry())


@pytest.mark.parametrize(("width", "rows"), [(600, 2), (683, 2), (700, 2), (990, 1)])
def test_every_name_of_the_navigation_is_whole_in_a_narrow_window(running: app.Program, qtbot: QtBot, width: int,
                                                                  rows: int) -> None:
    navigation = running.window.navigation
    running.window.resize(1366, 384)
    running.window.resize(width, 384)
    parts = (*navigation.plates, running.window.day, running.window.undo_panel)
    qtbot.waitUntil(lambda: len({plate.y() for plate in navigation.plates}) == rows, timeout=5_000)
    qtbot.waitUntil(lambda: all(part.width() >= part.sizeHint().width() for part in parts), timeout=5_000)
    assert all(plate.height() == 38 for plate in navigation.plates)
    for nth, part in enumerate(parts):
        assert navigation.rect().contains(part.geometry())
        assert not any(part.geometry().intersects(other.geometry()) for other in parts[nth + 1:])
    running.window.resize(1366, 384)
    qtbot.waitUntil(lambda: len({plate.x() for plate in navigation.plates}) == 1, timeout=5_000)


def test_a_second_passes_everywhere(running: app.Program, clock: SteppedClock) -> None:
    wet(running.desk, 101)
    first = running.collection.strip._box._now
    clock.advance(61)
    running.ticker.tick()
    assert running.collection.strip._box._now != first
    assert "15:32" in running.window.day.accessibleName()


def test_care_that_falls_due_rings_on_the_window_until_it_is_heard(running: app.Program, clock: SteppedClock,
                                                                   monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(running.alarm, "ring", lambda _ring, _source: None)
    monkeypatch.setattr("greenhouse_desk.ui.desktop.notify", lambda *_: False)
    wet(running.desk, 101)
    running.ticker.tick()
    for _ in range(60):
        if not running.window.banner.isVisible():
            clock.advance(60)
            running.ticker.tick()
    assert "101" in words_of(running.window.banner)
    pressed(running.window.banner, "Heard")
    assert not running.window.banner.isVisible()


def test_an_alarm_that_cannot_be_heard_is_said_on_the_window(running: app.Program) -> None:
    running.alarm.words_changed.emit("No sound comes out here.")
    assert "No sound comes out here." in words_of(running.window.messages)


def test_a_second_start_brings_the_first_forward(tmp_path: Path, qtbot: QtBot) -> None:
    assert not first_copy.call(tmp_path)
    first = FirstCopy(tmp_path)
    with qtbot.waitSignal(first.called, timeout=5_000):
        assert first_copy.call(tmp_path)
    assert not first_copy.call(tmp_path / "other")
    first.close()


def test_window_settings_are_kept_and_odd_ones_are_not_believed(tmp_path: Path) -> None:
    path = tmp_path / "settings" / "window.toml"
    assert window_settings.read(path) == WindowSettings()
    kept = WindowSettings("dark", 150, True, 1200, 800, True)
    window_settings.write(path, kept)
    assert window_settings.read(path) == kept
    path.write_text('look = "neon"\ntext_percent = 9000\ndense = "yes"\nwidth = 900\n')
    assert window_settings.read(path) == WindowSettings(width=900)
    path.write_bytes(b"\xff\xfe")
    assert window_settings.read(path) == WindowSettings()


@pytest.mark.parametrize(("given", "percent", "kept"), [(None, 100, None), (None, 150, "1.5"), ("1", 200, "1")])
def test_the_text_size_is_a_scale_of_everything_unless_one_is_set_from_outside(
        monkeypatch: pytest.MonkeyPatch, given: str | None, percent: int, kept: str | None) -> None:
    monkeypatch.setenv(window_settings.SCALE_VARIABLE, given or "")
    if given is None:
        monkeypatch.delenv(window_settings.SCALE_VARIABLE)
    window_settings.scale(percent)
    assert os.environ.get(window_settings.SCALE_VARIABLE) == kept


def test_the_look_follows_in_place(qapp: QApplication) -> None:
    before = qapp.styleSheet()
    colours = style.palette(True)
    style.apply(qapp, colours)
    assert colours.named("ink").name() in qapp.styleSheet()
    assert qapp.palette().window().color() == colours.bench
    qapp.setStyleSheet(before)


def test_the_old_style_sheet_goes_before_anything_changes() -> None:
    """Changing it for another took 2.1 s of a core with every screen made, this way 0.5 s."""
    asked = MagicMock(spec=QApplication)
    style.apply(asked, style.palette(True))
    names = [name for name, *_ in asked.method_calls]
    assert asked.method_calls[0] == call.setStyleSheet("")
    assert names[-1] == "setStyleSheet"
    assert names.count("setStyleSheet") == 2


def test_the_program_reads_protocols_again_when_a_grower_s_file_changes(running: app.Program) -> None:
    shelves: Callable[[], object] = Shelves(running.desk.store.folder)
    first = shelves()
    assert shelves() is first
    own = running.desk.store.folder / "protocols"
    own.mkdir(exist_ok=True)
    (own / "mine.toml").write_text("nothing = true")
    assert shelves() is not first
