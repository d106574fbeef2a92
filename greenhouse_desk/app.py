"""The composition root: clock, settings, store, desk, screens and window are put together here and nowhere else."""

from __future__ import annotations

import logging
import sys
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from greenhouse_desk.domain.faults import Damaged, Refused
from greenhouse_desk.services import backup, photos
from greenhouse_desk.services.clock import Clock, StartedClock, SystemClock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.shelf import Shelves
from greenhouse_desk.store import holder
from greenhouse_desk.store.engine import Store, open_store
from greenhouse_desk.ui import demo_copy, first_copy, fonts, style, window_settings
from greenhouse_desk.ui.alarm import Alarm
from greenhouse_desk.ui.bench.screen import BenchScreen, Equipment
from greenhouse_desk.ui.collection.entry_forms import names_of
from greenhouse_desk.ui.collection.screen import CollectionScreen
from greenhouse_desk.ui.demo_copy import DemoCopy
from greenhouse_desk.ui.first_copy import FirstCopy
from greenhouse_desk.ui.folders import NAME, folders, start_log
from greenhouse_desk.ui.folders import Folders as Folders
from greenhouse_desk.ui.house.screen import HouseScreen
from greenhouse_desk.ui.labels.screen import LabelsScreen
from greenhouse_desk.ui.main_window import MainWindow, Screen
from greenhouse_desk.ui.messages import FaultTeller
from greenhouse_desk.ui.protocols.screen import ProtocolsScreen
from greenhouse_desk.ui.putting_back import PuttingBack
from greenhouse_desk.ui.quarantine.screen import QuarantineScreen
from greenhouse_desk.ui.scanner import Scanner
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.thumbnails import Thumbnails
from greenhouse_desk.ui.ticker import Ticker
from greenhouse_desk.ui.timeline.screen import TimelineScreen
from greenhouse_desk.ui.transitions.screen import TransitionsScreen
from greenhouse_desk.ui.trouble import TroubleWindow
from greenhouse_desk.ui.watch import Wakefulness, Watch
from greenhouse_desk.ui.window_settings import WindowSettings

LOG = logging.getLogger(__name__)


@dataclass(frozen=True)
class Program:
    """Everything that lives while the window is open."""

    desk: Desk
    signals: Signals
    ticker: Ticker
    window: MainWindow
    collection: CollectionScreen
    timeline: TimelineScreen
    bench: BenchScreen
    quarantine: QuarantineScreen
    transitions: TransitionsScreen
    labels: LabelsScreen
    house: HouseScreen
    thumbs: Thumbnails
    alarm: Alarm
    watch: Watch
    awake: Wakefulness
    scanner: Scanner

    def bring_up(self, number: int) -> None:
        """Show a plant whose label was scanned; at the bench the session goes on undisturbed."""
        if self.bench.mode is None and self.signals.attempt(lambda: self.collection.open_drawer(number)):
            self.window.show_titled("Collection")

    def tick(self, now: datetime) -> None:
        """A second has passed."""
        self.window.tick(now)
        self.watch.tick(now)

    def close(self) -> None:
        """Let what runs come to its end, and let go of the store."""
        self.ticker.stop()
        self.scanner.close()
        self.bench.put_away()
        self.alarm.silence()
        self.awake(False)
        self.watch.close()
        self.collection.close_tasks()
        self.labels.close_tasks()
        self.house.close_tasks()
        self.thumbs.close()
        self.desk.store.close()


