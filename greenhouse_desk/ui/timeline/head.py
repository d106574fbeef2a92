"""The head of the Timeline screen: what is in view, the zooms, which plants, which entry to jump to, which kinds."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from greenhouse_desk.domain.timeline_sorts import Sort
from greenhouse_desk.ui.flow import Flow
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.style import sans
from greenhouse_desk.ui.timeline import told

FIELD = 190


class Field(QLineEdit):
    """Enter does it, Escape empties it."""

    def __init__(self, ask: str, name: str) -> None:
        super().__init__()
        self.setFont(sans(14))
        self.setPlaceholderText(ask)
        self.setAccessibleName(name)
        self.setMinimumWidth(FIELD)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape empties the field; the rest is typing."""
        if event.key() == Qt.Key.Key_Escape and self.text():
            self.setText("")
        else:
            super().keyPressEvent(event)


class TimelineHead(QWidget):
    """`plants_asked(text)` while typing, `jump_asked(text)` on Enter, `span(name)`, `nearer(yes)`, `now()` and
    `sorts(wanted)` from the buttons and boxes.
    """

    plants_asked = Signal(str)
    jump_asked = Signal(str)
    span = Signal(str)
    nearer = Signal(bool)
    now = Signal()
    sorts = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.range = label(ink="second", wrap=False)
        self.found = label(ink="second", px=13, wrap=False)
        self.plants = Field("Plants: numbers, name or place", "Plants with a lane, by numbers, name or place")
        self.jump = Field("Jump to words, a day or number", "Jump to an entry by words, day or number")
        self.plants.textChanged.connect(self.plants_asked)
        self.jump.returnPressed.connect(lambda: self.jump_asked.emit(self.jump.text()))
        self.zooms = {name: button(name, "small", f"Show {name.lower()} around now") for name in told.SPANS}
        for name, made in self.zooms.items():
            made.clicked.connect(partial(self.span.emit, name))
        self.kinds = {sort: self._kind(sort) for sort in Sort}
        self.all_kinds = button("All kinds", "small", "Show all kinds of entries")
        self.all_kinds.clicked.connect(self.show_all)
        self.all_kinds.hide()
        self._build()

    def _kind(self, sort: Sort) -> QCheckBox:
        made = QCheckBox(sort.value.capitalize())
        made.setFont(sans(14))
        made.setChecked(True)
        made.setAccessibleName(f"Show {sort.value}")
        made.toggled.connect(lambda _on: self._on_kinds())
        return made

    def _build(self) -> None:
        said = QVBoxLayout()
        said.setSpacing(0)
        said.addWidget(heading("Timeline", 26))
        said.addWidget(self.range)
        top = QHBoxLayout()
        top.setSpacing(8)
        top.addLayout(said, 1)
        top.addWidget(self._zooming(), 0, Qt.AlignmentFlag.AlignBottom)
        fields, kinds = Flow(), Flow()
        for field in (self.plants, self.jump):
            field.setFixedWidth(250)
            fields.add(field)
        self.found.setMinimumSize(200, 32)
        fields.add(self.found)
        for made in (*self.kinds.values(), self.all_kinds):
            kinds.add(made)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addLayout(top)
        column.addWidget(fields)
        column.addWidget(kinds)

    def _zooming(self) -> QWidget:
        row = QWidget()
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(6)
        self.steps: list[QPushButton] = []
        for word, name, nearer in (("−", "Zoom out", False), ("+", "Zoom in", True)):
            made = button(word, "small", name)
            made.setFixedWidth(34)
            made.clicked.connect(partial(self.nearer.emit, nearer))
            self.steps.append(made)
        self.now_button = button("Now", "small", "Go to now")
        self.now_button.clicked.connect(self.now)
        for made in (*self.zooms.values(), *self.steps, self.now_button):
            line.addWidget(made)
        return row

    def wanted(self) -> frozenset[Sort]:
        """The kinds that are ticked."""
        return frozenset(sort for sort, made in self.kinds.items() if made.isChecked())

    def _on_kinds(self) -> None:
        self.all_kinds.setVisible(len(self.wanted()) < len(Sort))
        self.sorts.emit(self.wanted())

    def show_all(self) -> None:
        """Tick all kinds."""
        for made in self.kinds.values():
            made.setChecked(True)
