"""Choosing for the bench: open sessions first, then all plants with their past, and beside them what is chosen."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLineEdit,
    QListView,
    QScrollArea,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from greenhouse_desk.domain.protocols import Protocol
from greenhouse_desk.services.treatments import Candidate, Move, OpenSitting
from greenhouse_desk.ui.bench.candidates import CandidateDelegate, CandidateModel, Row
from greenhouse_desk.ui.bench.choices import Choices
from greenhouse_desk.ui.bench.chosen import ChosenList
from greenhouse_desk.ui.bench.reasons import MarkBox
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.sides import Sides, filled
from greenhouse_desk.ui.style import Palette, sans
from greenhouse_desk.ui.words import counted

SIDE = 372


class PlantList(QListView):
    """The list; Space, Enter and a press choose or drop the plant. `toggled` carries its number."""

    toggled = Signal(int)

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self.rows = CandidateModel(self)
        self.setModel(self.rows)
        self.setItemDelegate(CandidateDelegate(palette, self))
        self.setProperty("ground", "sheet")
        self.setResizeMode(QListView.ResizeMode.Adjust)  # how high a row is depends on the width it has
        self.setLayoutMode(QListView.LayoutMode.Batched)  # what is in sight first, thousands of rows after it
        self.setSelectionMode(QListView.SelectionMode.NoSelection)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("Plants that can go to the bench")
        self.clicked.connect(self._on_clicked)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Space, Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._on_clicked(self.currentIndex())
        else:
            super().keyPressEvent(event)

    def _on_clicked(self, index: QModelIndex) -> None:
        if index.isValid():
            self.toggled.emit(self.rows.rows[index.row()].candidate.plant)


class OpenRow(QFrame):
    """A session not ended, with the button that takes it up again. `wanted` carries its id."""

    wanted = Signal(int)

    def __init__(self, session: int, words: str, palette: Palette, over: bool = False) -> None:
        super().__init__()
        self.session = session
        self.setProperty("edge", "urgent" if over else "water")
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 8, 8, 8)
        row.setSpacing(10)
        row.addWidget(MarkBox("soak", palette), 0, Qt.AlignmentFlag.AlignVCenter)
        row.addWidget(label(words.replace("; ", "\n"), px=15), 1)  # one thing that stands open a line
        self.button = button("Take it up again", "main", f"Take up again: {words}")
        self.button.clicked.connect(lambda: self.wanted.emit(session))
        row.addWidget(self.button)


class ChooserPage(QWidget):
    """`toggled` a plant, `protocol_chosen` plant and protocol, `washed` and `reasoned` what goes against a rule,
    `typed` a number, `take_up` a session, `go` on."""

    toggled = Signal(int)
    protocol_chosen = Signal(int, str)
    washed = Signal(int, bool)
    reasoned = Signal(int, str)
    typed = Signal(int)
    take_up = Signal(int)
    go = Signal()
    keys = Signal()
    screen_size = Signal()

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self._look = palette
        self._all: tuple[Candidate, ...] = ()
        self._choices = Choices()
        self.search = QLineEdit()
        self.search.setFont(sans(15))
        self.search.setPlaceholderText("Find number, name, pest or note; Enter adds a number")
        self.search.setAccessibleName("Find a plant; type its number and press Enter to add it")
        self.search.setClearButtonEnabled(True)
        for clear in self.search.findChildren(QToolButton):
            clear.setAccessibleName("Clear what was typed")
        self.search.textChanged.connect(self._on_searched)
        self.search.returnPressed.connect(self._on_entered)
        self.list = PlantList(palette)
        self.list.toggled.connect(self.toggled)
        self.empty = label("", "second", px=15)
        self.chosen = ChosenList(palette)
        self.chosen.changed.connect(self.protocol_chosen)
        self.chosen.washed.connect(self.washed)
        self.chosen.reasoned.connect(self.reasoned)
        self.chosen.dropped.connect(self.toggled)
        self.go_button = button("Before you start", "main")
        self.go_button.clicked.connect(self.go)
        self.not_now = label("", "second")
        self.keys_button = button("Keys and pedal")
        self.keys_button.clicked.connect(self.keys)
        self.size_button = button("Screen size")
        self.size_button.clicked.connect(self.screen_size)
        self._count, self._open = heading("", 20), QVBoxLayout()
        self.open_rows: list[OpenRow] = []
        self._renew_at: datetime | None = None
        self._typed = 0
        self._build()

    def _build(self) -> None:
        page = QWidget()
        left = QVBoxLayout(page)
        left.setContentsMargins(24, 18, 20, 16)
        left.setSpacing(10)
        left.addWidget(heading("At the bench", 26))
        self._open.setSpacing(8)
        left.addLayout(self._open)
        left.addWidget(self.search)
        left.addWidget(self.list, 1)
        left.addWidget(self.empty, 1)
        self._sides = Sides(page, self._side(), SIDE)
        self.search.textEdited.connect(lambda _text: self._sides.ensureWidgetVisible(self.search))
        filled(self, self._sides)

    def _side(self) -> QFrame:
        side = QFrame()
        side.setProperty("ground", "sheet")
        side.setProperty("edge", "left")
        self._area = area = QScrollArea()
        area.verticalScrollBar().rangeChanged.connect(lambda _low, _high: self._on_longer())
        area.setWidget(self.chosen)
        area.setWidgetResizable(True)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._hint = label("Choose plants at the left, or type a number. What care, looks and counts ask for is "
                           "proposed for each; you decide.", "second")
        column = QVBoxLayout(side)
        column.setContentsMargins(18, 20, 10, 16)
        column.setSpacing(8)
        column.addWidget(self._count)
        column.addWidget(self._hint)
        column.addWidget(area, 1)
        foot = QGridLayout()
        foot.setContentsMargins(0, 0, 8, 0)
        foot.setSpacing(8)
        foot.addWidget(self.keys_button, 0, 0)
        foot.addWidget(self.size_button, 0, 1)
        foot.addWidget(self.go_button, 1, 0, 1, 2)
        foot.addWidget(self.not_now, 2, 0, 1, 2)
        column.addLayout(foot)
        return side

    def show_plants(self, candidates: Sequence[Candidate], choices: Choices,
                    protocols: Sequence[Protocol], moves: Mapping[int, Move]) -> None:
        """Show all plants and what is chosen; `moves` tells of those that are to move whether they may."""
        self._all, self._choices = tuple(candidates), choices
        known = {one.plant: one for one in candidates}
        self.chosen.show_chosen(choices.of, known, protocols, moves)
        some, without = len(choices.of), choices.undecided
        self._count.setText(f"{counted(some, 'plant')} for this session" if some else "For this session")
        self._hint.setVisible(not some)
        self.go_button.setEnabled(some > 0 and not without)
        missing = f"Choose a protocol for {', '.join(map(str, without))} first" if without else ""
        self.go_button.setText("Before you start" if not missing else missing if len(without) < 4 else
                               "Choose a protocol for each first")
        why = "" if some and not without else f"Not now: {'no plant is chosen' if not some else _first(missing)}."
        self.go_button.setAccessibleDescription(why)
        self.not_now.setText(why)
        self.not_now.setVisible(bool(why))
        self._on_searched(self.search.text())

    def show_open(self, sessions: Sequence[tuple[OpenSitting, str]]) -> None:
        """Show the sessions not ended, each with its words; the keyboard stays at the session it was at."""
        self._renew_at = min((one.renew_at for one, _ in sessions if one.renew_at is not None), default=None)
        held = next((row.session for row in self.open_rows if row.button.hasFocus()), 0)
        for row in self.open_rows:
            self._open.removeWidget(row)
            row.deleteLater()
        self.open_rows = [OpenRow(one.id, words, self._look, one.over) for one, words in sessions]
        for row in self.open_rows:
            row.wanted.connect(self.take_up)
            self._open.addWidget(row)
        self.offer(held)

    def begin(self) -> None:
        """Put the keyboard where a number is typed, and that into sight."""
        self.search.setFocus()
        self._sides.ensureWidgetVisible(self.search)

    def _bring(self, plant: int) -> None:
        """Bring a plant that was typed into sight, in the list and among those chosen."""
        row = next((n for n, row in enumerate(self.list.rows.rows) if row.candidate.plant == plant), -1)
        self.list.scrollTo(self.list.rows.index(row), QListView.ScrollHint.PositionAtTop)
        self._typed = plant  # its row has no place yet: the area is laid out with it a moment later

    def _on_longer(self) -> None:
        """The list of those chosen has another length: the plant typed last has its place now."""
        chosen = self.chosen.rows.get(self._typed)
        self._typed = 0
        if chosen is not None:
            self._area.ensureWidgetVisible(chosen)

    def stale(self, now: datetime) -> bool:
        """Whether a soak left running came further, so that its session's words are other ones at `now` (aware UTC)."""
        return self._renew_at is not None and now >= self._renew_at

    def offer(self, session: int) -> None:
        """Put the keyboard on the button that takes this session up again, if it is open."""
        for row in self.open_rows:
            if row.session == session:
                row.show()  # what is still hidden cannot take the keyboard
                row.button.setFocus()

    def _on_searched(self, text: str) -> None:
        words = text.casefold().split()
        found = tuple(Row(one, one.plant in self._choices.of) for one in self._all
                      if all(word in _searched(one) for word in words))
        self.list.rows.show(found)
        self.list.setVisible(bool(found))
        self.empty.setVisible(not found)
        self.empty.setText(f"No plant here answers to “{text.strip()}”." if self._all else
                           "No plants yet. Add plants on the Collection screen first.")

    def _on_entered(self) -> None:
        text = self.search.text().strip()
        if text.isdecimal():
            self.search.setText("")
            self.typed.emit(int(text))
            self._bring(int(text))


def _first(words: str) -> str:
    return words[:1].lower() + words[1:]


def _searched(one: Candidate) -> str:
    return f"{one.plant} {one.name.plain} {one.name.typed} {one.standing.word} {one.past} {one.notes}".casefold()
