"""The trace: which find, its picture over time, the way back in words, and whom to inspect next."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QBoxLayout, QComboBox, QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from greenhouse_desk.domain.care import Reason
from greenhouse_desk.domain.chances import Chance
from greenhouse_desk.domain.outbreak import open_status
from greenhouse_desk.services import outbreaks, tracing
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.inspections import Turn
from greenhouse_desk.services.tracing import Finding, Picture
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.quarantine.trace_paint import TraceView, legend_line
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.wheel import calm
from greenhouse_desk.ui.words import counted, day

NEXT_MOST = 5
NARROW = 700
OPEN, SHOW = "Open an outbreak", "See the outbreak"
NOT_FOLLOWED = "Not on record, so not followed: hands between sessions, what flies."
LINKS = (("place", "stood side by side"), ("tool", "a tool not disinfected, water or a tray shared"),
         ("session", "one session, same hands"))


class Sample(QWidget):
    """How one kind of link is drawn."""

    def __init__(self, kind: str, palette: Palette) -> None:
        super().__init__()
        self._kind, self._look = kind, palette
        self.setFixedSize(QSize(42, 22))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the sample."""
        painter = QPainter(self)
        legend_line(painter, QRectF(self.rect()), self._kind, self._look)
        painter.end()


class TracePage(QWidget):
    """`chosen(plant)` tells a plant that was pressed, `why(title, reasons)` asks for a reasoning to be shown,
    `outbreak_wanted` for an outbreak to be opened, `outbreak_shown` for the one that goes on."""

    chosen = Signal(int)
    why = Signal(str, object)
    outbreak_wanted = Signal(int, str)
    outbreak_shown = Signal()

    def __init__(self, desk: Desk, palette: Palette) -> None:
        super().__init__()
        self._desk, self._look = desk, palette
        self.finds: tuple[Finding, ...] = ()
        self._turns: Sequence[Turn] = ()
        self.box = calm(QComboBox())
        self.box.setAccessibleName("The find to trace")
        self.box.currentIndexChanged.connect(self._on_find_chosen)
        self.open_button = button(OPEN, name="Open an outbreak from this find")
        self.open_button.clicked.connect(self._on_outbreak)
        self.view = TraceView(palette)
        self.view.chosen.connect(self.chosen)
        self._empty = label("Nothing was found within the window of days, so there is nothing to trace.", "second")
        self._foot = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._foot.setSpacing(24)
        self._reading, self._next = QVBoxLayout(), QVBoxLayout()
        self._build()

    def _build(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 0, 24, 16)
        column.setSpacing(8)
        head = QHBoxLayout()
        head.addWidget(label("Found", "second", wrap=False))
        head.addWidget(self.box, 1)
        head.addWidget(self.open_button)
        column.addLayout(head)
        column.addWidget(self._empty)
        area = QScrollArea()
        area.setWidget(self.view)
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setMinimumHeight(260)
        column.addWidget(area, 1)
        for part, stretch in ((self._reading, 3), (self._next, 2), (self._links(), 2)):
            part.setSpacing(4)
            self._foot.addLayout(part, stretch)
        column.addLayout(self._foot)

    def _links(self) -> QVBoxLayout:
        column = QVBoxLayout()
        column.addWidget(heading("Links, strongest first", 18))
        for kind, words in (LINKS[1], LINKS[0], LINKS[2]):
            row = QHBoxLayout()
            row.addWidget(Sample(kind, self._look))
            row.addWidget(label(words), 1)
            column.addLayout(row)
        column.addWidget(label(NOT_FOLLOWED, "second", px=13))
        column.addStretch(1)
        return column

    def show_rows(self, turns: Sequence[Turn]) -> None:
        """Read what can be traced anew, keep the find that was taken, list whom to inspect next."""
        taken = self.taken()
        self.finds = self._desk.read(tracing.findings, self._desk.clock())
        today = self._desk.clock().date()
        self.box.blockSignals(True)
        self.box.clear()
        self.box.addItems([f"{find.name} on {find.plant}, {day(find.day, today)}" for find in self.finds])
        kept = next((nth for nth, find in enumerate(self.finds)
                     if taken is not None and (find.plant, find.what) == (taken.plant, taken.what)), None)
        self.box.setCurrentIndex(self._likely() if kept is None else kept)
        self.box.blockSignals(False)
        self._turns = turns
        self._show_taken()

    def _likely(self) -> int:
        """The first find shown: the newest of what was found on most plants."""
        tally = [sum(other.what == find.what for other in self.finds) for find in self.finds]
        return tally.index(max(tally)) if tally else -1

    def taken(self) -> Finding | None:
        """The find that is traced."""
        at = self.box.currentIndex()
        return self.finds[at] if 0 <= at < len(self.finds) else None

    def take(self, plant: int) -> None:
        """Trace what was found on a plant, if anything was."""
        at = next((nth for nth, find in enumerate(self.finds) if find.plant == plant), None)
        if at is not None:
            self.box.setCurrentIndex(at)

    def _show_taken(self) -> None:
        find = self.taken()
        self._empty.setVisible(find is None)
        self.view.setVisible(find is not None)
        self.open_button.setEnabled(find is not None)
        runs = find is not None and self._desk.read(outbreaks.goes_on, self._desk.clock(), find.what)
        self.open_button.setText(SHOW if runs else OPEN)
        self.open_button.setAccessibleName("See the outbreak that goes on" if runs else
                                           "Open an outbreak from this find")
        picture = None if find is None else self._desk.read(
            tracing.picture, find.plant, find.what, find.day, self._desk.clock())
        self.view.show_picture(picture)
        self._show_reading(picture)
        self._show_next(inspected_next(picture, self._turns))

    def _show_reading(self, picture: Picture | None) -> None:
        _clear(self._reading)
        self._reading.addWidget(heading("Reading", 18))
        if picture is not None:
            for step in picture.steps:
                self._reading.addWidget(label(f"{step.nth}  {step.words}"))
            self._reading.addWidget(label(conclusion(picture), bold=True))
            shown = button("All links", "small", "Every plant it can have come from or reached, with the reason")
            shown.clicked.connect(lambda: self.why.emit(f"{picture.name} on {picture.plant}", links(picture)))
            self._reading.addWidget(shown, 0, Qt.AlignmentFlag.AlignLeft)
        self._reading.addStretch(1)

    def _show_next(self, wanted: Sequence[Turn]) -> None:
        _clear(self._next)
        self._next.addWidget(heading("Inspect these next", 18))
        for turn in wanted:
            row = QHBoxLayout()
            row.addWidget(label(str(turn.plant), bold=True, px=15, wrap=False))
            row.addWidget(label(f"{turn.chance.words}, {turn.place}"), 1)
            why = button("why?", "small", f"Why {turn.chance.words} for {turn.plant}")
            why.clicked.connect(lambda _checked=False, turn=turn: self._on_why(turn.plant, turn.chance))
            row.addWidget(why)
            self._next.addLayout(row)
        if not wanted:
            self._next.addWidget(label("No look at a plant it met would tell anything new today.", "second"))
        self._next.addStretch(1)

    def _on_why(self, plant: int, chance: Chance) -> None:
        self.why.emit(f"The chance that {plant} carries something", chance.why)

    def _on_find_chosen(self, _at: int) -> None:
        self._show_taken()

    def _on_outbreak(self) -> None:
        find = self.taken()
        if self.open_button.text() == SHOW:
            self.outbreak_shown.emit()
        elif find is not None:
            self.outbreak_wanted.emit(find.plant, find.what)

    def set_narrow(self, narrow: bool) -> None:
        """In a narrow window the lists stand under each other."""
        ways = QBoxLayout.Direction
        self._foot.setDirection(ways.TopToBottom if narrow else ways.LeftToRight)


