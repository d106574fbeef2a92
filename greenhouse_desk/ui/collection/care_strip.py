"""The care strip: who needs hands now, today, tomorrow and this week, and why, with the drying countdown on top."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, tzinfo

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QFrame, QHBoxLayout, QListView, QVBoxLayout, QWidget

from greenhouse_desk.domain.care import TONIGHT, Care
from greenhouse_desk.domain.care_day import hands_when
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.ui import words
from greenhouse_desk.ui.collection.care_paint import CareDelegate
from greenhouse_desk.ui.collection.care_rows import FOLDING, CareModel, CareRow, Heading, Stand, Turns, row_of
from greenhouse_desk.ui.collection.drying import DryingBox
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.rows import ROW
from greenhouse_desk.ui.style import Palette

LOW = 460
NOTHING = "Nothing is owed in the days ahead."


class CareStrip(QFrame):
    """`asked(care)` opens a plant's drawer at that care; `dry(plant)`, `blotted(plant)`, `aired(plant)` tell what the
    hands did."""

    asked = Signal(object)
    dry = Signal(int)
    blotted = Signal(int)
    aired = Signal(int)

    def __init__(self, palette: Palette, zone: tzinfo, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("ground", "sheet")
        self.setProperty("edge", "left")
        self.model = CareModel()
        self._first: Care | None = None
        self._shown: tuple[Turns, Mapping[int, Stand], datetime, tzinfo, HouseRules] | None = None
        self._folded = set(FOLDING)
        self.tonight: frozenset[int] = frozenset()
        self.when = "today"
        self._box = DryingBox(palette, zone)
        self._count = label("", "second", px=13, wrap=False)
        self._count.setToolTip("Plants with care under Now or Today.")
        self._empty = label(NOTHING, "second")
        self._urgent = self._urgent_frame()
        self.list = QListView()
        self.list.setModel(self.model)
        self.list.setItemDelegate(CareDelegate(palette, self.list))
        self.list.setMouseTracking(True)
        self.list.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.list.setResizeMode(QListView.ResizeMode.Adjust)
        self.list.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        bar = self.list.verticalScrollBar()
        bar.rangeChanged.connect(lambda low, high: bar.setEnabled(high > low))
        self.list.setAccessibleName("Care by turn, most in need first")
        self.list.clicked.connect(self._on_row)
        self.list.activated.connect(self._on_row)
        self._build()

    def _build(self) -> None:
        head = QHBoxLayout()
        head.addWidget(heading("Care", 19))
        head.addStretch(1)
        head.addWidget(self._count, 0, Qt.AlignmentFlag.AlignBottom)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 4, 8)
        column.setSpacing(8)
        inner = QVBoxLayout()
        inner.setContentsMargins(0, 0, 10, 0)
        inner.setSpacing(8)
        inner.addLayout(head)
        inner.addWidget(self._urgent)
        inner.addWidget(self._empty)
        column.addLayout(inner)
        column.addWidget(self.list, 1)

    def _urgent_frame(self) -> QFrame:
        frame = QFrame()
        frame.setProperty("edge", "urgent")
        column = QVBoxLayout(frame)
        column.setContentsMargins(2, 2, 2, 10)
        column.addWidget(self._box)
        self._in_short = label(ink="madder", bold=True)
        self._in_short.setContentsMargins(10, 0, 10, 4)
        self._in_short.hide()
        column.addWidget(self._in_short)
        row = QHBoxLayout()
        row.setContentsMargins(10, 0, 10, 0)
        row.setSpacing(6)
        self.dry_button = button("Crown dry", "small", "Crown dry: felt with a finger")
        self.blot_button = button("Blotted", "small", "Crown and axils blotted")
        self.air_button = button("Fan on", "small", "Moving air put on")
        self.why_button = button("why?", "small", "Why: the drying countdown")
        for made, signal in ((self.blot_button, self.blotted), (self.air_button, self.aired),
                             (self.dry_button, self.dry)):
            made.clicked.connect(lambda _=False, signal=signal: self._on_hands(signal))
            row.addWidget(made)
        row.addStretch(1)
        self.why_button.clicked.connect(lambda: self.asked.emit(self._first))
        row.addWidget(self.why_button)
        column.addLayout(row)
        return frame

    def show_care(self, turns: Turns, stands: Mapping[int, Stand], now: datetime, zone: tzinfo,
                  rules: HouseRules) -> None:
        """Show what is owed at `now`: the first airing large, everything else in the list under its turn."""
        every = [care for _, cares in turns for care in cares if care.plant in stands]
        drying = next((care for care in every if care.drying is not None), None)
        self._first = drying
        self._urgent.setVisible(drying is not None)
        if drying is not None and drying.drying is not None:
            self._box.show_care(drying, stands[drying.plant].name, now, zone)
            self._in_short.setText(row_of(drying, stands[drying.plant], now, zone, rules).when)
            self.blot_button.setVisible(drying.drying.pool)
            self.air_button.setVisible(not drying.drying.aired and not drying.drying.pool)
        rest = [(turn, [care for care in cares if care is not drying]) for turn, cares in turns]
        self._shown = (rest, stands, now, zone, rules)
        self.model.show_turns(rest, stands, self._folded, now, zone, rules)
        self.tonight = frozenset(care.plant for turn, cares in turns if turn in TONIGHT for care in cares
                                 if care.plant in stands)
        self.when = hands_when(now, zone, rules)
        self._count.setText(hands_words(len(self.tonight), self.when) if every else "")
        self._empty.setVisible(not every)

    def most_in_need(self) -> CareRow | None:
        """The first care that needs hands today, the one with the countdown before all; None when there is none."""
        if self._shown is None or not self.tonight:
            return None
        turns, stands, now, zone, rules = self._shown
        first = self._first or next(care for _, cares in turns for care in cares if care.plant in self.tonight)
        return row_of(first, stands[first.plant], now, zone, rules)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """In a low window the countdown takes less room, so that the list keeps some."""
        super().resizeEvent(event)
        self._box.set_compact(self.height() < LOW)
        self._in_short.setVisible(self.height() < LOW)

    def tick(self, now: datetime) -> None:
        """A second has passed."""
        if self._first is not None:
            self._box.tick(now)

    def _on_hands(self, signal: Signal) -> None:
        if self._first is not None:
            signal.emit(self._first.plant)  # type: ignore[attr-defined]

    def _on_row(self, index: QModelIndex) -> None:
        row = index.data(ROW)
        if not isinstance(row, Heading):
            self.asked.emit(row.care)
        elif row.folded is not None and self._shown is not None:
            self._folded ^= {row.turn}
            turns, stands, now, zone, rules = self._shown
            self.model.show_turns(turns, stands, self._folded, now, zone, rules)


def hands_words(plants: int, when: str) -> str:
    """How many plants need hands `when`: today, or tonight."""
    if not plants:
        return f"no plant needs hands {when}"
    return f"{words.counted(plants, 'plant')} {'needs' if plants == 1 else 'need'} hands {when}"
