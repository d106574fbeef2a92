"""The House screen: every rule by its own metadata, the home's place, backups, look and text size."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QApplication, QLabel, QSpinBox, QWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.settings import RULES, TOPICS, HouseRules
from greenhouse_desk.services import backup, house
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui import style
from greenhouse_desk.ui.house.screen import HouseScreen
from greenhouse_desk.ui.main_window import MainWindow, Screen
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.window_settings import WindowSettings
from tests.ui.house import pressed, words_of


class Other(QWidget):
    """Another screen to go to."""

    def show_now(self) -> None:
        """Nothing to read."""


@pytest.fixture
def signals(desk: Desk) -> Signals:
    """Connected to the desk."""
    made = Signals()
    desk.listeners.append(made.changed.emit)
    return made


@pytest.fixture
def screen(desk: Desk, signals: Signals, qtbot: QtBot) -> Iterator[HouseScreen]:
    """The screen, read."""
    made = HouseScreen(desk, signals, WindowSettings(), style.palette(False))
    qtbot.addWidget(made)
    made.show_now()
    made.show()
    yield made
    made.close_tasks()


def test_every_rule_stands_with_label_help_range_and_source(screen: HouseScreen) -> None:
    told = words_of(screen)
    for rule in fields(HouseRules):
        assert rule.metadata["label"] in told
        assert rule.metadata["help"] in told
        span = "on or off" if rule.type == "bool" else f"{rule.metadata['low']:g} to {rule.metadata['high']:g}"
        assert f"{rule.metadata['source']}; {span}" in told
        control = screen.rules.controls[rule.name].widget
        assert rule.metadata["unit"] in control.accessibleName()


def test_rules_stand_under_headings_of_their_topics_in_order(screen: HouseScreen) -> None:
    """Forty figures in one row are a wall: the first thing above a rule in the serif face says what it is about."""
    texts = [made.text() for made in screen.rules.findChildren(QLabel)]
    under = {}
    for name, field in RULES.items():
        above = texts[: texts.index(field.metadata["label"])]
        under[name] = next(words for words in reversed(above) if words in TOPICS.values())
    assert set(TOPICS) <= set(RULES)
    assert list(dict.fromkeys(under.values())) == list(TOPICS.values())
    assert under["ahead_days"] == TOPICS["day_ends_at_hour"]
    assert under["wet_night_hours"] == "Wet crowns and air"
    assert under["masked_days"] == "Standing apart, looks and contacts"


def test_on_a_wide_screen_a_figure_stays_near_its_words(screen: HouseScreen, qtbot: QtBot) -> None:
    box = screen.rules.controls["plain_water_days"].widget
    screen.resize(2400, 1300)
    qtbot.waitUntil(lambda: screen.bound.width() > 1000 and box.mapTo(screen, QPoint()).x() < 800)
    screen.resize(900, 700)
    qtbot.waitUntil(lambda: screen.bound.width() < 900)


def test_a_wide_window_gives_the_years_a_column_of_their_own_and_a_narrower_one_takes_it_back(
        screen: HouseScreen, qtbot: QtBot) -> None:
    years, backups = screen.years.frame, screen.backups.frame

    def left(of: QWidget) -> int:
        return of.mapTo(screen, QPoint()).x()

    for width, apart in ((2400, True), (1366, False), (2400, True)):
        screen.resize(width, 1300)
        qtbot.wait(1)
        assert (left(years) >= left(backups) + backups.width()) is apart
        assert (left(years) == left(backups)) is not apart
        assert years.height() < 1300
        assert years.isVisible()


def test_a_rule_is_kept_and_cannot_leave_its_range(screen: HouseScreen, desk: Desk) -> None:
    box = screen.rules.controls["plain_water_days"].widget
    assert isinstance(box, QSpinBox)
    box.setValue(10)
    pressed(screen, "Keep these rules")
    assert desk.read(house.rules).plain_water_days == 10
    box.setValue(5_000)
    assert box.value() == 60
    pressed(screen, "Back to what is kept")
    assert box.value() == 10


def test_a_changed_rule_says_it_is_not_kept_where_keep_stands_in_sight(screen: HouseScreen, desk: Desk) -> None:
    """Also where the page was read anew meanwhile, as after any other deed."""
    screen.resize(1366, 768)
    assert "Not kept" not in words_of(screen)
    screen.rules.controls["plain_water_days"].put(20)
    told = "Not kept yet: Plain water after a root disinfection 20 days (kept: 14 days)."
    assert told in words_of(screen)
    assert top_of(screen.unkept.keep, screen) + screen.unkept.keep.height() <= 768, "without scrolling"
    screen.show_now()
    assert told in words_of(screen)
    pressed(screen, "Keep these rules")
    screen.show_now()
    assert "Not kept" not in words_of(screen)
    assert desk.read(house.rules).plain_water_days == 20


def test_what_is_changed_when_the_page_is_left_counts_and_is_said(
        screen: HouseScreen, desk: Desk, signals: Signals) -> None:
    notes: list[str] = []
    signals.noted.connect(notes.append)
    window = MainWindow(desk, signals, [Screen("House", screen, leave=screen.leave), Screen("Other", Other())],
                        style.palette(False))
    window.show_screen(1)
    assert notes == [], "nothing changed, nothing said"
    window.show_screen(0)
    screen.rules.controls["plain_water_days"].put(20)
    window.show_screen(0)
    assert desk.read(house.rules).plain_water_days == 14, "it is not left"
    window.show_screen(1)
    assert notes == ["Kept as you left House: Plain water after a root disinfection 20 days (before: 14 days). "
                     "Undo takes it back."]
    assert window.messages.isVisibleTo(window)
    assert desk.read(house.rules).plain_water_days == 20
    desk.undo()
    window.show_screen(0)
    screen.rules.controls["plain_water_days"].put(21)
    window.close()
    assert desk.read(house.rules).plain_water_days == 21, "closing the window leaves it too"


def test_the_home_is_set_and_a_zone_that_is_none_refused(screen: HouseScreen, desk: Desk, signals: Signals) -> None:
    told: list[object] = []
    signals.refused.connect(told.append)
    screen.resize(1366, 768)
    assert "Dusk is computed for 51.48 degrees north, 0 east and the clock of Europe/London" in words_of(screen)
    assert top_of(screen.home, screen) < top_of(screen.rules, screen), "the form stands on top, beside the word"
    screen.home.controls["latitude"].put(48.2)
    screen.home.controls["longitude"].put(16.4)
    screen.home.controls["zone"].put("Europe/Nowhere")
    pressed(screen, "Keep this place")
    assert len(told) == 1
    assert not desk.read(house.home_is_set)
    screen.home.controls["zone"].put("Europe/Vienna")
    pressed(screen, "Keep this place")
    assert desk.read(house.home).zone == "Europe/Vienna"
    screen.show_now()
    assert "which nobody has set" not in words_of(screen)
    assert abs(top_of(screen.home, screen) - top_of(screen.rules, screen)) < 60, "beside the rules again"


def top_of(part: QWidget, screen: HouseScreen) -> int:
    """Where a part begins, in pixels from the screen's top."""
    for _ in range(3):  # a layout in a layout in a layout
        QApplication.processEvents()
    return part.mapTo(screen, QPoint(0, 0)).y()


