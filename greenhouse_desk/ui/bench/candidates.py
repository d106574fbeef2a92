"""The list of plants that can go to the bench: a model of frozen rows, and a delegate that paints one."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QAbstractItemView, QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from greenhouse_desk.domain.names import BotanicalName
from greenhouse_desk.services.treatments import Candidate
from greenhouse_desk.ui import drawing, marks
from greenhouse_desk.ui.style import Palette, sans, serif

Index = QModelIndex | QPersistentModelIndex
ROW = Qt.ItemDataRole.UserRole
LEFT, TOP, STEP, FOOT = 112, 55, 17, 12
"""Where the lines below name and standing begin, how far apart they are, and the room below the last one."""
NARROW = 720
NAME = 22
MOST_LINES = 5


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

    def __init__(self, palette: Palette, parent: QAbstractItemView) -> None:
        super().__init__(parent)
        self._look, self._list = palette, parent

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """As high as the row's words need in the width the list has."""
        row, wide = index.data(ROW), self._list.viewport().width()
        lines = sum(len(told) for _bold, told in below(row.candidate, wide)) if isinstance(row, Row) else 1
        extra = NAME * (name_rows(row.candidate, wide) - 1) if isinstance(row, Row) else 0
        return QSize(480, TOP + extra + max(lines, 1) * STEP + FOOT)

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
        left, narrow = rect.left() + LEFT, rect.width() < NARROW
        middle = rect.left() + _middle(rect.width())
        wide = middle - left - 16
        lines = name_rows(it, round(rect.width()))
        drawing.name_block(painter, QRectF(left, rect.top() + 11, wide, NAME), it.name, self._look, 17, lines, NAME)
        top, word = rect.top() + NAME * (lines - 1), it.standing.word
        tone = ink if row.chosen else marks.colour(word, self._look)
        drawing.marked(painter, QRectF(left, top + 34, wide, 20), word, word, self._look, ink=tone)
        y = top + TOP
        for bold, told in below(it, round(rect.width())):
            for line in told:
                font = sans(13, 600 if bold else 400)
                drawing.text(painter, QRectF(left, y, rect.right() - left, STEP), line, font, ink if bold else second)
                y += STEP
        if narrow:
            return
        rest = rect.right() - middle - 14
        for n, (words, font, tone) in enumerate(((it.past or "no pest or disease on record", sans(14, 600), ink),
                                                 (it.last_treatment or "no treatment on record", sans(14), second))):
            line_at = QRectF(middle, rect.top() + 12 + n * 22, rest, 20)
            drawing.text(painter, line_at, drawing.shortened(words, font, rest), font, tone)


def _middle(width: float) -> float:
    """Where the right half of a row `width` pixels wide begins: at its end where the row is narrow."""
    return width if width < NARROW else LEFT + max(220.0, (width - LEFT) * 0.42)


def name_rows(it: Candidate, width: int) -> int:
    """How many lines the name takes, two at most."""
    return _name_rows(it.name, round(_middle(width)) - LEFT - 16)


@lru_cache(maxsize=8192)
def _name_rows(name: BotanicalName, width: int) -> int:
    return len(drawing.name_lines(name, 17, width, 2))


def below(it: Candidate, width: int) -> tuple[tuple[bool, list[str]], ...]:
    """The lines under name and standing in a row `width` pixels wide, each kind with whether it stands out: why it
    stands so, its notes, and in a narrow row its pests and its last treatment too."""
    told = [(False, it.standing.why)]
    if width < NARROW:
        told += [(True, it.past), (False, it.last_treatment)]
    told.append((False, it.notes))
    return tuple((bold, list(_lines(words, bold, width - LEFT - 14))) for bold, words in told if words)


@lru_cache(maxsize=8192)
def _lines(words: str, bold: bool, width: int) -> tuple[str, ...]:
    return tuple(drawing.wrapped(words, sans(13, 600 if bold else 400), max(width, 60), MOST_LINES))
