"""What is owed as a list: a model of cares, soonest first, and how one is painted."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta, tzinfo
from typing import Any

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from greenhouse_desk.domain.care import Care, CareWords
from greenhouse_desk.domain.care import words as care_words
from greenhouse_desk.domain.names import BotanicalName
from greenhouse_desk.ui import drawing, words
from greenhouse_desk.ui.style import Palette, sans, serif

Index = QModelIndex | QPersistentModelIndex
ROW = int(Qt.ItemDataRole.UserRole)
NUMBER_WIDTH = 56
PAD = 8


@dataclass(frozen=True, slots=True)
class CareRow:
    """One care in the strip: its mark, when ("today", "1 day over"), what, and what else is told."""

    care: Care
    name: BotanicalName
    mark: str
    when: str
    what: str
    more: str


def row_of(care: Care, name: BotanicalName, now: datetime, zone: tzinfo) -> CareRow:
    """A care as the strip tells it at `now`."""
    told: CareWords = care_words(care, now, zone)
    what, _, more = care.what.partition(": ")
    return CareRow(care, name, told.mark, when(care, told, now, zone), what, more[:1].upper() + more[1:])


def when(care: Care, told: CareWords, now: datetime, zone: tzinfo) -> str:
    """When it is owed, in a word or two."""
    today = now.astimezone(zone).date()
    if care.drying is not None:
        return told.text
    if told.mark in ("today", "tomorrow"):
        return told.mark
    due = _day(care.due, zone)
    if told.mark == "hold":
        return f"until {words.day(due, today)}"
    if told.mark == "over":
        late = today - _day(care.latest or care.due, zone)
        return f"{words.counted(late.days, 'day')} over" if late > timedelta() else "over"
    return words.day(due, today)


def _day(moment: date | datetime, zone: tzinfo) -> date:
    return moment.astimezone(zone).date() if isinstance(moment, datetime) else moment


class CareModel(QAbstractListModel):
    """Cares, soonest first."""

    def __init__(self) -> None:
        super().__init__()
        self.rows: tuple[CareRow, ...] = ()

    def show(self, cares: Sequence[Care], names: Mapping[int, BotanicalName], now: datetime, zone: tzinfo) -> None:
        """Show these; rows that stay the same care are only told changed."""
        new = tuple(row_of(care, names[care.plant], now, zone) for care in cares if care.plant in names)
        old = self.rows
        if [_key(row) for row in old] == [_key(row) for row in new]:
            self.rows = new
            for at, (was, row) in enumerate(zip(old, new, strict=True)):
                if was != row:
                    self.dataChanged.emit(self.index(at), self.index(at))
            return
        self.beginResetModel()
        self.rows = new
        self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """How many cares."""
        return 0 if parent.isValid() else len(self.rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """The row itself, or it in words."""
        if not index.isValid() or index.row() >= len(self.rows):
            return None
        row = self.rows[index.row()]
        if role == ROW:
            return row
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            return f"{row.care.plant} {row.name.plain}, {row.when}: {row.what}"
        return f"{row.what}\n{row.more}".strip() if role == Qt.ItemDataRole.ToolTipRole else None


def _key(row: CareRow) -> tuple[object, ...]:
    return row.care.plant, row.care.kind, row.care.origin, row.care.nth


class CareDelegate(QStyledItemDelegate):
    """Paints one care: number, when with its mark, what, and the plant's name."""

    def __init__(self, palette: Palette, view: QListView) -> None:
        super().__init__(view)
        self._palette = palette
        self._view = view

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """As tall as its words need at the view's width."""
        row: CareRow = index.data(ROW)
        width = self._view.viewport().width()
        lines = len(drawing.wrapped(row.what, sans(14, 600), width - NUMBER_WIDTH - PAD, 2))
        return QSize(width, 2 * PAD + 18 + 17 * lines + 19)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint it."""
        row: CareRow = index.data(ROW)
        colours = self._palette
        area = QRectF(option.rect)
        state = option.state
        painter.save()
        if state & QStyle.StateFlag.State_MouseOver:
            painter.fillRect(area, colours.bench)
        painter.fillRect(QRectF(area.left(), area.bottom() - 1, area.width(), 1), colours.rule)
        drawing.text(painter, QRectF(area.left() + 2, area.top() + 5, NUMBER_WIDTH, 28), str(row.care.plant),
                     serif(23, 600), colours.ink)
        inner = area.adjusted(NUMBER_WIDTH, PAD, -PAD, -PAD)
        drawing.marked(painter, QRectF(inner.left(), inner.top(), inner.width(), 18), row.mark, row.when, colours)
        y = drawing.text_block(painter, QRectF(inner.left(), inner.top() + 18, inner.width(), 36), row.what,
                               sans(14, 600), colours.ink, 2)
        drawing.name_block(painter, QRectF(inner.left(), y + 1, inner.width(), 18), row.name, colours, 14, 1, 18,
                           colours.ink2)
        if state & QStyle.StateFlag.State_HasFocus:
            drawing.outline(painter, area.adjusted(1.5, 1.5, -1.5, -2.5), colours, True)
        painter.restore()