def test_a_backup_is_made_and_listed(screen: HouseScreen, desk: Desk, signals: Signals, qtbot: QtBot) -> None:
    assert "No backup yet. One is made by itself" in words_of(screen)
    with qtbot.waitSignal(signals.noted, timeout=20_000) as said:
        pressed(screen, "Back up now")
    assert said.args == ["Backed up."]
    assert len(backup.list(desk.store.folder)) == 1
    qtbot.waitUntil(lambda: "Wed 18 Nov 2026, 15:30" in words_of(screen), timeout=5_000)
    assert "No backup yet." not in words_of(screen)
    assert screen.backups.button.isEnabled()


@pytest.mark.parametrize("error", [Refused("The disk is full", "No room."), OSError("gone")])
def test_a_backup_that_fails_is_said_and_can_be_tried_again(
        error: Exception, screen: HouseScreen, signals: Signals, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    def complete(*_args: object) -> None:
        raise error

    monkeypatch.setattr(backup, "complete", complete)
    with qtbot.waitSignal(signals.refused, timeout=20_000) as said:
        pressed(screen, "Back up now")
    assert said.args is not None
    assert str(error) in str(said.args[0])
    assert screen.backups.button.isEnabled()


def test_look_and_text_size_are_told_on(screen: HouseScreen, signals: Signals, qtbot: QtBot) -> None:
    notes: list[str] = []
    signals.noted.connect(notes.append)
    screen.window_rows.controls["look"].put("dark")
    screen.window_rows.controls["text_percent"].put(200)
    with qtbot.waitSignal(screen.window_changed) as told:
        pressed(screen, "Keep")
    assert told.args == [WindowSettings("dark", 200)]
    assert "next start" in notes[0]
