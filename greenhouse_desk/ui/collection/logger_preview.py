"""The first rows of a logger's file as they are understood, in a table beside the fields that say how to read them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import tzinfo

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem

from greenhouse_desk.domain.air_log_preview import Understood
from greenhouse_desk.ui import words
from greenhouse_desk.ui.style import Palette

HEAD = ("line", "home's time", "C", "% RH", "m/s")
SHOWN = 9


class Preview(QTableWidget):
    """Rows that would be refused say why, across the whole row."""

    def __init__(self, look: Palette) -> None:
        super().__init__(0, len(HEAD))
        self._look = look
        self.setHorizontalHeaderLabels(list(HEAD))
        self.verticalHeader().hide()
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.setWordWrap(True)
        self.setAccessibleName("The first rows as they are understood")
        header = self.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(1, QHeaderView.ResizeMode.Stretch)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setMinimumHeight(200)

    def show_rows(self, rows: Sequence[Understood], zone: tzinfo) -> None:
        """Show the first of these, times by the home's clock."""
        self.clearSpans()
        self.setRowCount(min(SHOWN, len(rows)))
        for down, row in enumerate(rows[:SHOWN]):
            self._put(down, 0, str(row.line))
            if row.at is None:
                self.setSpan(down, 1, 1, len(HEAD) - 1)
                self._put(down, 1, row.fault, bad=True)
                continue
            local = row.at.astimezone(zone)
            self._put(down, 1, f"{words.weekday(local.date())} {local.year}, {words.clock(row.at, zone)}")
            self._put(down, 2, f"{row.temp_c:.1f}")
            self._put(down, 3, "" if row.rh is None else f"{100 * row.rh:.0f}")
            self._put(down, 4, "" if row.speed_m_s is None else f"{row.speed_m_s:.2f}")
        self.resizeRowsToContents()

    def _put(self, down: int, across: int, text: str, bad: bool = False) -> None:
        made = QTableWidgetItem(text)
        if bad:
            made.setForeground(self._look.due)
        elif across != 1:
            made.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.setItem(down, across, made)
