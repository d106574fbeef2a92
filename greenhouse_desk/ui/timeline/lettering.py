"""Words of the timeline, measured and cut once, and the pen that writes them: a frame shows hundreds of them."""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter

from greenhouse_desk.ui.style import Palette, sans
from greenhouse_desk.ui.timeline import stamps

PX = 13.0
KEPT = 20_000


@lru_cache(maxsize=KEPT)
def width(words: str, bold: bool = False) -> float:
    """How wide some words are, in pixels."""
    return QFontMetricsF(face(bold)).horizontalAdvance(words) + 1


@lru_cache(maxsize=KEPT)
def _cut(words: str, bold: bool, room: int) -> str:
    return QFontMetricsF(face(bold)).elidedText(words, Qt.TextElideMode.ElideRight, room)


def face(bold: bool) -> QFont:
    """The face of words on the timeline."""
    return sans(PX, 600 if bold else 400)


class Pen:
    """Writes and stamps on one painter; the face and the ink are set only when they change."""

    def __init__(self, painter: QPainter, palette: Palette, ratio: float) -> None:
        self._painter, self._palette, self._ratio = painter, palette, ratio
        self._bold: bool | None = None
        self._ink: QColor | None = None
        self._drop = QFontMetricsF(face(False)).ascent() * 0.36

    def words(self, x: float, middle: float, words: str, ink: QColor, bold: bool = False, room: float = 0.0) -> None:
        """Words from `x` on, cut where `room` (not 0) ends, their small letters about the height `middle`."""
        if bold is not self._bold:
            self._painter.setFont(face(bold))
            self._bold = bold
        if ink is not self._ink:
            self._painter.setPen(ink)
            self._ink = ink
        if room and room < width(words, bold):
            words = _cut(words, bold, int(room))
        self._painter.drawText(QPointF(x, middle + self._drop), words)

    def lost(self) -> None:
        """The painter's face or ink was changed by another hand."""
        self._bold = self._ink = None

    def mark(self, x: float, middle: float, name: str, ink: QColor) -> None:
        """A mark from `x` on, about the height `middle`."""
        self._painter.drawPixmap(QPointF(x, middle - stamps.ROUND / 2),
                                 stamps.mark(name, ink.rgba(), self._palette, self._ratio))