def assemble(store: Store, clock: Clock, colours: Palette, settings: WindowSettings, where: Folders,
             full_screen: bool = True) -> Program:
    """Put the program together on an open store. Nothing ticks until `ticker.start()` is called."""
    desk, signals = Desk(store, clock.now), Signals()
    desk.listeners.append(signals.changed.emit)
    thumbs = Thumbnails(lambda sha256: photos.path(store, sha256), where.cache / "thumbnails")
    ticker, alarm, awake = Ticker(clock), Alarm(), Wakefulness()
    shelves = Shelves(store.folder)
    names = names_of({key: pest.name for key, pest in shelves().pests.items()}, shelves().agents)
    collection = CollectionScreen(desk, signals, colours, thumbs, names, settings.dense)
    bench = BenchScreen(desk, signals, colours, shelves, Equipment(
        clock, ticker, lambda ring: alarm.ring(ring, "bench"), awake, where.settings / "keys.toml", None, full_screen,
        lambda: alarm.words, settings.screen_mm))
    alarm.gave_up.connect(bench.on_alarm_gave_up)
    alarm.words_changed.connect(lambda words: signals.noted.emit(words) if words else None)
    house = HouseScreen(desk, signals, settings)
    timeline = TimelineScreen(desk, signals, colours, thumbs)
    quarantine = QuarantineScreen(desk, signals, colours, shelves().pests)
    transitions = TransitionsScreen(desk, signals, colours)
    labels = LabelsScreen(desk, signals, colours, shelves, thumbs, settings.printers)
    window = MainWindow(desk, signals, [
        Screen("Collection", collection, collection.count, tick=collection.tick),
        Screen("Timeline", timeline, tick=timeline.tick),
        Screen("Bench", bench, session=lambda: bench.mode is not None),
        Screen("Quarantine", quarantine, quarantine.count),
        Screen("Transitions", transitions, transitions.count),
        Screen("Labels", labels, labels.count),
        Screen("Protocols", ProtocolsScreen(shelves, colours)), Screen("House", house)], colours)
    watch = Watch(desk, signals, alarm, window)
    window.session.take_up.connect(bench.chooser.take_up)
    signals.to_bench.connect(lambda _numbers: window.show_titled("Bench"))
    program = Program(desk, signals, ticker, window, collection, timeline, bench, quarantine, transitions, labels,
                      house, thumbs, alarm, watch, awake, Scanner())
    program.scanner.scanned.connect(program.bring_up)
    ticker.second.connect(program.tick)
    collection.view.setFocus()
    return program


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
    if first_copy.call(where.collection):
        sys.stderr.write("This collection is already open: its window was brought forward.\n")
        return 0
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
            store = open_store(self._where.collection, self._create, holder.WINDOW)
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
            self._putting.tell(self._program.signals)

    def _show(self, store: Store) -> None:
        program = assemble(store, self._clock, self._colours, self._settings, self._where)
        self._program = program
        sys.excepthook = FaultTeller(program.window.messages).hook
        program.house.window_changed.connect(self._on_window_changed)
        program.collection.dense_changed.connect(lambda dense: self._set(dense=dense))
        program.labels.corrections_changed.connect(lambda printers: self._set(printers=printers))
        program.bench.screen_measured.connect(lambda width_mm: self._set(screen_mm=width_mm))
        program.house.backups.restore_wanted.connect(self._on_restore_wanted)
        program.window.closing.connect(self._on_closing)
        program.collection.first.demo.connect(self._on_demo_wanted)
        self._demo.refused.connect(program.signals.refused)
        self._first = FirstCopy(store.folder)
        self._first.called.connect(self._on_called)
        program.window.place(self._settings.width, self._settings.height, self._settings.maximised)
        program.ticker.start()
        for words in backup.warnings_for(store.folder):
            program.signals.noted.emit(words)

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
        self._program.window.close()
        self._where, self._create = replace(self._where, collection=folder), False
        self.begin()
        self._program.signals.noted.emit(demo_copy.OPENED)
        self._app.setQuitOnLastWindowClosed(True)

    def _on_restore_wanted(self, name: str) -> None:
        """The window goes, the backup takes the collection's place, and the window comes again."""
        assert self._program is not None
        self._app.setQuitOnLastWindowClosed(False)
        self._program.window.close()
        self._putting.begin(self._where.collection, name, self._clock.now())

    def _on_restored(self) -> None:
        self._program = None
        self.begin()
        if self._program is not None:
            self._putting.tell(self._program.signals)
        self._app.setQuitOnLastWindowClosed(True)

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
