"""A layout of the grower's own: kept as a file of the collection, or removed once that was confirmed."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from greenhouse_desk.domain.labels import Layout
from greenhouse_desk.services import labels_shelf
from greenhouse_desk.ui.forms import Form, Values
from greenhouse_desk.ui.signals import Signals

REMOVED = "Its file goes. Labels that were printed with it stay as they are, and backups made before still hold it."


class OwnLayouts(QObject):
    """`done(id)` tells that one was kept under that id, or removed ("")."""

    done = Signal(str)

    def __init__(self, folder: Path, signals: Signals, parent: QWidget) -> None:
        super().__init__(parent)
        self._folder, self._signals, self._parent = folder, signals, parent

    def keep(self, layout: Layout) -> None:
        """Keep it; a refusal goes to the bar."""
        def deed() -> None:
            kept = labels_shelf.keep(self._folder, layout)
            self.done.emit(kept.id)
            self._signals.noted.emit(f"“{kept.title}” is kept among your own layouts.")

        self._signals.attempt(deed)

    def ask_removal(self, layout: Layout) -> Form:
        """Ask whether it is to be removed."""
        def remove(_values: Values) -> None:
            labels_shelf.forget(self._folder, layout)
            self.done.emit("")
            self._signals.noted.emit(f"“{layout.title}” was removed from your layouts.")

        form = Form(f"Remove “{layout.title}”?", (), remove, self._parent.window(), None, "Remove", REMOVED)
        form.open()
        return form
