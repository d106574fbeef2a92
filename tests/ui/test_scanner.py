"""A scanner's typing brings up the plant, wherever it is typed; a hand's typing always arrives, in its order."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication, QKeySequence, QShortcut
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.ui.scanner import GAP_MS
from tests.ui.house import words_of

BUSY_MS = 20_000
"""So far apart keys may come where other work keeps the machine busy."""


@pytest.fixture
def patient(running: app.Program) -> None:
    """No key of a scanner's comes too late, however slow the machine."""
    running.scanner.wait(BUSY_MS)


def scan(widget: QWidget, text: str, end: Qt.Key | None = Qt.Key.Key_Return) -> None:
    """Type as a scanner does: into the window that has the keyboard, without a pause."""
    window = widget.window().windowHandle()
    for letter in text:
        QTest.keyClick(window, letter)  # type: ignore[call-overload]  # a letter keeps its case; stubs ask a key
    if end is not None:
        QTest.keyClick(window, end)


def front(running: app.Program, title: str, qtbot: QtBot) -> None:
    """Bring a screen to the front and give the window the keyboard."""
    running.window.show_titled(title)
    running.window.activateWindow()
    qtbot.waitUntil(running.window.isActiveWindow)
    qtbot.waitUntil(lambda: QGuiApplication.focusWindow() is running.window.windowHandle())


@pytest.fixture
def field(running: app.Program, qtbot: QtBot) -> QLineEdit:
    """A field that has the keyboard: that of the Labels screen."""
    front(running, "Labels", qtbot)
    line = running.labels.choosing.typed
    line.setFocus()
    qtbot.waitUntil(line.hasFocus)
    return line


@pytest.mark.usefixtures("patient")
@pytest.mark.parametrize("title", ["Collection", "Labels", "Quarantine", "House"])
def test_on_any_screen_the_plant_comes_up(running: app.Program, title: str, qtbot: QtBot) -> None:
    front(running, title, qtbot)
    scan(running.window, "PLANT 104")
    assert running.window.current_title() == "Collection"
    assert running.collection.drawer_open()
    assert running.collection.view.numbers() == (104,), "its card is chosen and in sight"
    assert "104" in running.collection.drawer.accessibleName() + words_of(running.collection.drawer)


@pytest.mark.usefixtures("patient")
@pytest.mark.parametrize("text", ["plant 102", "PLANT 102"])
def test_in_a_field_nothing_of_a_code_is_left(running: app.Program, field: QLineEdit, text: str) -> None:
    field.setText("10")
    scan(field, text)
    assert field.text() == "10"
    assert running.window.current_title() == "Collection"


@pytest.mark.usefixtures("patient")
def test_a_plant_nobody_has_is_said(running: app.Program, field: QLineEdit) -> None:
    scan(field, "PLANT 999")
    assert running.window.current_title() == "Labels"
    assert "There is no plant 999" in words_of(running.window.messages)


@pytest.mark.parametrize("text", ["Phalaenopsis", "PLAN", "PLANT", "planting", "PPLANT x", "PLANT 12 34", "101",
                                  "PLANT 1234567", "plaster", "P"])
def test_other_typing_arrives_whole_and_in_order(field: QLineEdit, qtbot: QtBot, text: str) -> None:
    scan(field, text, end=None)
    qtbot.waitUntil(lambda: field.text() == text, timeout=20 * GAP_MS)


def test_a_code_typed_by_hand_is_text(running: app.Program, field: QLineEdit, qtbot: QtBot) -> None:
    """After a pause before Enter the letters are there, and Enter is Enter."""
    heard: list[bool] = []
    field.returnPressed.connect(lambda: heard.append(True))
    scan(field, "PLANT 104", end=None)
    qtbot.waitUntil(lambda: field.text() == "PLANT 104", timeout=20 * GAP_MS)
    QTest.keyClick(field.window().windowHandle(), Qt.Key.Key_Return)
    assert heard == [True]
    assert running.window.current_title() == "Labels"


@pytest.mark.usefixtures("patient")
def test_no_letter_of_a_code_is_a_shortcut(running: app.Program, qtbot: QtBot) -> None:
    """A round of looks hears single letters; those of a scanned code it does not hear."""
    heard: list[str] = []
    for letter in "LN4":
        QShortcut(QKeySequence(letter), running.window, lambda letter=letter: heard.append(letter))
    front(running, "Quarantine", qtbot)
    scan(running.window, "plant 104")
    assert heard == []
    scan(running.window, "l", end=None)
    assert heard == ["L"]


def test_a_closed_program_looks_at_no_keys(running: app.Program, field: QLineEdit) -> None:
    running.scanner.close()
    scan(field, "PLANT 104")
    assert field.text() == "PLANT 104"
