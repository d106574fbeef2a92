"""The status list: each plant that is held back, what must happen next, its looks as rings, its earliest release."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPen
from PySide6.QtWidgets import QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from greenhouse_desk.domain.names import BotanicalName
from greenhouse_desk.ui import drawing, marks
from greenhouse_desk.ui.drawing import Align
from greenhouse_desk.ui.rows import ROW, SPOKEN, Index, RowsModel
from greenhouse_desk.ui.style import Palette, sans, serif
from greenhouse_desk.ui.words import day

HEIGHT = 58
LINE = 17
LINES_LEAST, LINES_MOST = 2, 8
NUMBER_WIDTH = 56
RING = 7.0
RINGS_MOST = 5
GAP = 10.0
"""Between the looks and the day at the foot of a row."""


@dataclass(frozen=True, slots=True)
class StatusRow:
    """A plant held back: its word, what must happen next, `counted` of `needed` looks, the day it may be over; `longer`
    where that is the day of something else on it, which holds it back for longer than what the row tells of."""

    plant: int
    name: BotanicalName
    word: str
    what: str
    next: str
    counted: int
    needed: int
    earliest: date | None
    today: date
    longer: bool = False

    @property
    def looks(self) -> str:
        """ "1 of 2 looks"; where none are needed it is a test that tells."""
        return f"{min(self.counted, self.needed)} of {self.needed} looks" if self.needed else "a test tells"

    @property
    def release(self) -> str:
        """ "not before 12 Dec", "all not before 30 Dec" where something else takes longer, or that no day is known."""
        if not self.earliest:
            return "no day known"
        return f"{'all ' if self.longer else ''}not before {day(self.earliest, self.today)}"

    @property
    def title(self) -> str:
        """ "exposed: mealybug"."""
        return f"{self.word}: {self.what}" if self.what else self.word

    @property
    def words(self) -> str:
        """The row as it is read out."""
        return f"{self.plant} {self.name.plain}, {self.title}, {self.next}, {self.looks}, {self.release}"


class StatusModel(RowsModel[StatusRow]):
    """A row a plant."""

    def key(self, row: StatusRow) -> object:
        return row.plant

    def told(self, row: StatusRow, role: int) -> str | None:
        return row.words if role in (*SPOKEN, Qt.ItemDataRole.ToolTipRole) else None


class StatusDelegate(QStyledItemDelegate):
    """Number, mark with word and name, what must happen in as many lines as it takes, rings, and the day."""

    def __init__(self, palette: Palette, parent: QListView) -> None:
        super().__init__(parent)
        self._look, self._list = palette, parent

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        row, wide = index.data(ROW), self._list.viewport().width()
        told = len(_lines(row.next, wide - 6 - NUMBER_WIDTH - 4)) if isinstance(row, StatusRow) else LINES_LEAST
        return QSize(280, HEIGHT + max(told, LINES_LEAST) * LINE)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        row = index.data(ROW)
        if not isinstance(row, StatusRow):
            return
        rect, look = QRectF(option.rect), self._look
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(QRectF(rect.left(), rect.bottom() - 1, rect.width(), 1), look.rule)
        self._words(painter, rect.adjusted(0, 6, -6, 0), row)
        state = option.state
        if state & QStyle.StateFlag.State_Selected:
            drawing.outline(painter, rect.adjusted(1.5, 2.5, -2.5, -3.5), look,
                            bool(state & QStyle.StateFlag.State_HasFocus))
        painter.restore()

    def _words(self, painter: QPainter, rect: QRectF, row: StatusRow) -> None:
        look = self._look
        drawing.text(painter, QRectF(rect.left() + 8, rect.top(), NUMBER_WIDTH, 26), str(row.plant), serif(23, 600),
                     look.ink)
        left, width = rect.left() + NUMBER_WIDTH + 4, rect.width() - NUMBER_WIDTH - 4
        worded = 24 + drawing.width_of(row.title, sans(14, 600))
        drawing.marked(painter, QRectF(left, rect.top() + 2, min(worded, width), 20), row.word, row.title, look)
        y = rect.top() + 22
        for line in _lines(row.next, width):
            drawing.text(painter, QRectF(left, y, width, 19), line, sans(13, 600), look.ink)
            y += LINE
        foot = QRectF(left, rect.bottom() - 27, width, 20)
        ringed, looks = beside_day(row, width)
        used = rings(painter, foot, row.counted, row.needed, look) if ringed else 0.0
        drawing.text(painter, foot.adjusted(used, 0, 0, 0), looks, sans(13), look.ink2)
        drawing.text(painter, foot, row.release, sans(13, 600), look.ink, Align.AlignRight | Align.AlignVCenter)


def _lines(words: str, width: float) -> list[str]:
    return drawing.wrapped(words, sans(13, 600), width, LINES_MOST)


def beside_day(row: StatusRow, width: float) -> tuple[bool, str]:
    """Whether the rings are drawn, and the words of the looks: as much as leaves a gap before the day in this width."""
    room = width - drawing.width_of(row.release, sans(13, 600)) - GAP
    ringed = row.needed <= RINGS_MOST
    for words in (row.looks, row.looks.removesuffix(" looks")):
        if ringed and rings_wide(row.needed) + drawing.width_of(words, sans(13)) <= room:
            return True, words
    return False, row.looks


def rings_wide(needed: int) -> float:
    """How much room so many rings take, with the gap behind them."""
    return needed * (2 * RING + 5) + 4


def rings(painter: QPainter, rect: QRectF, counted: int, needed: int, look: Palette) -> float:
    """Looks as filled and empty rings from the left of `rect`; returns their width. Many are told in words only."""
    if needed > RINGS_MOST:
        return 0.0
    painter.setPen(QPen(look.ink, 1.6))
    for nth in range(needed):
        painter.setBrush(look.ink if nth < counted else Qt.BrushStyle.NoBrush)
        painter.drawEllipse(QPointF(rect.left() + RING + nth * (2 * RING + 5), rect.center().y()), RING - 1, RING - 1)
    return rings_wide(needed)


def mark_of(word: str) -> str:
    """The mark that stands beside a status word; a plain step for words without one."""
    return word if word in marks.SHAPES else "step"
