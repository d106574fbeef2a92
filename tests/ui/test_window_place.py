"""Where the window stands at the start: never with its foot off the screen."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

from greenhouse_desk import app
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.ui.window_settings import WindowSettings


@pytest.mark.parametrize(("width", "height", "fills"), [(0, 0, True), (4000, 500, True), (700, 4000, True),
                                                       (700, 500, False)])
def test_a_window_as_large_as_the_screen_is_maximised(qapp: QApplication, clock: SteppedClock, tmp_path: Path,
                                                     monkeypatch: pytest.MonkeyPatch, width: int, height: int,
                                                     fills: bool) -> None:
    """A title bar above a window as high as the screen pushes its last buttons off the screen."""
    monkeypatch.setattr(sys, "excepthook", sys.excepthook)
    sheet = qapp.styleSheet()
    where = app.Folders(tmp_path / "collection", tmp_path / "settings", tmp_path / "log", tmp_path / "cache")
    made = app._Opening(qapp, where, clock, WindowSettings(width=width, height=height), "light", True)
    made.begin()
    assert made._program is not None
    assert made._program.window.isMaximized() is fills
    made._program.window.close()
    qapp.setStyleSheet(sheet)
