"""In a narrow window, where care is folded away: the plant most in need in one line, and how many more there are."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QSizePolicy

from greenhouse_desk.ui.collection.care_rows import CareRow
from greenhouse_desk.ui.collection.drawer_head import MarkedLine
from greenhouse_desk.ui.messages import button, label
from greenhouse_desk.ui.style import Palette


class UrgentLine(QFrame):
    """`asked()` asks for the whole of what is owed."""

    asked = Signal()

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self.setProperty("edge", "urgent")
        self._palette = palette
        self._row = QHBoxLayout(self)
        self._row.setContentsMargins(10, 4, 6, 4)
        self._row.setSpacing(8)
        self._number = label("", bold=True, px=15, wrap=False)
        self._more = label("", "second", px=13, wrap=False)
        self._line = MarkedLine("over", "", palette, 14)
        self.button = button("Show", "small", "Show what is owed")
        self.button.clicked.connect(self.asked)
        for part in (self._number, self._line, self._more, self.button):
            self._row.addWidget(part)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.hide()

    @property
    def wanted(self) -> bool:
        """Whether there is anything to say."""
        return bool(self._number.text())

    def show_row(self, row: CareRow | None, more: int, when: str) -> None:
        """Say this care, and that `more` plants need hands `when` besides; None says nothing."""
        self._number.setText("" if row is None else str(row.care.plant))
        self._more.setText(f"and {more} more {when}" if more else "")
        if row is not None:
            line = MarkedLine(row.mark, row.when if row.care.drying else f"{row.brief.lower()}, {row.when}",
                              self._palette, 14)
            line.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
            self._row.replaceWidget(self._line, line)
            self._line.deleteLater()
            self._line = line
            self.setAccessibleName(f"{row.care.plant} {row.name.plain}, {line.accessibleName()}. {self._more.text()}")
