"""The way round the window: plates on a rail for the screens, undo and redo, the day at the lower left."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QPolygonF, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractButton,
    QBoxLayout,
    QButtonGroup,
    QFrame,
    QHBoxLayout,
    QSizePolicy,
    QVBoxLayout,
)

from greenhouse_desk.ui import drawing
from greenhouse_desk.ui.daypanel import DayPanel
from greenhouse_desk.ui.drawing import Align
from greenhouse_desk.ui.messages import button, heading
from greenhouse_desk.ui.style import Palette, sans
from greenhouse_desk.ui.undo_panel import UndoPanel

WIDTH = 152
ROW = 38
TIP = 13
AROUND_TITLE = (18, 14, 8, 20)
AROUND_READ = (12, 0, 8, 4)


class Plate(QAbstractButton):
    """One screen's name; the active one is a plate that points at its screen, or hangs from the rail when flat."""

    def __init__(self, title: str, palette: Palette) -> None:
        super().__init__()
        self.setText(title)
        self.setCheckable(True)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setAccessibleName(title)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self._palette = palette
        self._count = ""
        self._flat = False
        self.set_flat(False)

    def set_flat(self, flat: bool) -> None:
        """In a row at the top of a narrow window, or in the column at the left."""
        self._flat = flat
        self.setSizePolicy(QSizePolicy.Policy.Fixed if flat else QSizePolicy.Policy.Expanding,
                           QSizePolicy.Policy.Fixed)
        self.updateGeometry()

    def set_count(self, count: str) -> None:
        """A figure at the right of the name."""
        self._count = count
        self.setAccessibleName(f"{self.text()}, {count}" if count else self.text())
        self.update()

    def sizeHint(self) -> QSize:
        """One row."""
        width = int(drawing.width_of(self.text(), sans(15, 600))) + 28
        return QSize(width if self._flat else WIDTH, ROW)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the plate and the name."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        colours = self._palette
        if self.isChecked():
            painter.setPen(QPen(colours.rule2, 1))
            painter.setBrush(colours.plate)
            painter.drawPath(drawing.plate_path(QRectF(self.rect()).adjusted(2.5, -1, -2.5, -3.5))) if self._flat \
                else painter.drawPolygon(self._pointing())
        ink = colours.on_plate if self.isChecked() else colours.ink
        left = 14 if self._flat else 18
        drawing.text(painter, QRectF(left, 0, self.width() - left - 10, ROW - 1), self.text(),
                     sans(15, 600 if self.isChecked() else 400), ink)
        if self._count and not self._flat:
            drawing.text(painter, QRectF(0, 0, self.width() - TIP - 8, ROW - 1), self._count, sans(13),
                         ink if self.isChecked() else colours.ink2, Align.AlignRight | Align.AlignVCenter)
        if self.hasFocus():
            inset = (6, 3, -6, -7) if self._flat else (3, 3, -TIP - 1, -4)
            drawing.outline(painter, QRectF(self.rect()).adjusted(*inset), colours, True)
        painter.end()

    def _pointing(self) -> QPolygonF:
        right, low = self.width() - 0.5, ROW - 2.5
        return QPolygonF([QPointF(-1, 1.5), QPointF(right - TIP, 1.5), QPointF(right, ROW / 2 - 0.5),
                          QPointF(right - TIP, low), QPointF(-1, low)])


