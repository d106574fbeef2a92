"""Sheets of the Quarantine screen's pages: a scrolled column, panels with a heading, rows of words with a mark."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from greenhouse_desk.ui import marks
from greenhouse_desk.ui.messages import label
from greenhouse_desk.ui.style import Palette


class Mark(QWidget):
    """One mark, painted; its word stands beside it."""

    def __init__(self, name: str, palette: Palette) -> None:
        super().__init__()
        self._name, self._look = name, palette
        self.setFixedSize(QSize(20, 20))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the mark."""
        painter = QPainter(self)
        marks.paint(painter, self._name, QRectF(3, 3, 14, 14), self._look)
        painter.end()


class Column(QScrollArea):
    """A scrolled column that is filled anew."""

    def __init__(self, name: str) -> None:
        super().__init__()
        self._page = QWidget()
        self.setAccessibleName(name)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)

    def begin(self) -> QVBoxLayout:
        """An empty column to fill; `end` shows it in the place of what was shown."""
        self._page = QWidget()
        column = QVBoxLayout(self._page)
        column.setContentsMargins(0, 0, 10, 0)
        column.setSpacing(12)
        return column

    def end(self) -> None:
        """Show the column that was filled, from where the old one was scrolled to."""
        scrolled = self.verticalScrollBar().value()
        self._page.ensurePolished()
        self.setWidget(self._page)
        self._page.show()
        self.verticalScrollBar().setValue(scrolled)


def marked_row(mark: str, title: str, detail: str, right: str, palette: Palette, ink: str = "") -> QHBoxLayout:
    """A mark, a bold title over its detail, and a word at the right."""
    row = QHBoxLayout()
    row.setSpacing(8)
    row.addWidget(Mark(mark, palette), 0, Qt.AlignmentFlag.AlignTop)
    words = QVBoxLayout()
    words.setSpacing(1)
    words.addWidget(label(title, ink, bold=True))
    if detail:
        words.addWidget(label(detail, "second", px=13))
    row.addLayout(words, 1)
    if right:
        row.addWidget(label(right, bold=True, wrap=False), 0, Qt.AlignmentFlag.AlignTop)
    return row
