"""The plants chosen for the session: each with its protocol, why that one is proposed, and a way out of the list."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QRectF, QSignalBlocker, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QCheckBox, QComboBox, QFrame, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from greenhouse_desk.domain.protocols import Protocol
from greenhouse_desk.services.treatments import Candidate, Choice, Move
from greenhouse_desk.ui import drawing
from greenhouse_desk.ui.bench.choices import may_wash
from greenhouse_desk.ui.messages import button, label
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.wheel import calm

SHORT_TITLE = 30
"""Letters of a title that stand in the box whole; a longer one is said below it too."""
EDGES = 32


class NameStrip(QWidget):
    """A plant's number on its plate and its name beside it."""

    def __init__(self, candidate: Candidate, palette: Palette) -> None:
        super().__init__()
        self._candidate, self._look = candidate, palette
        self.setFixedHeight(36)
        self.setAccessibleName(f"{candidate.plant} {candidate.name.plain}")

    def sizeHint(self) -> QSize:
        return QSize(220, 36)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        drawing.number_plate(painter, QRectF(0, 1, 62, 33), str(self._candidate.plant), self._look, 24)
        name, room = self._candidate.name, self.width() - 76
        if len(drawing.name_lines(name, 17, room, 2)) == 1:
            drawing.name_block(painter, QRectF(74, 7, room, 22), name, self._look, 17, 1, 22)
        else:
            drawing.name_block(painter, QRectF(74, 0, room, 36), name, self._look, 15, 2, 18)
        painter.end()


class ProtocolBox(QComboBox):
    """As narrow as its column wants, its list as wide as the longest title: a grower's own may be a whole sentence."""

    def __init__(self) -> None:
        super().__init__()
        calm(self)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(12)

    def showPopup(self) -> None:
        titles = [self.fontMetrics().horizontalAdvance(self.itemText(n)) for n in range(self.count())]
        self.view().setMinimumWidth(max(titles, default=0) + EDGES)
        super().showPopup()


class ChosenRow(QFrame):
    """One plant chosen. `changed` carries plant and protocol id, `washed` and `reasoned` what goes against a rule,
    `dropped` the plant."""

    changed = Signal(int, str)
    washed = Signal(int, bool)
    reasoned = Signal(int, str)
    dropped = Signal(int)

    def __init__(self, candidate: Candidate, protocols: Sequence[Protocol], palette: Palette) -> None:
        super().__init__()
        self._plant, self._candidate = candidate.plant, candidate
        self._protocols = {one.id: one for one in protocols}
        self._ids = [one.id for one in protocols]
        self.setProperty("edge", "top")
        self.box = ProtocolBox()
        self.box.addItems([f"{one.title}{' (own)' if one.own else ''}" for one in protocols])
        self.box.setPlaceholderText("Choose a protocol")
        self.box.setAccessibleName(f"Protocol for {candidate.plant}")
        self.box.view().setAccessibleName(f"Protocols to choose from for {candidate.plant}")
        self.box.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.box.activated.connect(self._on_picked)
        self.drop = button("Take off", "small", f"Take {candidate.plant} off the list")
        self.drop.clicked.connect(lambda: self.dropped.emit(self._plant))
        proposed = next((one.title for one in protocols if one.id == candidate.proposed), candidate.proposed)
        lead = f"Proposed: {proposed}, because: " if proposed else "Nothing is proposed: "
        self._proposed = f"{lead}{candidate.proposed_why}."
        self.why = label(self._proposed, "second", px=13)
        self.wash = QCheckBox("Wash it all the same")
        self.wash.setAccessibleName(f"Wash {candidate.plant} all the same: {candidate.wash_words}")
        self.wash.toggled.connect(lambda on: self.washed.emit(self._plant, on))
        self.may = label("", px=13)
        self.reason = QLineEdit()
        self.reason.setPlaceholderText("Move it all the same, because...")
        self.reason.setAccessibleName(f"Why {candidate.plant} is moved all the same")
        self.reason.editingFinished.connect(lambda: self.reasoned.emit(self._plant, self.reason.text()))
        pick = QHBoxLayout()
        pick.addWidget(self.box, 1)
        pick.addWidget(self.drop)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 10, 0, 10)
        column.setSpacing(6)
        column.addWidget(NameStrip(candidate, palette))
        column.addLayout(pick)
        for part in (self.why, self.wash, self.may, self.reason):
            column.addWidget(part)

    def show_choice(self, choice: Choice, move: Move | None) -> None:
        """Show what is chosen; `move` tells of a protocol that moves the plant whether it may."""
        self.box.setCurrentIndex(self._ids.index(choice.protocol_id) if choice.protocol_id in self._ids else -1)
        protocol = self._protocols.get(choice.protocol_id)
        wanted = f"Washed {choice.wash_why}." if choice.wash_why else ""
        whole = f"{self.box.currentText()}. " if len(self.box.currentText()) > SHORT_TITLE else ""
        self.why.setText(whole + (wanted or self._proposed))
        self.wash.setVisible(bool(self._candidate.wash_words) and may_wash(protocol))
        with QSignalBlocker(self.wash):
            self.wash.setChecked(choice.wash)
        self.may.setVisible(move is not None)
        self.may.setText(f"May it start? {move.words}" if move is not None else "")
        why = move.why if move is not None else ()
        self.may.setToolTip("\n".join(f"{one.text} [{one.shown}]" for one in why))
        self.reason.setVisible(move is not None and move.waits)
        if not self.reason.hasFocus():
            self.reason.setText(choice.reason)

    def _on_picked(self, row: int) -> None:
        self.changed.emit(self._plant, self._ids[row])


class ChosenList(QWidget):
    """All plants chosen, in the order they were. Rows that stay are kept, and the keyboard's focus with them."""

    changed = Signal(int, str)
    washed = Signal(int, bool)
    reasoned = Signal(int, str)
    dropped = Signal(int)

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self._look = palette
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 8, 0)
        self._column.setSpacing(0)
        self._column.addStretch(1)
        self.rows: dict[int, ChosenRow] = {}
        self._shown: dict[int, Candidate] = {}
        self._protocols: tuple[Protocol, ...] = ()

    def show_chosen(self, choices: Mapping[int, Choice], known: Mapping[int, Candidate],
                    protocols: Sequence[Protocol], moves: Mapping[int, Move]) -> None:
        """Show the choices, and whether those that are to move may, by plant."""
        if tuple(protocols) != self._protocols:
            self._drop(list(self.rows))
            self._protocols = tuple(protocols)
        self._drop([plant for plant in self.rows if plant not in choices or known[plant] != self._shown[plant]])
        for n, (plant, choice) in enumerate(choices.items()):
            if plant not in self.rows:
                self._add(n, known[plant])
            self.rows[plant].show_choice(choice, moves.get(plant))
        self.rows = {plant: self.rows[plant] for plant in choices}

    def _add(self, place: int, candidate: Candidate) -> None:
        row = ChosenRow(candidate, self._protocols, self._look)
        row.changed.connect(self.changed)
        row.washed.connect(self.washed)
        row.reasoned.connect(self.reasoned)
        row.dropped.connect(self.dropped)
        self._column.insertWidget(place, row)
        self.rows[candidate.plant], self._shown[candidate.plant] = row, candidate

    def _drop(self, plants: Sequence[int]) -> None:
        for plant in plants:
            row = self.rows.pop(plant)
            self._column.removeWidget(row)
            row.deleteLater()
