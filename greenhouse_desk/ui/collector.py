"""Python's collecting of what refers to itself, done on the window's thread and on no other.

Left to itself it runs on whichever thread happens to make the next object, a pool's too, and takes down there what Qt
allows only on the window's thread: a closed sheet's widgets, say. The process ends by a fault of memory, much later.
"""

from __future__ import annotations

import gc

from PySide6.QtCore import QObject, QTimer

EVERY_MS = 1000
OLDER, ALL = 10, 60
"""At every tenth and sixtieth turn what has outlived one collection, and everything, is looked through as well."""


class Collector(QObject):
    """Collects a little each second from when it is made until it is stopped; nothing collects elsewhere meanwhile."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._before = gc.isenabled()
        gc.disable()
        self._turn = 0
        self._timer = QTimer(self)
        self._timer.timeout.connect(self.turn)
        self._timer.start(EVERY_MS)

    def turn(self) -> None:
        """Collect: what is new at each turn, what is older more rarely."""
        self._turn += 1
        gc.collect(2 if self._turn % ALL == 0 else 1 if self._turn % OLDER == 0 else 0)

    def stop(self) -> None:
        """Collect no more, and let Python collect by itself again if it did before."""
        self._timer.stop()
        if self._before:
            gc.enable()
