"""A used sheet, small: a click or an arrow key says at which label to start."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from greenhouse_desk.domain.labels import Layout
from greenhouse_desk.domain.labels_sheets import page_size, place_of
from greenhouse_desk.ui import drawing
from greenhouse_desk.ui.drawing import Align
from greenhouse_desk.ui.style import Palette, hatch, sans

HIGH = 190
PAD = 5.0
LEAST_FOR_FIGURE = 17.0  # pixels of a cell's height


class SheetCells(QWidget):
    """`chosen(number)` asks to start at label `number`, from 1. Used labels are hatched, those to come are filled."""

    chosen = Signal(int)

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self._look = palette
        self._layout: Layout | None = None
        self.start, self._filled = 1, 0
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setAccessibleName("First free label of the sheet")

    def sizeHint(self) -> QSize:
        """A small sheet."""
        return QSize(150, HIGH)

    def show_sheet(self, layout: Layout, start: int, labels: int) -> None:
        """Show the sheet of a layout: it starts at label `start`, and `labels` are to come."""
        self._layout, self.start, self._filled = layout, start, labels
        self.setAccessibleName(f"First free label of the sheet: {start} of {layout.per_page}")
        self.setAccessibleDescription("Arrow keys choose another one.")
        self.update()

    def cell(self, number: int) -> QRectF:
        """Where label `number` (from 1) is drawn."""
        assert self._layout is not None
        by, left = self._scale(), self._left()
        x, y = place_of(self._layout, number - 1)
        return QRectF(left + x * by, PAD + y * by, self._layout.width * by, self._layout.height * by)

    def _scale(self) -> float:
        assert self._layout is not None
        wide, high = page_size(self._layout)
        return min((self.width() - 2 * PAD) / wide, (self.height() - 2 * PAD) / high)

    def _left(self) -> float:
        assert self._layout is not None
        return (self.width() - page_size(self._layout)[0] * self._scale()) / 2

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the sheet and its labels."""
        if self._layout is None:
            return
        painter = QPainter(self)
        look, by = self._look, self._scale()
        wide, high = page_size(self._layout)
        sheet = QRectF(self._left(), PAD, wide * by, high * by)
        painter.setPen(QPen(look.rule2, 1))
        painter.setBrush(look.sheet)
        painter.drawRect(sheet)
        for number in range(1, self._layout.per_page + 1):
            self._paint_cell(painter, number)
        if self.hasFocus():
            drawing.outline(painter, sheet.adjusted(-2, -2, 2, 2), look, True)
        painter.end()

    def _paint_cell(self, painter: QPainter, number: int) -> None:
        look, cell = self._look, self.cell(number).adjusted(1, 1, -1, -1)
        painter.setPen(QPen(look.rule2, 1))
        if number < self.start:
            painter.setBrush(hatch(look.rule2, 1, 5))
        else:
            painter.setBrush(look.water_fill if number < self.start + self._filled else look.sheet)
        painter.drawRect(cell)
        if number == self.start:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(look.water, 2.5))
            painter.drawRect(cell)
        if number >= self.start and cell.height() >= LEAST_FOR_FIGURE:
            drawing.text(painter, cell, str(number), sans(13, 600 if number == self.start else 400), look.ink,
                         Align.AlignCenter)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Start where it was clicked."""
        number = self._at(event.position())
        if number is not None:
            self.chosen.emit(number)

    def _at(self, point: QPointF) -> int | None:
        if self._layout is None:
            return None
        return next((number for number in range(1, self._layout.per_page + 1) if self.cell(number).contains(point)),
                    None)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrow keys go from label to label."""
        if self._layout is None:
            return
        across = self._layout.grid.across if self._layout.grid else 1
        moves = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1, Qt.Key.Key_Up: -across, Qt.Key.Key_Down: across}
        goal = self.start + moves.get(Qt.Key(event.key()), 0)
        if goal == self.start:
            super().keyPressEvent(event)
        elif 1 <= goal <= self._layout.per_page:
            self.chosen.emit(goal)
