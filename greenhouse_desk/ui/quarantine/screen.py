"""The Quarantine screen: pages for trace, round, outbreaks, buying and trading beside the list of who is held back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from PySide6.QtCore import QItemSelectionModel, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QComboBox,
    QFrame,
    QHBoxLayout,
    QListView,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from greenhouse_desk.domain.care import Reason
from greenhouse_desk.domain.care_day import care_day
from greenhouse_desk.domain.pests import Pest
from greenhouse_desk.services import house, inspections, own_words, quarantine_why
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.inspections import Turn
from greenhouse_desk.ui.flow import Flow
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.quarantine.buying_page import BuyingPage
from greenhouse_desk.ui.quarantine.deeds import LENSES, QuarantineDeeds
from greenhouse_desk.ui.quarantine.outbreak_page import OutbreakPage
from greenhouse_desk.ui.quarantine.round_page import RoundPage
from greenhouse_desk.ui.quarantine.status_list import StatusDelegate, StatusModel
from greenhouse_desk.ui.quarantine.status_rows import EVERYTHING, pests_of, status_rows
from greenhouse_desk.ui.quarantine.trace_page import TracePage
from greenhouse_desk.ui.quarantine.trading_page import TradingPage
from greenhouse_desk.ui.sides import Sides
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.wheel import calm
from greenhouse_desk.ui.why import WhyBox, ask_why
from greenhouse_desk.ui.words import counted

SIDE = 320
BESIDE = 860
NARROW = 720
PAGES = ("Trace", "Round of looks", "Outbreaks", "Before buying", "Before trading")
TRACE, ROUND, OUTBREAKS, BUYING, TRADING = range(5)


class QuarantineScreen(QWidget):
    """`pests` are the known pests and diseases by key."""

    def __init__(self, desk: Desk, signals: Signals, palette: Palette, pests: Mapping[str, Pest]) -> None:
        super().__init__()
        self.setProperty("ground", "bench")
        self._desk, self._signals, self._look = desk, signals, palette
        self._names = {key: pest.name for key, pest in pests.items()}
        self.deeds = QuarantineDeeds(desk, signals, self, self._names,
                                     {key: pest.stages for key, pest in pests.items()})
        self.turns: tuple[Turn, ...] = ()
        self._due = ""
        self._due_at: tuple[int, date] | None = None
        self.trace, self.round = TracePage(desk, palette), RoundPage(desk, palette, self.deeds)
        self.outbreaks, self.buying = OutbreakPage(desk, palette), BuyingPage(desk, palette)
        self.trading = TradingPage(desk, palette)
        self.pages = QStackedWidget()
        self.tabs = QButtonGroup(self)
        self.filter = calm(QComboBox())
        self.filter.setAccessibleName("Status for which pest or disease")
        self.list = QListView()
        self.list.setAccessibleName("Plants that are held back")
        self.model = StatusModel(self)
        self.list.setModel(self.model)
        self.list.setItemDelegate(StatusDelegate(palette, self.list))
        self.list.setResizeMode(QListView.ResizeMode.Adjust)
        self.list.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.own_words = button("Your own words…", "small", "What your own words for pests and diseases name")
        self._count = label("", "second", wrap=False)
        self.actions_row = {word: button(word, role, name) for word, role, name in (
            ("Enter a look", "main", "Enter a clean look at the chosen plant"),
            ("Enter a sighting", "", "Enter what was seen on the chosen plant"),
            ("Release", "", "Release the chosen plant"), ("why?", "small", "Why the chosen plant stands so"))}
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(Sides(self._page(), self._side(), SIDE, BESIDE))
        self._listen()

    def _page(self) -> QWidget:
        made = QWidget()
        column = QVBoxLayout(made)
        column.setContentsMargins(0, 14, 0, 0)
        column.setSpacing(10)
        head = QVBoxLayout()
        head.setContentsMargins(24, 0, 24, 0)
        head.addWidget(heading("Quarantine", 26))
        row = Flow()
        for nth, title in enumerate(PAGES):
            tab = button(title)
            tab.setCheckable(True)
            self.tabs.addButton(tab, nth)
            row.add(tab)
        head.addWidget(row)
        column.addLayout(head)
        for page in (self.trace, self.round, self.outbreaks, self.buying, self.trading):
            self.pages.addWidget(page)
        self.tabs.button(TRACE).setChecked(True)
        self._fit_pages()
        column.addWidget(self.pages, 1)
        return made

    def _side(self) -> QFrame:
        side = QFrame()
        side.setProperty("ground", "sheet")
        side.setProperty("edge", "left")
        column = QVBoxLayout(side)
        column.setContentsMargins(12, 14, 8, 12)
        column.setSpacing(8)
        head = QHBoxLayout()
        head.addWidget(heading("Status", 19), 1)
        head.addWidget(self._count)
        column.addLayout(head)
        column.addWidget(self.filter)
        column.addWidget(self.own_words, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.list, 1)
        for words in (("Enter a look", "Enter a sighting"), ("Release", "why?")):
            row = QHBoxLayout()
            for word in words:
                row.addWidget(self.actions_row[word], 1)
            column.addLayout(row)
        return side

    def _listen(self) -> None:
        self.tabs.idClicked.connect(self.open_page)
        self.filter.currentIndexChanged.connect(self._on_filtered)
        self.list.selectionModel().currentChanged.connect(self._on_row_chosen)
        for word, slot in (("Enter a look", self._on_look), ("Enter a sighting", self._on_sighting),
                           ("Release", self._on_release), ("why?", self._on_why_row)):
            self.actions_row[word].clicked.connect(slot)
        self.list.activated.connect(self._on_why_row)
        self.own_words.clicked.connect(self.deeds.own_words)
        for page in (self.trace, self.round, self.outbreaks, self.buying, self.trading):
            page.why.connect(self._on_why)
        self.trace.chosen.connect(self.choose)
        self.trace.outbreak_wanted.connect(self._on_outbreak_wanted)
        self.trace.outbreak_shown.connect(self._on_outbreak_opened)
        self.outbreaks.to_wash.connect(self._signals.to_wash)
        self.outbreaks.round_wanted.connect(self._on_round_wanted)
        self.trading.record_wanted.connect(self.deeds.save_record)

    def count(self) -> str:
        """How many plants need a look today, for the navigation; read on its own, as the screen may not be shown yet.

        In a large collection only the screen itself reads it, so that no change waits for it.
        """
        if self._due_at != self._state() and self._desk.read(inspections.is_small):
            self._read_turns()
        return self._due if self._due_at == self._state() else ""

    def _state(self) -> tuple[int, date]:
        """What the figure rests on: the collection as it is, its rules and places too, and the care day."""
        return self._desk.store.changes, self._today()

    def _today(self) -> date:
        return care_day(self._desk.clock(), self._desk.read(house.zone), self._desk.read(house.rules))

    def _read_turns(self) -> None:
        self.turns = self._desk.read(inspections.turns, self._desk.clock())
        due = len(inspections.due(self.turns, self._today()))
        self._due, self._due_at = str(due) if due else "", self._state()

    def show_now(self) -> None:
        """Read how all stand anew, and the page in front with it."""
        self._read_turns()
        self._fill_filter()
        self._show_list()
        self._show_page()

    def open_page(self, number: int) -> None:
        """Bring one page to the front, read anew."""
        self.tabs.button(number).setChecked(True)
        self.pages.setCurrentIndex(number)
        self._fit_pages()
        self._show_page()
        if number == ROUND:
            self.round.setFocus()

    def _fit_pages(self) -> None:
        """Only the page in front counts for the height; a short one is not as long as the longest."""
        policy = QSizePolicy.Policy
        for page in (self.trace, self.round, self.outbreaks, self.buying, self.trading):
            front = page is self.pages.currentWidget()
            page.setSizePolicy(policy.Preferred, policy.Preferred if front else policy.Ignored)

    def _show_page(self) -> None:
        page = self.pages.currentWidget()
        if isinstance(page, TracePage | RoundPage | TradingPage):
            page.show_rows(self.turns)
        elif isinstance(page, OutbreakPage | BuyingPage):
            page.show_now()

    def _fill_filter(self) -> None:
        kept = self.filter.currentData()
        self.filter.blockSignals(True)
        self.filter.clear()
        for key in (EVERYTHING, *pests_of(self.turns)):
            self.filter.addItem(self._names.get(key, key.replace("-", " ")), key)
        self.filter.setCurrentIndex(max(0, self.filter.findData(kept)))
        self.filter.blockSignals(False)

    def _show_list(self) -> None:
        plant = self.chosen()
        rules = self._desk.read(house.rules)
        rows = status_rows(self.turns, self.filter.currentData() or EVERYTHING, self._names, rules.clean_looks,
                           self._today())
        self.model.show(rows)
        self._count.setText(counted(len(rows), "plant"))
        self.own_words.setVisible(bool(self._desk.read(own_words.used)))
        if plant is not None:
            self.choose(plant)
        for made in self.actions_row.values():
            made.setEnabled(self.chosen() is not None)

    def chosen(self) -> int | None:
        """The plant of the chosen row."""
        at = self.list.currentIndex().row()
        return self.model.rows[at].plant if 0 <= at < len(self.model.rows) else None

    def choose(self, plant: int) -> None:
        """Choose a plant's row, if it stands in the list."""
        at = next((nth for nth, row in enumerate(self.model.rows) if row.plant == plant), None)
        if at is not None:
            self.list.selectionModel().setCurrentIndex(self.model.index(at),
                                                       QItemSelectionModel.SelectionFlag.ClearAndSelect)

    def _turn(self) -> Turn | None:
        return next((turn for turn in self.turns if turn.plant == self.chosen()), None)

    def _on_row_chosen(self) -> None:
        plant = self.chosen()
        for made in self.actions_row.values():
            made.setEnabled(plant is not None)
        if plant is not None and self.pages.currentIndex() == TRACE:
            self.trace.take(plant)
        elif plant is not None and self.pages.currentIndex() == TRADING:
            self.trading.take(plant)

    def _on_filtered(self, _at: int) -> None:
        self._show_list()

    def _on_look(self) -> None:
        plant = self.chosen()
        if plant is not None:
            self.deeds.clean(plant, LENSES[0])

    def _on_sighting(self) -> None:
        turn = self._turn()
        if turn is not None:
            self.deeds.sighting(turn.plant, LENSES[0], [one.what for one in turn.standing.statuses if one.what])

    def _on_release(self) -> None:
        turn = self._turn()
        if turn is not None:
            self.deeds.release(turn.plant, turn.standing)

    def _on_why_row(self) -> None:
        turn = self._turn()
        if turn is not None:
            self._on_why(f"{turn.plant} is {turn.standing.word}", self._desk.read(
                quarantine_why.standing_reasons, self._desk.clock(), turn.standing))

    def _on_why(self, title: str, reasons: Sequence[Reason]) -> WhyBox:
        return ask_why(title, reasons, self._look, self)

    def _on_outbreak_wanted(self, plant: int, what: str) -> None:
        asked = self.deeds.outbreak(plant, what)
        if asked is not None:
            asked.accepted.connect(self._on_outbreak_opened)

    def _on_outbreak_opened(self) -> None:
        self.open_page(OUTBREAKS)

    def _on_round_wanted(self, numbers: Sequence[int]) -> None:
        self.round.begin(self.turns, numbers)
        self.open_page(ROUND)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """In a narrow window the parts of a page stand under each other."""
        super().resizeEvent(event)
        width = self.width()
        narrow = (width if width < BESIDE else width - SIDE) < NARROW
        self.trace.set_narrow(narrow)
        self.round.set_narrow(narrow)
