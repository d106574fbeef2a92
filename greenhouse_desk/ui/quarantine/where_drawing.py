"""Where pests hide, drawn by ourselves: a plant of one stem or of many growths, its pot, the spots marked by number."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize
from PySide6.QtGui import QPainter, QPainterPath, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from greenhouse_desk.domain.hiding import Spot
from greenhouse_desk.domain.plants import Habit
from greenhouse_desk.ui import drawing
from greenhouse_desk.ui.drawing import Align
from greenhouse_desk.ui.style import Palette, sans

WIDE, HIGH = 300.0, 330.0
POT = (100.0, 218.0, 100.0, 96.0)
AT_ONE_STEM: dict[Spot, tuple[float, float]] = {
    Spot.LEAF_BACKS: (58, 166), Spot.AXILS: (122, 186), Spot.SHEATHS: (140, 208), Spot.CROWN: (150, 136),
    Spot.NEW_GROWTH: (164, 104), Spot.BUDS: (252, 52), Spot.RHIZOME: (170, 210), Spot.ROOTS: (118, 270),
    Spot.MEDIUM: (180, 226), Spot.RIM: (196, 300)}
AT_MANY_GROWTHS: dict[Spot, tuple[float, float]] = {
    Spot.LEAF_BACKS: (88, 84), Spot.AXILS: (110, 152), Spot.SHEATHS: (126, 192), Spot.CROWN: (150, 140),
    Spot.NEW_GROWTH: (206, 164), Spot.BUDS: (252, 46), Spot.RHIZOME: (152, 212), Spot.ROOTS: (118, 270),
    Spot.MEDIUM: (182, 228), Spot.RIM: (196, 300)}


def places(habit: Habit) -> dict[Spot, tuple[float, float]]:
    """Where each spot lies on the drawing of a habit, in a box of 300 by 330."""
    return AT_ONE_STEM if habit is Habit.MONOPODIAL else AT_MANY_GROWTHS


def leaf(base: tuple[float, float], tip: tuple[float, float], belly: float) -> QPainterPath:
    """A leaf from its base to its tip, `belly` wide to either side."""
    start, end = QPointF(*base), QPointF(*tip)
    across = end - start
    side = QPointF(-across.y(), across.x()) * (belly / max(1.0, (across.x() ** 2 + across.y() ** 2) ** 0.5))
    path = QPainterPath(start)
    path.quadTo(start + across * 0.5 + side, end)
    path.quadTo(start + across * 0.5 - side, start)
    return path


def bulb(x: float, top: float) -> QPainterPath:
    """A growth that swells above the medium."""
    path = QPainterPath(QPointF(x - 9, 220))
    path.cubicTo(x - 22, 196, x - 12, top + 20, x - 4, top)
    path.lineTo(x + 4, top)
    path.cubicTo(x + 12, top + 20, x + 22, 196, x + 9, 220)
    return path


def stem() -> QPainterPath:
    """The stem of a spike."""
    path = QPainterPath(QPointF(152, 190))
    path.cubicTo(168, 120, 196, 70, 262, 44)
    return path


def buds() -> QPainterPath:
    """Three buds on it."""
    path = QPainterPath()
    for x, y in ((222, 56), (242, 46), (262, 40)):
        path.addEllipse(QPointF(x, y), 8, 6)
    return path


def outline(habit: Habit) -> QPainterPath:
    """The plant above its pot."""
    path = buds()
    if habit is Habit.MONOPODIAL:
        for tip, base in (((28, 150), (140, 204)), ((276, 148), (158, 204)), ((52, 104), (144, 184)),
                          ((244, 112), (156, 184)), ((168, 84), (150, 168))):
            path.addPath(leaf(base, tip, 26))
        return path
    for x, top, tip in ((126, 138, (70, 40)), (158, 132, (150, 26)), (196, 178, (220, 128))):
        path.addPath(bulb(x, top))
        path.addPath(leaf((x, top), tip, 18))
    return path


class WhereDrawing(QWidget):
    """The drawing of one plant, its spots numbered in the order they are searched."""

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self._look = palette
        self._habit, self._spots = Habit.UNKNOWN, tuple[Spot, ...]()
        self.setMinimumSize(200, 220)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def sizeHint(self) -> QSize:
        """The drawing's own size."""
        return QSize(int(WIDE), int(HIGH))

    def show_spots(self, habit: Habit, spots: Sequence[Spot]) -> None:
        """Number these spots on a plant of this habit."""
        self._habit, self._spots = habit, tuple(spots)
        told = ", ".join(f"{nth} {spot.value}" for nth, spot in enumerate(spots, 1))
        self.setAccessibleName(f"Where to look: {told}")
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint pot, plant and numbers."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        scale = min(self.width() / WIDE, self.height() / HIGH)
        painter.translate((self.width() - WIDE * scale) / 2, 0)
        painter.scale(scale, scale)
        self._pot(painter)
        painter.setPen(QPen(self._look.ink2, 2))
        painter.setBrush(self._look.bench)
        painter.strokePath(stem(), QPen(self._look.ink2, 2))
        painter.drawPath(outline(self._habit))
        for nth, spot in enumerate(self._spots, 1):
            self._number(painter, QPointF(*places(self._habit)[spot]), nth)
        painter.end()

    def _pot(self, painter: QPainter) -> None:
        x, y, width, height = POT
        path = QPainterPath(QPointF(x, y))
        for point in ((x + width, y), (x + width - 12, y + height), (x + 12, y + height)):
            path.lineTo(*point)
        path.closeSubpath()
        painter.setPen(QPen(self._look.rule2, 2))
        painter.setBrush(self._look.sheet)
        painter.drawPath(path)
        painter.fillRect(QRectF(x - 4, y - 3, width + 8, 7), self._look.rule2)
        for start, bend, end in (((132, 224), (112, 250), (124, 304)), ((150, 224), (160, 262), (146, 308)),
                                 ((168, 224), (188, 256), (172, 300))):
            root = QPainterPath(QPointF(*start))
            root.quadTo(QPointF(*bend), QPointF(*end))
            painter.strokePath(root, QPen(self._look.ink2, 2))

    def _number(self, painter: QPainter, at: QPointF, nth: int) -> None:
        painter.setPen(QPen(self._look.sheet, 2))
        painter.setBrush(self._look.madder if nth == 1 else self._look.ink)
        painter.drawEllipse(at, 12, 12)
        drawing.text(painter, QRectF(at.x() - 12, at.y() - 12.5, 24, 24), str(nth), sans(14, 700), self._look.sheet,
                     Align.AlignCenter)