class Navigation(QFrame):
    """Plates for the screens, a label to be read, undo and redo, and the day. `chosen(number)` asks for a screen."""

    chosen = Signal(int)

    def __init__(self, titles: Sequence[str], palette: Palette, day: DayPanel, undo: UndoPanel) -> None:
        super().__init__()
        self.setProperty("ground", "inset")
        self.plates = [Plate(title, palette) for title in titles]
        self._group = QButtonGroup(self)
        self._palette = palette
        self._day = day
        self._undo = undo
        self._flat = False
        self.read_button = button("Read a label", "quiet", "Read a label with the camera, Ctrl+L")
        self.read_button.setToolTip("With the camera, or from a picture (Ctrl+L)")
        for number, plate in enumerate(self.plates):
            self._group.addButton(plate, number)
        self._group.idClicked.connect(self.chosen)
        self._title = heading("Greenhouse\nDesk", 18)
        self._list = QBoxLayout(QBoxLayout.Direction.TopToBottom)
        self._list.setSpacing(0)
        for plate in self.plates:
            self._list.addWidget(plate)
        self._column = QBoxLayout(QBoxLayout.Direction.TopToBottom, self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self._head = QVBoxLayout()
        self._head.setContentsMargins(*AROUND_TITLE)
        self._head.addWidget(self._title)
        self._column.addLayout(self._head)
        self._column.addLayout(self._list)
        self._column.addStretch(1)
        self._foot = QBoxLayout(QBoxLayout.Direction.TopToBottom)
        self._foot.setSpacing(0)
        self._foot.addStretch(0)
        self._read = QHBoxLayout()
        self._read.setContentsMargins(*AROUND_READ)
        self._read.addWidget(self.read_button)
        self._foot.addLayout(self._read)
        self._foot.addWidget(undo)
        self._foot.addWidget(day)
        self._column.addLayout(self._foot)
        self.setFixedWidth(WIDTH)

    def choose(self, number: int) -> None:
        """Mark this screen active."""
        self.plates[number].setChecked(True)

    def set_flat(self, flat: bool) -> None:
        """A row at the top for a narrow window, the column at the left otherwise."""
        if flat == self._flat:
            return
        self._flat = flat
        way = QBoxLayout.Direction.LeftToRight if flat else QBoxLayout.Direction.TopToBottom
        self._list.setDirection(way)
        self._foot.setDirection(way)
        self._title.setVisible(not flat)
        self._head.setContentsMargins(*((0, 0, 0, 0) if flat else AROUND_TITLE))
        self._read.setContentsMargins(*((4, 0, 0, 0) if flat else AROUND_READ))
        for plate in self.plates:
            plate.set_flat(flat)
        self._undo.set_flat(flat)
        self._day.set_flat(flat)
        self.setMinimumSize(0, 0)
        self.setMaximumSize(16777215, 16777215)
        self._arrange()
        if not flat:
            self.setFixedWidth(WIDTH)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """A row that has become too short for the names goes on in a second one."""
        super().resizeEvent(event)
        self._arrange()

    def _arrange(self) -> None:
        """Lay the plates out with every name whole: in the column, in one row, or in two."""
        wraps = self._flat and self._across() > self.width()
        upper = self._upper() if wraps else len(self.plates)
        if self._flat:
            self.setFixedHeight((2 if wraps else 1) * ROW + 2)
        if upper == self._list.count() and self._column.direction() == self._way(wraps):
            return
        self._column.setDirection(self._way(wraps))
        self._column.setAlignment(self._list, Qt.AlignmentFlag.AlignLeft if wraps else Qt.AlignmentFlag(0))
        for number, plate in enumerate(self.plates):
            if number < upper:
                self._foot.removeWidget(plate)
                self._list.insertWidget(number, plate)
            else:
                self._list.removeWidget(plate)
                self._foot.insertWidget(number - upper, plate)
        self._foot.setStretch(len(self.plates) - upper, int(wraps))

    def _way(self, wraps: bool) -> QBoxLayout.Direction:
        across = self._flat and not wraps
        return QBoxLayout.Direction.LeftToRight if across else QBoxLayout.Direction.TopToBottom

    def _across(self) -> int:
        """Pixels that everything takes in one row."""
        plates = sum(plate.sizeHint().width() for plate in self.plates)
        return plates + self.read_button.sizeHint().width() + 4 + self._undo.across() + self._day.sizeHint().width()

    def _upper(self) -> int:
        """How many plates stand in the first of two rows."""
        widths = [plate.sizeHint().width() for plate in self.plates]
        return next((count for count in range(len(widths), 1, -1) if sum(widths[:count]) <= self.width()), 1)

    def paintEvent(self, event: QPaintEvent) -> None:
        """The edge to the screens: a rule at the right, the rail at the top of a narrow window."""
        super().paintEvent(event)
        painter = QPainter(self)
        if self._flat:
            for top in {plate.y() for plate in self.plates}:
                painter.fillRect(0, top, self.width(), 5, self._palette.rail)
            painter.fillRect(0, self.height() - 1, self.width(), 1, self._palette.rule2)
        else:
            painter.fillRect(self.width() - 1, 0, 1, self.height(), self._palette.rule2)
        painter.end()
