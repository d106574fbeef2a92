"""The Transitions screen: the calendar of courses, the one that is chosen, how plants settle, and what is coming."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QFileDialog, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from greenhouse_desk.domain.care import Care, CareKind
from greenhouse_desk.domain.courses_moving import after_moving
from greenhouse_desk.domain.courses_values import End
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.services import calendar, transitions, transitions_start
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.month_courses import month_pages
from greenhouse_desk.services.transitions import Overview
from greenhouse_desk.ui import paper
from greenhouse_desk.ui.forms import Form
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.page_box import opened
from greenhouse_desk.ui.sides import scrolled
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.transitions import told
from greenhouse_desk.ui.transitions.calendar_form import TITLE, Kinds, calendar_form
from greenhouse_desk.ui.transitions.chart import CourseChart
from greenhouse_desk.ui.transitions.deeds import TransitionDeeds
from greenhouse_desk.ui.transitions.key_line import KeyLine
from greenhouse_desk.ui.transitions.month_box import MonthBox
from greenhouse_desk.ui.transitions.panels import ComingPanel, CoursePanel, CurvePanel
from greenhouse_desk.ui.transitions.space import HEAD, ROW, Space
from greenhouse_desk.ui.transitions.start_box import StartBox
from greenhouse_desk.ui.why import WhyBox, ask_why

NARROW = 900
CHART_LEAST = 216


class TransitionsScreen(QWidget):
    """Reads the courses, shows them, and writes what the grower says of them."""

    def __init__(self, desk: Desk, signals: Signals, palette: Palette) -> None:
        super().__init__()
        self.setProperty("ground", "bench")
        self._desk, self._signals, self._look = desk, signals, palette
        self.deeds = TransitionDeeds(desk, signals, self)
        self.chart = CourseChart(palette)
        self.course, self.curve, self.coming = CoursePanel(), CurvePanel(palette), ComingPanel()
        self._words = label(ink="second")
        self.start = button("May one start?")
        self.export = button("Export calendar", name="Export care as a calendar file")
        self.month = button("Month page", name="Month page for the wall")
        self.shown: Overview | None = None
        self._build()
        self._listen()

    def _build(self) -> None:
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(24, 8, 24, 16)
        column.setSpacing(8)
        column.addLayout(self._head())
        self._area = QScrollArea()
        self._area.setWidget(self.chart)
        self._area.setWidgetResizable(True)
        self._area.setProperty("edge", "all")
        self._area.setMinimumHeight(CHART_LEAST)
        self._area.setAccessibleName("Calendar of courses")
        column.addWidget(self._area, 1)
        column.addWidget(KeyLine(self._look))
        self._sheets = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._sheets.setSpacing(12)
        for sheet in (self.course, self.curve, self.coming):
            self._sheets.addWidget(sheet, 1)
        column.addLayout(self._sheets)
        scrolled(self, page, "Transitions")

    def _head(self) -> QHBoxLayout:
        said = QVBoxLayout()
        said.setSpacing(2)
        said.addWidget(heading("Transitions", 26))
        said.addWidget(self._words)
        head = QHBoxLayout()
        head.setSpacing(8)
        head.addLayout(said, 1)
        head.addWidget(self.start)
        head.addWidget(self.month)
        head.addWidget(self.export)
        return head

    def _listen(self) -> None:
        self.chart.picked.connect(self._on_picked)
        self.chart.moved.connect(self._on_moved)
        self.chart.asked.connect(self._on_why)
        self.course.look.connect(self._on_look)
        self.course.overrule.connect(self._on_overrule)
        self.course.settle.connect(self._on_settle)
        self.course.bench.connect(self._on_bench)
        self.course.why.connect(self._on_why)
        self.course.forecast.connect(self._on_forecast)
        self.curve.outcomes.connect(self._on_outcomes)
        self.start.clicked.connect(self._on_start)
        self.export.clicked.connect(self._on_export)
        self.month.clicked.connect(self._on_month)

    def show_now(self) -> None:
        """Read everything anew and show it."""
        self.shown = self._desk.read(transitions.overview, self._desk.clock())
        self._words.setText(told.head(self.shown))
        before = self.chart.place
        self.chart.show_courses(self.shown)
        self.coming.show_weeks(self.shown.weeks)
        self._show_chosen()
        if self.chart.place != before:
            self._into_sight()

    def count(self) -> str:
        """How many courses are under way, for the navigation; read on its own, as the screen may not be shown yet."""
        found = self._desk.read(transitions.under_way, self._desk.clock())
        return str(found) if found else ""

    def resizeEvent(self, event: QResizeEvent) -> None:
        """In a narrow window the sheets stand under each other."""
        super().resizeEvent(event)
        way = QBoxLayout.Direction.TopToBottom if self.width() < NARROW else QBoxLayout.Direction.LeftToRight
        self._sheets.setDirection(way)

    def _on_picked(self) -> None:
        self._show_chosen()
        self._into_sight()

    def _into_sight(self) -> None:
        """Scroll the calendar to the course chosen: what is done to one can give it another place."""
        if self.chart.place is not None:
            self._area.ensureVisible(0, round(Space.top(self.chart.place) + ROW / 2), 0, round(HEAD + ROW / 2))

    def _show_chosen(self) -> None:
        if self.shown is None:
            return
        row = self.chart.row
        self.course.show_row(row, self.shown.today)
        running = row if row is not None and row.course.end is End.RUNNING else None
        self.curve.show_curve(self.shown.curve, running)

    def _on_moved(self, looks: tuple[Care, ...], to: date) -> None:
        row = self.chart.row
        if row is not None and self.shown is not None:
            self.deeds.move(looks, to, after_moving(row.looks, looks, to, self.shown.today))

    def _on_look(self) -> None:
        if self.chart.row is not None:
            self.deeds.look(self.chart.row.course.plant)

    def _on_overrule(self) -> None:
        if self.chart.row is not None and self.chart.row.course.looks:
            self.deeds.overrule(self.chart.row.course)

    def _on_settle(self) -> None:
        if self.chart.row is not None:
            self.deeds.settle(self.chart.row.course.plant)

    def _on_bench(self) -> None:
        if self.chart.row is not None:
            self._signals.to_bench.emit((self.chart.row.course.plant,))

    def _on_why(self) -> WhyBox | None:
        row = self.chart.row
        if row is None:
            return None
        why = row.course.why_ended or (row.course.looks[-1].why if row.course.looks else ())
        return ask_why(f"{row.course.plant}: {told.verdict(row)}", why, self._look, self) if why else None

    def _on_forecast(self) -> WhyBox | None:
        row = self.chart.row
        if row is None or row.outlook is None:
            return None
        return ask_why(f"{row.course.plant}: {told.likely(row, row.course.last)}", row.outlook.why, self._look, self)

    def _on_outcomes(self) -> WhyBox | None:
        if self.shown is None:
            return None
        return ask_why("Stepping in or leaving alone", self.shown.outcomes.why, self._look, self)

    def _on_start(self) -> StartBox:
        box = StartBox(self._desk.read(transitions_start.waiting),
                       lambda plant: self._desk.read(transitions_start.asked, plant, self._desk.clock()), self._look,
                       self.window())
        box.bench.connect(lambda plant: self._signals.to_bench.emit((plant,)))
        box.anyway.connect(self.deeds.start)
        box.open()
        return box

    def _on_month(self) -> MonthBox:
        now = self._desk.clock()
        today = self.shown.today if self.shown else now.date()
        return opened(MonthBox(today, lambda month: self._desk.read(month_pages, now, month, paper.measure),
                               self.window()), self._signals)

    def _on_export(self) -> Form:
        return calendar_form(self._choose_file, self.window())

    def _choose_file(self, kinds: Kinds, events: bool) -> QFileDialog:
        dialog = QFileDialog(self.window(), TITLE, "care.ics", "Calendars (*.ics)")
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setDefaultSuffix("ics")
        dialog.setOption(QFileDialog.Option.DontConfirmOverwrite, True)  # a calendar of ours is updated, not lost
        dialog.fileSelected.connect(lambda name: self.write_calendar(Path(name), kinds, events))
        dialog.open()
        return dialog

    def write_calendar(self, path: Path, kinds: Kinds = frozenset(CareKind), events: bool = False) -> None:
        """Write care of these kinds to `path` as a calendar; says what was written."""
        try:
            made = calendar.to_file(self._desk, path, kinds, events)
        except Refused as refusal:
            self._signals.refused.emit(refusal)
            return
        self._signals.noted.emit(f"{made.words} {path.name} can be taken into any calendar, again and again.")
