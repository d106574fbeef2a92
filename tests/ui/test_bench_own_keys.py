"""Keys of the grower's own: bound by pressing them, drawn on the caps, doing a session's work by real key events."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton, QWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk.domain.bench import Key
from greenhouse_desk.domain.journal import Note
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui.bench.binding import BindingDialog
from greenhouse_desk.ui.bench.keymap import KeyMap
from tests.ui.bench_hands import Bench
from tests.ui.house import words_of

K = Qt.Key
OWN = {Key.NEXT: K.Key_J, Key.SOAK: K.Key_K, Key.BACK: K.Key_F9, Key.NOTE: K.Key_L, Key.UNDO: K.Key_Z}


@pytest.fixture
def dialog(qtbot: QtBot) -> Iterator[BindingDialog]:
    parent = QWidget()
    qtbot.addWidget(parent)
    made = BindingDialog(KeyMap(), parent)
    made.show()
    yield made
    made.reject()


@pytest.fixture
def own() -> KeyMap:
    keys = KeyMap()
    for deed, key in OWN.items():
        keys = keys.bound(deed, key)
    return keys


@pytest.fixture
def bench(desk: Desk, clock: SteppedClock, own: KeyMap, qtbot: QtBot) -> Iterator[Bench]:
    made = Bench(desk, clock)
    made.mode.close()
    made.closed.clear()
    made.mode = made.open(own)
    yield made
    made.close()


def bind(dialog: BindingDialog, deed: Key, key: Qt.Key) -> None:
    """Press the button of a deed, then the key."""
    QTest.mouseClick(dialog.buttons[deed], Qt.MouseButton.LeftButton)
    QTest.keyClick(dialog, key)


def test_keys_are_bound_by_pressing_them(dialog: BindingDialog) -> None:
    for deed, key in OWN.items():
        bind(dialog, deed, key)
    assert {deed: dialog.keys.cap(deed) for deed in OWN} == {
        Key.NEXT: "J", Key.SOAK: "K", Key.BACK: "F9", Key.NOTE: "L", Key.UNDO: "Z"}
    assert dialog.buttons[Key.NEXT].text() == "J, Space, Page Down", "the key it had goes on working"
    keep = next(made for made in dialog.findChildren(QPushButton) if made.text() == "Keep")
    assert keep.isEnabled()


@pytest.mark.parametrize("key", [K.Key_Shift, K.Key_Control, K.Key_AltGr, K.Key_CapsLock, K.Key_Dead_Acute])
def test_a_key_that_goes_with_others_is_refused_in_words(dialog: BindingDialog, key: Qt.Key) -> None:
    QTest.mouseClick(dialog.buttons[Key.NEXT], Qt.MouseButton.LeftButton)
    press, none = QKeyEvent.Type.KeyPress, Qt.KeyboardModifier.NoModifier  # Qt's tester knows no such keys
    QApplication.sendEvent(dialog, QKeyEvent(press, key, none))
    assert dialog.keys.cap(Key.NEXT) == "Space"
    assert "That key cannot be bound." in words_of(dialog)


def test_own_keys_are_drawn_on_the_caps_and_do_their_deeds(bench: Bench) -> None:
    caps = {key: view.face.cap for key, view in bench.mode.face.keys.items()}
    assert caps == {Key.NEXT: "J", Key.SOAK: "K", Key.BACK: "F9", Key.NOTE: "L", Key.UNDO: "Z"}
    first = bench.says
    bench.key(K.Key_J)
    second = bench.says
    assert second != first
    bench.key(K.Key_Z)
    assert bench.says == first, "taken back"
    bench.key(K.Key_Space)
    assert bench.says == second, "the usual keys go on working"


def test_a_note_takes_the_letters_that_are_bound_and_says_which_key_turns_to_phrases(bench: Bench) -> None:
    bench.key(K.Key_L)
    assert bench.mode.face.keys[Key.NEXT].face.cap == "Space"
    QTest.keyClicks(bench.mode, "jolly Zoo")
    assert bench.mode.face.keys[Key.NEXT].face.cap == "Enter"
    bench.key(K.Key_Return)
    assert [facts.text for facts in bench.facts(Note) if isinstance(facts, Note)][-1] == "jolly Zoo"


def test_what_is_asked_a_second_time_names_the_own_key(bench: Bench) -> None:
    bench.until(lambda: bool(bench.mode.board.cells))
    bench.key(K.Key_K)
    assert "Press K again to end it early" in bench.below
