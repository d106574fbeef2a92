"""Whether plants of a session shared wash water or a tray: one line of numbers and a button for each."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from greenhouse_desk.domain.journal import Sharing
from greenhouse_desk.domain.labels_choice import numbers
from greenhouse_desk.ui.messages import button, label
from greenhouse_desk.ui.signals import Signals

ASKED = "Did plants share something besides the bench? What one of them carries can have reached the others."


class SharedRow(QWidget):
    """Asks what the plants of a session shared; `write` keeps it. Hidden where one was alone."""

    def __init__(self, signals: Signals, write: Callable[[Sharing, Sequence[int]], None]) -> None:
        super().__init__()
        self._signals, self._write = signals, write
        self.plants = QLineEdit()
        self.plants.setAccessibleName("Plants that shared it, by number")
        self.buttons = {how: self._button(how) for how in Sharing}
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(self.plants, 1)
        for made in self.buttons.values():
            row.addWidget(made)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 4, 0, 4)
        column.setSpacing(6)
        column.addWidget(label(ASKED, px=15))
        column.addLayout(row)
        self.hide()

    def show_plants(self, plants: Sequence[int]) -> None:
        """Ask about these plants, all of them to begin with."""
        self.plants.setText(", ".join(map(str, plants)))
        self.setVisible(bool(plants))

    def _button(self, how: Sharing) -> QPushButton:
        made = button(f"They shared {how.value}")
        made.clicked.connect(lambda: self._signals.attempt(lambda: self._write(how, self._named())))
        return made

    def _named(self) -> tuple[int, ...]:
        return tuple(number for first, last in numbers(self.plants.text()) for number in range(first, last + 1))
