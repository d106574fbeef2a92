"""A button that has the keyboard is pressed by Enter and by Space, in a page as in a dialog."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk.ui.messages import button

KEYS = (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space)


@pytest.mark.parametrize("key", KEYS)
def test_a_focused_button_of_a_page_is_pressed_by_key(key: Qt.Key, qtbot: QtBot) -> None:
    page, pressed = QWidget(), []
    made = button("Begin")
    made.clicked.connect(lambda: pressed.append(key))
    QVBoxLayout(page).addWidget(made)
    qtbot.addWidget(page)
    with qtbot.waitExposed(page):
        page.show()
    made.setFocus()
    QTest.keyClick(made, key)
    assert pressed == [key]


def test_a_held_enter_does_not_press_again(qtbot: QtBot) -> None:
    pressed: list[bool] = []
    made = button("Begin")
    made.clicked.connect(pressed.append)
    qtbot.addWidget(made)
    QApplication.sendEvent(made, QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_Return, Qt.KeyboardModifier.NoModifier,
                                           "", True))
    assert pressed == []


def test_enter_on_a_dialog_s_other_button_presses_that_one(qtbot: QtBot) -> None:
    dialog, pressed = QDialog(), []
    column = QVBoxLayout(dialog)
    for word in ("Save", "Cancel"):
        made = button(word)
        made.setDefault(word == "Save")
        made.clicked.connect(lambda _on=False, word=word: pressed.append(word))
        column.addWidget(made)
    qtbot.addWidget(dialog)
    with qtbot.waitExposed(dialog):
        dialog.show()
    made.setFocus()
    QTest.keyClick(made, Qt.Key.Key_Return)
    assert pressed == ["Cancel"]
