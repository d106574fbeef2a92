"""The bell's banner: what a grower reads and presses when care falls due."""

from __future__ import annotations

from datetime import UTC
from zoneinfo import ZoneInfo

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QPushButton
from pytestqt.qtbot import QtBot

from greenhouse_desk.ui.bell_banner import SHOWN, BellBanner
from tests.ui.test_bell import after, care

BERLIN = ZoneInfo("Europe/Berlin")


@pytest.fixture
def banner(qtbot: QtBot) -> BellBanner:
    made = BellBanner()
    qtbot.addWidget(made)
    return made


def read(banner: BellBanner) -> str:
    return "\n".join(part.text() for part in banner.findChildren(QLabel))


def test_it_shows_what_rings_with_its_local_time_and_hides_when_nothing_does(banner: BellBanner) -> None:
    banner.ring((care(after(0)), care(after(60), plant=102)), after(60), BERLIN)
    assert banner.isVisible()
    assert "16:30  101 look into the crown" in read(banner)
    assert "16:31  102" in read(banner)
    banner.ring((), after(60), BERLIN)
    assert not banner.isVisible()


def test_what_fell_due_on_another_day_carries_it(banner: BellBanner) -> None:
    banner.list_quietly((care(after(0)),), after(24 * 3600), BERLIN)
    assert "18 Nov 16:30  101 look into the crown" in read(banner)


def test_a_long_list_is_counted_rather_than_shown(banner: BellBanner) -> None:
    banner.list_quietly(tuple(care(after(0), plant=101 + n) for n in range(SHOWN + 4)), after(60), UTC)
    assert "and 4 more" in read(banner)
    assert "nobody watched" in read(banner)


def test_one_press_quiets_it(qtbot: QtBot, banner: BellBanner) -> None:
    banner.ring((care(after(0)),), after(60), UTC)
    with qtbot.waitSignal(banner.dismissed):
        QTest.mouseClick(banner.findChildren(QPushButton)[0], Qt.MouseButton.LeftButton)
    assert not banner.isVisible()


def test_those_who_hear_the_screen_hear_what_rings(banner: BellBanner) -> None:
    banner.ring((care(after(0)),), after(60), UTC)
    assert "101 look into the crown" in banner.accessibleName()


def test_care_owed_on_a_day_shows_its_day_and_no_hour(banner: BellBanner) -> None:
    banner.ring((care(after(0).date()),), after(60), UTC)
    assert "Wed 18 Nov  101 look into the crown" in read(banner)
