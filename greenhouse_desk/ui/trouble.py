"""A collection that cannot be opened: what is wrong, what can be done, and one button that does it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.ui.messages import button, heading, label

WAIT = "Being done. This window answers again when it is."


class TroubleWindow(QWidget):
    """Shown in place of the window. `solved()` after the remedy was done: open again."""

    solved = Signal()

    def __init__(self, refusal: Refused, remedy: str = "", deed: Callable[[], str] | None = None) -> None:
        super().__init__()
        self.setWindowTitle("Greenhouse Desk")
        self.setProperty("ground", "bench")
        self._deed = deed
        self.words = label(refusal.detail)
        self.words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._next = label(refusal.next_step, bold=True)
        panel = QFrame()
        panel.setProperty("ground", "sheet")
        panel.setProperty("edge", "all")
        column = QVBoxLayout(panel)
        column.setContentsMargins(28, 24, 28, 24)
        column.setSpacing(12)
        column.addWidget(heading(refusal.title, 26))
        column.addWidget(self.words)
        column.addWidget(self._next)
        column.addSpacing(8)
        column.addLayout(self._foot(remedy))
        outer = QVBoxLayout(self)
        outer.setContentsMargins(24, 24, 24, 24)
        outer.addWidget(panel)
        outer.addStretch(1)
        self.resize(620, 340)

    def _foot(self, remedy: str) -> QHBoxLayout:
        foot = QHBoxLayout()
        foot.setSpacing(8)
        self.close_button = button("Close")
        self.close_button.clicked.connect(self.close)
        self.remedy_button = button(remedy, "main")
        self.remedy_button.setVisible(self._deed is not None)
        self.remedy_button.clicked.connect(self._on_remedy)
        foot.addStretch(1)
        foot.addWidget(self.close_button)
        foot.addWidget(self.remedy_button)
        return foot

    def _on_remedy(self) -> None:
        assert self._deed is not None
        self.remedy_button.setEnabled(False)
        self._next.setText(WAIT)
        self.repaint()
        try:
            self.words.setText(self._deed())
        except Refused as refusal:
            self.words.setText(f"{refusal.title}. {refusal.detail}")
            self._next.setText(refusal.next_step)
            self.remedy_button.setEnabled(True)
        else:
            self.solved.emit()
