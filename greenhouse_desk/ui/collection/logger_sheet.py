"""A logger's file looked over before it counts: how it is to be read, and then what it holds, before it is taken in."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from zoneinfo import ZoneInfo

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QCheckBox,
    QComboBox,
    QDialog,
    QFrame,
    QHBoxLayout,
    QProgressBar,
    QScrollArea,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from greenhouse_desk.domain.air_log import Columns
from greenhouse_desk.domain.air_log_preview import doubts, understood
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.services import air_import
from greenhouse_desk.services.air_import import Looked, Prepared
from greenhouse_desk.services.air_import_words import faults, sentences
from greenhouse_desk.ui.collection.logger_fields import air_fields, columns_of, time_fields
from greenhouse_desk.ui.collection.logger_preview import Preview
from greenhouse_desk.ui.forms import FormRows
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.whole_screen import screen_of

WIDTH, HEIGHT, NARROW = 1120, 660, 860
AS_BEFORE = "Read as you read files of this logger before."
NAMELESS = ("Read as such a file was before. No line names its columns, so it may be another logger's: look over each "
            "choice.")
GUESSED = "Guessed from its first lines. Look over each choice; it is remembered for this logger's next file."

ASSUMED = "No home is set on the House page yet, so its clock is only assumed. Set it first, or choose another clock."


class LoggerSheet(QDialog):
    """`wanted(Looked)`: read the whole file this way. `stopped()`: do not read on. `kept(Prepared)`: take it in."""

    wanted = Signal(object)
    stopped = Signal()
    kept = Signal(object)

    def __init__(self, place: str, looked: Looked, zone: ZoneInfo, now: datetime, look: Palette,
                 parent: QWidget, home_known: bool = True) -> None:
        super().__init__(parent)
        self.setWindowTitle(f"Air of {place} from a logger")
        self._looked, self._zone = looked, zone
        self._home_known = home_known
        self._now = now
        self.times, self.figures = self._rows()
        self.preview = Preview(look)
        self.told = label("", "second")
        self.bar = QProgressBar()
        self.bar.setRange(0, 100)
        self.bar.setTextVisible(False)
        self.bar.setAccessibleName("How much of the file is read")
        self.bar.hide()
        self.fault = label("", "due", bold=True)
        self.fault.hide()
        self.read = button("Read the whole file", "main")
        self.take = button("Take it in", "main")
        self.back = button("Back to the columns")
        self.cancel = button("Cancel")
        self.made: Prepared | None = None
        self._found = QVBoxLayout()
        self._pages = QStackedWidget()
        self._build(place)
        self._listen()
        self._hear_rows()
        self.show_rows()

    def _rows(self) -> tuple[FormRows, FormRows]:
        """The fields for the columns there are, as cells are parted now."""
        looked, zone = self._looked, self._zone
        named = zone.key if self._home_known else f"{zone.key} (assumed)"
        return (FormRows(time_fields(looked.sample, looked.columns, zone, named, self._now)),
                FormRows(air_fields(looked.sample, looked.columns)))

    def _build(self, place: str) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 20, 24, 20)
        column.setSpacing(12)
        title = heading(f"Air of {place} from {self._looked.path.name}", 23)
        column.addWidget(title)
        for page in (self._asked_page(), self._found_page()):
            self._pages.addWidget(page)
        column.addWidget(self._pages, 1)
        column.addWidget(self.bar)
        column.addWidget(self.fault)
        foot = QHBoxLayout()
        foot.setSpacing(8)
        foot.addWidget(self.back)
        foot.addStretch(1)
        for made in (self.cancel, self.read, self.take):
            foot.addWidget(made)
        column.addLayout(foot)
        self.read.setDefault(True)
        self.turn(0)
        room = screen_of(self).availableGeometry()
        self.resize(min(WIDTH, room.width() - 40), min(HEIGHT, room.height() - 60))

    def _asked_page(self) -> QScrollArea:
        inner = QWidget()
        self._parts = QBoxLayout(QBoxLayout.Direction.LeftToRight, inner)
        self._parts.setContentsMargins(0, 0, 14, 0)
        self._parts.setSpacing(16)
        for rows in (self.times, self.figures):
            self._parts.addWidget(rows, 3, Qt.AlignmentFlag.AlignTop)
        self._seen = QWidget()
        seen = QVBoxLayout(self._seen)
        seen.setContentsMargins(0, 0, 0, 0)
        seen.setSpacing(8)
        seen.addWidget(heading("The first rows, as they are understood", 18))
        as_before = AS_BEFORE if self._looked.sample.head else NAMELESS
        self.how = label(as_before if self._looked.known else GUESSED)
        seen.addWidget(self.how)
        if not self._home_known:
            seen.addWidget(label(ASSUMED, bold=True))
        seen.addWidget(self.told)
        seen.addWidget(self.preview, 1)
        self._parts.addWidget(self._seen, 6)
        return _scrolled(inner, "How the file is to be read")

    def _found_page(self) -> QScrollArea:
        inner = QWidget()
        self._found = QVBoxLayout(inner)
        self._found.setContentsMargins(0, 0, 14, 0)
        self._found.setSpacing(10)
        return _scrolled(inner, "What the file holds")

    def _hear_rows(self) -> None:
        for control in (*self.times.controls.values(), *self.figures.controls.values()):
            if isinstance(control.focus, QComboBox):
                control.focus.currentIndexChanged.connect(self.show_rows)
            elif isinstance(control.focus, QCheckBox):
                control.focus.toggled.connect(self.show_rows)
        self._parter.activated.connect(self._on_parted)

    @property
    def _parter(self) -> QComboBox:
        chosen = self.times.controls["delimiter"].focus
        assert isinstance(chosen, QComboBox)
        return chosen

    def _on_parted(self, _at: int) -> None:
        """Other columns: the fields are asked anew, and filled in as those look."""
        try:
            self._looked = air_import.parted(self._looked, self.times.values()["delimiter"])
        except Refused as refusal:
            self.times.controls["delimiter"].put(self._looked.sample.delimiter)
            self.show_fault(f"{refusal.title}: {refusal.detail}")
            return
        old = (self.times, self.figures)
        self.times, self.figures = self._rows()
        for one, other in zip(old, (self.times, self.figures), strict=True):
            self._parts.replaceWidget(one, other)
            self._parts.setAlignment(other, Qt.AlignmentFlag.AlignTop)
            one.hide()
            one.deleteLater()
        self.fault.hide()
        self.how.setText(GUESSED)
        self._hear_rows()
        self.show_rows()
        self._parter.setFocus()

    def _listen(self) -> None:
        self.read.clicked.connect(self._on_read)
        self.take.clicked.connect(lambda: self.kept.emit(self.made))
        self.back.clicked.connect(lambda: self.turn(0))
        self.cancel.clicked.connect(self.reject)
        self.rejected.connect(self.stopped)

    def columns(self) -> Columns:
        """How the fields say the file is to be read."""
        return columns_of({**self.times.values(), **self.figures.values()}, self._looked.columns)

    def show_rows(self) -> None:
        """The first rows anew, as the fields say now."""
        columns, sample = self.columns(), self._looked.sample
        self.preview.show_rows(understood(sample, columns, self._zone), self._zone)
        self.told.setText(" ".join(doubts(sample, columns)))

    def turn(self, page: int) -> None:
        """To the columns (0) or to what was found (1)."""
        self._pages.setCurrentIndex(page)
        self.read.setVisible(page == 0)
        for made in (self.take, self.back):
            made.setVisible(page == 1)

    def _on_read(self) -> None:
        self.fault.hide()
        self.bar.setValue(0)
        self.bar.show()
        self._allow(False)
        self.wanted.emit(replace(self._looked, columns=self.columns()))

    def show_share(self, share: float) -> None:
        """How much of the file is read, 0 to 1."""
        self.bar.setValue(round(100 * share))

    def show_found(self, made: Prepared) -> None:
        """The whole file is read: what it holds, to be looked at before it is taken in."""
        self._ready()
        self.made = made
        _emptied(self._found)
        told = sentences(made, self._zone)
        for nth, sentence in enumerate(told):
            self._found.addWidget(label(sentence, bold=nth == 0, px=16 if nth == 0 else 14))
        refused = made.heard.refused
        self._found.addWidget(label(f"{refused:,} line{'' if refused == 1 else 's'} refused." if refused else
                                    "No line was refused.", "due" if refused else "", bold=True))
        for line in faults(made):
            self._found.addWidget(label(line, "second"))
        self._found.addStretch(1)
        self.take.setEnabled(made.changes)
        self.take.setText("Take it in" if made.changes else "Nothing new to take in")
        self.turn(1)
        mostly_read = 2 * refused <= refused + len(made.heard.log.at)
        (self.take if made.changes and mostly_read else self.back).setFocus()

    def show_fault(self, words: str) -> None:
        """The file could not be read, or not be taken in."""
        self._ready()
        self.fault.setText(words)
        self.fault.show()
        self.turn(0)

    def _ready(self) -> None:
        self.bar.hide()
        self._allow(True)

    def _allow(self, allowed: bool) -> None:
        for made in (self.read, self.times, self.figures):
            made.setEnabled(allowed)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """In a narrow window the rows stand over the fields, and everything scrolls."""
        super().resizeEvent(event)
        narrow = self.width() < NARROW
        self._parts.setDirection(QBoxLayout.Direction.TopToBottom if narrow else QBoxLayout.Direction.LeftToRight)
        at = 0 if narrow else self._parts.count() - 1
        if self._parts.indexOf(self._seen) != at:
            self._parts.removeWidget(self._seen)
            self._parts.insertWidget(at, self._seen, 6)


def _scrolled(inner: QWidget, name: str) -> QScrollArea:
    area = QScrollArea()
    area.setWidget(inner)
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setAccessibleName(name)
    return area


def _emptied(column: QVBoxLayout) -> None:
    while (item := column.takeAt(0)) is not None:
        shown = item.widget()
        if shown is not None:
            shown.hide()
            shown.deleteLater()
