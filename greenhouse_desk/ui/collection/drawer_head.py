"""The head of a plant's drawer: its number on a large plate hanging from the rail, its neighbours, its name."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from greenhouse_desk.domain.names import BotanicalName
from greenhouse_desk.services.collection import Drawer
from greenhouse_desk.ui import drawing, marks
from greenhouse_desk.ui.style import Palette, sans, serif

RAIL_TOP = 16
RAIL = 14
PLATE_TOP = 0
NUMBER = 58
NAME = 28
LEADING = 32


def where(drawer: Drawer) -> str:
    """Where the plant stands; of one that left, that it does so no more."""
    if drawer.card.plant.left is not None:
        return "no longer here"
    return drawer.place_path or "no place yet"


class DrawerHead(QWidget):
    """Painted; as tall as the name needs."""

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self._palette = palette
        self._drawer: Drawer | None = None
        self._isolation = False
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def show_drawer(self, drawer: Drawer, isolation: bool) -> None:
        """Show this plant."""
        self._drawer, self._isolation = drawer, isolation
        self.setAccessibleName(f"{drawer.card.plant.number} {drawer.card.name.plain}, {where(drawer)}")
        self.updateGeometry()
        self.update()

    def hasHeightForWidth(self) -> bool:
        """The name wraps."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Rail, plate and the lines of the name."""
        return PLATE_TOP + self._plate_height() + 12 + LEADING * len(self._name(width)) + 2

    def sizeHint(self) -> QSize:
        """At the present width."""
        return QSize(260, self.heightForWidth(max(self.width(), 240)))

    def _plate_height(self) -> int:
        return NUMBER + 14

    def _name(self, width: int) -> list[list[drawing.Run]]:
        return drawing.name_lines(self._drawer.card.name, NAME, width - 28, 3) if self._drawer else [[]]

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the head."""
        if self._drawer is None:
            return
        painter = QPainter(self)
        number = str(self._drawer.card.plant.number)
        drawing.rail(painter, QRectF(0, RAIL_TOP, self.width(), RAIL), self._palette, self._isolation)
        wide = drawing.width_of(number, serif(NUMBER, 600)) + 30
        plate = QRectF(14, PLATE_TOP, wide, self._plate_height())
        drawing.number_plate(painter, plate, number, self._palette, NUMBER, 12)
        top = PLATE_TOP + self._plate_height() + 10
        drawing.name_block(painter, QRectF(14, top, self.width() - 28, 0), self._drawer.card.name, self._palette, NAME,
                           3, LEADING)
        painter.end()


class NameLine(QWidget):
    """Number and name in one line, for where the head is out of sight."""

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self._palette = palette
        self._number = ""
        self._name: BotanicalName | None = None
        self.setFixedHeight(26)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_name(self, number: int, name: BotanicalName) -> None:
        """Show this plant."""
        self._number, self._name = str(number), name
        self.setAccessibleName(f"{number} {name.plain}")
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the line."""
        if self._name is None:
            return
        painter = QPainter(self)
        wide = drawing.width_of(self._number, serif(20, 600)) + 8
        drawing.text(painter, QRectF(0, 0, wide, self.height()), self._number, serif(20, 600), self._palette.ink)
        drawing.name_block(painter, QRectF(wide, 3, self.width() - wide, 20), self._name, self._palette, 16, 1, 20)
        painter.end()


class MarkedLine(QWidget):
    """A mark with its word and, in the second ink, what more is to be said."""

    def __init__(self, mark: str, word: str, palette: Palette, px: int = 14) -> None:
        super().__init__()
        self._mark, self._word, self._palette, self._px = mark, word, palette, px
        self.setAccessibleName(word)
        self.setFixedHeight(px + 8)

    def sizeHint(self) -> QSize:
        """As wide as the words."""
        return QSize(int(drawing.width_of(self._word, sans(self._px, 600))) + self._px + 12, self._px + 8)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the mark and the word."""
        painter = QPainter(self)
        drawing.marked(painter, QRectF(0, 0, self.width(), self.height()), self._mark, self._word, self._palette,
                       self._px)
        painter.end()


class EntryMark(QWidget):
    """An entry's mark in the journal's left margin, on the thread that joins the entries."""

    def __init__(self, mark: str, last: bool, palette: Palette) -> None:
        super().__init__()
        self._mark, self._last, self._palette = mark, last, palette
        self.setFixedWidth(20)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint thread and mark."""
        painter = QPainter(self)
        if not self._last:
            painter.fillRect(QRectF(8, 24, 1.5, self.height() - 24), self._palette.rule2)
        marks.paint(painter, self._mark, QRectF(1, 4, 15, 15), self._palette)
        painter.end()


