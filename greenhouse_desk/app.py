"""The composition root: clock, settings and store are chosen here, and the program is put together on them."""

from __future__ import annotations

import logging
import sys
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from greenhouse_desk.domain.faults import Damaged, Refused
from greenhouse_desk.program import Program as Program
from greenhouse_desk.program import assemble as assemble
from greenhouse_desk.services import backup, house
from greenhouse_desk.services.clock import Clock, StartedClock, SystemClock
from greenhouse_desk.store import holder, reading_copy
from greenhouse_desk.store.engine import Store, open_store
from greenhouse_desk.ui import demo_copy, fonts, style, window_settings
from greenhouse_desk.ui.demo_copy import DemoCopy
from greenhouse_desk.ui.first_copy import FirstCopy
from greenhouse_desk.ui.folders import NAME, folders, start_log
from greenhouse_desk.ui.folders import Folders as Folders
from greenhouse_desk.ui.messages import FaultTeller
from greenhouse_desk.ui.putting_back import PuttingBack
from greenhouse_desk.ui.trouble import TroubleWindow
from greenhouse_desk.ui.window_settings import WindowSettings

LOG = logging.getLogger(__name__)


def run(collection: Path | None, now: datetime | None, look: str | None) -> int:
    """Open the window and stay until it is closed; returns the exit status."""
    where = folders(collection)
    settings = window_settings.read(where.settings / "window.toml")
    window_settings.scale(settings.text_percent)
    app = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(app, QApplication)
    app.setApplicationName(NAME)
    app.setApplicationDisplayName("Greenhouse Desk")
    app.setDesktopFileName(NAME)
    start_log(where.log)
    missing = fonts.load()
    if missing:
        LOG.info("faces not loaded: %s", ", ".join(missing))
    clock: Clock = StartedClock(now) if now else SystemClock()
    opening = _Opening(app, where, clock, settings, look or settings.look, create=collection is None)
    opening.begin()
    return app.exec()


