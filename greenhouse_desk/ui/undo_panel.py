"""Undo and redo with their labels, and when a deed was done if that was before this start."""

from __future__ import annotations

from datetime import datetime, tzinfo
from typing import Protocol

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QBoxLayout, QWidget

from greenhouse_desk.ui import drawing, words
from greenhouse_desk.ui.messages import button, label
from greenhouse_desk.ui.style import sans

ROOM = 122.0


class Deed(Protocol):
    """What can be undone or done again (services/desk)."""

    @property
    def label(self) -> str: ...
    @property
    def at(self) -> datetime: ...


def told(deed: Deed, started: datetime, zone: tzinfo) -> str:
    """The label of a deed; with its day and time when it was done before this start."""
    if deed.at >= started:
        return deed.label
    return f"{deed.label}, done {words.moment(deed.at, started, zone)}"


class UndoPanel(QWidget):
    """Two buttons, each with what it would do under it. `undo()` and `redo()` ask for it."""

    undo = Signal()
    redo = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._flat = False
        self.undo_button = button("Undo", "quiet")
        self.redo_button = button("Redo", "quiet")
        self._undo_words = label("", "second", px=13)
        self._redo_words = label("", "second", px=13)
        self.undo_button.clicked.connect(self.undo)
        self.redo_button.clicked.connect(self.redo)
        self._column = QBoxLayout(QBoxLayout.Direction.TopToBottom, self)
        self._column.setSpacing(0)
        for part in (self.undo_button, self._undo_words, self.redo_button, self._redo_words):
            self._column.addWidget(part)
        for below in (self._undo_words, self._redo_words):
            below.setContentsMargins(6, 0, 0, 4)
        self.set_flat(False)

    def set_flat(self, flat: bool) -> None:
        """Only the buttons, in a row; the labels stay as tool tips and spoken names."""
        self._flat = flat
        way = QBoxLayout.Direction.LeftToRight if flat else QBoxLayout.Direction.TopToBottom
        self._column.setDirection(way)
        self._column.setContentsMargins(*((4, 0, 4, 0) if flat else (12, 0, 8, 10)))
        self._undo_words.setVisible(not flat)
        self._redo_words.setVisible(not flat)

    def across(self) -> int:
        """Pixels that both buttons take in a row, whether or not there is something to do again now."""
        return self.undo_button.sizeHint().width() + self.redo_button.sizeHint().width() + 8

    def show_deeds(self, undo: Deed | None, redo: Deed | None, started: datetime, zone: tzinfo) -> None:
        """Say what undo and redo would do; redo is only there when there is something to do again. Both beside each
        other have fewer lines each: a low window has no room for more, and the tip says the whole."""
        for deed, made, below, word in ((undo, self.undo_button, self._undo_words, "Undo"),
                                        (redo, self.redo_button, self._redo_words, "Redo")):
            what = told(deed, started, zone) if deed else ""
            below.setText("\n".join(drawing.wrapped(what, sans(13), ROOM, 3 if redo is None else 2)))
            below.setVisible(bool(what) and not self._flat)
            made.setEnabled(deed is not None)
            made.setToolTip(f"{word}: {what}" if what else f"Nothing to {word.lower()}")
            made.setAccessibleName(f"{word}: {what}" if what else f"{word}, nothing to {word.lower()}")
        self.redo_button.setVisible(redo is not None)


