"""The entries in view as a list, in the room that a few lanes leave under them: to be read, chosen and opened."""

from __future__ import annotations

from collections.abc import Iterator

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QListWidget, QListWidgetItem, QVBoxLayout

from greenhouse_desk.domain.timeline_values import Item
from greenhouse_desk.ui import words
from greenhouse_desk.ui.messages import label
from greenhouse_desk.ui.timeline import told
from greenhouse_desk.ui.timeline.chart import SHORTEST, TimelineChart
from greenhouse_desk.ui.timeline.space import AXIS, TALLEST

LEAST = 150
"""Pixels of height under which the list would show too little: the lanes keep them."""
MOST = 300
AFTER_MS = 120
"""So long the view stands still before the list is written anew: it is not to slow its moves."""
UNBOUND = 16_777_215


class InView(QFrame):
    """The chart, and under it what lies in its view. `opened(plant, ahead, item)`: one of the list was opened."""

    opened = Signal(int, bool, object)

    def __init__(self, chart: TimelineChart) -> None:
        super().__init__()
        self.setProperty("ground", "sheet")
        self.setProperty("edge", "all")
        self._chart = chart
        self._shown: list[tuple[int, bool, Item]] = []
        self.told = label("", bold=True)
        self.list = QListWidget()
        self.list.setFrameShape(QFrame.Shape.NoFrame)
        self.list.setWordWrap(True)
        self.list.setAccessibleName("Entries in view")
        self.list.itemActivated.connect(self._on_opened)
        self.list.itemClicked.connect(self._on_opened)
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(AFTER_MS)
        self._later.timeout.connect(self.write)
        column = QVBoxLayout(self)
        column.setContentsMargins(1, 1, 1, 1)
        column.setSpacing(0)
        column.addWidget(chart)
        self.told.setContentsMargins(7, 10, 7, 4)
        column.addWidget(self.told)
        column.addWidget(self.list, 1)
        chart.moved.connect(self._later.start)

    @property
    def has_room(self) -> bool:
        """Whether the lanes leave room for a list."""
        lanes = len(self._chart.lanes)
        return lanes > 0 and self.height() - 2 - AXIS - lanes * TALLEST >= LEAST

    def fit(self) -> None:
        """The lanes, or the window, have changed."""
        room = self.has_room
        high = int(AXIS + len(self._chart.lanes) * TALLEST)
        self._chart.setMinimumHeight(high if room else int(SHORTEST))
        self._chart.setMaximumHeight(high if room else UNBOUND)
        for part in (self.told, self.list):
            part.setVisible(room)
        self.write()

    def write(self) -> None:
        """List what lies in the view, what is owed first and then the newest first."""
        if not self.has_room:
            return
        self._shown = sorted(self._found(), key=lambda one: (not one[1], one[2].at if one[1] else -one[2].at, one[0]))
        left = len(self._shown) - MOST
        self._shown = self._shown[:MOST]
        self.list.clear()
        for plant, ahead, item in self._shown:
            self.list.addItem(f"{plant}   {told.when(item, self._chart.lanes, ahead)}: "
                              f"{'; '.join(filter(None, (item.title, item.detail)))}")
        if left > 0:
            more = QListWidgetItem(f"and {words.counted(left, 'older entry', 'older entries')}: zoom in to see them")
            more.setFlags(Qt.ItemFlag.NoItemFlags)
            self.list.addItem(more)
        said = f"In view: {words.counted(len(self._shown) + max(left, 0), 'entry', 'entries')}"
        self.told.setText(said if self._shown else "Nothing in view.")
        self.list.setAccessibleName(f"{said}. Up and Down choose one, Return opens it")

    def _found(self) -> Iterator[tuple[int, bool, Item]]:
        lanes, view = self._chart.lanes, self._chart.room.view
        for place, head in enumerate(lanes.heads):
            lane = lanes.lane(place)
            for side, ahead in ((lane.ahead, True), (lane.past, False)):
                yield from ((head.number, ahead, item) for item in side.items if view.start <= item.at <= view.end)

    def _on_opened(self, _item: QListWidgetItem) -> None:
        nth = self.list.currentRow()
        if 0 <= nth < len(self._shown):
            self.opened.emit(*self._shown[nth])

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.fit()
