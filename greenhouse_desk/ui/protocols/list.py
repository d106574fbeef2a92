"""The shelf's list: shipped and own protocols and files set aside, one plate for the one that is open."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from greenhouse_desk.domain.faults import Fault
from greenhouse_desk.domain.protocols import Protocol
from greenhouse_desk.ui import drawing, marks
from greenhouse_desk.ui.rows import ROW, SPOKEN, Index, RowsModel
from greenhouse_desk.ui.style import Palette, sans, serif
from greenhouse_desk.ui.words import counted

HEIGHT = 62


@dataclass(frozen=True)
class ShelfRow:
    """A protocol with its faults, or (`protocol` None) a file set aside with its faults."""

    title: str
    kind: str
    file: str
    protocol: Protocol | None
    faults: tuple[Fault, ...]

    @property
    def grave(self) -> bool:
        """Whether it cannot be started."""
        return self.protocol is None or any(fault.grave for fault in self.faults)

    @property
    def state(self) -> str:
        """What is wrong with it, "" when nothing."""
        if self.protocol is None:
            return f"set aside, {counted(len(self.faults), 'fault')}"
        if self.grave:
            return "cannot be started"
        return counted(len(self.faults), "fault") if self.faults else ""

    @property
    def words(self) -> str:
        """The row as it is read out."""
        steps = counted(len(self.protocol.steps), "step") if self.protocol else self.file
        return ", ".join(part for part in (self.title, self.kind, steps, self.state) if part)


class ShelfModel(RowsModel[ShelfRow]):
    """A row a file."""

    def key(self, row: ShelfRow) -> object:
        return row.kind, row.file

    def told(self, row: ShelfRow, role: int) -> str | None:
        return row.words if role in SPOKEN else None


class ShelfDelegate(QStyledItemDelegate):
    """Title, whose it is, how many steps, and what is wrong; the open one on a plate pointing right."""

    def __init__(self, palette: Palette, parent: QWidget) -> None:
        super().__init__(parent)
        self._look = palette

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        return QSize(240, HEIGHT)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        row = index.data(ROW)
        if not isinstance(row, ShelfRow):
            return
        rect = QRectF(option.rect).adjusted(0, 1, 0, -1)
        look, state = self._look, option.state
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        on_plate = bool(state & QStyle.StateFlag.State_Selected)
        if on_plate:
            dashed = state & QStyle.StateFlag.State_HasFocus
            painter.setPen(QPen(look.water if dashed else look.rule2, 2 if dashed else 1,
                                Qt.PenStyle.DashLine if dashed else Qt.PenStyle.SolidLine))
            painter.setBrush(look.plate)
            painter.drawPath(_pointing(rect.adjusted(0, 1, -3, -1)))
        ink = look.on_plate if on_plate else look.ink
        drawing.text(painter, QRectF(24, rect.top() + 8, rect.width() - 44, 24), row.title, serif(17, 600), ink)
        steps = counted(len(row.protocol.steps), "step") if row.protocol else row.file
        below = QRectF(24, rect.top() + 33, rect.width() - 44, 18)
        if row.state:
            name = "over" if row.grave else "look again"
            tone = look.on_plate_ink(marks.COLOUR[name]) if on_plate else marks.colour(name, look)
            drawing.marked(painter, below, name, row.state, look, 13, tone)
        else:
            drawing.text(painter, below, f"{row.kind}, {steps}", sans(14), look.on_plate if on_plate else look.ink2)
        painter.restore()


def _pointing(rect: QRectF) -> QPainterPath:
    path = QPainterPath(rect.topLeft())
    for point in (QPointF(rect.right() - 12, rect.top()), QPointF(rect.right(), rect.center().y()),
                  QPointF(rect.right() - 12, rect.bottom()), rect.bottomLeft()):
        path.lineTo(point)
    path.closeSubpath()
    return path
