"""A verdict with its "why?": the words, and on asking the numbered reasoning, each step with its source."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from greenhouse_desk.domain.care import Reason
from greenhouse_desk.domain.faults import Fault
from greenhouse_desk.ui import marks
from greenhouse_desk.ui.messages import button, label
from greenhouse_desk.ui.style import Palette


class MarkBox(QWidget):
    """One mark, 18 pixels; the word stands beside it."""

    def __init__(self, mark: str, palette: Palette) -> None:
        super().__init__()
        self.mark, self._look = mark, palette
        self.setFixedSize(20, 22)

    def sizeHint(self) -> QSize:
        return QSize(20, 22)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        marks.paint(painter, self.mark, QRectF(1, 2, 18, 18), self._look)
        painter.end()


class VerdictPanel(QFrame):
    """Whether there is time to dry, in words, with a button that opens the reasoning."""

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self._look = palette
        self._mark = MarkBox("later", palette)
        self.words = label(bold=True, px=15)
        self.why = button("Why?", "small", "Why? Show the reasoning")
        self.why.setCheckable(True)
        self.why.toggled.connect(self._on_why)
        self.reasons = label(px=14)
        self.reasons.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.reasons.hide()
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(self._mark, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(self.words, 1)
        row.addWidget(self.why, 0, Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 8, 12, 8)
        column.addLayout(row)
        column.addWidget(self.reasons)

    def show_verdict(self, ok: bool | None, words: str, why: Sequence[Reason]) -> None:
        """Show a verdict: True in time, False too late, None when it cannot be told."""
        self._mark.mark = {True: "stay", False: "drying", None: "look again"}[ok]
        self._mark.update()
        self.setProperty("edge", {True: "all", False: "urgent", None: "due"}[ok])
        self.style().unpolish(self)
        self.style().polish(self)
        self.words.setText(words)
        self.reasons.setText("\n".join(f"{n}. {reason.text} [{reason.shown}]" for n, reason in enumerate(why, 1)))
        self.why.setVisible(bool(why))
        self._on_why(self.why.isChecked())
        self.setAccessibleName(words)

    def _on_why(self, on: bool) -> None:
        self.reasons.setVisible(on and bool(self.reasons.text()))


class FaultList(QWidget):
    """Faults of protocols, grave ones first: file and path, and what was expected."""

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self._look = palette
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(6)

    def show_faults(self, faults: Sequence[Fault]) -> None:
        """Show these; nothing at all when there are none."""
        while (item := self._column.takeAt(0)) is not None:
            old = item.widget()
            if old is not None:
                old.deleteLater()
        for fault in sorted(faults, key=lambda fault: not fault.grave):
            self._column.addWidget(self._row(fault))
        self.setVisible(bool(faults))

    def _row(self, fault: Fault) -> QFrame:
        frame = QFrame()
        frame.setProperty("edge", "urgent" if fault.grave else "due")
        row = QHBoxLayout(frame)
        row.setContentsMargins(12, 7, 12, 7)
        row.addWidget(MarkBox("over" if fault.grave else "look again", self._look), 0, Qt.AlignmentFlag.AlignTop)
        words = QVBoxLayout()
        words.setSpacing(0)
        lead = "Cannot be started: " if fault.grave else ""
        words.addWidget(label(f"{lead}{fault.message}", bold=fault.grave))
        words.addWidget(label(f"{fault.file}, {fault.path}", "second", px=13))
        row.addLayout(words, 1)
        frame.setAccessibleName(f"{lead}{fault.message} {fault.file}, {fault.path}")
        return frame
