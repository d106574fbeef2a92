"""Rows of the screen's two lists: a plant with its number and its name set by the codes, a layout with its size."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem

from greenhouse_desk.domain import names
from greenhouse_desk.ui import drawing
from greenhouse_desk.ui.style import Palette, sans, serif

NUMBER = Qt.ItemDataRole.UserRole
NAME = Qt.ItemDataRole.UserRole + 1
SIZE = Qt.ItemDataRole.UserRole + 1
PLANT_ROW, LAYOUT_ROW = 32, 48
TICK_ROOM, NUMBER_ROOM = 30, 46
Index = QModelIndex | QPersistentModelIndex


class WordRow(QStyledItemDelegate):
    """Ground, tick and focus by the style; the words by ourselves."""

    high = PLANT_ROW

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self._look = palette

    def initStyleOption(self, option: QStyleOptionViewItem, index: Index) -> None:
        """Everything but the words."""
        super().initStyleOption(option, index)
        option.text = ""

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """High enough for a finger."""
        return QSize(100, self.high)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """The style's part, then the words."""
        super().paint(painter, option, index)
        painter.save()
        self._words(painter, QRectF(option.rect), index)
        painter.restore()

    def _words(self, painter: QPainter, room: QRectF, index: Index) -> None:
        raise NotImplementedError


class PlantRow(WordRow):
    """A plant: tick (where `ticks` leaves room for one), number, name."""

    ticks = TICK_ROOM

    def _words(self, painter: QPainter, room: QRectF, index: Index) -> None:
        number = QRectF(room.left() + self.ticks, room.top(), NUMBER_ROOM, room.height())
        drawing.text(painter, number, str(index.data(NUMBER)), serif(17, 600), self._look.ink)
        name = room.adjusted(self.ticks + NUMBER_ROOM, 6, -4, 0)
        drawing.name_block(painter, name, names.parse(index.data(NAME)), self._look, 15, 1, 20)


class LayoutRow(WordRow):
    """A layout: its title over its size."""

    high = LAYOUT_ROW

    def _words(self, painter: QPainter, room: QRectF, index: Index) -> None:
        inside = room.adjusted(8, 4, -6, -4)
        half = inside.height() / 2
        drawing.text(painter, QRectF(inside.left(), inside.top(), inside.width(), half),
                     index.data(Qt.ItemDataRole.DisplayRole), sans(14, 600), self._look.ink)
        drawing.text(painter, QRectF(inside.left(), inside.top() + half, inside.width(), half), index.data(SIZE),
                     sans(13), self._look.ink)
