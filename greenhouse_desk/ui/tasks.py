"""Long work off the window's thread: work that owns no Qt object runs on a pool, its answer comes back here."""

from __future__ import annotations

import logging
import sys
from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, QRunnable, QThreadPool, Signal

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


class _Work(QRunnable):
    def __init__(self, key: object, work: Callable[[], Any], answer: Callable[[object, Any, object], None]) -> None:
        super().__init__()
        self._key = key
        self._work = work
        self._answer = answer

    def run(self) -> None:
        """Do the work; a failure of any kind is the answer too: who asked must not be left waiting."""
        try:
            found = self._work()
        except Exception as error:  # noqa: BLE001  told as a bug in `_on_answered`
            self._answer(self._key, None, error)
        else:
            self._answer(self._key, found, None)


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
    _answered = Signal(object, object, object)

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
            self._pool.start(_Work(key, work, self._answered.emit))

    def drop(self, key: object) -> None:
        """Forget `key`: its answer will not be told."""
        self._asked.discard(key)

    def close(self) -> None:
        """Let nothing more start, and wait for what runs."""
        self._asked.clear()
        self._pool.clear()
        self._pool.waitForDone()

    def _on_answered(self, key: object, answer: object, error: object) -> None:
        if isinstance(error, Exception) and not isinstance(error, FORESEEN):
            sys.excepthook(type(error), error, error.__traceback__)
        if key not in self._asked:
            return
        self._asked.discard(key)
        if error is None:
            self.done.emit(key, answer)
        else:
            LOG.info("work %r failed: %s", key, error)
            self.failed.emit(key, error)
