"""The Collection screen: benches, register, search, care strip or drawer, and what can be done with chosen plants."""

from __future__ import annotations

from datetime import datetime, timedelta
from functools import partial

from PySide6.QtCore import QPoint, QSignalBlocker, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QMenu, QStackedWidget, QVBoxLayout, QWidget

from greenhouse_desk.domain.care import Care
from greenhouse_desk.services import collection, house
from greenhouse_desk.services.collection import Overview
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui.collection.care_rows import Stand
from greenhouse_desk.ui.collection.care_strip import CareStrip
from greenhouse_desk.ui.collection.chosen_bar import ChosenBar
from greenhouse_desk.ui.collection.deeds import PlantDeeds
from greenhouse_desk.ui.collection.drawer import PlantDrawer
from greenhouse_desk.ui.collection.entry_deeds import EntryDeeds
from greenhouse_desk.ui.collection.entry_forms import Names
from greenhouse_desk.ui.collection.first_page import FirstPage
from greenhouse_desk.ui.collection.list_deeds import ListDeeds
from greenhouse_desk.ui.collection.model import benches_of
from greenhouse_desk.ui.collection.place_deeds import PlaceDeeds
from greenhouse_desk.ui.collection.register import Register
from greenhouse_desk.ui.collection.sheets import Sheets
from greenhouse_desk.ui.collection.toolbar import Toolbar
from greenhouse_desk.ui.collection.urgent_line import UrgentLine
from greenhouse_desk.ui.collection.view import BenchView
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.thumbnails import Thumbnails

FOLDED, WIDE = 760, 1740
READ_AGAIN = timedelta(minutes=10)
UNBOUND = 16_777_215
STEPS = (("Move to the left", "Left", (-1, 0)), ("Move to the right", "Right", (1, 0)),
         ("Move to the bench above", "Up", (0, -1)), ("Move to the bench below", "Down", (0, 1)))


