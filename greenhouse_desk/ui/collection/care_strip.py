"""The care strip: what needs hands, soonest first, with the drying countdown on top."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, tzinfo

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QFrame, QHBoxLayout, QListView, QVBoxLayout, QWidget

from greenhouse_desk.domain.care import Care
from greenhouse_desk.domain.names import BotanicalName
from greenhouse_desk.ui import words
from greenhouse_desk.ui.collection.care_rows import ROW, CareDelegate, CareModel
from greenhouse_desk.ui.collection.drying import DryingBox
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.style import Palette

LOW = 460
NOTHING = "Nothing is owed in the days ahead."


class CareStrip(QFrame):
    """`asked(number)` opens a plant; `dry(plant)`, `blotted(plant)`, `aired(plant)` tell what the hands did."""

    asked = Signal(int)
    dry = Signal(int)
    blotted = Signal(int)
    aired = Signal(int)

    def __init__(self, palette: Palette, zone: tzinfo, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("ground", "sheet")
        self.setProperty("edge", "left")
        self.model = CareModel()
        self._first: Care | None = None
        self._box = DryingBox(palette, zone)
        self._count = label("", "second", px=13, wrap=False)
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
        self.list.setAccessibleName("Care, soonest first")
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
        row = QHBoxLayout()
        row.setContentsMargins(10, 0, 10, 0)
        row.setSpacing(6)
        self.dry_button = button("Crown dry", "small", "Crown dry: felt with a finger")
        self.blot_button = button("Blotted", "small", "Crown and axils blotted")
        self.air_button = button("Fan on", "small", "Moving air put on")
        for made, signal in ((self.dry_button, self.dry), (self.blot_button, self.blotted),
                             (self.air_button, self.aired)):
            made.clicked.connect(lambda _=False, signal=signal: self._on_hands(signal))
            row.addWidget(made)
        row.addStretch(1)
        column.addLayout(row)
        return frame

    def show_care(self, cares: Sequence[Care], names: Mapping[int, BotanicalName], now: datetime,
                  zone: tzinfo) -> None:
        """Show what is owed at `now`: the first airing large, everything else in the list."""
        drying = next((care for care in cares if care.drying is not None and care.plant in names), None)
        self._first = drying
        self._urgent.setVisible(drying is not None)
        if drying is not None and drying.drying is not None:
            self._box.show_care(drying, names[drying.plant], now, zone)
            self.blot_button.setVisible(drying.drying.pool)
            self.air_button.setVisible(not drying.drying.aired and not drying.drying.pool)
        self.model.show([care for care in cares if care is not drying], names, now, zone)
        self._count.setText(f"{words.counted(len(cares), 'thing')}, soonest first" if cares else "")
        self._empty.setVisible(not cares)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """In a low window the countdown takes less room, so that the list keeps some."""
        super().resizeEvent(event)
        self._box.set_compact(self.height() < LOW)

    def tick(self, now: datetime) -> None:
        """A second has passed."""
        if self._first is not None:
            self._box.tick(now)

    def _on_hands(self, signal: Signal) -> None:
        if self._first is not None:
            signal.emit(self._first.plant)  # type: ignore[attr-defined]

    def _on_row(self, index: QModelIndex) -> None:
        self.asked.emit(index.data(ROW).care.plant)
