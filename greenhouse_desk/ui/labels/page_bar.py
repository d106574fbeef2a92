"""Which page of several is shown."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QWidget

from greenhouse_desk.ui.messages import button, label


class PageBar(QWidget):
    """`changed()` tells that another page is to be shown; hidden where there is one page."""

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.at, self._pages = 0, 0
        self._words = label(bold=True, wrap=False)
        self.back = button("Page before", "small")
        self.on = button("Next page", "small")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self._words, 1)
        row.addWidget(self.back)
        row.addWidget(self.on)
        self.back.clicked.connect(lambda: self._go(-1))
        self.on.clicked.connect(lambda: self._go(1))

    def show_pages(self, pages: int) -> None:
        """There are so many pages; the one that is shown stays where it can."""
        self._pages = pages
        self.at = max(0, min(self.at, pages - 1))
        self._tell()

    def _go(self, by: int) -> None:
        self.at += by
        self._tell()
        self.changed.emit()

    def _tell(self) -> None:
        self._words.setText(f"Page {self.at + 1} of {self._pages}")
        self.back.setEnabled(self.at > 0)
        self.on.setEnabled(self.at < self._pages - 1)
        self.setVisible(self._pages > 1)
