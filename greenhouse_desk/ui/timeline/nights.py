"""Nights painted on the timeline where it is near enough: a tint with a hatch from dusk on, its line, and its word."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter

from greenhouse_desk.domain.timeline_dusk import Night, lamps_off, nights, placed
from greenhouse_desk.domain.timeline_values import Room
from greenhouse_desk.ui.style import Palette, hatch
from greenhouse_desk.ui.timeline import lettering
from greenhouse_desk.ui.timeline.lanes import Lanes
from greenhouse_desk.ui.timeline.lettering import Pen
from greenhouse_desk.ui.timeline.space import AXIS, FLAG, OVER, Space

LINE, FAINT = 2.0, 70
"""How thick the line of a dusk is, and how strong the hatch behind a lane, of 255."""


class NightPainter:
    """Paints the nights of one frame: by the sun on the axis, on each lane by the sun or by its place's lamps."""

    def __init__(self, painter: QPainter, pen: Pen, palette: Palette, space: Space, room: Room, lanes: Lanes) -> None:
        self._painter, self._pen, self._look, self._space, self._room = painter, pen, palette, space, room
        self._lanes = lanes
        self._sun = nights(room.view, lanes.home, lanes.home_set, lanes.zone) if lanes.home is not None else ()
        self._lamps: dict[str, tuple[Night, ...]] = {}

    def lane(self, place: int, top: float) -> None:
        """Under the lane at `place`, from `top` on."""
        out = self._lanes.heads[place].lights_out
        found = self._sun
        if out is not None:
            key = out.isoformat()
            if key not in self._lamps:
                self._lamps[key] = lamps_off(self._room.view, out, self._lanes.zone)
            found = self._lamps[key]
        for night in found:
            self._stretch(night, max(top, AXIS), top + self._space.lane - 1, True)

    def head(self) -> None:
        """On the axis: the nights by the sun, and the line of each beginning."""
        for night in self._sun:
            self._stretch(night, FLAG + OVER, AXIS - 1, False)
        for x in self.lines:
            self._painter.fillRect(QRectF(self._space.left + x - LINE / 2, FLAG - 6, LINE, AXIS - FLAG + 5),
                                   self._look.duskink)

    @property
    def lines(self) -> tuple[float, ...]:
        """Where each night in view begins, in pixels of the view: words that a line runs through need a plate."""
        every = (self._room.view.x(night.start) for one in (self._sun, *self._lamps.values()) for night in one)
        return tuple(x for x in every if 0 <= x <= self._room.view.width)

    def words(self, flag: tuple[float, float] | None) -> None:
        """Beside the now-line's flag (its left and right end in the view): each line's word, once for all lanes."""
        each = sorted({(night.start, night.words) for one in (self._sun, *self._lamps.values()) for night in one
                       if 0 <= self._room.view.x(night.start) <= self._room.view.width})
        wanted = [(self._room.view.x(start), lettering.width(said, True)) for start, said in each]
        spots = placed(wanted, [flag] if flag else [], self._room.view.width)
        for (_, said), at in zip(each, spots, strict=True):
            if at is not None:
                self._pen.words(self._space.left + at, FLAG / 2 - 1, said, self._look.duskink, True)

    def _stretch(self, night: Night, top: float, bottom: float, hatched: bool) -> None:
        look, view, space = self._look, self._room.view, self._space
        left, right = max(view.x(night.start), 0.0), min(view.x(night.end), view.width)
        rect = QRectF(space.left + left, top, right - left, bottom - top)
        self._painter.fillRect(rect, look.dusk_fill)
        if hatched:
            self._painter.fillRect(rect, hatch(_faint(look.duskink), 1, 7))
        if view.x(night.start) >= 0:
            self._painter.fillRect(QRectF(space.left + left - LINE / 2, top, LINE, bottom - top), look.duskink)


def _faint(ink: QColor) -> QColor:
    made = QColor(ink)
    made.setAlpha(FAINT)
    return made
