"""The first page of an empty collection: try the demo copy, begin an own collection, or bring a list of plants in."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal, SignalInstance
from PySide6.QtWidgets import QFrame, QPushButton, QScrollArea, QVBoxLayout, QWidget

from greenhouse_desk.ui.flow import Flow
from greenhouse_desk.ui.messages import button, heading, label

WIDE = 270
OWN = ("Begin your own collection", "Empty: first a place where plants stand, then your first plant with its number.",
       "Begin with a place…")
DEMO = ("Open the demo copy", "An invented collection of 60 plants and more with a year and a half of journal, to try "
        "things on. It lies in a folder of its own and touches nothing of yours.", "Open the demo copy")
LIST = ("Bring a list in", "A CSV file with a line for each plant: number and name, and where you keep them place, "
        "medium, acquired, source and notes.", "Choose a CSV file…")


class FirstPage(QScrollArea):
    """`own()`, `demo()` and `listed()` ask for the three ways to begin."""

    own = Signal()
    demo = Signal()
    listed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setWidgetResizable(True)
        self.setAccessibleName("Ways to begin")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(24, 16, 24, 24)
        column.setSpacing(16)
        column.addWidget(heading("No benches and no plants here yet", 23))
        ways = Flow()
        self.own_button = self._way(ways, OWN, "main", self.own)
        self.demo_button = self._way(ways, DEMO, "", self.demo)
        self.list_button = self._way(ways, LIST, "", self.listed)
        column.addWidget(ways)
        column.addStretch(1)
        self.setWidget(page)

    def _way(self, ways: Flow, words: tuple[str, str, str], role: str, signal: SignalInstance) -> QPushButton:
        title, told, word = words
        panel = QFrame()
        panel.setProperty("ground", "sheet")
        panel.setProperty("edge", "all")
        panel.setFixedSize(WIDE, 210)
        column = QVBoxLayout(panel)
        column.setContentsMargins(16, 14, 16, 16)
        column.setSpacing(8)
        column.addWidget(heading(title, 19))
        column.addWidget(label(told, "second"))
        column.addStretch(1)
        made = button(word, role)
        press: Callable[[], None] = signal.emit
        made.clicked.connect(lambda: press())
        column.addWidget(made, 0, Qt.AlignmentFlag.AlignLeft)
        ways.add(panel)
        return made
