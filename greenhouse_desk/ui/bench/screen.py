"""The bench screen of the window: choose, look over the evening, begin; take up what was left; read the record."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QStackedWidget, QWidget

from greenhouse_desk.domain.bench import Ring
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.services import collection, treatments
from greenhouse_desk.services.clock import Clock
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.shelf import Shelf
from greenhouse_desk.services.treatments import Candidate
from greenhouse_desk.services.treatments_proposal import WASH
from greenhouse_desk.ui.bench import keymap
from greenhouse_desk.ui.bench.afar import LeftSoaks
from greenhouse_desk.ui.bench.before import BeforePage, moved
from greenhouse_desk.ui.bench.binding import BindingDialog
from greenhouse_desk.ui.bench.choices import Choices, moves
from greenhouse_desk.ui.bench.chooser import ChooserPage
from greenhouse_desk.ui.bench.due import CareBell
from greenhouse_desk.ui.bench.keymap import KeyMap
from greenhouse_desk.ui.bench.mode import BenchMode
from greenhouse_desk.ui.bench.open_words import opened
from greenhouse_desk.ui.bench.record_page import RecordPage
from greenhouse_desk.ui.bench.ruler import RulerDialog, logical_dpi
from greenhouse_desk.ui.bench.sheets import BenchSheets
from greenhouse_desk.ui.sides import filled
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.ticker import Ticker
from greenhouse_desk.ui.whole_screen import screen_of


@dataclass(frozen=True)
class Equipment:
    """What bench mode works with: clock, second hand, alarm, and who keeps the machine awake (see BenchMode).

    `keys_file` keeps the grower's own keys (None: not kept); `dpi` stands in for a screen that tells its own wrongly;
    `full_screen` is off for pictures and tests; `sound` says in words why the alarm makes no sound ("" when it does);
    `screen_mm` is the screen's width as the grower measured it (0: its own word is taken), `bell` rings for care.
    """

    clock: Clock
    ticker: Ticker
    ring: Callable[[Ring], None]
    awake: Callable[[bool], str]
    keys_file: Path | None = None
    dpi: float | None = None
    full_screen: bool = True
    sound: Callable[[], str] = str
    screen_mm: int = 0
    bell: CareBell | None = None


class BenchScreen(QWidget):
    """Three pages: choosing, before the start, the record. `shelf` gives the shelf as it now stands."""

    screen_measured = Signal(int)  # its width in mm, to be kept

    def __init__(self, desk: Desk, signals: Signals, palette: Palette, shelf: Callable[[], Shelf],
                 equipment: Equipment) -> None:
        super().__init__()
        self._desk, self._signals, self._shelf, self._with, self._look = desk, signals, shelf, equipment, palette
        self._choices = Choices()
        self._known: dict[int, Candidate] = {}
        self.mode: BenchMode | None = None
        self.screen_mm = equipment.screen_mm
        self.keys, wrong = keymap.read(equipment.keys_file) if equipment.keys_file else (KeyMap(), "")
        zone = desk.read(collection.zone)
        self.chooser, self.before = ChooserPage(palette), BeforePage(palette, zone)
        self.record = RecordPage(desk, signals)
        self.pages = QStackedWidget()
        for page in (self.chooser, self.before, self.record):
            self.pages.addWidget(page)
        filled(self, self.pages)
        self.sheets = BenchSheets(signals, self.before, self.record, self)
        self._afar = LeftSoaks(desk, equipment.clock, zone, equipment.ring, equipment.awake, signals.noted.emit, self)
        self._listen()
        if wrong:
            self._signals.noted.emit(wrong)

    def _listen(self) -> None:
        self.chooser.toggled.connect(self._on_toggled)
        self.chooser.protocol_chosen.connect(self._on_protocol_chosen)
        self.chooser.washed.connect(self._on_washed)
        self.chooser.reasoned.connect(self._on_reasoned)
        self.chooser.typed.connect(self._on_typed)
        self.chooser.take_up.connect(self._on_take_up)
        self.chooser.go.connect(self._on_go)
        self.chooser.keys.connect(self._on_keys)
        self.chooser.screen_size.connect(self._on_screen_size)
        self.before.back.connect(self._on_back)
        self.before.begin.connect(self._on_begin)
        self.before.moved.connect(self._on_moved)
        self.record.back.connect(self._on_back)
        self._signals.to_bench.connect(self.choose)
        self._signals.to_wash.connect(self.choose_washes)
        self._signals.changed.connect(self._afar.on_changed)
        self._with.ticker.second.connect(self._afar.on_second)
        self._with.ticker.second.connect(self._on_second)

    def showEvent(self, event: QShowEvent) -> None:
        """Whoever comes here wants to type a number: no click is needed first."""
        super().showEvent(event)
        if self.pages.currentWidget() is self.chooser:
            self.chooser.begin()

    def show_now(self) -> None:
        """Read everything anew and show it; while bench mode fills the screen nothing here is read."""
        if self.mode is not None:
            return
        found = self._desk.read(treatments.candidates, self._desk.clock())
        self._known = {one.plant: one for one in found}
        self._choices = self._choices.kept(tuple(self._known))
        self._propose(tuple(self._choices.of))
        if not self._choices.of:
            self.before.kit.begun()
        self._show_choosing()
        self.chooser.show_open(opened(self._desk))
        if self.pages.currentWidget() is self.before and not self._show_before():
            self.pages.setCurrentWidget(self.chooser)

    def choose(self, numbers: Sequence[int]) -> None:
        """Add these plants to the choice, each with what is proposed for it."""
        if not self._known:
            self.show_now()
        self._propose(numbers)
        for number in numbers:
            if number in self._known:
                self._choices = self._choices.added(number, self._proposed(self._known[number]))
        self.pages.setCurrentWidget(self.chooser)
        self._show_choosing()

    def choose_washes(self, why: Mapping[int, str]) -> None:
        """Add these plants to the choice, each with the pest wash and why it is wanted."""
        if not self._known:
            self.show_now()
        self._propose(tuple(why))
        wash = WASH if self._shelf().protocol(WASH) is not None else ""
        for number, reason in why.items():
            if number in self._known:
                self._choices = self._choices.washing(number, wash, reason)
        self.pages.setCurrentWidget(self.chooser)
        self._show_choosing()

    def open_session(self, session_id: int) -> None:
        """Fill the screen with bench mode for this session."""
        self._afar.pause(True)
        mode = BenchMode(self._desk, session_id, self._with.clock, self._with.ring, self._with.awake, self._with.sound,
                         self.keys, self._with.dpi or logical_dpi(self, self.screen_mm), bell=self._with.bell)
        self._with.ticker.second.connect(mode.on_second)
        self._with.ticker.jumped.connect(mode.on_jumped)
        mode.left.connect(self._on_left)
        self.mode = mode
        if self._with.full_screen:
            mode.setGeometry(screen_of(self).geometry())  # with no window manager nobody else makes it fill the screen
            mode.showFullScreen()
        else:
            mode.show()
        mode.activateWindow()
        mode.setFocus()

    def put_away(self) -> None:
        """Close bench mode with the window; its session stays open and is offered again."""
        if self.mode is not None:
            self.mode.close()

    def on_alarm_gave_up(self, source: str) -> None:
        """The alarm of `source` rang to its limit; a missed soak is written down."""
        if source == "bench":
            self._afar.missed()

    def _propose(self, numbers: Sequence[int]) -> None:
        """Ask what is proposed for these plants; the list of all does without, which keeps it quick."""
        some = tuple(self._known[number] for number in numbers if number in self._known)
        if some:
            self._known |= {one.plant: one for one in self._desk.read(treatments.proposed, self._desk.clock(), some)}

    def _proposed(self, candidate: Candidate) -> str:
        ids = [protocol.id for protocol in self._shelf().protocols]
        return candidate.proposed if candidate.proposed in ids else ""

    def _show_choosing(self) -> None:
        shelf = self._shelf()
        may = {one.plant: self._desk.read(treatments.move, self._desk.clock(), one.plant)
                for one in self._choices.all if moves(shelf.protocol(one.protocol_id))}
        self.chooser.show_plants(tuple(self._known.values()), self._choices, shelf.protocols, may)

    def _show_before(self) -> bool:
        """Show the page before the start; False when these choices cannot be prepared."""
        shelf = self._shelf()
        try:
            found = self._desk.read(treatments.preparation, self._desk.clock(), self._choices.all, shelf,
                                    self._choices.order)
        except Refused as refusal:
            self._signals.refused.emit(refusal)
            return False
        protocols = {one.plant: protocol for one in self._choices.all
                     if (protocol := shelf.protocol(one.protocol_id)) is not None}
        self._queue = tuple(plant for plant, _why in found.order)
        self.before.show_preparation(found, self._known, protocols, shelf)
        return True

    def _on_second(self, now: datetime) -> None:
        """A plan that stood a while is made anew from now; what is said of a soak left running follows the clock."""
        if self.mode is None and self.before.isVisible() and self.before.stale(now) and not self._show_before():
            self.pages.setCurrentWidget(self.chooser)
        if self.mode is None and self.chooser.stale(now):
            self.chooser.show_open(opened(self._desk))

    def _on_toggled(self, plant: int) -> None:
        self._signals.settled.emit()
        if plant in self._choices.of:
            self._choices = self._choices.without(plant)
        elif plant in self._known:
            self._propose((plant,))
            self._choices = self._choices.added(plant, self._proposed(self._known[plant]))
        self._show_choosing()

    def _on_protocol_chosen(self, plant: int, protocol: str) -> None:
        self._choices = self._choices.with_protocol(plant, protocol)
        self._show_choosing()

    def _on_washed(self, plant: int, wash: bool) -> None:
        self._choices = self._choices.with_wash(plant, wash)

    def _on_reasoned(self, plant: int, reason: str) -> None:
        if plant in self._choices.of:
            self._choices = self._choices.with_reason(plant, reason)

    def _on_typed(self, number: int) -> None:
        if number in self._known:
            self._signals.settled.emit()
            self.choose((number,))
        else:
            self._signals.refused.emit(Refused(f"There is no growing plant {number}", "Nothing was chosen.",
                                               "Check the number on the pot."))

    def _on_go(self) -> None:
        if self._show_before():
            self._signals.settled.emit()
            self.pages.setCurrentWidget(self.before)
            self.before.open_at_top()
            self.before.lead.setFocus()

    def _on_back(self) -> None:
        self.pages.setCurrentWidget(self.chooser)
        self.show_now()

    def _on_moved(self, plant: int, way: int) -> None:
        self._choices = replace(self._choices, order=moved(self._queue, plant, way))
        self._show_before()

    def _on_begin(self) -> None:
        try:
            session = self._desk.run(treatments.start, self._choices.all, self._shelf(), self._choices.order,
                                     self.before.kit.laid_out)
        except Refused as refusal:
            self._signals.refused.emit(refusal)
            return
        self._choices = Choices()
        self.before.kit.begun()
        self.pages.setCurrentWidget(self.chooser)
        self.open_session(session)

    def _on_take_up(self, session: int) -> None:
        if self._signals.attempt(lambda: self._desk.run(treatments.take_up, session, self._with.clock.steady())):
            self.open_session(session)

    def _on_left(self, session: int, ended: bool) -> None:
        self.mode = None
        self._afar.pause(False)
        self.show_now()
        self.window().activateWindow()
        if not ended:
            self.chooser.offer(session)
        else:
            self.record.show_session(session)
            self.pages.setCurrentWidget(self.record)

    def _on_keys(self) -> None:
        dialog = BindingDialog(self.keys, self)
        if dialog.exec():
            self.keys = dialog.keys
            if self._with.keys_file is not None:
                keymap.write(self._with.keys_file, self.keys)

    def _on_screen_size(self) -> None:
        dialog = RulerDialog(self._look, self.screen_mm, self)
        if dialog.exec():
            self.screen_mm = dialog.measured_mm
            self.screen_measured.emit(self.screen_mm)
