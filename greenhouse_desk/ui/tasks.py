"""Long work off the window's thread: work that owns no Qt object runs on a pool, its answer comes back here."""

from __future__ import annotations

import logging
import sys
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QCoreApplication, QEvent, QObject, QRunnable, QThreadPool, Signal

from greenhouse_desk.domain.faults import Refused

LOG = logging.getLogger(__name__)
FORESEEN = (OSError, ValueError, RuntimeError, Refused)
"""What work may fail of; anything else is a fault of the program."""


class Stopped(RuntimeError):
    """Work that was told to stop."""


class Progress:
    """How far a piece of work has come: the work tells its share, the window reads it, and may tell the work to stop.

    Both sides only ever set a plain value, so that neither waits for the other.
    """

    def __init__(self) -> None:
        self.share = 0.0
        self._stopped = False

    def stop(self) -> None:
        """Let the work end where it tells its share next."""
        self._stopped = True

    def told(self, share: float) -> None:
        """For the work: `share` (0 to 1) is done. Raises Stopped once it was told to stop."""
        self.share = share
        if self._stopped:
            raise Stopped


@dataclass(eq=False)
class _Job:
    """Work with its answer. The window lets go of both, so that a pool is never the last to hold a widget."""

    key: object
    work: Callable[[], Any] | None
    found: Any = None
    error: Exception | None = None

    def given_up(self) -> tuple[object, Any, Exception | None]:
        """Key, answer and failure, held here no longer."""
        given = self.key, self.found, self.error
        self.key = self.work = self.found = self.error = None
        return given


class _Work(QRunnable):
    def __init__(self, job: _Job, answer: Callable[[_Job], None]) -> None:
        super().__init__()
        self._job = job
        self._answer = answer

    def run(self) -> None:
        """Do the work; a failure of any kind is the answer too: who asked must not be left waiting."""
        job = self._job
        assert job.work is not None
        try:
            job.found = job.work()
        except Exception as error:  # noqa: BLE001  told as a bug in `_on_answered`
            job.error = error
        self._answer(job)


def as_refusal(title: str, error: BaseException) -> Refused:
    """A failure on the pool as the window tells it: a refusal as it is, anything else under `title`."""
    if isinstance(error, Refused):
        return error
    if not isinstance(error, FORESEEN):
        return Refused(title, "That is a fault of the program, not yours.", "The box about it says where it lies.")
    return Refused(title, str(error), "Check the disk, then try again.")


class Tasks(QObject):
    """A pool for one kind of work. Each answer carries the key it was asked under; a key dropped is not answered.

    `done(key, answer)` or `failed(key, error)` is emitted on the thread this object lives in. A fault of the program in
    the work goes to Python's hook besides, whether or not its key was dropped.
    """

    done = Signal(object, object)
    failed = Signal(object, object)
    _answered = Signal(object)

    def __init__(self, parent: QObject | None = None, threads: int = 2) -> None:
        super().__init__(parent)
        self._pool = QThreadPool(self)
        self._pool.setMaxThreadCount(threads)
        self._asked: set[object] = set()
        self._answered.connect(self._on_answered)

    def ask(self, key: object, work: Callable[[], Any]) -> None:
        """Run `work` under `key`, unless that is under way. `work` takes plain values and touches no widget."""
        if key not in self._asked:
            self._asked.add(key)
            self._pool.start(_Work(_Job(key, work), self._answered.emit))

    def drop(self, key: object) -> None:
        """Forget `key`: its answer will not be told."""
        self._asked.discard(key)

    def finish(self) -> None:
        """Wait for all that was asked for, and tell its answers at once."""
        self._pool.waitForDone()
        QCoreApplication.sendPostedEvents(self, QEvent.Type.MetaCall)

    def close(self) -> None:
        """Let nothing more start, and wait for what runs."""
        self._asked.clear()
        self._pool.clear()
        self._pool.waitForDone()

    def _on_answered(self, job: _Job) -> None:
        key, answer, error = job.given_up()
        if error is not None and not isinstance(error, FORESEEN):
            sys.excepthook(type(error), error, error.__traceback__)
        if key not in self._asked:
            return
        self._asked.discard(key)
        if error is None:
            self.done.emit(key, answer)
        else:
            LOG.info("work %r failed: %s", key, error)
            self.failed.emit(key, error)
