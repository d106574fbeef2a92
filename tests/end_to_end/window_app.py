"""Run as a child process on a virtual screen: the program as it is, with eyes that tell what it shows.

Arguments: the collection folder, the instant it is, and how many times faster than real time the clock runs. The keys
come from outside. A line "close" on standard input closes the window as a click on its corner does.
"""

from __future__ import annotations

import json
import os
import sys
from dataclasses import asdict
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import Any

from PySide6.QtCore import QEvent, QObject, QSocketNotifier, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QWindow
from PySide6.QtWidgets import QApplication

from greenhouse_desk import app
from greenhouse_desk.services.clock import StartedClock
from tests.end_to_end import eyes

LOOK_MS = 50
HELD = (Qt.Key.Key_Control, Qt.Key.Key_Shift, Qt.Key.Key_Alt)


class Eyes(QObject):
    """Writes a line of JSON whenever what the screen shows, or the count of keys that came in, has changed."""

    def __init__(self, program: app.Program) -> None:
        super().__init__()
        self._program = program
        self._keys = 0
        self._told = ""
        self._timer = QTimer(self)
        self._timer.timeout.connect(self._tell)
        self._timer.start(LOOK_MS)
        self._input = QSocketNotifier(0, QSocketNotifier.Type.Read, self)
        self._input.activated.connect(self._on_input)
        QApplication.instance().installEventFilter(self)  # type: ignore[union-attr]

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Count the real key presses that reach a window or a short cut, those of Ctrl and the like left out."""
        if event.type() is QEvent.Type.Shortcut:
            self._keys += 1
        if isinstance(watched, QWindow) and isinstance(event, QKeyEvent) and event.type() is QEvent.Type.KeyPress:
            self._keys += event.spontaneous() and not event.isAutoRepeat() and event.key() not in HELD
        return False

    def _tell(self) -> None:
        seen = json.dumps({"keys": self._keys, **asdict(eyes.seen(self._program))})
        if seen != self._told:
            self._told = seen
            os.write(1, seen.encode() + b"\n")

    def _on_input(self) -> None:
        self._input.setEnabled(False)
        os.read(0, 100)
        self._program.window.close()


def main(folder: Path, now: datetime, pace: float) -> int:
    """Open the program's window; only its clock is another."""
    kept: list[Eyes] = []
    assemble = app.assemble

    def with_eyes(*parts: Any) -> app.Program:
        program = assemble(*parts)
        kept.append(Eyes(program))
        return program

    setattr(app, "assemble", with_eyes)  # noqa: B010  # mypy would have the name keep its signature
    setattr(app, "StartedClock", partial(StartedClock, pace=pace))  # noqa: B010
    return app.run(folder, now, "light")


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), datetime.fromisoformat(sys.argv[2]), float(sys.argv[3])))
