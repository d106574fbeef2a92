"""How a row of the care strip is painted: a turn's heading, or one care with its number, when, what and because."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPen, QPolygonF
from PySide6.QtWidgets import QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from greenhouse_desk.ui import drawing
from greenhouse_desk.ui.collection.care_rows import CareRow, Heading
from greenhouse_desk.ui.drawing import Align
from greenhouse_desk.ui.rows import ROW, Index
from greenhouse_desk.ui.style import Palette, sans, serif

NUMBER_WIDTH = 52
PAD = 7
LINE = 18
HEAD = 34
CARE = 2 * PAD + 4 * LINE


class CareDelegate(QStyledItemDelegate):
    """Paints headings and cares in the width of `view`."""

    def __init__(self, palette: Palette, view: QListView) -> None:
        super().__init__(view)
        self._palette = palette
        self._view = view

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """One height for headings, one for cares."""
        return QSize(self._view.viewport().width(), HEAD if isinstance(index.data(ROW), Heading) else CARE)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint it."""
        row = index.data(ROW)
        area, state = QRectF(option.rect), option.state
        painter.save()
        if state & QStyle.StateFlag.State_MouseOver and not (isinstance(row, Heading) and row.folded is None):
            painter.fillRect(area, self._palette.bench)
        if isinstance(row, Heading):
            self._paint_heading(painter, area, row)
        else:
            self._paint_care(painter, area, row)
        if state & QStyle.StateFlag.State_HasFocus:
            drawing.outline(painter, area.adjusted(1.5, 1.5, -1.5, -2.5), self._palette, True)
        painter.restore()

    def _paint_heading(self, painter: QPainter, area: QRectF, row: Heading) -> None:
        colours = self._palette
        painter.fillRect(QRectF(area.left(), area.bottom() - 2, area.width(), 2), colours.ink2)
        line = QRectF(area.left() + 2, area.top() + 8, area.width() - 12, 20)
        drawing.text(painter, line, row.word, sans(15, 700), colours.ink)
        after = line.adjusted(drawing.width_of(row.word, sans(15, 700)) + 8, 1, -34, 1)
        drawing.text(painter, after, row.told, sans(13), colours.ink2)
        right = line.adjusted(0, 0, -18 if row.folded is not None else 0, 0)
        drawing.text(painter, right, str(row.count), sans(14, 600), colours.ink, Align.AlignRight | Align.AlignVCenter)
        if row.folded is not None:
            self._paint_fold(painter, QPointF(line.right() - 6, line.center().y()), row.folded)

    def _paint_fold(self, painter: QPainter, at: QPointF, folded: bool) -> None:
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(self._palette.ink, 2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        tips = ((-2.5, -5.0), (2.5, 0.0), (-2.5, 5.0)) if folded else ((-5.0, -2.5), (0.0, 2.5), (5.0, -2.5))
        painter.drawPolyline(QPolygonF([at + QPointF(x, y) for x, y in tips]))

    def _paint_care(self, painter: QPainter, area: QRectF, row: CareRow) -> None:
        colours = self._palette
        painter.fillRect(QRectF(area.left(), area.bottom() - 1, area.width(), 1), colours.rule)
        drawing.text(painter, QRectF(area.left() + 2, area.top() + PAD - 4, NUMBER_WIDTH, 28), str(row.care.plant),
                     serif(23, 600), colours.ink)
        x, y, width = area.left() + NUMBER_WIDTH, area.top() + PAD, area.width() - NUMBER_WIDTH - PAD
        drawing.marked(painter, QRectF(x, y, width, LINE), row.mark, row.when, colours)
        taken = 26 + drawing.width_of(row.when, sans(14, 600))
        drawing.text(painter, QRectF(x + taken, y, max(0.0, width - taken), LINE), row.place, sans(13), colours.ink2,
                     Align.AlignRight | Align.AlignVCenter)
        drawing.text(painter, QRectF(x, y + LINE, width, LINE), row.brief, sans(15, 600), colours.ink)
        drawing.name_block(painter, QRectF(x, y + 2 * LINE, width, LINE), row.name, colours, 14, 1, LINE, colours.ink)
        drawing.text(painter, QRectF(x, y + 3 * LINE - 1, width, LINE), row.last, sans(13), colours.ink2)