class CollectionScreen(QWidget):
    """The collection as it stands. `signals.to_bench` is emitted with the plants a grower takes to the bench."""

    dense_changed = Signal(bool)

    def __init__(self, desk: Desk, signals: Signals, palette: Palette, thumbs: Thumbnails,
                 names: Names, dense: bool = False) -> None:
        super().__init__()
        self.setProperty("ground", "bench")
        self._desk, self._signals = desk, signals
        self._overview: Overview | None = None
        self._read_at = desk.clock()
        self.deeds = PlantDeeds(desk, signals, self)
        self.entries = EntryDeeds(self.deeds, names, self)
        self.places = PlaceDeeds(desk, signals, self.deeds, palette, self)
        self.toolbar = Toolbar(dense)
        self.urgent = UrgentLine(palette)
        self.register = Register(palette)
        self.view = BenchView(palette, thumbs)
        self.view.set_dense(dense)
        self.lists, self.sheets = ListDeeds(self.deeds, self), Sheets(desk, signals, self)
        self.first = FirstPage()
        self.strip = CareStrip(palette, desk.read(house.zone))
        self.drawer = PlantDrawer(self.deeds, self.entries, palette, thumbs)
        self.chosen_bar = ChosenBar()
        self._side = QStackedWidget()
        self._side.addWidget(self.strip)
        self._side.addWidget(self.drawer)
        self._fold = False
        self._build()
        self._listen()

    def _build(self) -> None:
        self._middle = QStackedWidget()
        self._middle.addWidget(self.view)
        self._middle.addWidget(self.first)
        self._left = QWidget()
        column = QVBoxLayout(self._left)
        column.setContentsMargins(0, 8, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.toolbar)
        column.addWidget(self.urgent)
        self._register_room = QWidget()
        room = QHBoxLayout(self._register_room)
        room.setContentsMargins(14, 0, 12, 0)
        room.addWidget(self.register)
        column.addWidget(self._register_room)
        column.addWidget(self._middle, 1)
        column.addWidget(self.chosen_bar)
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight, self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(0)
        self._row.addWidget(self._left, 1)
        self._row.addWidget(self._side)

    def _listen(self) -> None:
        view, bar, tools = self.view, self.toolbar, self.chosen_bar
        view.opened.connect(self.open_drawer)
        view.chosen.connect(self._on_chosen)
        view.moved.connect(lambda numbers, place, before: self.deeds.run(collection.move, numbers, place, before))
        view.filling.connect(self.deeds.add)
        view.air_wanted.connect(self.places.air)
        view.head_pressed.connect(self.places.menu)
        view.menu_wanted.connect(self._on_menu)
        view.scrolled.connect(lambda: self.register.show_seen(view.numbers_in_sight()))
        self.register.asked.connect(self._on_asked)
        self.urgent.asked.connect(lambda: self._on_care_toggled(True))
        self.first.own.connect(self.places.begin)
        self.first.listed.connect(self.lists.choose)
        bar.searched.connect(self._on_typed)
        bar.next_found.connect(self._on_asked)
        bar.add.connect(lambda: self.deeds.add())
        bar.places.connect(self.places.list)
        bar.paper.connect(self.sheets.menu)
        bar.care.connect(self._on_care_toggled)
        bar.dense.connect(self._on_dense)
        tools.bench.connect(lambda: self._signals.to_bench.emit(view.numbers()))
        tools.timeline.connect(lambda: self._signals.to_timeline.emit(view.numbers()))
        tools.moving.connect(lambda: self.deeds.move_to(view.numbers()))
        tools.clear.connect(view.clearSelection)
        self.strip.asked.connect(self._on_care_asked)
        self.strip.dry.connect(self.deeds.dry)
        self.strip.blotted.connect(self.deeds.blotted)
        self.strip.aired.connect(self.deeds.aired)
        self.drawer.closed.connect(self.close_drawer)
        self.drawer.to_bench.connect(lambda number: self._signals.to_bench.emit((number,)))
        for keys in ("Ctrl+F", "/"):
            QShortcut(QKeySequence(keys), self, bar.take_focus)

    # What is shown

    def show_now(self) -> None:
        """Read the collection anew."""
        now = self._desk.clock()
        overview = self._desk.read(collection.overview, now)
        self._overview, self._read_at = overview, now
        benches = benches_of(overview)
        self.view.show_benches(benches, now)
        self._middle.setCurrentIndex(0 if benches else 1)
        self.register.show_seats(self.view.cards.seats, [bench.place.name for bench in benches])
        self._register_room.setVisible(bool(self.view.cards.seats) and not self._fold)
        stands = {seat.number: Stand(seat.card.name, benches[seat.bench].place.name) for seat in self.view.cards.seats}
        self.strip.show_care(overview.turns, stands, now, overview.zone, overview.rules)
        self.toolbar.show_count(len(self.view.cards.seats), len(self.strip.tonight), self.strip.when)
        self.urgent.show_row(self.strip.most_in_need(), len(self.strip.tonight) - 1, self.strip.when)
        self._show_urgent()
        self._find(self.toolbar.text())
        if self.drawer_open():
            assert self.drawer.drawer is not None
            self._fill_drawer(self.drawer.drawer.card.plant.number)

    def count(self) -> str:
        """How many plants grow here, for the navigation."""
        return str(len(self.view.cards.seats)) if self._overview else ""

    def tick(self, now: datetime) -> None:
        """A second has passed: paint the countdown; read everything anew when time has changed its words."""
        if not self.isVisible() or self._overview is None:
            return
        limits = [care.drying.limit for care in self._overview.care if care.drying is not None]
        if now - self._read_at >= READ_AGAIN or any(at is not None and self._read_at < at <= now for at in limits):
            self.show_now()
        self.strip.tick(now)

    def close_tasks(self) -> None:
        """Wait for photos, lists and loggers' files under way."""
        self.entries.close()
        self.lists.close()
        self.places.loggers.close()

    def drawer_open(self) -> bool:
        """Whether a plant's drawer is open."""
        return self._side.currentWidget() is self.drawer

    def open_drawer(self, number: int) -> None:
        """Open the drawer of a plant."""
        self._fill_drawer(number)
        self._side.setCurrentWidget(self.drawer)
        self._show_side(True)

    def close_drawer(self) -> None:
        """Put the drawer away; the care strip comes back."""
        self._side.setCurrentWidget(self.strip)
        self._show_side(False)
        self.view.setFocus()

    def _fill_drawer(self, number: int) -> None:
        assert self._overview is not None
        now = self._desk.clock()
        drawer = self._desk.read(collection.drawer, number, now)
        apart = any(seat.isolation for seat in self.view.cards.seats if seat.number == number)
        self.drawer.show_drawer(drawer, apart, now, self._overview.zone, self._overview.rules)

    # What the grower does

    def _on_chosen(self) -> None:
        numbers = self.view.numbers()
        self.chosen_bar.show_numbers(numbers if len(numbers) > 1 else ())
        self.toolbar.show_hint(f"Ctrl with an arrow moves {numbers[0]}" if len(numbers) == 1 else "")
        if self.drawer_open() and len(numbers) == 1:
            self._fill_drawer(numbers[0])

    def _on_asked(self, number: int) -> None:
        self.view.choose(number)
        self.open_drawer(number)
        self._on_chosen()

    def _on_care_asked(self, care: Care) -> None:
        self._on_asked(care.plant)
        self.drawer.open_why(care)

    def _on_typed(self, text: str) -> None:
        best = self._find(text)
        if best is not None and self.view.isVisible():
            self.view.bring(best)

    def _find(self, text: str) -> int | None:
        """Mark what `text` finds; returns the plant that fits best, of those that stand here."""
        found = self._desk.read(collection.find, text) if text.strip() else ()
        here = tuple(number for number in found if self.view.cards.row_of(number) >= 0)
        gone = tuple(number for number in found if number not in here)
        self.view.mark_found(frozenset(here) if text.strip() else None)
        self.toolbar.show_found(here, gone, bool(text.strip()))
        return here[0] if here else None

    def _on_dense(self, dense: bool) -> None:
        self.view.set_dense(dense)
        self.dense_changed.emit(dense)

    def _on_menu(self, at: QPoint) -> None:
        numbers = self.view.numbers()
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.addAction("Take to the bench", lambda: self._signals.to_bench.emit(numbers))
        menu.addAction("See on the timeline", lambda: self._signals.to_timeline.emit(numbers))
        menu.addAction("Move to…", lambda: self.deeds.move_to(numbers))
        if len(numbers) == 1:
            menu.addAction("Open", lambda: self._on_asked(numbers[0]))
            menu.addAction("Edit…", lambda: self.deeds.edit(numbers[0]))
            menu.addAction("Part with…", lambda: self.deeds.part(numbers[0]))
            menu.addSeparator()
            for word, key, (along, across) in STEPS:
                menu.addAction(f"{word}\tCtrl+{key}", partial(self.view.step, along, across))
        menu.popup(at)

    def _on_care_toggled(self, shown: bool) -> None:
        self._side.setCurrentWidget(self.strip)
        self._show_side(shown)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape closes the drawer, then lets go of the chosen plants."""
        if event.key() == Qt.Key.Key_Escape and self.drawer_open():
            self.close_drawer()
        elif event.key() == Qt.Key.Key_Escape:
            self.view.clearSelection()
            self.toolbar.clear()
        else:
            super().keyPressEvent(event)

    # Narrow and wide

    def resizeEvent(self, event: QResizeEvent) -> None:
        """In a narrow window the side takes the place of the benches when it is asked for."""
        super().resizeEvent(event)
        self._fold = self.width() < FOLDED
        self.toolbar.set_narrow(self._fold)
        self._register_room.setVisible(bool(self.view.cards.seats) and not self._fold)
        self._show_side(self.drawer_open() or self.toolbar.care_shown())

    def _show_side(self, wanted: bool) -> None:
        if self._fold:
            self._fold_side(wanted)
        else:
            wide = 400 if self.width() >= WIDE else 288 if self.width() >= 1348 else 320
            self._row.setDirection(QBoxLayout.Direction.LeftToRight)
            self._row.setStretch(0, 1)
            self._row.setStretch(1, 0)
            self._side.setFixedWidth(wide)
            for part in (self._side, self._left, self._middle):
                part.show()
        with QSignalBlocker(self.toolbar):
            self.toolbar.set_care_shown(wanted and not self.drawer_open())
        self._show_urgent()

    def _show_urgent(self) -> None:
        """What is most in need stays in sight while care is folded away."""
        self.urgent.setVisible(self._fold and self.urgent.wanted and not self.toolbar.care_shown())

    def _fold_side(self, wanted: bool) -> None:
        """Care under the toolbar, or the drawer over everything; the benches make room."""
        self._row.setDirection(QBoxLayout.Direction.TopToBottom)
        self._row.setStretch(0, 0 if wanted else 1)
        self._row.setStretch(1, 1 if wanted else 0)
        self._side.setMinimumWidth(0)
        self._side.setMaximumWidth(UNBOUND)
        self._side.setVisible(wanted)
        self._left.setVisible(not (wanted and self.drawer_open()))
        self._middle.setVisible(not wanted)
