"""Buttons in a row that go on in the next row where the width ends."""

from __future__ import annotations

from PySide6.QtCore import QMargins, QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QSizePolicy, QWidget

GAP = 6


class FlowLayout(QLayout):
    """Items from the left, in as many rows as the width needs."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self.setContentsMargins(QMargins(0, 0, 0, 0))

    def addItem(self, item: QLayoutItem) -> None:
        """Put one more at the end."""
        self._items.append(item)

    def count(self) -> int:
        """How many items."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        """The item at this place."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        """Take an item out."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        """It asks for no more than it needs."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        """It wraps."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Pixels needed at this width."""
        return self._place(QRect(0, 0, width, 0), False)

    def setGeometry(self, rect: QRect) -> None:
        """Place the items."""
        super().setGeometry(rect)
        self._place(rect, True)

    def sizeHint(self) -> QSize:
        """All in one row."""
        sizes = [item.sizeHint() for item in self._items]
        return QSize(sum(size.width() + GAP for size in sizes), max((size.height() for size in sizes), default=0))

    def minimumSize(self) -> QSize:
        """The widest item."""
        size = QSize()
        for item in self._items:
            size = size.expandedTo(item.minimumSize())
        return size

    def _place(self, rect: QRect, move: bool) -> int:
        x, y, row = rect.x(), rect.y(), 0
        for item in self._items:
            size = item.sizeHint()
            if x > rect.x() and x + size.width() > rect.right() + 1:
                x, y, row = rect.x(), y + row + GAP, 0
            if move:
                item.setGeometry(QRect(QPoint(x, y), size))
            x += size.width() + GAP
            row = max(row, size.height())
        return y + row - rect.y()


class Flow(QWidget):
    """A row of widgets that wraps."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._flow = FlowLayout(self)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def add(self, item: QWidget) -> None:
        """Put one more at the end."""
        self._flow.addWidget(item)
