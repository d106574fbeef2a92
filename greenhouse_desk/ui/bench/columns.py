"""A page with a side that each scroll on their own; on a narrow window they stand in one scroll under each other."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLayout, QScrollArea, QVBoxLayout, QWidget

LEAST = 120


class Columns(QWidget):
    """`page` takes what `side` (`width` pixels) leaves; below `narrow` pixels `side` follows under `page`.

    `head` stands still above the page, in sight however far the rest is scrolled.
    """

    def __init__(self, head: QWidget, page: QWidget, side: QWidget, width: int, narrow: int) -> None:
        super().__init__()
        self._page, self._side, self._narrow, self._head = page, side, narrow, head
        self._stacked: bool | None = None
        self.left, self._right = scroller(), scroller()
        self._right.setFixedWidth(width)
        row = QHBoxLayout(self)
        row.setSizeConstraint(QLayout.SizeConstraint.SetNoConstraint)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        column = QVBoxLayout()
        column.setSpacing(0)
        column.addWidget(head)
        column.addWidget(self.left, 1)
        row.addLayout(column, 1)
        row.addWidget(self._right)
        self._set(False)

    @property
    def stacked(self) -> bool:
        """Whether the side stands under the page."""
        return bool(self._stacked)

    def to_top(self) -> None:
        """Show both from their top."""
        for area in (self.left, self._right):
            area.verticalScrollBar().setValue(0)

    def minimumSizeHint(self) -> QSize:
        """As small as the head: what is beside each other now stands under each other then."""
        least = self._head.minimumSizeHint()
        return QSize(least.width(), least.height() + LEAST)

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._set(event.size().width() < self._narrow)

    def _set(self, stacked: bool) -> None:
        if stacked is self._stacked:
            return
        self._stacked = stacked
        for area in (self.left, self._right):
            held = area.takeWidget()
            if held not in (None, self._page, self._side):
                self._page.setParent(None)
                self._side.setParent(None)
                held.deleteLater()
        if stacked:
            both = QWidget()
            column = QVBoxLayout(both)
            column.setContentsMargins(0, 0, 0, 0)
            column.setSpacing(0)
            column.addWidget(self._page)
            column.addWidget(self._side)
            self.left.setWidget(both)
        else:
            self.left.setWidget(self._page)
            self._right.setWidget(self._side)
        self._page.show()
        self._side.show()
        self._right.setVisible(not stacked)


def scroller() -> QScrollArea:
    """An area without a frame that scrolls up and down only; what is in it takes the width there is."""
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    return area
