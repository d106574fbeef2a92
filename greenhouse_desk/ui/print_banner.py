"""What is being printed, at the top of the window: how far it is, and the one button that stops it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QWidget

from greenhouse_desk.ui.messages import button, label


class PrintBanner(QFrame):
    """`stopped()` is emitted when no further page is wanted."""

    stopped = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("edge", "note")
        self._words = label(bold=True, px=15)
        self.stop = button("Stop printing", "small", "Stop printing after the page in hand")
        self.stop.clicked.connect(self._on_stop)
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 10, 10, 10)
        row.addWidget(self._words, 1)
        row.addWidget(self.stop, 0, Qt.AlignmentFlag.AlignTop)
        self.hide()

    def tell(self, words: str) -> None:
        """Say how far it is; hides for ""."""
        self._words.setText(words)
        self.setAccessibleName(words)
        self.setVisible(bool(words))
        if not words:
            self.stop.setEnabled(True)

    def _on_stop(self) -> None:
        self.stop.setEnabled(False)
        self.stopped.emit()
