"""The Timeline screen: reads the lanes, shows them, and tells what is opened on them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent, QShowEvent
from PySide6.QtWidgets import QBoxLayout, QVBoxLayout, QWidget

from greenhouse_desk.domain.care_day import dated
from greenhouse_desk.domain.timeline_sorts import Sort
from greenhouse_desk.domain.timeline_values import Item, Lane
from greenhouse_desk.services import timeline
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.timeline import Hit, Roster
from greenhouse_desk.ui import words
from greenhouse_desk.ui.messages import button
from greenhouse_desk.ui.sides import scrolled
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.thumbnails import Thumbnails
from greenhouse_desk.ui.timeline import told
from greenhouse_desk.ui.timeline.detail import WIDE, DetailPanel
from greenhouse_desk.ui.timeline.hands import Timeline
from greenhouse_desk.ui.timeline.head import TimelineHead
from greenhouse_desk.ui.timeline.in_view import InView

NARROW = 860
READ_AGAIN = timedelta(minutes=10)
UNBOUND = 16_777_215
NEARER = 1.6


class TimelineScreen(QWidget):
    """Every plant's lane, or those that are asked for. `signals.to_timeline` brings the plants chosen elsewhere."""

    def __init__(self, desk: Desk, signals: Signals, palette: Palette, thumbs: Thumbnails) -> None:
        super().__init__()
        self.setProperty("ground", "bench")
        self._desk, self._signals = desk, signals
        self._roster: Roster | None = None
        self._read_at = desk.clock()
        self._hits: tuple[Hit, ...] = ()
        self._hit, self._asked = -1, ""
        self.head = TimelineHead()
        self.chart = Timeline(palette, thumbs)
        self.listed = InView(self.chart)
        self.detail = DetailPanel(palette, thumbs)
        self.fill = button("", "main")
        self._build()
        self._listen()

    def _build(self) -> None:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(24, 8, 24, 16)
        column.setSpacing(8)
        column.addWidget(self.head)
        column.addWidget(self.fill, 0, Qt.AlignmentFlag.AlignLeft)
        self._both = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._both.setSpacing(12)
        self._both.addWidget(self.listed, 1)
        self._both.addWidget(self.detail)
        column.addLayout(self._both, 1)
        scrolled(self, page, "Timeline page")

    def _listen(self) -> None:
        head, chart = self.head, self.chart
        head.plants_asked.connect(lambda _text: self._choose())
        head.jump_asked.connect(self.jump)
        head.span.connect(chart.span)
        head.now.connect(chart.to_now)
        head.nearer.connect(lambda yes: chart.zoom(NEARER if yes else 1 / NEARER))
        head.sorts.connect(self._on_sorts)
        chart.opened.connect(self._on_opened)
        chart.moved.connect(self._tell)
        chart.closed.connect(self.detail.hide)
        self.listed.opened.connect(self._on_listed)
        self.detail.closed.connect(self._on_closed)
        self.detail.nearer.connect(chart.enter)
        self._signals.to_timeline.connect(self.show_plants)
        self.fill.clicked.connect(self._on_fill)

    # What is shown

    def show_now(self) -> None:
        """Read everything anew and show it."""
        now = self._desk.clock()
        self._roster, self._read_at = self._desk.read(timeline.roster, now), now
        roster, chart = self._roster, self.chart
        chart.first = roster.oldest.timestamp() if roster.oldest else 0.0
        chart.lanes.show(roster.heads, self._lanes, now, roster.zone)
        chart.lanes.live_at(roster.record.around.home, roster.record.around.home_set)
        self._hits = ()
        self._choose()

    def tick(self, now: datetime) -> None:
        """A second has passed: the now-line moves on; after some minutes everything is read anew."""
        if not self.isVisible() or self._roster is None:
            return
        if now - self._read_at >= READ_AGAIN and not self.detail.isVisible():
            self.show_now()
        elif now.timestamp() - self.chart.lanes.now >= min(self.chart.room.view.per_px, 60.0):
            self.chart.set_now(now.timestamp())

    def show_plants(self, numbers: Sequence[int]) -> None:
        """Give these plants lanes, and no others, and come to the front."""
        self.head.plants.setText(", ".join(str(number) for number in numbers))
        self._signals.to_screen.emit("Timeline")

    def _lanes(self, numbers: Sequence[int]) -> Mapping[int, Lane]:
        assert self._roster is not None
        return self._desk.read(timeline.lanes, self._roster, self._read_at, numbers)

    def _choose(self) -> None:
        """Lanes for the plants that the field asks for."""
        if self._roster is None:
            return
        text = self.head.plants.text()
        wanted = self._desk.read(timeline.found, text)
        heads = [head for head in self._roster.heads if wanted is None or head.number in wanted]
        self._offer(f"No plant answers to “{text.strip()}”." if self._roster.heads else "No plants yet.",
                    "Show all plants" if self._roster.heads else "Go to the collection", bool(heads))
        self.detail.hide()
        self.chart.lanes.choose(heads)
        self.chart.refresh()
        self.listed.fit()
        self._hits, self._hit = (), -1
        self._say(words.counted(len(heads), "plant"))
        self._tell()

    def _offer(self, missing: str, remedy: str, some: bool) -> None:
        """Where no lane is shown: what is missing, and the one button that fills it."""
        self.chart.empty = missing
        self.fill.setText(remedy)
        self.fill.setAccessibleName(remedy)
        self.fill.setVisible(not some)

    def _tell(self) -> None:
        """Say which stretch of time is in view."""
        view = self.chart.room.view
        self.head.range.setText(told.stretch(view, self.chart.lanes))

    def _say(self, found: str) -> None:
        self.head.found.setText(found)

    # What the grower does

    def jump(self, text: str) -> None:
        """Go to the newest entry of the lanes shown in which these words stand, then to the next older one; to a day
        and its entries where the words name one."""
        day = self._desk.read(timeline.day_asked, text, self._read_at)
        if text != self._asked or not self._hits:
            numbers = [head.number for head in self.chart.lanes.heads]
            self._hits = self._desk.read(timeline.search, numbers, text, day)
            self._hit, self._asked = -1, text
        if not self._hits:
            self._go_to(text, day)
            return
        self.head.show_all()
        self._hit = (self._hit + 1) % len(self._hits)
        hit = self._hits[self._hit]
        self._say(f"{self._hit + 1} of {len(self._hits)} found")
        self.chart.jump(hit.plant, hit.entry)

    def _go_to(self, text: str, day: datetime | None) -> None:
        """Nothing stands there; a day is shown all the same, with what is owed on it."""
        self._say("Nothing found" if text.strip() else "")
        if day is not None:
            self.chart.bring(day.timestamp())
            self._say(f"No entry on {dated(day.date())}")

    def _on_fill(self) -> None:
        if self._roster is not None and self._roster.heads:
            self.head.plants.setText("")
        else:
            self._signals.to_screen.emit("Collection")

    def _on_sorts(self, wanted: frozenset[Sort]) -> None:
        self.chart.lanes.want(wanted)
        self.chart.choose(None)
        self.chart.refresh()
        self.listed.write()

    def _on_opened(self, plant: int, ahead: bool, items: Sequence[Item]) -> None:
        place = self.chart.lanes.place_of(plant)
        if place is not None:
            self.detail.show_items(self.chart.lanes.heads[place], ahead, items, self.chart.lanes)

    def _on_listed(self, plant: int, ahead: bool, item: Item) -> None:
        """What happened is shown on its lane too; what is owed is opened."""
        if ahead or self.chart.jump(plant, item.entry) is None:
            self._on_opened(plant, ahead, (item,))

    def _on_closed(self) -> None:
        self.detail.hide()
        self.chart.setFocus()

    def showEvent(self, event: QShowEvent) -> None:
        """On arrival the keys go along time at once."""
        super().showEvent(event)
        if not event.spontaneous():
            self.chart.setFocus()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """In a narrow window what is opened stands under the lanes."""
        super().resizeEvent(event)
        narrow = self.width() < NARROW
        ways = QBoxLayout.Direction
        self._both.setDirection(ways.TopToBottom if narrow else ways.LeftToRight)
        self.detail.setMinimumWidth(0 if narrow else WIDE)
        self.detail.setMaximumWidth(UNBOUND if narrow else WIDE)
