"""The sheets under the calendar: the course that is chosen, the settling curve, and what is coming."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QLabel, QSizePolicy, QVBoxLayout

from greenhouse_desk.domain.courses_coming import Week
from greenhouse_desk.domain.courses_values import End, Verdict
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.services.transitions import Curve, Row
from greenhouse_desk.ui import words
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.transitions import told
from greenhouse_desk.ui.transitions.curve import CurveView

STEPS_MOST = 5


class Sheet(QFrame):
    """A sheet with a heading and a column."""

    def __init__(self, title: str) -> None:
        super().__init__()
        self.setProperty("ground", "sheet")
        self.setProperty("edge", "all")
        self.column = QVBoxLayout(self)
        self.column.setContentsMargins(16, 12, 16, 14)
        self.column.setSpacing(6)
        self.title = heading(title, 18)
        self.column.addWidget(self.title)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)


class CoursePanel(Sheet):
    """The course that is chosen: its verdict with the evidence, what to do, and the buttons for it."""

    look = Signal()
    overrule = Signal()
    settle = Signal()
    bench = Signal()
    why = Signal()
    forecast = Signal()

    def __init__(self) -> None:
        super().__init__("No course is chosen")
        self._line, self._reason, self._next = label(bold=True), label(), label(ink="second")
        self.column.addWidget(self._line)
        self.column.addWidget(self._reason)
        self._steps = [label() for _ in range(STEPS_MOST)]
        for step in self._steps:
            self.column.addWidget(step)
        self.column.addWidget(self._next)
        self._forecast = label(ink="second", px=13)
        self.column.addStretch(1)
        self.buttons = {name: button(said, role, spoken) for name, said, role, spoken in (
            ("bench", "Take it to the bench", "main", ""), ("look", "Write a look down", "", ""),
            ("settle", "Call it settled", "", ""), ("overrule", "Overrule", "", "Overrule the verdict"),
            ("why", "Why?", "", "Why this verdict"), ("forecast", "Why?", "small", "Why this forecast"))}
        for name, made in self.buttons.items():
            made.clicked.connect(getattr(self, name))
        self._rows(("bench", "look"), ("settle", "overrule", "why"))
        self.show_row(None, date.min)

    def _rows(self, *rows: tuple[str, ...]) -> None:
        told_row = QHBoxLayout()
        told_row.addWidget(self._forecast, 1)
        told_row.addWidget(self.buttons["forecast"], 0, Qt.AlignmentFlag.AlignTop)
        self.column.addLayout(told_row)
        for names in rows:
            line = QHBoxLayout()
            line.setSpacing(8)
            for name in names:
                line.addWidget(self.buttons[name], 1)
            self.column.addLayout(line)

    def show_row(self, row: Row | None, today: date) -> None:
        """Show this course, nothing when None."""
        running = row is not None and row.course.end is End.RUNNING
        judged = row.course.looks[-1] if row is not None and row.course.looks else None
        self._say(row, today)
        steps = judged.steps if judged is not None and running else ()
        for place, made in enumerate(self._steps):
            made.setText(f"{place + 1}.  {steps[place]}" if place < len(steps) else "")
            made.setVisible(place < len(steps))
        self._forecast.setText(f"Forecast: {told.forecast(row, today)}." if row is not None and running else "")
        self._forecast.setVisible(running)
        self.buttons["bench"].setVisible(bool(steps))
        self.buttons["look"].setVisible(running)
        self.buttons["settle"].setVisible(running and judged is not None)
        overrulable = judged is not None and row is not None and (running or row.course.by_rule)
        self.buttons["overrule"].setVisible(overrulable)
        self.buttons["why"].setVisible(row is not None and (judged is not None or not running))
        self.buttons["forecast"].setVisible(running)

    def _say(self, row: Row | None, today: date) -> None:
        for line, said in ((self._reason, told.reason(row) if row else ""),
                           (self._next, told.next_looks(row, today) if row else "")):
            line.setText(f"Your reason: {said}." if line is self._reason else said)
            line.setVisible(bool(said))
        if row is None:
            self.title.setText("No course is chosen")
            self._line.setText("Choose one in the calendar.")
            return
        genus = row.course.genus or row.name.plain
        self.title.setText(f"{told.verdict(row).capitalize()}: {row.course.plant} {genus}")
        week = f"Week {row.course.week}. " if row.course.end is End.RUNNING else ""
        evidence = told.evidence(row, today)
        self._line.setText(f"{week}{capital(evidence)}.")
        self._line.setProperty("ink", "madder" if row.course.verdict is Verdict.STEP_IN else "")
        self._line.style().polish(self._line)


class CurvePanel(Sheet):
    """The settling curve of all courses, and the comparison of stepping in with leaving alone."""

    outcomes = Signal()

    def __init__(self, palette: Palette) -> None:
        super().__init__("Settling curve, all your plants")
        self._counts = label(ink="second", px=13)
        self.view = CurveView(palette)
        self.compare = button("Stepping in or leaving alone?", "small")
        self.compare.clicked.connect(self.outcomes)
        self._band = label("Band: the share lies in it 95 times in 100.", "second", px=13)
        self.column.addWidget(self._counts)
        self.column.addWidget(self.view, 1)
        foot = QHBoxLayout()
        foot.addWidget(self._band, 1)
        foot.addWidget(self.compare)
        self.column.addLayout(foot)

    def show_curve(self, curve: Curve, row: Row | None) -> None:
        """Show the curve, with the course of `row` on it."""
        self._counts.setText(curve.words)
        self.view.show_curve(curve, row)


class ComingPanel(Sheet):
    """Six weeks ahead, and the hours at the bench they mean."""

    def __init__(self) -> None:
        super().__init__("What is coming")
        self._sum = label(ink="second", px=13)
        self.column.addWidget(self._sum)
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(12)
        self._grid.setVerticalSpacing(5)
        self._grid.setColumnStretch(1, 1)
        self.column.addLayout(self._grid)
        self.column.addStretch(1)
        self._cells: list[tuple[QLabel, QLabel, QLabel]] = []

    def show_weeks(self, weeks: tuple[Week, ...]) -> None:
        """Show these weeks."""
        whole = round(sum(week.minutes for week in weeks))
        self._sum.setText(f"About {whole // 60} h {whole % 60:02d} of hands in {len(weeks)} weeks, by house rule a "
                          "kind of work." if whole else "Nothing is owed in these weeks.")
        while len(self._cells) < len(weeks):
            self._add()
        for (span, what, time), week in zip(self._cells, weeks, strict=False):
            span.setText(f"{words.day(week.start)} to {words.day(week.end)}")
            what.setText(week.words)
            time.setText(week.time_words)

    def _add(self) -> None:
        top = Qt.AlignmentFlag.AlignTop
        row = (label(bold=True, px=13, wrap=False), label(px=13), label(px=13, wrap=False))
        for column, cell in enumerate(row):
            self._grid.addWidget(cell, len(self._cells), column, top)
        self._cells.append(row)
