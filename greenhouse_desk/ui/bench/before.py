"""The page before the start: the evening plan with its queue, whether there is time to dry, faults, and the kit.

Title and buttons stand still at the top, so that the start is in sight on any screen; all else scrolls below them.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import datetime, tzinfo

from PySide6.QtCore import QPoint, Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QScrollArea, QVBoxLayout, QWidget

from greenhouse_desk.domain.protocols import Protocol
from greenhouse_desk.services.kit_pages import Kit, kit
from greenhouse_desk.services.shelf import Shelf
from greenhouse_desk.services.treatments import Candidate, Preparation
from greenhouse_desk.ui import words
from greenhouse_desk.ui.bench.columns import Columns
from greenhouse_desk.ui.bench.evening import Place, evening
from greenhouse_desk.ui.bench.kit import DoNotMix, KitPanel
from greenhouse_desk.ui.bench.mixing import others, pairs
from greenhouse_desk.ui.bench.plan_chart import PlanChart
from greenhouse_desk.ui.bench.reasons import FaultList, VerdictPanel
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.sides import filled
from greenhouse_desk.ui.style import Palette

KIT_WIDTH = 316
BAR = 10
STALE_S = 120.0
ANOTHER_PLANT = re.compile(r"(?<=\.) (?=\d+: )")
LATE = re.compile(r"At (\d\d:\d\d) (it is past .*)")


class BeforePage(QWidget):
    """Shows a Preparation. `back` returns to choosing, `begin` starts, `moved` carries a plant and -1 or 1, `paper` the
    Kit that is to be printed."""

    back = Signal()
    paper = Signal(object)
    begin = Signal()
    moved = Signal(int, int)

    def __init__(self, palette: Palette, zone: tzinfo) -> None:
        super().__init__()
        self._look, self._zone = palette, zone
        self.title, self.sub = heading("Plan", 26), label("", "second")
        self.verdict, self.faults = VerdictPanel(palette), FaultList(palette)
        self.notes, self.possible = label(px=15), label(bold=True, px=15)
        self._safe = True
        self.chart, self.kit = PlanChart(palette, zone), KitPanel(palette)
        self.chart.moved.connect(self.moved)
        self.chart.chosen.connect(lambda _plant: self._on_picked())
        self._planned: datetime | None = None
        self._kit: Kit | None = None
        self.kit.paper.connect(lambda: self.paper.emit(self._kit))
        self.back_button = button("Back to choosing")
        self.earlier = button("Earlier", name="Move the plant picked in the plan earlier in the queue")
        self.later = button("Later", name="Move the plant picked in the plan later in the queue")
        self.begin_button = button("Begin at the bench", "main")
        self.back_button.clicked.connect(self.back)
        self.begin_button.clicked.connect(self.begin)
        self.earlier.clicked.connect(lambda: self._on_move(-1))
        self.later.clicked.connect(lambda: self._on_move(1))
        self._build()

    def _build(self) -> None:
        page = QWidget()
        left = QVBoxLayout(page)
        left.setContentsMargins(24, 0, 20, 16)
        left.setSpacing(8)
        left.addWidget(self.sub)
        left.addWidget(self.faults)
        left.addWidget(self.verdict)
        left.addWidget(self.possible)
        left.addWidget(self.notes)
        self._sideways = self._scrolled_chart()
        left.addWidget(self._sideways)
        left.addStretch(1)
        side = QFrame()
        side.setProperty("ground", "sheet")
        side.setProperty("edge", "left")
        inner = QVBoxLayout(side)
        inner.setContentsMargins(0, 0, 0, 0)
        inner.addWidget(self.kit)
        self.columns = Columns(self._head(), page, side, KIT_WIDTH, 800)
        self.columns.left.verticalScrollBar().valueChanged.connect(lambda _at: self.chart.update())
        filled(self, self.columns)

    def _head(self) -> QWidget:
        """Title and buttons; they stand still while everything below them scrolls."""
        made = QWidget()
        head = QHBoxLayout(made)
        head.setContentsMargins(24, 18, 20, 8)
        head.setSpacing(8)
        head.addWidget(self.title, 1)
        for part in (self.back_button, self.earlier, self.later, self.begin_button):
            head.addWidget(part, 0, Qt.AlignmentFlag.AlignTop)
        return made

    def _scrolled_chart(self) -> QScrollArea:
        """The chart as high as it is; it scrolls sideways where a long evening is wider than the page."""
        area = QScrollArea()
        area.setWidget(self.chart)
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.horizontalScrollBar().valueChanged.connect(lambda _at: self.chart.update())
        return area

    def show_preparation(self, found: Preparation, known: Mapping[int, Candidate], protocols: Mapping[int, Protocol],
                         shelf: Shelf) -> None:
        """Show what these choices take; `known` and `protocols` by plant."""
        self._planned = found.starts_at
        places = [Place(plant, known[plant].name.plain, known[plant].standing.word, known[plant].standing.why)
                  for plant, _why in found.order]
        self.chart.show_evening(evening(found.plan, protocols, places, found.starts_at, found.limit, found.limit_name))
        self._sideways.setFixedHeight(self.chart.sizeHint().height() + BAR)
        self.title.setText(plan_title(found.starts_at.astimezone(self._zone)))
        self.chart.setAccessibleName(self.title.text())
        self.sub.setText(self._summary(found))
        self.verdict.show_verdict(found.drying.ok, gathered(found.drying.words), found.drying.why)
        self.faults.show_faults(found.faults)
        chosen = tuple(dict.fromkeys(protocols.values()))
        never, away = pairs(chosen, shelf), others(chosen, shelf)
        self._kit = kit([(plant, known[plant].name.plain, protocols[plant].title) for plant, _why in found.order],
                        found, (never, away), self._zone)
        self.kit.show_kit(found.kit, found.cautions, DoNotMix(never, away, self._look))
        self.possible.setText(found.possible)
        self.possible.setVisible(bool(found.possible))
        notes = (*found.waits, *found.overruled, *found.notes)
        self.notes.setText("\n".join(notes))
        self.notes.setVisible(bool(notes))
        why = "" if found.startable and not found.waits else (
            "Not now: a move should wait" if found.startable else "Not now: agents would meet")
        self.begin_button.setEnabled(not why)
        self.begin_button.setAccessibleDescription(why)
        self.begin_button.setText(why or "Begin at the bench")
        self._lead(found)

    def _lead(self, found: Preparation) -> None:
        """The button that is the safe thing to press stands out: to begin, or to go back where it is too late."""
        self._safe = found.startable and not found.waits and found.drying.ok is not False
        for made, main in ((self.begin_button, self._safe), (self.back_button, not self._safe)):
            made.setProperty("role", "main" if main else "")
            made.style().unpolish(made)
            made.style().polish(made)

    def open_at_top(self) -> None:
        """Opened anew it shows its top, the reasoning folded: it may have been left far down an evening before."""
        self.verdict.why.setChecked(False)
        self.columns.to_top()

    @property
    def lead(self) -> QPushButton:
        """The button the keyboard begins at."""
        return self.begin_button if self._safe else self.back_button

    def stale(self, now: datetime) -> bool:
        """Whether the plan shown was made so long before `now` (aware) that its times no longer hold."""
        return self._planned is not None and abs((now - self._planned).total_seconds()) >= STALE_S

    def _summary(self, found: Preparation) -> str:
        def time(moment: datetime) -> str:
            return words.clock(moment, self._zone)

        day = words.weekday(found.starts_at.astimezone(self._zone).date())
        said = [f"{day}, {words.counted(len(found.order), 'plant')}, one pair of hands",
                f"{time(found.starts_at)} to about {time(found.ends_at)}"]
        if found.limit is not None:
            said.append(f"{found.limit_name} {time(found.limit)}")
        rule = found.plan.rule
        if found.overruled:
            rule = f"in your own order;{rule.partition(';')[2]}"
        return "; ".join((*said, *found.plan.overruns)) + f". Queue: {rule}."

    def _on_picked(self) -> None:
        """Keep the lane picked in sight."""
        top, high = self.chart.lane_place()
        at = self.chart.mapTo(self.columns.left.widget() or self, QPoint(0, round(top + high / 2)))
        self.columns.left.ensureVisible(0, at.y(), 0, round(high / 2) + 40)

    def _on_move(self, way: int) -> None:
        if self.chart.plant is not None:
            self.moved.emit(self.chart.plant, way)


def plan_title(start: datetime) -> str:
    """What the plan of a session is called that begins at `start`, a local time: by its part of the day."""
    parts = ((5, "Night"), (12, "Morning"), (17, "Afternoon"), (23, "Evening"))
    return f"{next((part for until, part in parts if start.hour < until), 'Night')} plan"


def gathered(said: str) -> str:
    """Verdicts on several plants, a line each, with plants of whom the same is said named together."""
    plants: dict[str, list[str]] = {}
    first: dict[str, str] = {}
    for one in ANOTHER_PLANT.split(said):
        plant, colon, rest = one.partition(": ")
        late = LATE.fullmatch(rest)
        what = late.group(2) if late else rest if colon and plant.isdecimal() else one
        plants.setdefault(what, []).append(plant)
        if late:
            first.setdefault(what, late.group(1))
    return "\n".join(_of_all(what, who, first.get(what, "")) for what, who in plants.items())


def _of_all(what: str, who: Sequence[str], first: str) -> str:
    """What is said of these plants; of several that are wetted too late from when on."""
    said = f"{f'From {first} on' if len(who) > 1 else f'At {first}'} {what}" if first else what
    return f"{', '.join(who)}: {said}" if who[0].isdecimal() else said


def moved(order: Sequence[int], plant: int, way: int) -> tuple[int, ...]:
    """The queue with `plant` one place earlier (-1) or later (1); unchanged at its ends."""
    places = list(order)
    at = places.index(plant)
    to = at + way
    if 0 <= to < len(places):
        places[at], places[to] = places[to], places[at]
    return tuple(places)

