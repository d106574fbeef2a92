"""The timeline painted: heads of the lanes, their marks, groups, words and photos, and the counts at the edges."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPen, QPolygonF

from greenhouse_desk.domain.timeline_values import GAP, Box, Lane, Room, Row
from greenhouse_desk.services.timeline import Head
from greenhouse_desk.ui import marks
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.thumbnails import Thumbnails
from greenhouse_desk.ui.timeline import lettering, stamps
from greenhouse_desk.ui.timeline.bands import BandPainter
from greenhouse_desk.ui.timeline.lanes import Lanes
from greenhouse_desk.ui.timeline.lettering import Pen
from greenhouse_desk.ui.timeline.space import EDGE, Space


class LanePainter:
    """Paints the lanes of one frame."""

    def __init__(self, painter: QPainter, pen: Pen, palette: Palette, space: Space, room: Room,
                 thumbs: Thumbnails | None) -> None:
        self._painter, self._pen, self._look, self._space, self._room = painter, pen, palette, space, room
        self._thumbs = thumbs
        self._ratio = painter.device().devicePixelRatio()
        self._bands = BandPainter(painter, pen, palette, space, room)

    def lane(self, lanes: Lanes, place: int, row: Row, top: float) -> None:
        """The lane at `place`, laid out as `row`, from `top` on."""
        look, space = self._look, self._space
        self._painter.fillRect(QRectF(0, top + space.lane - 1, space.width, 1), look.rule)
        self._painter.save()
        self._painter.setClipRect(QRectF(space.left, top, space.view, space.lane))
        self._bands.lane(lanes.strips(place, self._room), top)
        self._pottings(lanes.lane(place), top)
        self._painter.restore()
        self._pen.lost()
        self._thread(lanes.lane(place), top)
        middle = top + space.middle
        for box in row.boxes:
            self._box(box, middle)
        self._edges(row, middle)

    def _thread(self, lane: Lane, top: float) -> None:
        """The line under the marks: solid as far as the plant's record goes back, dotted right of the now-line."""
        line, y = min(max(self._room.line, 0.0), self._room.view.width), top + self._space.marks - 2
        first = self._room.view.x(lane.past.items[-1].at) if lane.past.items else line
        left = self._space.left + min(max(first, 0.0), line)
        self._painter.fillRect(QRectF(left, y, self._space.left + line - left, 1), self._look.rule2)
        if line < self._room.view.width:
            self._dashed(self._space.left + line, self._space.right, y + 0.5, 1)

    def _dashed(self, left: float, right: float, y: float, wide: float) -> None:
        pen = QPen(self._look.rule2, wide)
        pen.setDashPattern([1, 3])
        self._painter.setPen(pen)
        self._pen.lost()
        self._painter.drawLine(QPointF(left, y), QPointF(right, y))

    def _pottings(self, lane: Lane, top: float) -> None:
        y, high = self._space.track(1)
        for at in lane.pottings:
            x = self._room.view.x(at)
            if 0 <= x <= self._room.view.width:
                self._painter.fillRect(QRectF(self._space.left + x - 1.5, top + y - 1, 3, high + 2), self._look.clay)

    def _box(self, box: Box, middle: float) -> None:
        left = self._space.left + box.left
        ink = marks.colour(box.item.mark, self._look)
        if box.count > 1:
            self._painter.drawPixmap(QPointF(left, middle - stamps.PLATE / 2), stamps.plate(
                box.count, box.item.mark if box.same else "", box.ahead, self._look, self._look.dark, self._ratio))
        else:
            self._pen.mark(left + 1, middle, box.item.mark, ink)
            if box.ahead:
                self._window(box, middle)
        if box.picture:
            self._photo(box, middle)
        if box.words:
            tone = ink if box.ahead and box.count == 1 else self._look.ink
            x = self._space.left + box.words_left
            self._painter.fillRect(QRectF(x - 1, middle - 8, box.words + 2, 17), self._look.sheet)
            self._pen.words(x, middle, box.title, tone, box.ahead, box.words)

    def _window(self, box: Box, middle: float) -> None:
        """The dotted line of the days on which a care may be done, where it is longer than its mark."""
        view, end = self._room.view, self._space.right
        first = self._space.left + max(view.x(max(box.item.opens, self._room.now)), self._room.line + 2, 0.0)
        last = min(self._space.left + view.x(box.item.latest), end)
        if last - first > box.width:
            self._dashed(first, last, middle + self._space.marks - self._space.middle - 3.5, 3)

    def _photo(self, box: Box, middle: float) -> None:
        """A photo stands on the thread."""
        wide, high = box.picture, box.picture * 0.75
        low = middle + self._space.marks - self._space.middle - 3
        at = QRectF(self._space.left + box.right + GAP, low - high, wide, high)
        size = QSize(round(wide), round(high))
        found = self._thumbs.pixmap(box.item.photo, size, self._ratio) if self._thumbs else None
        if found is None:
            self._painter.fillRect(at, self._look.inset)
            return
        self._painter.drawPixmap(at.topLeft(), found)
        if self._look.dark:
            self._painter.fillRect(at, self._look.veil)

    def _edges(self, row: Row, middle: float) -> None:
        """How many entries lie left and right of what is shown, each with an arrow that way."""
        for count, left, way in ((row.earlier, self._space.left - EDGE, -1), (row.later, self._space.right, 1)):
            if not count:
                continue
            said = str(count)
            wide = lettering.width(said)
            x = left + (EDGE - wide - 9) / 2 + (9 if way < 0 else 0)
            self._pen.words(x, middle, said, self._look.ink2)
            tip = x - 9 if way < 0 else x + wide + 9
            self._painter.setPen(Qt.PenStyle.NoPen)
            self._painter.setBrush(self._look.ink2)
            self._painter.drawPolygon(QPolygonF((QPointF(tip, middle), QPointF(tip - 5 * way, middle - 4),
                                                 QPointF(tip - 5 * way, middle + 4))))
            self._pen.lost()

    def head(self, head: Head, top: float) -> None:
        """The plant of a lane."""
        space = self._space
        self._painter.drawPixmap(QPointF(0, top), stamps.head(head, space.heads, space.lane, space.full, self._look,
                                                              self._look.dark, self._ratio))
