"""Run as a child process: rings the alarm once, aloud if it can, and prints what the alarm says about its sound."""

from __future__ import annotations

import sys

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from greenhouse_desk.domain.bench_values import Ring
from greenhouse_desk.ui.alarm import Alarm


def main(ring: Ring, seconds: float) -> None:
    """Ring for `seconds`, then stop."""
    app = QApplication([])
    alarm = Alarm()
    alarm.ring(ring)
    QTimer.singleShot(round(seconds * 1000), app.quit)
    app.exec()
    alarm.silence()
    sys.stdout.write(alarm.words + "\n")


if __name__ == "__main__":
    main(Ring(sys.argv[1]), float(sys.argv[2]))
