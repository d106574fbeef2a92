"""A stage without a screen: the program on the demo at simulated time, pressed by Qt's own key events, photographed."""

from __future__ import annotations

import os
import subprocess
import sys
from datetime import datetime
from pathlib import Path

os.environ["QT_QPA_PLATFORM"] = "offscreen"  # before Qt is imported

from PySide6.QtCore import QEvent, QSize, Qt, QThreadPool
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from greenhouse_desk import app
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.store.engine import open_store
from greenhouse_desk.ui import fonts, style
from greenhouse_desk.ui.window_settings import WindowSettings
from tests.end_to_end import eyes
from tests.end_to_end.walk import Seen

SIZE = QSize(1366, 768)
STEP_S = 5.0
KEYS = {"space": Qt.Key.Key_Space, "Return": Qt.Key.Key_Return, "Tab": Qt.Key.Key_Tab, "Escape": Qt.Key.Key_Escape,
        "Down": Qt.Key.Key_Down, "Right": Qt.Key.Key_Right}


def build_demo(folder: Path, now: datetime) -> None:
    """Build the demo by the command line, as anyone does."""
    subprocess.run([sys.executable, "-P", "-m", "greenhouse_desk", "--store", str(folder), "--now", now.isoformat(),
                    "demo"], check=True)


class Stage:
    """The program, its clock, and a person who sees, presses and waits."""

    def __init__(self, demo: Path, scratch: Path, now: datetime) -> None:
        made = QApplication.instance() or QApplication([])
        assert isinstance(made, QApplication)
        self.qt = made
        fonts.load()
        self.clock = SteppedClock(now)
        self.is_dark = False
        self.colours = style.palette(self.is_dark)
        style.apply(self.qt, self.colours)
        where = app.Folders(demo, scratch / "settings", scratch / "log", scratch / "cache")
        self.program = app.assemble(open_store(demo), self.clock, self.colours, WindowSettings(), where, False)
        self.program.window.resize(SIZE)
        self.program.window.show()
        self.program.window.activateWindow()
        self.settle()

    def settle(self) -> None:
        """Let everything asked for be drawn."""
        for _ in range(3):
            QApplication.processEvents()
            for pool in self.program.thumbs.findChildren(QThreadPool):
                pool.waitForDone()
            QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)

    @property
    def front(self) -> QWidget:
        """The window in front: bench mode while a session runs, else the main one."""
        return self.program.bench.mode or self.program.window

    def see(self) -> Seen:
        """What stands on the screen once it has settled."""
        self.settle()
        return eyes.seen(self.program)

    def press(self, keys: str) -> None:
        """One key event to the focused control of the window in front."""
        *modifiers, name = keys.split("+")
        held = Qt.KeyboardModifier.ControlModifier if "ctrl" in modifiers else Qt.KeyboardModifier.NoModifier
        key = KEYS.get(name) or Qt.Key(ord(name.upper()))
        if QGuiApplication.focusWindow() is not self.front.windowHandle():
            self.front.activateWindow()
            self.settle()
        QTest.keyClick(self.front.windowHandle(), key, held)
        self.settle()

    def wait(self, seconds: float, must: bool) -> None:
        """Let simulated time pass, with the second hand ticking every few seconds of it."""
        while seconds > 0:
            step = min(STEP_S, seconds)
            self.clock.advance(step)
            self.program.ticker.tick()
            seconds -= step

    def dark(self, dark: bool) -> None:
        """Change the look, as the system's setting does; nothing where it is so already."""
        if dark is self.is_dark:
            return
        self.is_dark = dark
        self.colours.become(dark)
        style.apply(self.qt, self.colours)
        self.settle()

    def picture(self, file: Path, size: QSize = SIZE) -> None:
        """Grab the window in front."""
        front = self.front
        front.resize(size)
        self.settle()
        front.grab().save(str(file))

    def close(self) -> None:
        """End the program as closing its window does."""
        self.program.window.close()
        self.program.close()
        self.settle()
