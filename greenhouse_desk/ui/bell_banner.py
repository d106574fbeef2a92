"""The bell on the window: what rings now with one way to quiet it, or the list of what fell due in a sleep."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, tzinfo

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from greenhouse_desk.domain.care import Care
from greenhouse_desk.ui import words
from greenhouse_desk.ui.messages import button, label

SHOWN = 5
"""As many lines as fit above the collection; the rest is counted and stands on the care strip."""


def line(care: Care, now: datetime, zone: tzinfo) -> str:
    """ "17:02  104 dry the crown"; with its day where that is not today, or where it is owed on a day."""
    when = words.moment(care.due, now, zone) if isinstance(care.due, datetime) else words.weekday(care.due)
    return f"{when}  {care.plant} {care.what}"


def lines(cares: Iterable[Care], now: datetime, zone: tzinfo) -> list[str]:
    """The first few cares, one a line, and how many more there are."""
    told = [line(care, now, zone) for care in cares]
    more = len(told) - SHOWN
    return told if more <= 0 else [*told[:SHOWN], f"and {more} more on the care strip"]


class BellBanner(QFrame):
    """`dismissed` is emitted when the grower has heard it; what is owed stays owed."""

    dismissed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("edge", "due")
        self._title = label(bold=True, px=15)
        self._lines = label()
        self._heard = button("Heard", "main", "Heard: quiet the bell")
        self._heard.clicked.connect(self._on_heard)
        column = QVBoxLayout()
        column.setSpacing(2)
        column.addWidget(self._title)
        column.addWidget(self._lines)
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 10, 10, 10)
        row.addLayout(column, 1)
        row.addWidget(self._heard, 0, Qt.AlignmentFlag.AlignTop)
        self.hide()

    def ring(self, cares: tuple[Care, ...], now: datetime, zone: tzinfo) -> None:
        """Show what rings now; hides when nothing does."""
        self._show("Due now", cares, now, zone)

    def list_quietly(self, cares: tuple[Care, ...], now: datetime, zone: tzinfo) -> None:
        """Show what fell due while the machine slept or its clock was set."""
        self._show("Fell due while nobody watched", cares, now, zone)

    def _show(self, title: str, cares: tuple[Care, ...], now: datetime, zone: tzinfo) -> None:
        self._title.setText(title)
        self._lines.setText("\n".join(lines(cares, now, zone)))
        self.setAccessibleName(f"{title}: {'; '.join(lines(cares, now, zone))}")
        self.setVisible(bool(cares))

    def _on_heard(self) -> None:
        self.hide()
        self.dismissed.emit()
