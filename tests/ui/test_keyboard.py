"""The keyboard stays where work goes on: on the screen called up by its key, in a form on the field that is wrong."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from greenhouse_desk import app
from tests.ui.house import form, words_of

K = Qt.Key
CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.mark.parametrize("number", range(1, 10))
def test_the_key_of_a_screen_takes_the_keyboard_along(running: app.Program, number: int) -> None:
    window = running.window
    window.activateWindow()
    window.navigation.read_button.setFocus()
    QTest.keyClick(window, Qt.Key(K.Key_0 + number), CTRL)
    page = window._screens[number - 1].widget
    at = QApplication.focusWidget()
    assert at is not None
    assert page.isAncestorOf(at), (at, at.accessibleName())
    assert at.isVisible()
    other = 1 if number != 1 else 2
    QTest.keyClick(window, Qt.Key(K.Key_0 + other), CTRL)
    QTest.keyClick(window, Qt.Key(K.Key_0 + number), CTRL)
    again = QApplication.focusWidget()
    assert again is not None
    assert page.isAncestorOf(again)


def test_a_name_left_empty_has_the_keyboard_again(running: app.Program) -> None:
    running.collection.deeds.add(0)
    shown = form()
    shown.set("name", " ")
    shown.accept_button.setFocus()
    QTest.mouseClick(shown.accept_button, Qt.MouseButton.LeftButton)
    assert "The name is empty." in words_of(shown)
    assert shown.focusWidget() is shown.rows.controls["name"].focus
    shown.reject()
