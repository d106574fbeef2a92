"""The journal in the drawer, newest first: each entry with its day and mark, to be corrected or withdrawn."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QHBoxLayout, QMenu, QVBoxLayout, QWidget

from greenhouse_desk.domain.journal import Kind
from greenhouse_desk.services.records import Line
from greenhouse_desk.ui import words
from greenhouse_desk.ui.collection.drawer_head import EntryMark
from greenhouse_desk.ui.collection.entry_deeds import EntryDeeds
from greenhouse_desk.ui.collection.entry_forms import FORMS
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.style import Palette

SHOWN = 24


class JournalPanel(QFrame):
    """The lines of one plant's journal; the older ones on asking."""

    def __init__(self, plant: int, lines: Sequence[Line], deeds: EntryDeeds, palette: Palette) -> None:
        super().__init__()
        self._plant, self._lines, self._deeds, self._palette = plant, tuple(lines), deeds, palette
        head = QHBoxLayout()
        head.addWidget(heading("Journal", 18))
        head.addStretch(1)
        self.add_button = button("Write an entry…", "small")
        self.add_button.setMenu(self._menu())
        head.addWidget(self.add_button)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self._column.addLayout(head)
        self._column.addSpacing(8)
        if not lines:
            self._column.addWidget(label("Nothing written yet.", "second"))
        self._show(self._lines[:SHOWN])
        self._older = button(f"Show {words.counted(len(lines) - SHOWN, 'older entry', 'older entries')}", "small")
        self._older.setVisible(len(lines) > SHOWN)
        self._older.clicked.connect(self._on_older)
        self._column.addWidget(self._older, 0, Qt.AlignmentFlag.AlignLeft)

    def _menu(self) -> QMenu:
        menu = QMenu(self)
        for kind, form in FORMS.items():
            menu.addAction(f"{form.word}…", partial(self._deeds.add, kind, self._plant))
        menu.addAction("Photo…", lambda: self._deeds.choose_photos(self._plant))
        return menu

    def _show(self, lines: Sequence[Line]) -> None:
        for line in lines:
            self._column.addWidget(JournalLine(line, line is self._lines[-1], self._deeds, self._palette))

    def _on_older(self) -> None:
        self._older.hide()
        self._show(self._lines[SHOWN:])


class JournalLine(QWidget):
    """One entry."""

    def __init__(self, line: Line, last: bool, deeds: EntryDeeds, palette: Palette) -> None:
        super().__init__()
        self.line = line
        self._deeds = deeds
        day = label(line.day_words, px=13)
        day.setFixedWidth(50)
        day.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop)
        day.setContentsMargins(0, 3, 0, 0)
        said = QVBoxLayout()
        said.setContentsMargins(0, 1, 0, 10)
        said.setSpacing(0)
        said.addWidget(label(line.title, bold=True))
        if line.detail:
            said.addWidget(label(line.detail, "second", px=13))
        self.more = button("…", "quiet", f"Correct or withdraw: {line.day_words}, {line.title}")
        self.more.setFixedSize(32, 32)
        self.more.setMenu(self._menu())
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        row.addWidget(day, 0, Qt.AlignmentFlag.AlignTop)
        row.addWidget(EntryMark(line.mark, last, palette))
        row.addLayout(said, 1)
        row.addWidget(self.more, 0, Qt.AlignmentFlag.AlignTop)
        self.setAccessibleName(f"{line.day_words}, {line.title}, {line.detail}")

    def _menu(self) -> QMenu:
        menu = QMenu(self)
        entry = self.line.entry
        menu.addAction("Correct…", lambda: self._deeds.correct(entry))
        withdraw = menu.addAction("Withdraw", lambda: self._deeds.withdraw(entry))
        withdraw.setEnabled(entry.kind is not Kind.CLOCK)
        return menu
