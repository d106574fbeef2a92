"""The Findings screen: one question at a time, its chart, what it rests on, its words, and the figures behind it."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QButtonGroup,
    QComboBox,
    QFileDialog,
    QFrame,
    QHBoxLayout,
    QStackedWidget,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.findings import Cell, Finding
from greenhouse_desk.domain.findings_settling import By
from greenhouse_desk.services import findings
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.findings import Question, Topic
from greenhouse_desk.ui.findings.chart_view import ChartView
from greenhouse_desk.ui.findings.saving import KINDS, write
from greenhouse_desk.ui.flow import Flow
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.sides import scrolled
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.wheel import calm
from greenhouse_desk.ui.why import WhyBox, ask_why

ASKS = {Topic.SETTLING: "Grouped by", Topic.ROOTS: "Plant", Topic.AIR: "Place"}
"""Topics that ask for one thing more, and its word."""


class FindingsScreen(QWidget):
    """Reads the record anew whenever it is shown; nothing here changes it."""

    def __init__(self, desk: Desk, signals: Signals, palette: Palette) -> None:
        super().__init__()
        self.setProperty("ground", "bench")
        self._desk, self._signals, self._look = desk, signals, palette
        self.tabs = QButtonGroup(self)
        self.which = calm(QComboBox())
        self.which.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self._asked = label("", bold=True, wrap=False)
        self.chart = ChartView(palette)
        self.table = QTableWidget()
        self.pages = QStackedWidget()
        self.figures = button("Show figures", name="Show the figures behind the chart")
        self.figures.setCheckable(True)
        self.why = button("why?", "small", "Why this finding")
        self.save = button("Save", name="Save the chart as a picture or its figures as a table")
        self.title, self.rests = heading("", 19), label("", "second")
        self.words = label("")
        self.words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse
                                           | Qt.TextInteractionFlag.TextSelectableByKeyboard)
        self.words.setAccessibleName("The finding in words")
        self.shown: Finding | None = None
        self._build()
        self._listen()

    def _build(self) -> None:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(24, 14, 24, 16)
        column.setSpacing(10)
        column.addWidget(heading("Findings", 26))
        topics = Flow()
        for nth, topic in enumerate(Topic):
            tab = button(topic.value)
            tab.setCheckable(True)
            self.tabs.addButton(tab, nth)
            topics.add(tab)
        self.tabs.button(0).setChecked(True)
        column.addWidget(topics)
        column.addWidget(self._sheet(), 1)
        scrolled(self, page, "Findings page")

    def _sheet(self) -> QFrame:
        sheet = QFrame()
        sheet.setProperty("ground", "sheet")
        sheet.setProperty("edge", "all")
        column = QVBoxLayout(sheet)
        column.setContentsMargins(16, 12, 16, 14)
        column.setSpacing(8)
        head = QHBoxLayout()
        head.setSpacing(8)
        said = QVBoxLayout()
        said.setSpacing(0)
        said.addWidget(self.title)
        said.addWidget(self.rests)
        head.addLayout(said, 1)
        for made in (self._asked, self.which, self.why, self.figures, self.save):
            head.addWidget(made)
        column.addLayout(head)
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.verticalHeader().hide()
        self.table.setAccessibleName("The figures behind the chart")
        self.pages.addWidget(self.chart)
        self.pages.addWidget(self.table)
        column.addWidget(self.pages, 1)
        column.addWidget(self.words)
        return sheet

    def _listen(self) -> None:
        self.tabs.idClicked.connect(self._on_topic)
        self.which.activated.connect(self._on_which)
        self.figures.toggled.connect(self._turn)
        self.save.clicked.connect(self._on_save)
        self.why.clicked.connect(self._on_why)

    @property
    def topic(self) -> Topic:
        """What is asked."""
        return tuple(Topic)[self.tabs.checkedId()]

    def show_now(self) -> None:
        """Read everything anew and show it."""
        self._fill()
        self._ask()

    def open_topic(self, topic: Topic) -> None:
        """Ask this."""
        self.tabs.button(tuple(Topic).index(topic)).setChecked(True)
        self.show_now()

    def _on_topic(self, _nth: int) -> None:
        self.show_now()

    def _on_which(self, _at: int) -> None:
        self._ask()

    def _fill(self) -> None:
        """The choices of the topic; what was chosen stays chosen as long as it can be."""
        kept = self.which.currentData()
        self.which.clear()
        for words, data in self._choices():
            self.which.addItem(words, data)
        at = next((nth for nth in range(self.which.count()) if self.which.itemData(nth) == kept), 0)
        self.which.setCurrentIndex(at if self.which.count() else -1)
        asked = ASKS.get(self.topic, "")
        self._asked.setText(asked)
        self.which.setAccessibleName(asked or "Nothing to choose")
        self._asked.setVisible(bool(asked))
        self.which.setVisible(bool(asked))

    def _choices(self) -> list[tuple[str, object]]:
        if self.topic is Topic.SETTLING:
            return [(by.value, by) for by in By]
        found = self._desk.read(findings.choices)
        if self.topic is Topic.ROOTS:
            return [(f"{one.number}  {one.name}", one.number) for one in found.plants]
        return [(one.name, one.id) for one in found.places] if self.topic is Topic.AIR else []

    def _question(self) -> Question | None:
        """What is asked, None where there is nothing it could be asked of."""
        data = self.which.currentData()
        if self.topic is Topic.SETTLING:
            return Question(self.topic, by=By(data))
        if self.topic not in ASKS:
            return Question(self.topic)
        if data is None:
            return None
        return Question(self.topic, plant=data) if self.topic is Topic.ROOTS else Question(self.topic, place=data)

    def _ask(self) -> None:
        question = self._question()
        if question is None:
            self._show(NOTHING[self.topic])
            return
        self._show(self._desk.read(findings.answer, self._desk.clock(), question))

    def _show(self, finding: Finding) -> None:
        self.shown = finding
        self.title.setText(finding.title)
        self.rests.setText(f"Rests on {finding.rests_on}.")
        self.words.setText(finding.summary)
        self.chart.show_finding(finding)
        fill(self.table, finding)
        self.save.setEnabled(bool(finding.table.rows))
        self.why.setEnabled(bool(finding.why))
        self.figures.setEnabled(finding.chart is not None)
        self._turn()

    def _turn(self) -> None:
        """The figures come forward when asked for, and where there is no chart."""
        drawn = self.shown is None or self.shown.chart is not None or not self.shown.table.rows
        self.pages.setCurrentIndex(int(self.figures.isChecked() or not drawn))
        self.figures.setText("Show chart" if self.figures.isChecked() else "Show figures")

    def _on_why(self) -> WhyBox | None:
        if self.shown is None:
            return None
        return ask_why(self.shown.title, self.shown.why, self._look, self)

    def _on_save(self) -> QFileDialog | None:
        if self.shown is None:
            return None
        kinds = KINDS if self.shown.chart is not None else KINDS[-1:]
        dialog = QFileDialog(self.window(), "Save the finding", self.shown.title.lower().replace(" ", "-"))
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setNameFilters([f"{words} (*{ending})" for words, ending in kinds])
        dialog.setDefaultSuffix(kinds[0][1])
        dialog.filterSelected.connect(lambda words: dialog.setDefaultSuffix(words[words.index("*") + 1:-1]))
        dialog.fileSelected.connect(lambda name: self.write(Path(name)))
        dialog.open()
        return dialog

    def write(self, path: Path) -> None:
        """Write what is shown to `path`, as its ending says, and say so."""
        assert self.shown is not None
        try:
            write(self.shown, self._look, path)
        except Refused as refusal:
            self._signals.refused.emit(refusal)
            return
        self._signals.noted.emit(f"{self.shown.title} written to {path.name}.")


NOTHING = {
    Topic.ROOTS: findings.nothing("Roots of a plant", "No roots were counted yet."),
    Topic.AIR: findings.nothing("Air of a place", "No air was read yet. Enter a reading, or bring in a logger's file: "
                              "the head of a bench on Collection has both."),
}


def fill(table: QTableWidget, finding: Finding) -> None:
    """Put the figures behind a finding into the table."""
    table.clear()
    table.setColumnCount(len(finding.table.head))
    table.setRowCount(len(finding.table.rows))
    table.setHorizontalHeaderLabels(list(finding.table.head))
    for down, row in enumerate(finding.table.rows):
        for across, cell in enumerate(row):
            table.setItem(down, across, _item(cell))
    table.resizeColumnsToContents()


def _item(cell: Cell) -> QTableWidgetItem:
    made = QTableWidgetItem("" if cell is None else str(cell))
    side = Qt.AlignmentFlag.AlignLeft if isinstance(cell, str) else Qt.AlignmentFlag.AlignRight
    made.setTextAlignment(side | Qt.AlignmentFlag.AlignVCenter)
    return made
