"""A backup put in the place of a closed collection, off the window's thread, with a word on what is going on."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.ui.tasks import Tasks, as_refusal
from greenhouse_desk.ui.trouble import TroubleWindow

GOING_ON = Refused("The backup is being put in place", "What it replaces is kept as a backup first; photos are read to "
                   "their last byte.", "The window opens again by itself.")


class PuttingBack(QObject):
    """`ended(str, Refused | None)`: the name of the backup that what was replaced is kept under, or what refused."""

    ended = Signal(str, object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._tasks = Tasks(self, threads=1)
        self._tasks.done.connect(self._on_done)
        self._tasks.failed.connect(self._on_failed)
        self.shown: TroubleWindow | None = None

    def begin(self, restore: Callable[[], str]) -> None:
        """Show what is going on, and do `restore` on the pool."""
        self.shown = TroubleWindow(GOING_ON)
        self.shown.close_button.hide()
        self.shown.show()
        self._tasks.ask("restore", restore)

    def _on_done(self, _key: object, replaced: str) -> None:
        self.ended.emit(replaced, None)
        self._leave()

    def _on_failed(self, _key: object, error: Exception) -> None:
        self.ended.emit("", as_refusal("The backup was not put in place", error))
        self._leave()

    def _leave(self) -> None:
        if self.shown is not None:
            self.shown.close()
            self.shown.deleteLater()
            self.shown = None
