"""The record of a session that is over, in words that can be copied, and what its plants shared."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QGuiApplication, QShowEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from greenhouse_desk.domain.journal import Sharing
from greenhouse_desk.services import treatments, treatments_sharing
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui.bench.shared_row import SharedRow
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.signals import Signals


class RecordPage(QWidget):
    """Shows the lines of a record. `back` returns to choosing, `paper` carries the lines that are to be printed."""

    back = Signal()
    paper = Signal(object)

    def __init__(self, desk: Desk, signals: Signals) -> None:
        super().__init__()
        self._desk = desk
        self._session: int | None = None
        self.shared = SharedRow(signals, self._share)
        signals.changed.connect(self._on_changed)
        self.title = heading("", 26)
        self.sub = label("What each plant is owed from here on stands in the care list, worked out from these entries.",
                         "second")
        self.lines: tuple[str, ...] = ()
        self._body = QFrame()
        self._body.setProperty("ground", "sheet")
        self._column = QVBoxLayout(self._body)
        self._column.setContentsMargins(20, 14, 20, 20)
        self._column.setSpacing(3)
        area = QScrollArea()
        area.setWidget(self._body)
        area.setWidgetResizable(True)
        copy, back = button("Copy the record"), button("Back to choosing", "main")
        printing = button("Print…", name="Print the record")
        printing.clicked.connect(lambda: self.paper.emit(self.lines))
        copy.clicked.connect(self._on_copy)
        back.clicked.connect(self.back)
        self.back_button = back
        head = QHBoxLayout()
        head.setSpacing(8)
        head.addWidget(self.title, 1)
        for made in (printing, copy, back):
            head.addWidget(made, 0, Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 18, 24, 16)
        column.setSpacing(10)
        column.addLayout(head)
        column.addWidget(self.sub)
        column.addWidget(self.shared)
        column.addWidget(area, 1)

    def showEvent(self, event: QShowEvent) -> None:
        """A session is over: what comes next is to choose for another."""
        super().showEvent(event)
        self.back_button.setFocus()

    def show_session(self, session: int) -> None:
        """Show the record of this session."""
        self._session = session
        self.show_lines(self._desk.read(treatments.record, session))
        self.shared.show_plants(self._desk.read(treatments_sharing.together, session))

    def _share(self, how: Sharing, plants: Sequence[int]) -> None:
        self._desk.run(treatments_sharing.share, self._session or 0, how, plants)

    def _on_changed(self, _changed: object) -> None:
        if self._session is not None and self.isVisible():
            self.show_lines(self._desk.read(treatments.record, self._session))

    def show_lines(self, lines: Sequence[str]) -> None:
        """Show these lines: the first is the title, a line that is not indented begins a plant."""
        self.lines = tuple(lines)
        self.title.setText(lines[0] if lines else "")
        while (item := self._column.takeAt(0)) is not None:
            old = item.widget()
            if old is not None:
                old.deleteLater()
        for line in lines[1:]:
            self._column.addWidget(self._line(line))
        self._column.addStretch(1)
        self._body.setAccessibleName("\n".join(lines))

    def _line(self, line: str) -> QWidget:
        made = label(line.strip(), px=15) if line.startswith("  ") else heading(line, 18)
        made.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        made.setContentsMargins(24 if line.startswith("  ") else 0, 0 if line.startswith("  ") else 10, 0, 0)
        return made

    def _on_copy(self) -> None:
        QGuiApplication.clipboard().setText("\n".join(self.lines))
