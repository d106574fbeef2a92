"""The second hand of the window: tells each second, and every jump of the wall clock against one nobody sets."""

from __future__ import annotations

from PySide6.QtCore import QObject, Qt, QTimer, Signal

from greenhouse_desk.services.clock import Clock

JUMP_S = 2.0
"""A wall clock that runs off by more than this against the steady one has been set (DESIGN: said, never hidden)."""


class Ticker(QObject):
    """Emits `second(now)` with the aware UTC now, and `jumped(seconds)` when the wall clock was set.

    `jumped` is positive when the wall clock was set forward. Suspend is no jump: the steady clock runs on in it.
    """

    second = Signal(object)
    jumped = Signal(float)

    def __init__(self, clock: Clock, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._clock = clock
        self._wall = clock.now()
        self._steady = clock.steady()[1]
        self._timer = QTimer(self)
        self._timer.setTimerType(Qt.TimerType.CoarseTimer)
        self._timer.timeout.connect(self.tick)

    def start(self, interval_ms: int = 1000) -> None:
        """Tick every second, or every `interval_ms` where simulated time runs faster."""
        self._timer.start(interval_ms)

    def stop(self) -> None:
        """Fall silent."""
        self._timer.stop()

    def tick(self) -> None:
        """Look at both clocks, say a jump, then the second."""
        now = self._clock.now()
        steady = self._clock.steady()[1]
        passed = steady - self._steady
        jump = (now - self._wall).total_seconds() - passed
        self._wall, self._steady = now, steady
        if abs(jump) > JUMP_S:
            self.jumped.emit(jump)
        self.second.emit(now)
