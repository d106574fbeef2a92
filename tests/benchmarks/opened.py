"""The program opened on a collection, without a screen, as its entry does it."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from PySide6.QtWidgets import QApplication

from greenhouse_desk import app
from greenhouse_desk.services.clock import StartedClock
from greenhouse_desk.store.engine import open_store
from greenhouse_desk.ui import fonts, style
from greenhouse_desk.ui.window_settings import WindowSettings

NOW = datetime(2026, 11, 18, 14, 0, tzinfo=UTC)


def opened_program(folder: Path) -> app.Program:
    """The program on the collection in `folder`, its window shown; thumbnails are kept beside the collection."""
    qt = QApplication([])
    fonts.load()
    colours = style.palette(False)
    style.apply(qt, colours)
    aside = folder.parent / "aside"
    where = app.Folders(folder, aside / "settings", aside / "log", aside / "cache")
    program = app.assemble(open_store(folder), StartedClock(NOW), colours, WindowSettings(), where, False)
    program.window.resize(1366, 768)
    program.window.show()
    return program
