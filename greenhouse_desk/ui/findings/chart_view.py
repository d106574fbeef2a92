"""A finding's chart on the screen: drawn anew when its size or the look changes, told in words to those who hear it."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize
from PySide6.QtGui import QImage, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from greenhouse_desk.domain.findings import Finding
from greenhouse_desk.ui import drawing
from greenhouse_desk.ui.style import Palette, sans

LEAST = 280
"""Pixels of height under which axis, names and curves no longer have room; a page with less scrolls."""
NO_CHART = "No chart: there is too little on record to draw. The words beneath say what there is."


class ChartView(QWidget):
    """Shows one finding; its picture is drawn anew when it is painted in another size or look than it was drawn for."""

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self._look = palette
        self._finding: Finding | None = None
        self.picture: QImage | None = None
        self._drawn_for: tuple[object, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(320, LEAST)

    def sizeHint(self) -> QSize:
        return QSize(900, LEAST)

    def show_finding(self, finding: Finding) -> None:
        """Show this finding."""
        self._finding = finding
        self.setAccessibleName(f"Chart: {finding.title}" if finding.chart else f"No chart: {finding.title}")
        self.setAccessibleDescription(f"{finding.rests_on}. {finding.summary}")
        self._draw()
        self.update()

    def _draw(self) -> None:
        """Draw the chart for the size and look there are, if it is not drawn for them yet."""
        from greenhouse_desk.ui.findings import charts
        wanted = (self._finding, self._look.dark, self.width(), self.height(), self.devicePixelRatioF())
        if wanted == self._drawn_for or not self.isVisible():
            return
        self.picture, self._drawn_for = None, wanted
        if self._finding is not None and self._finding.chart is not None:
            self.picture = charts.picture(self._finding, self._look, *wanted[2:])

    def paintEvent(self, event: QPaintEvent) -> None:
        self._draw()
        painter = QPainter(self)
        if self.picture is not None:
            painter.drawImage(QRect(0, 0, self.width(), self.height()), self.picture)
        elif self._finding is not None and self._finding.chart is None:
            self._empty(painter)
        painter.end()

    def _empty(self, painter: QPainter) -> None:
        """The axes stay, empty, with one sentence."""
        foot = self.height() - 36
        painter.fillRect(56, 16, 1, foot - 16, self._look.rule2)
        painter.fillRect(56, foot, self.width() - 72, 1, self._look.rule2)
        room = QRect(80, 40, max(self.width() - 120, 1), max(foot - 60, 1)).toRectF()
        drawing.text_block(painter, room, NO_CHART, sans(15), self._look.ink, 3)
