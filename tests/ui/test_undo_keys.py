"""Ctrl+Z takes the last deed back unless the field that has the keyboard has typing of its own to take back."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.services import collection
from tests.ui.house import order

CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


@pytest.fixture
def search(running: app.Program, qtbot: QtBot) -> QLineEdit:
    """The search field with the keyboard, after 101 was moved to the sill."""
    place = running.collection.view.benches()[1].place.id
    running.desk.run(collection.move, (101,), place, None)
    field = running.collection.toolbar.search
    running.window.activateWindow()
    field.setFocus()
    qtbot.waitUntil(field.hasFocus, timeout=5_000)
    return field


def test_an_empty_field_leaves_undo_and_redo_to_the_deeds(running: app.Program, search: QLineEdit) -> None:
    QTest.keyClick(search, Qt.Key.Key_Z, CTRL)
    assert order(running.desk)[1] == [105]
    QTest.keyClick(search, Qt.Key.Key_Z, CTRL | SHIFT)
    assert order(running.desk)[1] == [105, 101]


def test_a_field_emptied_by_escape_leaves_undo_to_the_deeds(running: app.Program, search: QLineEdit,
                                                            qtbot: QtBot) -> None:
    QTest.keyClicks(search, "105")
    QTest.keyClick(search, Qt.Key.Key_Escape)
    search.setFocus()
    qtbot.waitUntil(search.hasFocus, timeout=5_000)
    QTest.keyClick(search, Qt.Key.Key_Z, CTRL)
    assert search.text() == ""
    assert order(running.desk)[1] == [105]


def test_typing_is_taken_back_before_any_deed(running: app.Program, search: QLineEdit) -> None:
    QTest.keyClicks(search, "sill")
    QTest.keyClick(search, Qt.Key.Key_Z, CTRL)
    assert search.text() == ""
    assert order(running.desk)[1] == [105, 101]
    QTest.keyClick(search, Qt.Key.Key_Z, CTRL)
    assert order(running.desk)[1] == [105]


def test_a_number_field_of_the_house_leaves_undo_to_the_deeds(running: app.Program, search: QLineEdit,
                                                              qtbot: QtBot) -> None:
    running.window.show_titled("House")
    field = running.house.rules.controls["plain_water_days"].widget
    field.setFocus()
    qtbot.waitUntil(field.hasFocus, timeout=5_000)
    QTest.keyClick(field, Qt.Key.Key_Z, CTRL)
    assert order(running.desk)[1] == [105]
