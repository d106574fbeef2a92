"""Before buying: what a source sent before, room in isolation on the day it comes, and what is active at home."""

from __future__ import annotations

from datetime import date, timedelta

from PySide6.QtCore import QDate, Signal
from PySide6.QtWidgets import QComboBox, QDateEdit, QHBoxLayout, QVBoxLayout, QWidget

from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.services import dealings, house, records
from greenhouse_desk.services.dealings import Buying, Room
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui.messages import button, label
from greenhouse_desk.ui.panel import CLOSE, panel
from greenhouse_desk.ui.quarantine.sheets import Column, marked_row
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.wheel import calm
from greenhouse_desk.ui.words import counted, day

AHEAD = timedelta(days=7)


class BuyingPage(QWidget):
    """`why(title, reasons)` asks for a reasoning to be shown."""

    why = Signal(str, object)

    def __init__(self, desk: Desk, palette: Palette) -> None:
        super().__init__()
        self._desk, self._look = desk, palette
        self.box = calm(QComboBox())
        self.box.setEditable(True)
        self.box.setAccessibleName("Source")
        self.day = calm(QDateEdit())
        self.day.setCalendarPopup(True)
        self.day.setDisplayFormat("d MMM yyyy")
        self.day.setAccessibleName("The day it would come")
        self.column = Column("Before buying")
        self._filled = False
        head = QHBoxLayout()
        head.setContentsMargins(0, 0, 10, 0)
        for part, stretch in ((label("From", "second", wrap=False), 0), (self.box, 1),
                              (label("coming on", "second", wrap=False), 0), (self.day, 0)):
            head.addWidget(part, stretch)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(24, 0, 14, 16)
        whole.setSpacing(10)
        whole.addLayout(head)
        whole.addWidget(self.column, 1)
        self.box.currentTextChanged.connect(self._on_asked)
        self.day.dateChanged.connect(self._on_asked)

    def show_now(self) -> None:
        """Read the sources anew; what was asked stays asked."""
        asked, now = self.box.currentText(), self._desk.clock()
        names = [source.name for source in self._desk.read(dealings.sources)]
        for part in (self.box, self.day):
            part.blockSignals(True)
        self.box.clear()
        self.box.addItems(names)
        if not self._filled:
            come = now.astimezone(self._desk.read(house.zone)).date() + AHEAD
            self.day.setDate(QDate(come.year, come.month, come.day))
            self._filled = True
        if asked:
            self.box.setCurrentText(asked)
        for part in (self.box, self.day):
            part.blockSignals(False)
        self._show()

    def _on_asked(self) -> None:
        self._show()

    def _show(self) -> None:
        shown = self.day.date()
        come = date(shown.year(), shown.month(), shown.day())
        told = self._desk.read(dealings.before_buying, self._desk.clock(), self.box.currentText(), come)
        column = self.column.begin()
        column.addWidget(self._record(told))
        column.addWidget(self._rooms(told, come))
        column.addWidget(self._home(told))
        column.addStretch(1)
        self.column.end()

    def _record(self, told: Buying) -> QWidget:
        frame, inside = panel(told.source or "No source named", "What came from here before", spacing=CLOSE)
        record = told.record
        mark = "later" if record.share is None else "sighting" if record.found else "clear"
        inside.addLayout(marked_row(mark, f"{capital(told.words)}", "", "", self._look))
        names = self._desk.read(records.labels)
        for found in record.found:
            after = counted(found.days, "day")
            inside.addWidget(label(f"{found.plant}: {names.pest(found.what)}, {after} after it came"))
        if record.days is not None:
            low, high = record.days
            span = counted(low, "day") if low == high else f"{low} to {high} days"
            inside.addWidget(label(f"It took {span} until something showed.", bold=True))
        if record.later:
            inside.addWidget(label(f"Only later, among the others: {', '.join(map(str, record.later))}. That proves "
                                   "nothing against the source.", "second"))
        if record.unlooked:
            inside.addWidget(label(f"Never looked at: {record.unlooked} of {record.came}.", "due"))
        because = f": {told.apart.why}" if told.apart.why else ""
        inside.addWidget(label(f"A plant from here stands apart for {told.apart.days} days{because}."))
        why = button("why?", "small", "Why the record says so")
        why.clicked.connect(lambda: self.why.emit(f"The record of {told.source}", told.why))
        row = QHBoxLayout()
        row.addWidget(why)
        row.addStretch(1)
        inside.addLayout(row)
        return frame

    def _rooms(self, told: Buying, come: date) -> QWidget:
        frame, inside = panel("Room to stand apart", f"On {day(come, self._desk.clock().date())}", spacing=CLOSE)
        for room in told.rooms:
            mark = "clear" if room.free else "over"
            inside.addLayout(marked_row(mark, f"{room.name}: {counted(room.free, 'spot')} free", room_words(room), "",
                                        self._look, "" if room.free else "madder"))
        if not told.rooms:
            inside.addWidget(label("No place is marked as an isolation place: edit one, or buy nothing yet.", "due"))
        return frame

    def _home(self, told: Buying) -> QWidget:
        frame, inside = panel("Active at home now", "A newcomer can catch it from your own plants", spacing=CLOSE)
        for name, plants in told.active:
            inside.addLayout(marked_row("sighting", name, f"on {counted(plants, 'plant')}, not over", "", self._look))
        if not told.active:
            inside.addWidget(label("Nothing that is not over."))
        return frame


def room_words(room: Room) -> str:
    """How the free spots come about."""
    go = f", {room.released} may be released by then" if room.released else ""
    return f"{counted(room.standing, 'plant')} stand there now{go}; it holds {room.holds} by the house rule"
