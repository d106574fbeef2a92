"""The answer to "why?" anywhere in the window: numbered reasoning, each step with its source, then the conclusion."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen, QShowEvent
from PySide6.QtWidgets import QDialog, QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from greenhouse_desk.domain.care import Reason
from greenhouse_desk.ui import drawing
from greenhouse_desk.ui.drawing import Align
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.style import Palette, sans
from greenhouse_desk.ui.whole_screen import screen_of

DISC = 22
WIDE = 460


class StepNumber(QWidget):
    """A step's number on a disc, with the thread to the next one."""

    def __init__(self, number: int, last: bool, palette: Palette) -> None:
        super().__init__()
        self._number = number
        self._last = last
        self._palette = palette
        self.setFixedWidth(DISC + 4)

    def sizeHint(self) -> QSize:
        """Room for the disc."""
        return QSize(DISC + 4, DISC + 4)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint disc and thread."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        centre = QPointF(1 + DISC / 2, 1 + DISC / 2)
        if not self._last:
            painter.setPen(QPen(self._palette.ink2, 2))
            painter.drawLine(QPointF(centre.x(), DISC), QPointF(centre.x(), self.height()))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._palette.water if self._last else self._palette.ink)
        painter.drawEllipse(centre, DISC / 2, DISC / 2)
        drawing.text(painter, QRectF(1, 0.5, DISC, DISC), str(self._number), sans(13, 700), self._palette.sheet,
                     Align.AlignCenter)
        painter.end()


class Reasons(QFrame):
    """Every step under the other."""

    def __init__(self, why: Sequence[Reason], palette: Palette, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 6, 0, 2)
        column.setSpacing(0)
        for number, reason in enumerate(why, 1):
            column.addLayout(_step(number, reason, number == len(why), palette))
        self.setAccessibleName("Why: " + " ".join(f"{n}. {reason.text} ({reason.shown})."
                                                  for n, reason in enumerate(why, 1)))


def _step(number: int, reason: Reason, last: bool, palette: Palette) -> QHBoxLayout:
    words = QVBoxLayout()
    words.setContentsMargins(0, 1, 0, 10)
    words.setSpacing(1)
    words.addWidget(label(reason.text, bold=last))
    if reason.source and reason.source != "conclusion":
        source = label(reason.shown, "second", px=13)
        source.setFont(sans(13, 400, True))
        words.addWidget(source)
    row = QHBoxLayout()
    row.setSpacing(8)
    row.addWidget(StepNumber(number, last, palette))
    row.addLayout(words, 1)
    return row


class WhyBox(QDialog):
    """The reasoning behind one figure, in a small window of its own."""

    def __init__(self, title: str, why: Sequence[Reason], palette: Palette, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.reasons = Reasons(why, palette)
        steps = self.reasons.layout()
        assert isinstance(steps, QVBoxLayout)
        steps.addStretch(1)
        area = QScrollArea()
        area.setWidget(self.reasons)
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setAccessibleName(f"{title}, step by step")
        self.area = area
        close = button("Close", "main")
        close.clicked.connect(self.accept)
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 20, 24, 20)
        column.setSpacing(12)
        column.addWidget(heading(title, 23))
        column.addWidget(area, 1)
        column.addWidget(close, 0, Qt.AlignmentFlag.AlignRight)
        inner = WIDE - 48 - area.verticalScrollBar().sizeHint().width()
        rest = column.sizeHint().height() - area.sizeHint().height() + 8
        room = screen_of(self).availableGeometry().height() - 60
        self.resize(WIDE, min(steps.totalHeightForWidth(inner) + rest, room))  # all steps, where the screen has room

    def showEvent(self, event: QShowEvent) -> None:
        """It opens at its first step, wherever the keyboard comes to stand."""
        super().showEvent(event)
        self.area.verticalScrollBar().setValue(0)


def ask_why(title: str, why: Sequence[Reason], palette: Palette, parent: QWidget) -> WhyBox:
    """Open the reasoning behind one figure over `parent`'s window."""
    box = WhyBox(title, why, palette, parent.window())
    box.open()
    return box
