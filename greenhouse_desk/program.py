"""The program put together: store, desk, screens and window, with what rings and ticks, and how all of it is let go."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from greenhouse_desk.services import photos
from greenhouse_desk.services.clock import Clock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.shelf import Shelves
from greenhouse_desk.store.engine import Store
from greenhouse_desk.ui.alarm import Alarm
from greenhouse_desk.ui.bench.due import CareBell
from greenhouse_desk.ui.bench.screen import BenchScreen, Equipment
from greenhouse_desk.ui.collection.entry_forms import names_of
from greenhouse_desk.ui.collection.screen import CollectionScreen
from greenhouse_desk.ui.collector import Collector
from greenhouse_desk.ui.findings.screen import FindingsScreen
from greenhouse_desk.ui.folders import Folders as Folders
from greenhouse_desk.ui.house.screen import HouseScreen
from greenhouse_desk.ui.label_sheet import LabelSheet
from greenhouse_desk.ui.labels.screen import LabelsScreen
from greenhouse_desk.ui.main_window import MainWindow, Screen
from greenhouse_desk.ui.printer import Printing
from greenhouse_desk.ui.protocols.screen import ProtocolsScreen
from greenhouse_desk.ui.quarantine.screen import QuarantineScreen
from greenhouse_desk.ui.scanner import Scanner
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.thumbnails import Thumbnails
from greenhouse_desk.ui.ticker import Ticker
from greenhouse_desk.ui.timeline.screen import TimelineScreen
from greenhouse_desk.ui.transitions.screen import TransitionsScreen
from greenhouse_desk.ui.watch import Wakefulness, Watch
from greenhouse_desk.ui.window_settings import WindowSettings


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
    collector: Collector
    printing: Printing
    colours: Palette

    def read_label(self) -> LabelSheet | None:
        """Read a label with the camera, or from a picture, and bring up its plant; never at the bench."""
        if self.bench.mode is not None:
            return None
        sheet = LabelSheet(self.desk, self.colours, self.window)
        sheet.found.connect(self.bring_up)
        sheet.open()
        sheet.look()
        return sheet

    def bring_up(self, number: int) -> None:
        """Show a plant whose label was scanned, its card in sight; at the bench the session goes on undisturbed."""
        self._put_sheets_away()
        if self.bench.mode is None and self.signals.attempt(lambda: self.collection.open_drawer(number)):
            self.window.show_titled("Collection")
            self.collection.view.choose(number)
            self.collection.open_drawer(number)  # one that left has no card: its drawer is open all the same

    def _put_sheets_away(self) -> None:
        """A hand-held scanner may be quicker than the camera."""
        for sheet in self.window.findChildren(LabelSheet):
            sheet.reject()

    def listen(self) -> None:
        """Connect what reads and prints labels with the window, which waits for what is written before it closes."""
        self.scanner.scanned.connect(self.bring_up)
        self.window.label_wanted.connect(self.read_label)
        printing, saving, window = self.printing, self.labels.saving, self.window
        self.signals.to_printer.connect(printing.begin)
        printing.noted.connect(self.signals.noted)
        printing.refused.connect(self.signals.refused)
        printing.told.connect(window.printed.tell)
        window.printed.stopped.connect(printing.stop)
        self.labels.measured.connect(printing.keep_correction)
        window.waits_for = lambda: ("the pages are printed" if printing.busy else "the file is written" if saving.busy
                                    else "")
        saving.busy_changed.connect(window.close_when_free)
        printing.told.connect(lambda _words: window.close_when_free())

    def tick(self, now: datetime) -> None:
        """A second has passed."""
        self.window.tick(now)
        self.watch.tick(now)

    def close(self) -> None:
        """Let what runs come to its end, and let go of the store."""
        self.ticker.stop()
        self.scanner.close()
        self._put_sheets_away()
        self.bench.put_away()
        self.alarm.silence()
        self.awake(False)
        self.watch.close()
        self.collection.close_tasks()
        self.printing.close()
        self.labels.close_tasks()
        self.house.close_tasks()
        self.thumbs.close()
        self.collector.stop()
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
        lambda: alarm.words, settings.screen_mm, CareBell(lambda: watch.ringing, lambda: watch.bell.dismiss())))
    alarm.gave_up.connect(bench.on_alarm_gave_up)
    alarm.words_changed.connect(lambda words: signals.noted.emit(words) if words else None)
    house = HouseScreen(desk, signals, settings, colours)
    timeline = TimelineScreen(desk, signals, colours, thumbs)
    quarantine = QuarantineScreen(desk, signals, colours, shelves().pests)
    transitions = TransitionsScreen(desk, signals, colours)
    labels = LabelsScreen(desk, signals, colours, shelves, thumbs)
    window = MainWindow(desk, signals, [
        Screen("Collection", collection, collection.count, tick=collection.tick),
        Screen("Timeline", timeline, tick=timeline.tick),
        Screen("Bench", bench, session=lambda: bench.mode is not None),
        Screen("Quarantine", quarantine, quarantine.count),
        Screen("Transitions", transitions, transitions.count),
        Screen("Labels", labels, labels.count),
        Screen("Findings", FindingsScreen(desk, signals, colours)),
        Screen("Protocols", ProtocolsScreen(shelves, colours)), Screen("House", house, leave=house.leave)], colours)
    watch = Watch(desk, signals, alarm, window)
    window.session.take_up.connect(bench.chooser.take_up)
    for taken in (signals.to_bench, signals.to_wash):
        taken.connect(lambda _plants: window.show_titled("Bench"))
    program = Program(desk, signals, ticker, window, collection, timeline, bench, quarantine, transitions, labels,
                      house, thumbs, alarm, watch, awake, Scanner(), Collector(window),
                      Printing(settings.printers, window), colours)
    program.listen()
    ticker.second.connect(program.tick)
    collection.view.setFocus()
    return program
