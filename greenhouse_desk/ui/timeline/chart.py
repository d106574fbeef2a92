"""The timeline as a widget: lanes, a view that wheel, drag and keys move and zoom, marks chosen and opened."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QFocusEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QScrollBar, QWidget

from greenhouse_desk.domain.timeline_values import DAY, Box, Item, Room, Row, View, spanning
from greenhouse_desk.ui import drawing, words
from greenhouse_desk.ui.style import Palette, sans
from greenhouse_desk.ui.thumbnails import Thumbnails
from greenhouse_desk.ui.timeline import told
from greenhouse_desk.ui.timeline.axis import AxisPainter
from greenhouse_desk.ui.timeline.cursor import Cursor
from greenhouse_desk.ui.timeline.lanes import Lanes
from greenhouse_desk.ui.timeline.lettering import Pen
from greenhouse_desk.ui.timeline.nights import NightPainter
from greenhouse_desk.ui.timeline.paint import LanePainter
from greenhouse_desk.ui.timeline.space import AXIS, BAR, Space

NOW_AT = 0.72
"""Where the now-line comes to stand when it is called for, as a share of the view."""
AROUND = 1.6
"""A group that is gone into fills the view less this much room around it."""
SHORTEST = 240.0
MARGIN = 400 * DAY
NONE = "No plant has a lane here."


class TimelineChart(QWidget):
    """Shows lanes. `opened(plant, ahead, items)` tells that a mark was opened, `moved()` that the view changed,
    `closed()` that the mark was let go.
    """

    opened = Signal(int, bool, object)
    moved = Signal()
    closed = Signal()

    def __init__(self, palette: Palette, thumbs: Thumbnails | None = None) -> None:
        super().__init__()
        self._look, self._thumbs = palette, thumbs
        self.lanes = Lanes()
        self.view: View | None = None
        self.first = 0.0
        self.spot: Cursor | None = None
        self.empty = NONE
        self.bar = QScrollBar(Qt.Orientation.Vertical, self)
        self.bar.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.bar.valueChanged.connect(lambda _value: self.update())
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMinimumHeight(int(SHORTEST))
        self.setMouseTracking(True)
        self.tell()
        if thumbs is not None:
            thumbs.ready.connect(self.update)

    # What is shown

    @property
    def space(self) -> Space:
        """Where things lie."""
        return Space(float(self.width()), float(self.height()), len(self.lanes))

    @property
    def room(self) -> Room:
        """The view the lanes are laid out in."""
        if self.view is None:
            self.span("Year")
        assert self.view is not None
        return Room(self.view, self.lanes.now, self.space.pictures)

    def refresh(self) -> None:
        """The lanes have changed."""
        if self.spot is not None and self.lanes.place_of(self.spot.plant) is None:
            self.spot = None
        self._fit()
        self.tell()
        self.update()

    def set_now(self, now: float) -> None:
        """Time has passed: the now-line moves on (seconds)."""
        self.lanes.now = now
        self.update()

    def row(self, place: int) -> Row:
        """The lane at this place as it is laid out."""
        return self.lanes.row(place, self.room)

    # Going along time

    def span(self, name: str) -> None:
        """Show one of the usual stretches around now."""
        before, after = told.SPANS[name]
        self._see(spanning(self.lanes.now - before, self.lanes.now + after, self.space.view))

    def to_now(self) -> None:
        """Bring the now-line into view, on the same scale."""
        view = self.room.view
        self._see(view.with_at(self.lanes.now, view.width * NOW_AT))

    def pan(self, px: float) -> None:
        """Go along the time by so many pixels."""
        self._see(self.room.view.moved(px))

    def zoom(self, factor: float, x: float | None = None) -> None:
        """So many times nearer, about the pixel `x` of the view: the chosen mark, the now-line or the middle."""
        view = self.room.view
        self._see(view.zoomed(factor, self._heart() if x is None else x))

    def bring(self, at: float) -> None:
        """Bring a moment (seconds) to the middle of the view, unless it is well in it."""
        view = self.room.view
        if not view.width * 0.1 < view.x(at) < view.width * 0.8:
            self._see(view.with_at(at, view.width / 2))

    def enter(self, first: float, last: float) -> None:
        """Zoom into a group, from its first moment to its last (seconds), so far that it begins to unfold."""
        half = max((last - first) * AROUND, 60.0) / 2
        middle = (first + last) / 2
        self._see(spanning(middle - half, middle + half, self.space.view))

    def _heart(self) -> float:
        view, line = self.room.view, self.room.line
        box = self.chosen()
        if box is not None:
            return box.left + box.width / 2
        return line if 0 <= line <= view.width else view.width / 2

    def _see(self, view: View) -> None:
        self.view = view.kept(self.first or self.lanes.now - MARGIN, self.lanes.now + 2 * MARGIN)
        self.tell()
        self.moved.emit()
        self.update()

    # The chosen lane and mark

    def place(self) -> int | None:
        """Where the chosen lane is."""
        return None if self.spot is None else self.lanes.place_of(self.spot.plant)

    def chosen(self) -> Box | None:
        """The chosen mark as it is laid out now."""
        place = self.place()
        return None if place is None or self.spot is None else self.spot.box(self.row(place))

    def choose(self, cursor: Cursor | None) -> None:
        """Choose a lane, or a mark on it, and scroll it into sight."""
        self.spot = cursor
        place = self.place()
        if place is not None:
            space, value = self.space, float(self.bar.value())
            low = (place + 1) * space.lane - space.lanes
            self.bar.setValue(round(min(max(value, low), place * space.lane)))
        self.tell()
        self.update()

    def step_lane(self, way: int) -> None:
        """Choose the next lane down (1) or up (-1)."""
        place = self.place()
        if len(self.lanes):
            nth = 0 if place is None else min(max(place + way, 0), len(self.lanes) - 1)
            self.choose(Cursor(self.lanes.heads[nth].number))

    def open(self) -> None:
        """Open the chosen mark."""
        box, place = self.chosen(), self.place()
        if box is not None and place is not None:
            self.opened.emit(self.lanes.heads[place].number, box.ahead, self.lanes.lane(place).of(box))

    def jump(self, plant: int, entry: int) -> Item | None:
        """Choose the entry with this id on a plant's lane, bring it into view and open it; None where it is not shown.
        """
        place = self.lanes.place_of(plant)
        at = None if place is None else self.lanes.where(place, entry)
        if place is None or at is None:
            return None
        item = self.lanes.item(place, *at)
        assert item is not None
        self.bring(item.at)
        self.choose(Cursor(plant, at))
        self.opened.emit(plant, False, (item,))
        return item

    def tell(self) -> None:
        """Say the chosen mark, or the view, to those who hear the screen."""
        self.setAccessibleName(f"Timeline. {self.words()}")
        self.setAccessibleDescription(told.KEYS)

    def words(self) -> str:
        """What is chosen and what is in view, in words."""
        if not len(self.lanes):
            return self.empty
        seen = "" if self.view is None else (
            f"{told.stretch(self.view, self.lanes)}.{told.nights(self.view, self.lanes)}")
        place, box = self.place(), self.chosen()
        if place is None:
            return f"{words.counted(len(self.lanes), 'lane')}. {seen}"
        row, head = self.row(place), told.head(self.lanes.heads[place])
        if box is None:
            return f"{head}: {told.row(row, self.lanes)}. {seen}"
        return f"{head}. {told.box(box, self.lanes)}; {row.boxes.index(box) + 1} of {len(row.boxes)} in view."

    # Painting

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        space = self.space
        self.bar.setGeometry(self.width() - int(BAR), int(AXIS), int(BAR), max(self.height() - int(AXIS), 1))
        self.bar.setRange(0, round(space.scrolls))
        self.bar.setPageStep(max(round(space.lanes), 1))
        self.bar.setSingleStep(round(space.lane))
        self.bar.setVisible(space.scrolls > 0)
        if self.view is not None and self.view.width != space.view:
            self.view = self.view.wide(space.view)

    def focusInEvent(self, event: QFocusEvent) -> None:
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), self._look.sheet)
        pen = Pen(painter, self._look, self.devicePixelRatioF())
        space, room, scrolled = self.space, self.room, float(self.bar.value())
        axis = AxisPainter(painter, pen, self._look, space, room, self.lanes)
        axis.lines()
        for x in (space.heads, space.left, space.right):
            painter.fillRect(QRectF(x, AXIS, 1, space.lanes), self._look.rule)
        night = NightPainter(painter, pen, self._look, space, room, self.lanes)
        self._paint_lanes(painter, LanePainter(painter, pen, self._look, space, room, self._thumbs), night, scrolled)
        pen.lost()
        axis.head(night)
        night.words(axis.flag())
        painter.end()

    def _paint_lanes(self, painter: QPainter, lanes: LanePainter, night: NightPainter, scrolled: float) -> None:
        space, chosen = self.space, self.place()
        self.lanes.fetch(space.seen(scrolled))
        for place in space.seen(scrolled):
            top = space.top(place, scrolled)
            night.lane(place, top)
            lanes.lane(self.lanes, place, row := self.row(place), top)
            lanes.head(self.lanes.heads[place], top)
            if place == chosen:
                self._outline(painter, row, top)
        if not len(self.lanes):
            at = QRectF(space.left + 12, AXIS + 12, min(space.view - 24, 340.0), 40)
            painter.fillRect(at.adjusted(-6, 0, 0, 0), self._look.sheet)
            drawing.text(painter, at, self.empty, sans(15), self._look.ink)

    def _outline(self, painter: QPainter, row: Row, top: float) -> None:
        """Round the chosen mark, or the chosen lane; dashed while the keyboard is here."""
        assert self.spot is not None
        space, box = self.space, self.spot.box(row)
        rect = QRectF(2, top + 2, space.heads - 4, space.lane - 5)
        if box is not None:
            middle = QPointF(space.left + box.left - 2, top + space.middle - 13)
            rect = QRectF(middle.x(), middle.y(), box.width + 4, 26)
        drawing.outline(painter, rect, self._look, self.hasFocus())