class _Opening:
    """Opens the store and shows the window, or the trouble with it."""

    def __init__(self, app: QApplication, where: Folders, clock: Clock, settings: WindowSettings, look: str,
                 create: bool) -> None:
        self._app, self._where, self._clock, self._create = app, where, clock, create
        self._settings = settings
        self._look = look
        self._colours = style.palette(self._dark())
        self._trouble: TroubleWindow | None = None
        self._program: Program | None = None
        self._first: FirstCopy | None = None
        self._demo = DemoCopy()
        self._demo.ready.connect(self._on_demo_ready)
        self._putting = PuttingBack()
        self._putting.ended.connect(self._on_restored)
        style.apply(app, self._colours)
        app.styleHints().colorSchemeChanged.connect(self._on_scheme_changed)

    def begin(self) -> None:
        """Open the collection; what stands in the way is shown with what can be done."""
        try:
            store = open_store(self._where.collection, self._create, holder.WINDOW, reading=True)
        except Refused as refusal:
            self._trouble = TroubleWindow(refusal, *self._remedy(refusal))
            self._trouble.solved.connect(self._on_solved)
            self._trouble.show()
            return
        self._show(store)

    def _remedy(self, refusal: Refused) -> tuple[str, Callable[[], str] | None]:
        folder, clock = self._where.collection, self._clock
        if isinstance(refusal, Damaged) and refusal.backup is not None:
            name = refusal.backup
            return "Restore that backup", lambda: self._putting.at_once(folder, name, clock.now())
        if not self._create and not isinstance(refusal, Damaged) and not any(folder.glob("*")):
            return "Begin a new collection here", self._create_here
        return "", None

    def _create_here(self) -> str:
        self._create = True
        return ""

    def _on_solved(self) -> None:
        self.begin()
        if self._program is not None and self._trouble is not None:
            self._trouble.close()
            self._putting.tell(self._program.signals, self._program.desk.read(house.zone))

    def _show(self, store: Store) -> None:
        program = assemble(store, self._clock, self._colours, self._settings, self._where)
        self._program = program
        sys.excepthook = FaultTeller(program.window.messages).hook
        program.house.window_changed.connect(self._on_window_changed)
        program.collection.dense_changed.connect(lambda dense: self._set(dense=dense))
        program.printing.corrections_changed.connect(lambda printers: self._set(printers=printers))
        program.bench.screen_measured.connect(lambda width_mm: self._set(screen_mm=width_mm))
        program.house.backups.restore_wanted.connect(self._on_restore_wanted)
        program.window.closing.connect(self._on_closing)
        program.collection.first.demo.connect(self._on_demo_wanted)
        self._demo.refused.connect(program.signals.refused)
        self._first = FirstCopy(store.folder)
        self._first.called.connect(self._on_called)
        program.window.place(self._settings.width, self._settings.height, self._settings.maximised)
        program.ticker.start()
        doubts = backup.warnings_for(store.folder)
        if doubts:
            program.signals.noted.emit("\n".join(doubts))
        if store.read_only is not None:
            program.signals.refused.emit(reading_copy.notice(store.read_only))

    def _on_called(self) -> None:
        assert self._program is not None
        window = self._program.window
        window.setWindowState(window.windowState() & ~Qt.WindowState.WindowMinimized)
        window.show()
        window.raise_()
        window.activateWindow()

    def _on_demo_wanted(self) -> None:
        assert self._program is not None
        if self._demo.make(demo_copy.beside(self._where.collection), self._clock.now()):
            self._program.signals.noted.emit(demo_copy.BUILDING)

    def _on_demo_ready(self, folder: Path) -> None:
        """The window of the empty collection goes, that of the demo copy comes."""
        assert self._program is not None
        self._app.setQuitOnLastWindowClosed(False)
        self._program.window.close_at_once()
        self._let_go()
        self._where, self._create = replace(self._where, collection=folder), False
        self.begin()
        if self._program is not None:
            self._program.signals.noted.emit(demo_copy.OPENED)
        self._app.setQuitOnLastWindowClosed(True)

    def _on_restore_wanted(self, name: str) -> None:
        """The window goes, the backup takes the collection's place, and the window comes again."""
        assert self._program is not None
        self._app.setQuitOnLastWindowClosed(False)
        self._program.window.close_at_once()
        self._putting.begin(self._where.collection, name, self._clock.now())

    def _on_restored(self) -> None:
        self._let_go()
        self.begin()
        if self._program is not None:
            self._putting.tell(self._program.signals, self._program.desk.read(house.zone))
        self._app.setQuitOnLastWindowClosed(True)

    def _let_go(self) -> None:
        """The window closed last is deleted by Qt as a whole: left to Python it goes in parts, in no order."""
        assert self._program is not None
        self._program.window.deleteLater()
        self._program = None

    def _dark(self) -> bool:
        if self._look == "system":
            return self._app.styleHints().colorScheme() == Qt.ColorScheme.Dark
        return self._look == "dark"

    def _on_scheme_changed(self, _scheme: Qt.ColorScheme) -> None:
        self._colours.become(self._dark())
        style.apply(self._app, self._colours)

    def _on_window_changed(self, settings: WindowSettings) -> None:
        self._settings = replace(self._settings, look=settings.look, text_percent=settings.text_percent)
        self._look = settings.look
        self._colours.become(self._dark())
        style.apply(self._app, self._colours)
        self._keep()

    def _set(self, **settings: Any) -> None:
        self._settings = replace(self._settings, **settings)
        self._keep()

    def _on_closing(self) -> None:
        assert self._program is not None
        assert self._first is not None
        window = self._program.window
        normal = window.normalGeometry().size()
        self._settings = replace(self._settings, width=normal.width(), height=normal.height(),
                                 maximised=window.isMaximized())
        self._keep()
        self._first.close()
        self._demo.close()
        self._program.close()

    def _keep(self) -> None:
        try:
            window_settings.write(self._where.settings / "window.toml", self._settings)
        except OSError as error:
            LOG.info("window settings not kept: %s", error)
