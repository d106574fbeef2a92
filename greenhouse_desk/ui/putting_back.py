"""A backup put in the place of a closed collection, off the window's thread, with a word on what is going on."""

from __future__ import annotations

from datetime import datetime, tzinfo
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.services import backup
from greenhouse_desk.services.backup import Restored
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.tasks import Tasks, as_refusal
from greenhouse_desk.ui.trouble import TroubleWindow

GOING_ON = Refused("The backup is being put in place", "What it replaces is kept as a backup first; photos are read to "
                   "their last byte.", "The window opens again by itself.")
NAMED = 8


class PuttingBack(QObject):
    """`ended()`: a restore begun came to its end; `tell` says which."""

    ended = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._tasks = Tasks(self, threads=1)
        self._tasks.done.connect(self._on_done)
        self._tasks.failed.connect(self._on_failed)
        self._end: Restored | Refused | None = None
        self.shown: TroubleWindow | None = None

    def begin(self, folder: Path, name: str, now: datetime) -> None:
        """Show what is going on, and put backup `name` back on the pool."""
        self.shown = TroubleWindow(GOING_ON)
        self.shown.close_button.hide()
        self.shown.show()
        self._tasks.ask("restore", lambda: backup.restore(folder, name, now))

    def at_once(self, folder: Path, name: str, now: datetime) -> str:
        """Put backup `name` back here and now; what was done, in words. Raises Refused."""
        self._end = done = backup.restore(folder, name, now)
        return backup.restored_words(done)

    def tell(self, signals: Signals, zone: tzinfo) -> None:
        """Say in the window how the last restore ended, and which photos did not come back; nothing without one."""
        end, self._end = self._end, None
        if isinstance(end, Refused):
            signals.refused.emit(end)
        elif end is not None and end.lost:
            signals.refused.emit(without_photos(end, zone))
        elif end is not None:
            signals.noted.emit(backup.restored_words(end, zone))

    def _on_done(self, _key: object, done: Restored) -> None:
        self._leave(done)

    def _on_failed(self, _key: object, error: Exception) -> None:
        self._leave(as_refusal("The backup was not put in place", error))

    def _leave(self, end: Restored | Refused) -> None:
        self._end = end
        self.ended.emit()
        if self.shown is not None:
            self.shown.close()
            self.shown.deleteLater()
            self.shown = None


def without_photos(done: Restored, zone: tzinfo | None = None) -> Refused:
    """The word on a restore that some photos did not come back from: which, and what can be done."""
    lines = backup.lost_lines(done)
    more = f"\nand {len(lines) - NAMED} more" if len(lines) > NAMED else ""
    return Refused(f"{backup.photos_words(len(lines))} did not come back",
                   f"{backup.restored_words(done, zone)} Lost are:\n" + "\n".join(lines[:NAMED]) + more,
                   "Where you have the files elsewhere, add them to their plants again.")
