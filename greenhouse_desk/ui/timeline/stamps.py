"""Small pictures of the timeline painted once and stamped often: marks, plates of groups, heads of lanes.

`dark` is part of what a stamp is asked for by, since a palette changes its colours in place.
"""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPixmap, QPolygonF

from greenhouse_desk.domain.timeline import plate_width
from greenhouse_desk.services.timeline import Head
from greenhouse_desk.ui import drawing, marks
from greenhouse_desk.ui.drawing import Align
from greenhouse_desk.ui.style import Palette, sans, serif

PLATE, CUT, ROUND = 22.0, 4.0, 14.0
INSIDE = 13.0
DASHES = (3.0, 2.5)
KEPT = 3000
HEADS = 400


def _blank(wide: float, high: float, ratio: float) -> QPixmap:
    made = QPixmap(round(wide * ratio), round(high * ratio))
    made.setDevicePixelRatio(ratio)
    made.fill(Qt.GlobalColor.transparent)
    return made


def _begun(made: QPixmap) -> QPainter:
    painter = QPainter(made)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    return painter


@lru_cache(maxsize=KEPT)
def mark(name: str, rgba: int, palette: Palette, ratio: float) -> QPixmap:
    """A mark in this ink."""
    made = _blank(ROUND + 1, ROUND + 1, ratio)
    painter = _begun(made)
    marks.paint(painter, name, QRectF(0, 0, ROUND, ROUND), palette, QColor.fromRgba(rgba))
    painter.end()
    return made


@lru_cache(maxsize=KEPT)
def plate(count: int, name: str, ahead: bool, palette: Palette, dark: bool, ratio: float) -> QPixmap:
    """A group's plate with how many they are, and the mark `name` where they all bear it; dashed for what is owed."""
    wide = plate_width(count)
    made = _blank(wide, PLATE, ratio)
    painter = _begun(made)
    pen = QPen(palette.rule2, 1)
    if ahead:
        pen.setDashPattern(DASHES)
    painter.setPen(pen)
    painter.setBrush(palette.number_plate)
    rect = QRectF(0.5, 0.5, wide - 1, PLATE - 1)
    painter.drawPolygon(QPolygonF((
        rect.topLeft(), rect.topRight(), QPointF(rect.right(), rect.bottom() - CUT),
        QPointF(rect.right() - CUT, rect.bottom()), QPointF(rect.left() + CUT, rect.bottom()),
        QPointF(rect.left(), rect.bottom() - CUT))))
    left = 2.0
    if name:
        marks.paint(painter, name, QRectF(4, (PLATE - INSIDE) / 2 - 0.5, INSIDE, INSIDE), palette,
                    palette.on_plate_ink(marks.COLOUR[name]))
        left += INSIDE + 2
    drawing.text(painter, QRectF(left, -0.5, wide - 2 - left, PLATE), str(count), sans(13, 600), palette.on_plate,
                 Align.AlignCenter)
    painter.end()
    return made


@lru_cache(maxsize=HEADS)
def head(of: Head, wide: float, high: float, full: bool, palette: Palette, dark: bool, ratio: float) -> QPixmap:
    """The plant of a lane: its number, and where it is `full` or wide enough its name, and where it stands."""
    made = _blank(wide, high, ratio)
    painter = _begun(made)
    drawing.text(painter, QRectF(10, 0, 54, min(high, 60.0)), str(of.number), serif(23 if full else 21, 600),
                 palette.ink)
    room = QRectF(68, (min(high, 60.0) - 40) / 2, wide - 74, 20)
    if room.width() > 60:
        below = drawing.name_block(painter, room, of.name, palette, 15, 2 if full else 1, 20)
        where = "left the collection" if of.left else of.place
        drawing.text(painter, QRectF(room.left(), below, room.width(), 20), where, sans(13), palette.ink2)
    painter.end()
    return made
