"""Run as a child process on a virtual screen: a session begun at full screen. Argument: an empty folder.

Writes a line with the place and size of bench mode once it has settled, and ends.
"""

from __future__ import annotations

import sys
from pathlib import Path

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store.engine import open_store
from greenhouse_desk.ui import fonts
from tests.builders import NOW
from tests.ui.bench_opened import Opened, begin, furnished

SETTLED_MS = 800


def _settled(opened: Opened) -> None:
    mode = opened.screen.mode
    if mode is not None:
        at = mode.frameGeometry()
        sys.stdout.write(f"{at.x()} {at.y()} {at.width()} {at.height()}\n")
    opened.close()
    QApplication.quit()


def main(folder: Path) -> int:
    """Begin a session, say where its window stands."""
    app = QApplication(sys.argv[:1])
    fonts.load()
    clock = SteppedClock(NOW)
    desk = Desk(open_store(folder, create=True), clock.now)
    furnished(desk, clock)
    opened = Opened(desk, clock, folder, full_screen=True)
    begin(opened, 101)
    QTimer.singleShot(SETTLED_MS, lambda: _settled(opened))
    return app.exec()


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
