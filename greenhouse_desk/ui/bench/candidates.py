"""The list of plants that can go to the bench: a model of frozen rows, and a delegate that paints one."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from greenhouse_desk.services.treatments import Candidate
from greenhouse_desk.ui import drawing, marks
from greenhouse_desk.ui.style import Palette, sans, serif

Index = QModelIndex | QPersistentModelIndex
ROW = Qt.ItemDataRole.UserRole
HEIGHT = 84
NARROW = 560


@dataclass(frozen=True)
class Row:
    """A plant that can be chosen, and whether it is."""

    candidate: Candidate
    chosen: bool = False

    @property
    def words(self) -> str:
        """The whole row as it is read out."""
        it = self.candidate
        said = [f"{it.plant} {it.name.plain}", "chosen" if self.chosen else "not chosen", it.standing.word,
                it.standing.why, it.past, it.last_treatment, it.notes]
        return ", ".join(part for part in said if part)


class CandidateModel(QAbstractListModel):
    """Frozen rows; `show` keeps the selection where the same plants stay in the same order."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._rows: tuple[Row, ...] = ()

    @property
    def rows(self) -> tuple[Row, ...]:
        return self._rows

    def show(self, rows: tuple[Row, ...]) -> None:
        """Show these rows."""
        same = [row.candidate.plant for row in rows] == [row.candidate.plant for row in self._rows]
        if not same:
            self.beginResetModel()
            self._rows = rows
            self.endResetModel()
            return
        changed = [n for n, (old, new) in enumerate(zip(self._rows, rows, strict=True)) if old != new]
        self._rows = rows
        for n in changed:
            self.dataChanged.emit(self.index(n), self.index(n))

    def rowCount(self, parent: Index | None = None) -> int:
        return 0 if parent is not None and parent.isValid() else len(self._rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if not index.isValid() or index.row() >= len(self._rows):
            return None
        row = self._rows[index.row()]
        if role == ROW:
            return row
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return row.words
        return None


class CandidateDelegate(QStyledItemDelegate):
    """Number, name, standing, past, last treatment and notes on one row."""

    def __init__(self, palette: Palette, parent: QWidget) -> None:
        super().__init__(parent)
        self._look = palette

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(480, HEIGHT)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        row = index.data(ROW)
        if not isinstance(row, Row):
            return
        rect = QRectF(option.rect)
        state = option.state
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if row.chosen:
            painter.fillRect(rect, self._look.water_fill)
        self._paint_tick(painter, QRectF(rect.left() + 14, rect.center().y() - 9, 18, 18), row.chosen)
        self._paint_plant(painter, row, rect)
        painter.fillRect(QRectF(rect.left(), rect.bottom() - 1, rect.width(), 1), self._look.rule)
        if state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(QPen(self._look.water, 2.5, Qt.PenStyle.DashLine))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(rect.adjusted(2, 2, -2, -3))
        painter.restore()

    def _paint_tick(self, painter: QPainter, box: QRectF, chosen: bool) -> None:
        painter.setPen(QPen(self._look.ink if chosen else self._look.rule2, 1.5))
        painter.setBrush(self._look.ink if chosen else self._look.sheet)
        painter.drawRoundedRect(box, 2, 2)
        if chosen:
            marks.paint(painter, "answer", box.adjusted(3, 3, -3, -3), self._look, self._look.sheet)

    def _paint_plant(self, painter: QPainter, row: Row, rect: QRectF) -> None:
        it, ink = row.candidate, self._look.ink
        second: QColor = ink if row.chosen else self._look.ink2
        drawing.text(painter, QRectF(rect.left() + 46, rect.top() + 8, 62, 32), str(it.plant), serif(26, 600), ink)
        narrow = rect.width() < NARROW
        left = rect.left() + 112
        middle = rect.right() if narrow else left + max(220.0, (rect.width() - 112) * 0.42)
        wide = middle - left - 16
        drawing.name_block(painter, QRectF(left, rect.top() + 11, wide, 22), it.name, self._look, 17, 1, 22)
        word = it.standing.word
        tone = ink if row.chosen else marks.colour(word, self._look)
        drawing.marked(painter, QRectF(left, rect.top() + 34, wide, 20), word, word, self._look, ink=tone)
        below = (narrow and it.past) or it.standing.why
        below = drawing.shortened(below, sans(13), wide)
        drawing.text(painter, QRectF(left, rect.top() + 55, wide, 18), below, sans(13), second)
        if narrow:
            return
        rest = rect.right() - middle - 14
        for n, (words, font, tone) in enumerate(((it.past or "no pest or disease on record", sans(14, 600), ink),
                                                 (it.last_treatment or "no treatment on record", sans(14), second),
                                                 (it.notes, sans(13), second))):
            line = QRectF(middle, rect.top() + 12 + n * 22, rest, 20)
            drawing.text(painter, line, drawing.shortened(words, font, rest), font, tone)
