"""The marks: one table of painted paths in a 14 px box. A mark always stands beside its word, never alone."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from greenhouse_desk.ui.style import Palette

BOX = 14.0
Shape = tuple[QPainterPath, QPainterPath]
"""What is filled, and what is drawn as a line."""

COLOUR: dict[str, str] = {
    "clear": "clean", "newcomer": "water", "exposed": "due", "suspect": "madder", "infested": "madder",
    "under treatment": "water", "under watch": "due", "released": "clean",
    "over": "madder", "today": "due", "tomorrow": "due", "later": "ink2", "hold": "hold", "dry rest": "ink2",
    "drying": "madder", "plain water": "ink", "pour": "ink", "soak": "water", "may rinse": "clean",
    "inspection": "ink", "sighting": "madder", "potting": "clay", "place": "ink", "photo": "ink",
    "stay": "clean", "look again": "due", "step in": "madder", "note": "ink", "arrived": "ink", "left": "ink",
    "cut": "ink", "roots": "ink", "step": "ink", "answer": "ink", "clock": "ink",
    "spike": "ink", "flower": "ink", "flowers over": "ink2", "light": "ink",
}


def _lines(*rows: tuple[tuple[float, float], ...], closed: bool = False) -> QPainterPath:
    path = QPainterPath()
    for row in rows:
        path.moveTo(*row[0])
        for point in row[1:]:
            path.lineTo(*point)
        if closed:
            path.closeSubpath()
    return path


def _ring(radius: float, x: float = 7, y: float = 7) -> QPainterPath:
    path = QPainterPath()
    path.addEllipse(QPointF(x, y), radius, radius)
    return path


def _box(x: float, y: float, width: float, height: float) -> QPainterPath:
    path = QPainterPath()
    path.addRect(QRectF(x, y, width, height))
    return path


def _drop() -> QPainterPath:
    path = QPainterPath(QPointF(7, 0.8))
    path.cubicTo(8.6, 3.6, 11.4, 5.8, 11.4, 8.9)
    path.cubicTo(11.4, 11.4, 9.5, 13.2, 7, 13.2)
    path.cubicTo(4.5, 13.2, 2.6, 11.4, 2.6, 8.9)
    path.cubicTo(2.6, 5.8, 5.4, 3.6, 7, 0.8)
    return path


def _steam() -> QPainterPath:
    path = QPainterPath()
    for x in (3.6, 7.2, 10.8):
        path.moveTo(x - 0.6, 9.2)
        path.cubicTo(x + 1.8, 6.6, x - 1.8, 4.6, x + 0.9, 1.8)
    path.addPath(_lines(((1, 12.4), (13, 12.4))))
    return path


TRIANGLE = ((7.0, 1.2), (13.2, 12.8), (0.8, 12.8))
DIAMOND = ((7.0, 0.7), (13.3, 7.0), (7.0, 13.3), (0.7, 7.0))
VALVE = ((1.0, 2.2), (7.0, 7.0), (1.0, 11.8)), ((13.0, 2.2), (7.0, 7.0), (13.0, 11.8))
CUP = ((2.0, 1.6), (2.0, 12.4), (12.0, 12.4), (12.0, 1.6))
PENNANT = ((3.0, 1.0), (13.0, 1.0), (10.2, 4.2), (13.0, 7.4), (3.0, 7.4))
NOTHING = QPainterPath


def _infested() -> Shape:
    return _lines(TRIANGLE, closed=True) - (_box(6.2, 5, 1.6, 4.2) | _box(6.2, 10.1, 1.6, 1.5)), NOTHING()


def _over() -> Shape:
    return _lines(PENNANT, closed=True) | _box(2.2, 1, 1.8, 12.6), NOTHING()


def _photo() -> Shape:
    return _lines(((2.5, 10.6), (5.4, 6.2), (7.4, 8.8), (9, 7), (11.5, 10.6)), closed=True), _box(1, 2, 12, 10)


def _may_rinse() -> Shape:
    line = _lines(((4.4, 5), (2, 5), (2, 12.8), (12, 12.8), (12, 5), (9.6, 5)), ((7, 9.4), (7, 1.6)),
                  ((4.4, 3.9), (7, 1.3), (9.6, 3.9)))
    return NOTHING(), line


def _clock() -> Shape:
    face = _ring(5.6)
    face.addPath(_lines(((7, 3.4), (7, 7), (9.8, 8.8))))
    return NOTHING(), face


def _eye() -> Shape:
    lids = QPainterPath(QPointF(0.8, 7))
    lids.quadTo(7, -0.6, 13.2, 7)
    lids.quadTo(7, 14.6, 0.8, 7)
    return _ring(2.1), lids


def _spike() -> Shape:
    """An arching stem with three buds on it."""
    stem = QPainterPath(QPointF(3, 13.2))
    stem.cubicTo(3, 6.4, 5.4, 2.4, 12.6, 2.2)
    return _ring(1.9, 11.4, 4.8) | _ring(1.7, 7.3, 7) | _ring(1.5, 5.6, 11), stem


def _petals() -> QPainterPath:
    whole = QPainterPath()
    for x, y in ((7, 3.2), (10.9, 6), (9.4, 10.6), (4.6, 10.6), (3.1, 6)):
        whole |= _ring(2.8, x, y)
    return whole


def _sun() -> Shape:
    """A sun, half of its disc in shade."""
    rays = _lines(((7, 0.2), (7, 2.2)), ((7, 11.8), (7, 13.8)), ((0.2, 7), (2.2, 7)), ((11.8, 7), (13.8, 7)),
                  ((2.2, 2.2), (3.5, 3.5)), ((10.5, 10.5), (11.8, 11.8)), ((2.2, 11.8), (3.5, 10.5)),
                  ((10.5, 3.5), (11.8, 2.2)))
    disc = _ring(3)
    rays.addPath(disc)
    return disc & _box(7, 0, 7, 14), rays


SHAPES: dict[str, Callable[[], Shape]] = {
    "clear": lambda: (NOTHING(), _ring(5.2)),
    "newcomer": lambda: (_lines(((5.2, 4), (9.4, 7), (5.2, 10)), closed=True), _box(1.2, 1.2, 11.6, 11.6)),
    "exposed": lambda: (_lines((DIAMOND[0], DIAMOND[2], DIAMOND[3]), closed=True), _lines(DIAMOND, closed=True)),
    "suspect": lambda: (_lines((TRIANGLE[0], (7, 12.8), TRIANGLE[2]), closed=True), _lines(TRIANGLE, closed=True)),
    "infested": _infested,
    "under treatment": lambda: (_box(3, 7, 8, 4.6), _lines(CUP, ((7, 0.6), (7, 4.8)))),
    "under watch": _eye,
    "released": lambda: (NOTHING(), _lines(*VALVE, closed=True)),
    "hold": lambda: (_lines(*VALVE, closed=True) | _box(6.2, 0.8, 1.6, 12.4), NOTHING()),
    "over": _over,
    "today": lambda: (_box(1, 1, 12, 12), NOTHING()),
    "tomorrow": lambda: (_box(1.6, 7, 10.8, 5.4), _box(1.6, 1.6, 10.8, 10.8)),
    "later": lambda: (NOTHING(), _box(1.6, 1.6, 10.8, 10.8)),
    "dry rest": lambda: (NOTHING(), _lines(((1.4, 2.6), (1.4, 11.4)), ((12.6, 2.6), (12.6, 11.4)),
                                           ((1.4, 7), (12.6, 7)))),
    "drying": lambda: (NOTHING(), _steam()),
    "plain water": lambda: (NOTHING(), _drop()),
    "pour": lambda: (_drop(), NOTHING()),
    "soak": lambda: (_box(3, 6.4, 8, 5.2), _lines(CUP)),
    "may rinse": _may_rinse,
    "inspection": lambda: (_ring(2.1), _ring(5.6)),
    "look again": lambda: (_ring(2.1), _ring(5.6)),
    "sighting": lambda: (_ring(1.5, 7, 9.2), _lines(TRIANGLE, closed=True)),
    "potting": lambda: (_lines(((1.4, 1.6), (12.6, 1.6), (10.8, 12.6), (3.2, 12.6)), closed=True), NOTHING()),
    "place": lambda: (NOTHING(), _lines(((1.6, 2), (6.6, 7), (1.6, 12)), ((7.4, 2), (12.4, 7), (7.4, 12)))),
    "photo": _photo,
    "stay": lambda: (NOTHING(), _lines(((0.8, 7), (12.4, 7)), ((8.2, 2.8), (12.6, 7), (8.2, 11.2)))),
    "step in": _over,
    "note": lambda: (NOTHING(), _lines(((1.4, 3), (12.6, 3)), ((1.4, 7), (12.6, 7)), ((1.4, 11), (8.4, 11)))),
    "arrived": lambda: (NOTHING(), _lines(((1, 7), (8.6, 7)), ((5.4, 3.6), (8.8, 7), (5.4, 10.4)),
                                          ((12.4, 1.4), (12.4, 12.6)))),
    "left": lambda: (NOTHING(), _lines(((5.4, 7), (13, 7)), ((9.6, 3.6), (13, 7), (9.6, 10.4)),
                                       ((1.6, 1.4), (1.6, 12.6)))),
    "cut": lambda: (NOTHING(), _lines(((2, 12), (12, 2)), ((2.6, 4.4), (5.6, 4.4)), ((8.4, 9.6), (11.4, 9.6)))),
    "roots": lambda: (NOTHING(), _lines(((7, 1), (7, 13)), ((7, 4), (3, 7.6), (3, 12)),
                                        ((7, 4), (11, 7.6), (11, 12)))),
    "step": lambda: (_box(4.4, 4.4, 5.2, 5.2), NOTHING()),
    "answer": lambda: (NOTHING(), _lines(((1.6, 7.4), (5.4, 11.4), (12.4, 2.6)))),
    "clock": _clock,
    "spike": _spike,
    "flower": lambda: (_petals() - _ring(1.4), NOTHING()),
    "flowers over": lambda: (NOTHING(), _petals()),
    "light": _sun,
}


@cache
def _shape(name: str) -> Shape:
    return SHAPES[name]()


def colour(name: str, palette: Palette) -> QColor:
    """The ink a mark and its word are set in; KeyError for a mark the table does not know."""
    return palette.named(COLOUR[name])


def paint(painter: QPainter, name: str, rect: QRectF, palette: Palette, ink: QColor | None = None) -> None:
    """Paint mark `name` to fill the square at the left of `rect`, in its own ink or in `ink`."""
    filled, line = _shape(name)
    tone = ink or colour(name, palette)
    size = min(rect.width(), rect.height())
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(rect.left(), rect.center().y() - size / 2)
    painter.scale(size / BOX, size / BOX)
    painter.fillPath(filled, tone)
    pen = QPen(tone, 1.8)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    painter.strokePath(line, pen)
    painter.restore()