def inspected_next(picture: Picture | None, turns: Sequence[Turn]) -> tuple[Turn, ...]:
    """Of the plants on the trace, those whose look would tell something: held back by this very pest first, then by
    their chance, as `turns` come."""
    if picture is None:
        return ()
    met = {link.plant for link in (*picture.traced.back, *picture.traced.forward)}
    wanted = [turn for turn in turns if turn.plant in met and not turn.not_now]
    return tuple(sorted(wanted, key=lambda turn: open_status(turn.standing, picture.what) is None)[:NEXT_MOST])


def conclusion(picture: Picture) -> str:
    """What the way back comes to; a trace proves nothing."""
    back, ahead = len(picture.traced.back), len(picture.traced.forward)
    points = f"So {picture.source} is likely, not proven."
    if picture.source is None:
        points = ("Nothing it met before is on record." if back == 0 else
                  "It was found on none of those it met before, so nothing points to one of them.")
    others = f"It can have come from {counted(back, 'plant')} and reached {ahead}."
    return " ".join(filter(None, (points, picture.brought, others)))


def links(picture: Picture) -> tuple[Reason, ...]:
    """Every link of a trace, back first, then forward, each with its contacts."""
    traced, told = picture.traced, list[Reason]()
    for way, found in (("Back to", traced.back), ("On to", traced.forward)):
        for link in found:
            seen = f", found on it on {day(link.seen, picture.today)}" if link.seen else ""
            told.append(Reason(f"{way} {link.plant}, {day(link.day, picture.today)}{seen}.", "; ".join(link.words)))
    return (*told, Reason(conclusion(picture), "worked out from the steps above"))


def _clear(column: QVBoxLayout) -> None:
    while (item := column.takeAt(0)) is not None:
        inner = item.layout()
        if isinstance(inner, QHBoxLayout):
            while (part := inner.takeAt(0)) is not None:
                _drop(part.widget())
            inner.deleteLater()
        _drop(item.widget())


def _drop(widget: QWidget | None) -> None:
    if widget is not None:
        widget.hide()
        widget.deleteLater()
