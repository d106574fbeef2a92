"""What each probe of a window measures with: painting, key presses, idle time, memory. Knows Qt, nothing of ours."""

from __future__ import annotations

import json
import os
import resource
import sys
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median

os.environ["QT_QPA_PLATFORM"] = "offscreen"  # before Qt is imported

from PySide6.QtCore import QElapsedTimer, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget


def started() -> float:
    """The steady instant (s) at which the parent started this process: its last argument."""
    return float(sys.argv[-1])


def painted(widget: QWidget) -> None:
    """Handle everything that waits, and paint."""
    QApplication.processEvents()
    widget.repaint()


def press_s(widget: QWidget, key: Qt.Key) -> float:
    """Seconds from one key press to the repainted widget."""
    start = time.perf_counter()
    QTest.keyClick(widget, key)
    painted(widget)
    return time.perf_counter() - start


def middle(measure: Callable[[], float], times: int = 20) -> float:
    """The median of some measurements."""
    return median(measure() for _ in range(times))


def idle_share(seconds: float) -> float:
    """The share of one core that the process takes while nobody touches it."""
    clock = QElapsedTimer()
    clock.start()
    used = time.process_time()
    while clock.elapsed() < seconds * 1000:
        QTest.qWait(100)
    return (time.process_time() - used) / (clock.elapsed() / 1000)


def peak_mb() -> float:
    """The peak of this program's memory, MB; from /proc where there is one, since rusage counts the parent's too."""
    status = Path("/proc/self/status")
    if status.exists():
        return next(int(line.split()[1]) / 1024 for line in status.read_text().splitlines() if line.startswith("VmHWM"))
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def tell(**figures: float) -> None:
    """Print the figures, with the peak of memory beside them."""
    sys.stdout.write(json.dumps({**figures, "peak_mb": peak_mb()}) + "\n")
