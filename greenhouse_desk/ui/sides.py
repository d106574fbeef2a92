"""A page with a side: beside each other where there is room, under each other and scrolled where text is large."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QFrame, QScrollArea, QVBoxLayout, QWidget

LARGEST = 16_777_215


class Sides(QScrollArea):
    """`page` takes what `side` (of `width` pixels) leaves. Below `narrow` pixels they stand under each other."""

    def __init__(self, page: QWidget, side: QWidget, width: int, narrow: int = 860, first: bool = True) -> None:
        super().__init__()
        self._page, self._side, self._width, self._narrow = page, side, width, narrow
        self._stacked: bool | None = None
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._both = QWidget()
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight, self._both)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._row.setSpacing(0)
        for part in (page, side) if first else (side, page):
            self._row.addWidget(part, 1 if part is page else 0)
        self.setWidget(self._both)
        self._set(False)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """How they stand is settled before the bars are: else the room they took before would be scrolled once more."""
        self._set(event.size().width() < self._narrow)
        super().resizeEvent(event)

    def _set(self, stacked: bool) -> None:
        if stacked is self._stacked:
            return
        self._stacked = stacked
        ways = QBoxLayout.Direction
        self._row.setDirection(ways.TopToBottom if stacked else ways.LeftToRight)
        self._side.setMinimumWidth(0 if stacked else self._width)
        self._side.setMaximumWidth(LARGEST if stacked else self._width)
        self._page.setMinimumHeight(460 if stacked else 0)
        self._side.setMinimumHeight(420 if stacked else 0)
        self._row.activate()


def filled(parent: QWidget, child: QWidget) -> None:
    """Let `child` fill `parent`."""
    column = QVBoxLayout(parent)
    column.setContentsMargins(0, 0, 0, 0)
    column.addWidget(child)


def scrolled(parent: QWidget, page: QWidget, name: str) -> None:
    """Let `page` fill `parent`, and scroll where the window is too small for it; `name` is spoken."""
    area = QScrollArea()
    area.setWidget(page)
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setAccessibleName(name)
    filled(parent, area)
