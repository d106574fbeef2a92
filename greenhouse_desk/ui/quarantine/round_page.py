"""A round of looks: one plant after another, where its likely pests hide, and a key for each answer."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QBoxLayout, QComboBox, QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from greenhouse_desk.domain.quarantine import EXPOSED
from greenhouse_desk.services import inspections
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.inspections import Guide, Turn
from greenhouse_desk.ui import drawing
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.quarantine.deeds import LENSES, QuarantineDeeds
from greenhouse_desk.ui.quarantine.where_drawing import WhereDrawing
from greenhouse_desk.ui.style import Palette, serif
from greenhouse_desk.ui.wheel import calm
from greenhouse_desk.ui.words import counted, day

SPOTS_MOST = 6
KEYS = "Keys: C clean, S sighting, N next without a look, B back, L lens, O outbreak, Ctrl+Z take back."


class RoundPage(QWidget):
    """Thirty plants in a row, the cleanest first. `why(title, reasons)` asks for a reasoning to be shown."""

    why = Signal(str, object)

    def __init__(self, desk: Desk, palette: Palette, deeds: QuarantineDeeds) -> None:
        super().__init__()
        self._desk, self._deeds = desk, deeds
        self.queue: tuple[int, ...] = ()
        self.at = 0
        self._done: set[int] = set()
        self._turns: dict[int, Turn] = {}
        self._guide: Guide | None = None
        self.title, self.name, self.stands = heading("", 44), heading("", 23), label(bold=True, px=15)
        self.name.setFont(serif(23, 400))
        self.name.setTextFormat(Qt.TextFormat.RichText)
        self.count, self.notice = label("", "second"), label("", "due", bold=True)
        self.where = WhereDrawing(palette)
        self._searches = QVBoxLayout()
        self.lens = calm(QComboBox())
        self.lens.addItems(LENSES)
        self.lens.setAccessibleName("Lens used")
        self.buttons = {
            "C": button("Clean  C", "main", "Clean look"), "S": button("Sighting  S", name="A pest or disease seen"),
            "N": button("Next  N", name="Next plant without a look"), "B": button("Back  B", name="Back one plant"),
            "O": button("Outbreak  O", name="Open an outbreak of what was seen on this plant")}
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._keys = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._build()
        self._listen()

    def _build(self) -> None:
        said = QVBoxLayout()
        said.setSpacing(6)
        head = QHBoxLayout()
        head.setSpacing(16)
        head.addWidget(self.title)
        named = QVBoxLayout()
        named.addWidget(self.name)
        named.addWidget(self.count)
        head.addLayout(named, 1)
        said.addLayout(head)
        for told in (self.stands, self.notice):
            said.addWidget(told)
        self._searches.setSpacing(3)
        said.addLayout(self._searches)
        said.addStretch(1)
        inner = QWidget()
        self._both = QBoxLayout(QBoxLayout.Direction.LeftToRight, inner)
        self._both.setContentsMargins(16, 14, 16, 14)
        self._both.setSpacing(24)
        self._both.addLayout(said, 3)
        self._both.addWidget(self.where, 2)
        area = QScrollArea()
        area.setWidget(inner)
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        sheet = QFrame()
        sheet.setProperty("ground", "sheet")
        sheet.setProperty("edge", "all")
        within = QVBoxLayout(sheet)
        within.setContentsMargins(0, 0, 0, 0)
        within.addWidget(area)
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 0, 24, 16)
        column.setSpacing(10)
        column.addWidget(sheet, 1)
        column.addLayout(self._key_row())
        column.addWidget(label(KEYS, "second", px=13))

    def _key_row(self) -> QBoxLayout:
        """The keys, and beside them, or under them in a narrow window, paper and lens."""
        row, more = QHBoxLayout(), QHBoxLayout()
        for part, share in ((row, 7), (more, 2)):
            part.setSpacing(8)
            self._keys.addLayout(part, share)
        self._keys.setSpacing(8)
        for key in ("C", "S", "N", "B", "O"):
            self.buttons[key].setMinimumHeight(44)
            row.addWidget(self.buttons[key], 2 if key in "CS" else 1)
        printing = button("Print…", name="Print this round")
        printing.clicked.connect(lambda: self._deeds.print_round(self.queue))
        more.addWidget(printing)
        more.addWidget(label("Lens  L", wrap=False))
        more.addWidget(self.lens, 1)
        return self._keys

    def _listen(self) -> None:
        answers = {"C": self._on_clean, "S": self._on_sighting, "N": self._on_next, "B": self._on_back,
                   "O": self._on_outbreak}
        for key, slot in answers.items():
            self.buttons[key].clicked.connect(slot)
        for key in (*answers, "L"):
            shortcut = QShortcut(QKeySequence(key), self)
            shortcut.setContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            shortcut.activated.connect(self._on_lens if key == "L" else self.buttons[key].click)

    def begin(self, turns: Sequence[Turn], numbers: Sequence[int] = ()) -> None:
        """Begin a round: of these plants, or of the likeliest whose look counts today."""
        known = [turn for turn in turns if turn.plant in numbers]
        chosen = inspections.round_of(known, len(known)) if numbers else inspections.round_of(turns)
        masked = [turn.plant for turn in known if turn.not_now]
        self.queue, self.at, self._done = (*(turn.plant for turn in chosen), *masked), 0, set()
        self.show_rows(turns)
        self.setFocus()

    def show_rows(self, turns: Sequence[Turn]) -> None:
        """Show the plant whose turn it is, read anew."""
        self._turns = {turn.plant: turn for turn in turns}
        if not self.queue and turns:
            self.queue = tuple(turn.plant for turn in inspections.round_of(turns))
        self._show()

    @property
    def turn(self) -> Turn | None:
        """The plant whose turn it is."""
        return self._turns.get(self.queue[self.at]) if self.at < len(self.queue) else None

    def _show(self) -> None:
        turn = self.turn
        for key, made in self.buttons.items():
            made.setEnabled(turn is not None or key == "B")
        self.where.setVisible(turn is not None)
        self._clear()
        if turn is None:
            self._guide = None
            self.title.setText("")
            self.name.setAccessibleName("")
            self.name.setText("The round is done" if self.queue else "No look would tell anything new today")
            self.count.setText(f"{counted(len(self._done), 'look')} written down" if self.queue else "")
            self.stands.setText("")
            self.notice.hide()
            return
        self._guide = self._desk.read(inspections.guide, self._desk.clock(), turn)
        self.title.setText(str(turn.plant))
        self.name.setText(drawing.name_html(turn.name))
        self.name.setAccessibleName(turn.name.plain)
        last = "never looked at" if turn.last is None else f"last look {day(turn.last)}"
        self.count.setText(f"{self.at + 1} of {len(self.queue)}, {turn.place or 'no place'}, {last}")
        self.stands.setText(f"{turn.standing.word}: {turn.standing.why}")
        self.notice.setText(f"A look now: {turn.not_now}." if turn.not_now else "")
        self.notice.setVisible(bool(turn.not_now))
        self._show_guide(self._guide)

    def _show_guide(self, guide: Guide) -> None:
        searches = guide.searches[:SPOTS_MOST]
        self.where.show_spots(guide.habit, [one.spot for one in searches])
        told: set[str] = set()
        for nth, search in enumerate(searches, 1):
            known = [guide.names.get(key, key) for key in search.pests]
            self._searches.addWidget(label(f"{nth}  {search.spot.value}" + (f": {', '.join(known)}" if known else ""),
                                           bold=True))
            for key in search.pests:
                if key in guide.looks and key not in told:
                    told.add(key)
                    self._searches.addWidget(label(f"{guide.names[key]}: {guide.looks[key]}", "second", px=13))

    def _clear(self) -> None:
        while (item := self._searches.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()

    def _on_clean(self) -> None:
        turn = self.turn
        if turn is not None:
            self.at += 1
            if self._deeds.clean(turn.plant, self.lens.currentText()):
                self._done.add(turn.plant)
            else:
                self.at -= 1
            self._show()

    def _on_sighting(self) -> None:
        turn, guide = self.turn, self._guide
        if turn is not None and guide is not None:
            self._deeds.sighting(turn.plant, self.lens.currentText(), [what for what, _ in guide.expected],
                                 [one.spot for one in guide.searches], lambda _what: self._done.add(turn.plant))

    def _on_outbreak(self) -> None:
        turn = self.turn
        found = [] if turn is None else [one for one in turn.standing.statuses if one.what and one.rank > EXPOSED]
        if turn is not None and found:
            self._deeds.outbreak(turn.plant, found[0].what)
        elif turn is not None:
            self._deeds.signals.noted.emit(f"Nothing is written down as seen on {turn.plant}: press S first.")

    def _on_next(self) -> None:
        self.at = min(self.at + 1, len(self.queue))
        self._show()

    def _on_back(self) -> None:
        self.at = max(0, self.at - 1)
        self._show()

    def _on_lens(self) -> None:
        self.lens.setCurrentIndex((self.lens.currentIndex() + 1) % self.lens.count())

    def set_narrow(self, narrow: bool) -> None:
        """In a narrow window the drawing stands under the words, and the lens under the keys."""
        ways = QBoxLayout.Direction
        self._keys.setDirection(ways.TopToBottom if narrow else ways.LeftToRight)
        self._both.setDirection(ways.TopToBottom if narrow else ways.LeftToRight)
