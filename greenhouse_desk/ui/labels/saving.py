"""Labels saved as a file off the window's thread: what is asked for is held as it is, and written down once it is."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from greenhouse_desk.domain.labels import Layout, Told
from greenhouse_desk.domain.paper import Page
from greenhouse_desk.ui import paper
from greenhouse_desk.ui.tasks import Tasks, as_refusal


@dataclass(frozen=True, eq=False)
class Job:
    """What is to be saved where: the pages, their layout, what was told of the plants whose labels are on them, and the
    dots to the inch of a picture."""

    pages: tuple[Page, ...]
    layout: Layout
    tolds: tuple[Told, ...]
    path: Path
    dots: float


class Saving(QObject):
    """One file after the other. `saved(Job)` and `refused(Refused)` tell its end, `busy_changed()` before its work
    and after that it is busy or no more."""

    saved = Signal(object)
    refused = Signal(object)
    busy_changed = Signal()

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._waiting: set[Job] = set()
        self._tasks = Tasks(self, threads=1)
        self._tasks.done.connect(self._on_done)
        self._tasks.failed.connect(self._on_failed)

    @property
    def busy(self) -> bool:
        """Whether a file is being written."""
        return bool(self._waiting)

    def begin(self, job: Job) -> None:
        """Write a job's pages to its file."""
        self._waiting.add(job)
        self._tasks.ask(job, lambda: paper.to_files(job.pages, job.path, "Labels", job.dots))
        self.busy_changed.emit()

    def close(self) -> None:
        """Wait for the files that are being written, and tell what came of them."""
        self._tasks.finish()

    def _on_done(self, job: Job, _written: object) -> None:
        self._waiting.discard(job)
        self.saved.emit(job)
        self.busy_changed.emit()

    def _on_failed(self, job: Job, error: BaseException) -> None:
        self._waiting.discard(job)
        self.refused.emit(as_refusal("The labels were not saved", error))
        self.busy_changed.emit()
