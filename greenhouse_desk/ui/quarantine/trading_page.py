"""Before trading or giving away: the check list of a plant, the day from which it would pass, and its record."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QVBoxLayout, QWidget

from greenhouse_desk.domain.care import Reason
from greenhouse_desk.domain.dealings import Check, Verdict
from greenhouse_desk.services import dealings, house
from greenhouse_desk.services.dealings import Trading
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.inspections import Turn
from greenhouse_desk.services.plant_record import NO_CERTIFICATE
from greenhouse_desk.ui.messages import button, label
from greenhouse_desk.ui.panel import CLOSE, panel
from greenhouse_desk.ui.quarantine.sheets import Column, marked_row
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.wheel import calm
from greenhouse_desk.ui.words import day

MARKS = {Verdict.PASSED: ("released", "clean"), Verdict.FAILED: ("over", "madder"), Verdict.UNKNOWN: ("later", "due")}


class TradingPage(QWidget):
    """`why(title, reasons)` asks for a reasoning to be shown, `record_wanted(plant)` for the plant's record."""

    why = Signal(str, object)
    record_wanted = Signal(int)

    def __init__(self, desk: Desk, palette: Palette) -> None:
        super().__init__()
        self._desk, self._look = desk, palette
        self._turns: dict[int, Turn] = {}
        self.box = calm(QComboBox())
        self.box.setAccessibleName("Plant")
        self.box.currentIndexChanged.connect(self._on_chosen)
        self.column = Column("Before trading")
        head = QHBoxLayout()
        head.setContentsMargins(0, 0, 10, 0)
        head.addWidget(label("Plant", "second", wrap=False))
        head.addWidget(self.box, 1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(24, 0, 14, 16)
        whole.setSpacing(10)
        whole.addLayout(head)
        whole.addWidget(self.column, 1)

    def show_rows(self, turns: Sequence[Turn]) -> None:
        """Read the plants anew; the one that was chosen stays."""
        taken = self.box.currentData()
        self._turns = {turn.plant: turn for turn in sorted(turns, key=lambda turn: turn.plant)}
        self.box.blockSignals(True)
        self.box.clear()
        for number, turn in self._turns.items():
            self.box.addItem(f"{number}  {turn.name.plain}", number)
        self.take(taken)
        self.box.blockSignals(False)
        self._show()

    def take(self, plant: int | None) -> None:
        """Choose a plant, if it grows here."""
        if plant in self._turns:
            self.box.setCurrentIndex(list(self._turns).index(plant))

    def _on_chosen(self, _at: int) -> None:
        self._show()

    def _show(self) -> None:
        column = self.column.begin()
        number = self.box.currentData()
        if number is None:
            column.addWidget(label("No plant grows here yet.", "second"))
            column.addStretch(1)
            self.column.end()
            return
        told = self._desk.read(dealings.before_trading, self._desk.clock(), number)
        column.addWidget(self._list(told))
        column.addWidget(self._handing_on(told))
        column.addStretch(1)
        self.column.end()

    def _list(self, told: Trading) -> QWidget:
        today = self._desk.clock().astimezone(self._desk.read(house.zone)).date()
        frame, inside = panel(dealings.verdict_words(told, today), spacing=CLOSE)
        for check in told.checks:
            mark, ink = MARKS[check.verdict]
            would = f"from {day(check.passes, today)}" if check.passes and check.verdict is not Verdict.PASSED else ""
            inside.addLayout(marked_row(mark, f"{check.verdict.value}: {check.title}", check.evidence, would,
                                        self._look, ink))
        chance = self._turns[told.plant].chance
        row = QHBoxLayout()
        row.addWidget(label(f"Chance that it still carries something: {chance.words}", bold=True), 1)
        for words, title, steps in (("why?", "The chance that it carries something", chance.why),
                                    ("why this list?", f"{told.plant} before trading", reasons(told.checks))):
            why = button(words, "small", f"{words} {title}")
            why.clicked.connect(lambda _checked=False, title=title, steps=steps: self.why.emit(title, steps))
            row.addWidget(why)
        inside.addLayout(row)
        return frame

    def _handing_on(self, told: Trading) -> QWidget:
        frame, inside = panel("The record to hand on", NO_CERTIFICATE, spacing=CLOSE)
        save = button("Its record…", "main", "Its record, to save as PDF or to print")
        save.clicked.connect(lambda: self.record_wanted.emit(told.plant))
        inside.addWidget(save, 0, Qt.AlignmentFlag.AlignLeft)
        return frame


def reasons(checks: Sequence[Check]) -> tuple[Reason, ...]:
    """Each point with the entry it rests on."""
    return tuple(Reason(f"{check.title}: {check.verdict.value}. {check.evidence}.",
                        f"journal entry {check.entry}" if check.entry is not None else "the journal as a whole")
                 for check in checks)
