"""The demo copy: an invented collection beside the grower's own, built off the window's thread when first asked for."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.services import demo
from greenhouse_desk.ui.tasks import Tasks, as_refusal

BUILDING = "Building the demo copy: it takes about ten seconds."
OPENED = "This is the demo copy: an invented collection to try things on. Your own opens when you start again."


def beside(collection: Path) -> Path:
    """Where the demo copy lies: beside the collection, under its name."""
    return collection.with_name(f"{collection.name}-demo")


class DemoCopy(QObject):
    """`ready(folder)` when the demo copy can be opened, `refused(refusal)` when it cannot be built."""

    ready = Signal(object)
    refused = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._tasks = Tasks(self, threads=1)
        self._tasks.done.connect(lambda folder, _built: self.ready.emit(folder))
        self._tasks.failed.connect(self._on_failed)

    def make(self, folder: Path, now: datetime) -> bool:
        """Build the demo in `folder` for the aware `now`, or take the one that is there; True while it is built."""
        if demo.is_built(folder):
            self.ready.emit(folder)
            return False
        self._tasks.ask(folder, lambda: demo.build(folder, now))
        return True

    def close(self) -> None:
        """Wait for what is under way."""
        self._tasks.close()

    def _on_failed(self, _folder: Path, error: Exception) -> None:
        refusal: Refused = as_refusal("The demo copy was not built", error)
        self.refused.emit(refusal)
