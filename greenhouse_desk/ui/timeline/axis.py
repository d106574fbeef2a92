"""The axis of the timeline: its two rows of words, the lines down the lanes, and the now-line with its flag."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter

from greenhouse_desk.domain.timeline_ticks import BESIDE, stretches, ticks
from greenhouse_desk.domain.timeline_values import DAY, Room
from greenhouse_desk.ui import words
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.timeline import lettering
from greenhouse_desk.ui.timeline.lanes import Lanes
from greenhouse_desk.ui.timeline.lettering import Pen
from greenhouse_desk.ui.timeline.nights import NightPainter
from greenhouse_desk.ui.timeline.space import AXIS, EDGE, FLAG, OVER, UNDER, Space

LINE = 2.5


class AxisPainter:
    """Paints the axis of one frame."""

    def __init__(self, painter: QPainter, pen: Pen, palette: Palette, space: Space, room: Room, lanes: Lanes) -> None:
        self._painter, self._pen, self._look, self._space, self._room = painter, pen, palette, space, room
        self._lanes = lanes
        self._crossing: tuple[float, ...] = ()
        self._ticks = ticks(room.view, lanes.zone, _bold)
        self._over = stretches(room.view, lanes.zone, _bold)

    def lines(self) -> None:
        """The lines down the lanes: thin ones, and stronger ones where something larger begins."""
        for tick in self._ticks:
            ink = self._look.rule2 if tick.strong and not self._over else self._look.rule
            self._painter.fillRect(QRectF(self._space.left + tick.x, AXIS, 1, self._space.lanes), ink)
        for one in self._over:
            if one.left > 0:
                self._painter.fillRect(QRectF(self._space.left + one.left, FLAG, 1, self._space.height - FLAG),
                                       self._look.rule2)

    def head(self, night: NightPainter) -> None:
        """The rows of words, on plates where the now-line runs behind them, and what the columns at the edges count."""
        look, space, pen = self._look, self._space, self._pen
        self._painter.fillRect(QRectF(0, 0, space.width, AXIS), look.sheet)
        night.head()
        self._crossing = (self._room.line, *night.lines)
        self._now_line()
        self._painter.fillRect(QRectF(0, AXIS - 1, space.width, 1), look.rule2)
        for one in self._over:
            if one.left > 0:
                self._painter.fillRect(QRectF(space.left + one.left, FLAG, 1, AXIS - FLAG), look.rule2)
            if one.words:
                self._plated(one.x, FLAG + OVER / 2, one.words, True)
        low = FLAG + OVER
        for tick in self._ticks:
            self._painter.fillRect(QRectF(space.left + tick.x, low, 1, UNDER), look.rule2 if tick.strong else look.rule)
            if tick.words:
                self._plated(tick.x + BESIDE, low + UNDER / 2, tick.words, tick.strong)
        for left, said in ((space.left - EDGE, "earlier"), (space.right, "later")):
            at = left + (EDGE - lettering.width(said)) / 2
            pen.words(at, low + UNDER / 2, said, look.ink2)
        if not space.narrow:
            pen.words(14, low + UNDER / 2, "Plant and place", look.ink, True)

    def _plated(self, x: float, middle: float, said: str, bold: bool) -> None:
        left, wide = self._space.left + x, lettering.width(said, bold)
        if any(x - 3 <= line <= x + wide + 3 for line in self._crossing):
            self._painter.fillRect(QRectF(left - 3, middle - 9, wide + 6, 18), self._look.sheet)
        self._pen.words(left, middle, said, self._look.ink, bold)

    def _now_line(self) -> None:
        if 0 <= self._room.line <= self._room.view.width:
            x = self._space.left + self._room.line
            self._painter.fillRect(QRectF(x - LINE / 2, FLAG - 2, LINE, self._space.height - FLAG + 2), self._look.ink)

    def flag(self) -> tuple[float, float] | None:
        """The flag of the now-line above it, where it is in view; returns its left and right end in the view."""
        line = self._room.line
        if not 0 <= line <= self._room.view.width:
            return None
        x = self._space.left + line
        said = f"now, {self._moment()}"
        wide = lettering.width(said, True) + 14
        left = min(max(x - wide / 2, self._space.left), self._space.right - wide)
        self._painter.fillRect(QRectF(left, 1, wide, FLAG - 2), self._look.ink)
        self._pen.words(left + 7, FLAG / 2, said, self._look.sheet, True)
        return left - self._space.left, left - self._space.left + wide

    def _moment(self) -> str:
        now = self._lanes.local(self._lanes.now)
        day = words.day(now.date())
        return f"{day} {now.hour}:{now.minute:02d}" if self._room.view.per_px * 1000 < 40 * DAY else day


def _bold(said: str) -> float:
    return lettering.width(said, True)
