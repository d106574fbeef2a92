"""Binding the five deeds to other keys or a foot pedal: press the button of a deed, then the key or pedal."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QDialog, QGridLayout, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from greenhouse_desk.domain.bench import Key
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.ui.bench.keymap import KeyMap, name_of
from greenhouse_desk.ui.messages import button, heading, label

DEEDS = {Key.NEXT: "Next: done, go on", Key.SOAK: "Soak: start or end it", Key.BACK: "Back: one step",
         Key.NOTE: "Note", Key.UNDO: "Undo the last press"}


class BindingDialog(QDialog):
    """`keys` is the map as bound so far; accepted when it should be kept."""

    def __init__(self, keys: KeyMap, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Keys and pedal")
        self.keys = keys
        self._waiting: Key | None = None
        self.buttons: dict[Key, QPushButton] = {}
        grid = QGridLayout()
        grid.setHorizontalSpacing(16)
        grid.setVerticalSpacing(8)
        for row, (deed, words) in enumerate(DEEDS.items()):
            bind = button("")
            bind.setMinimumWidth(220)
            bind.clicked.connect(partial(self._on_wanted, deed))
            self.buttons[deed] = bind
            grid.addWidget(label(words, px=15, wrap=False), row, 0)
            grid.addWidget(bind, row, 1)
        self.said = label("Press a button, then the key or pedal. A foot pedal is a keyboard: most send Page Down and "
                          "Page Up, which are bound already.", "second")
        keep, drop = button("Keep", "main"), button("Cancel")
        keep.clicked.connect(self.accept)
        drop.clicked.connect(self.reject)
        foot = QHBoxLayout()
        foot.addStretch(1)
        foot.addWidget(drop)
        foot.addWidget(keep)
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 20, 24, 20)
        column.setSpacing(14)
        column.addWidget(heading("Keys and pedal", 23))
        column.addWidget(self.said)
        column.addLayout(grid)
        column.addLayout(foot)
        self.setMinimumWidth(480)
        self._show()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if self._waiting is None or event.isAutoRepeat():
            super().keyPressEvent(event)
            return
        if event.key() != Qt.Key.Key_Escape:
            self._bind(self._waiting, Qt.Key(event.key()))
        self._waiting = None
        self.releaseKeyboard()
        self._show()

    def _bind(self, deed: Key, key: Qt.Key) -> None:
        try:
            self.keys = self.keys.bound(deed, key)
        except Refused as refusal:
            self.said.setText(f"{refusal.title}. {refusal.detail} {refusal.next_step}")

    def _on_wanted(self, deed: Key) -> None:
        self._waiting = deed
        self._show()
        self.grabKeyboard()

    def _show(self) -> None:
        for deed, bind in self.buttons.items():
            words = "press the key now; Esc leaves it" if deed is self._waiting else ", ".join(
                name_of(key) for key in self.keys.bindings[deed])
            bind.setText(words)
            bind.setAccessibleName(f"{DEEDS[deed]}: {words}")
