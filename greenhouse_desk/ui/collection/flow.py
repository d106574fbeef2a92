"""Buttons in a row that go on in the next row where the width ends."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

GAP = 6


class Flow(QWidget):
    """A row of widgets that wraps."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._items: list[QWidget] = []
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def add(self, item: QWidget) -> None:
        """Put one more at the end."""
        item.setParent(self)
        item.show()
        self._items.append(item)
        self.updateGeometry()

    def hasHeightForWidth(self) -> bool:
        """It wraps."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Pixels needed at this width."""
        return self._place(width, False)

    def sizeHint(self) -> QSize:
        """At the present width."""
        return QSize(120, self.heightForWidth(max(self.width(), 120)))

    def minimumSizeHint(self) -> QSize:
        """The widest item."""
        return QSize(max((item.sizeHint().width() for item in self._items), default=0), 0)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Place the items."""
        super().resizeEvent(event)
        self._place(self.width(), True)

    def _place(self, width: int, move: bool) -> int:
        x = y = row = 0
        for item in self._items:
            size = item.sizeHint()
            if x and x + size.width() > width:
                x, y, row = 0, y + row + GAP, 0
            if move:
                item.setGeometry(x, y, min(size.width(), width), size.height())
            x += size.width() + GAP
            row = max(row, size.height())
        return y + row
