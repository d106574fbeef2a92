"""The bands of a lane: stays outlined, courses solid with their forecast, holds hatched, soaks with least and most."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from greenhouse_desk.domain.timeline_values import PAD, Look, Room, Strip
from greenhouse_desk.ui.style import Palette, hatch
from greenhouse_desk.ui.timeline.lettering import Pen
from greenhouse_desk.ui.timeline.space import Space
from greenhouse_desk.ui.timeline.stamps import DASHES

THIN = 6.0
LEAST = 4.0
FAR = 1e6
"""Bands are cut off so many pixels beyond the view, before Qt's coordinates end."""


class BandPainter:
    """Paints the bands of one frame. Left of the now-line they are solid, right of it hollow."""

    def __init__(self, painter: QPainter, pen: Pen, palette: Palette, space: Space, room: Room) -> None:
        self._painter, self._pen, self._look, self._space, self._room = painter, pen, palette, space, room
        self._paints = {Look.STAY: self._stay, Look.COURSE: self._course, Look.FORECAST: self._forecast,
                        Look.HOLD: self._hold, Look.SOAK: self._soak}

    def lane(self, tracks: Sequence[Sequence[Strip]], top: float) -> None:
        """All bands of the lane that begins at `top`."""
        for nth, strips in enumerate(tracks):
            y, high = self._space.track(nth)
            for strip in strips:
                left = self._space.left + max(strip.left, -PAD)
                right = self._space.left + max(strip.right, strip.left + 1)
                self._paints[strip.band.look](strip, QRectF(left, top + y, right - left, high))
                if strip.words and high > THIN:
                    self._words(strip, top + y, high)
        self._pen.lost()

    def _words(self, strip: Strip, top: float, high: float) -> None:
        x, look = self._space.left + strip.words_left, strip.band.look
        if look in (Look.HOLD, Look.SOAK):  # hatched, or with the grid behind it
            ahead = strip.words_left > self._room.line
            ground = self._look.hold_fill if look is Look.HOLD and not ahead else self._look.sheet
            self._painter.fillRect(QRectF(x - 3, top + 1, strip.words + 6, high - 2), ground)
        self._pen.lost()
        ink = self._look.sheet if look is Look.COURSE else self._look.ink
        self._pen.words(x, top + high / 2, strip.band.title, ink, False, strip.words)

    def _box(self, rect: QRectF, ink: QColor, hollow: bool = False) -> None:
        pen = QPen(ink, 1)
        if hollow:
            pen.setDashPattern(DASHES)
        self._painter.setPen(pen)
        self._painter.setBrush(Qt.BrushStyle.NoBrush)
        self._painter.drawRect(rect.adjusted(0.5, 0.5, -0.5, -0.5))

    def _stay(self, strip: Strip, rect: QRectF) -> None:
        if rect.height() > THIN:
            self._painter.fillRect(rect, self._look.bench)
            self._box(rect, self._look.rule2)
        else:
            self._painter.fillRect(rect.adjusted(0, 0.5, 0, -0.5), self._look.rule)

    def _course(self, strip: Strip, rect: QRectF) -> None:
        self._painter.fillRect(rect, self._look.water)

    def _forecast(self, strip: Strip, rect: QRectF) -> None:
        """An outlined box from earliest to latest with a wide hatch, its middle half denser, a line at the likely day.
        """
        line = self._space.left + self._room.line
        thread = QRectF(line, rect.center().y() - 1, max(rect.left() - line, 0.0), 2)
        self._painter.fillRect(thread, self._look.rule2)
        self._painter.fillRect(rect, hatch(self._look.ink2, 1, 6))
        self._box(rect, self._look.rule2)
        quarter, likely, three = (self._x(at) for at in strip.band.inner)
        dense = QRectF(QPointF(max(quarter, rect.left()), rect.top() + 1),
                       QPointF(min(three, rect.right()), rect.bottom() - 1))
        if dense.width() > 0:
            self._painter.fillRect(dense, hatch(self._look.ink2, 1, 3))
        if rect.left() <= likely <= rect.right():
            self._painter.fillRect(QRectF(likely - 1.5, rect.top() - 1, 3, rect.height() + 2), self._look.ink)

    def _hold(self, strip: Strip, rect: QRectF) -> None:
        line = self._space.left + self._room.line
        gone = QRectF(rect.left(), rect.top(), min(rect.right(), line) - rect.left(), rect.height())
        if gone.width() > 0:
            self._painter.fillRect(gone, self._look.hold_fill)
        self._painter.fillRect(rect, hatch(self._look.hold, 1, 5))
        if rect.height() > THIN:
            self._box(rect, self._look.hold, rect.right() > line)

    def _soak(self, strip: Strip, rect: QRectF) -> None:
        """Hatched to the least, hollow to the most with a stop there, solid as long as it was kept.

        Where it is narrower than its mark, the mark tells it.
        """
        if rect.width() < LEAST:
            return
        *limits, end = (self._x(at) for at in strip.band.inner)
        low = rect.adjusted(0, 2, 0, -2) if rect.height() > THIN else rect
        if limits:
            least, most = limits
            self._painter.fillRect(QRectF(low.left(), low.top(), min(least, low.right()) - low.left(), low.height()),
                                   hatch(self._look.water, 2, 3))
            self._box(low, self._look.water)
            self._painter.fillRect(QRectF(min(most, low.right()) - 2, low.top() - 1, 2, low.height() + 2),
                                   self._look.madder)
        kept = QRectF(low.left(), low.bottom() - 3, max(min(end, low.right()) - low.left(), 2.0), 3)
        self._painter.fillRect(kept, self._look.water)

    def _x(self, at: float) -> float:
        return self._space.left + min(max(self._room.view.x(at), -FAR), FAR)


