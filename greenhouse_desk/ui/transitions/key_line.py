"""The key under the calendar: a sample of each mark with its word; it flows into as many lines as it needs."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from greenhouse_desk.ui import drawing
from greenhouse_desk.ui.style import Palette, sans
from greenhouse_desk.ui.transitions.bands import BandPainter
from greenhouse_desk.ui.transitions.paint import LEGEND

LINE, SAMPLE, GAP = 26, 34.0, 22.0
SMALL = {"potting": 10.0, "due": 18.0}


class KeyLine(QWidget):
    """What the marks of the calendar mean."""

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self._look = palette
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        self.setAccessibleName("Key: " + ", ".join(word for _, word in LEGEND))

    def sizeHint(self) -> QSize:
        return QSize(600, self.heightForWidth(max(600, self.width())))

    def heightForWidth(self, width: int) -> int:
        """As many lines as the samples need."""
        return LINE * (1 + max((line for line, *_ in self._places(width)), default=0))

    def _places(self, width: float) -> list[tuple[int, float, str, str, float]]:
        """For each mark: its line, its left, its kind, its word and how wide its sample is."""
        line, left = 0, 0.0
        found = []
        for kind, word in LEGEND:
            sample = SMALL.get(kind, SAMPLE)
            need = sample + 7 + drawing.width_of(word, sans(13)) + 4
            if left and left + need > width:
                line, left = line + 1, 0.0
            found.append((line, left, kind, word, sample))
            left += need + GAP
        return found

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for line, left, kind, word, sample in self._places(self.width()):
            top = line * LINE
            BandPainter.sample(painter, self._look, kind, QRectF(left, top + 6, sample, 15))
            room = QRectF(left + sample + 7, top + 3, drawing.width_of(word, sans(13)) + 6, 20)
            drawing.text(painter, room, word, sans(13), self._look.ink2)
        painter.end()
