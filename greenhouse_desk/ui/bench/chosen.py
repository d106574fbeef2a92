"""The plants chosen for the session: each with its protocol, why that one is proposed, and a way out of the list."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QComboBox, QFrame, QHBoxLayout, QVBoxLayout, QWidget

from greenhouse_desk.domain.protocols import Protocol
from greenhouse_desk.services.treatments import Candidate
from greenhouse_desk.ui import drawing
from greenhouse_desk.ui.messages import button, label
from greenhouse_desk.ui.style import Palette


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
        drawing.name_block(painter, QRectF(74, 7, self.width() - 76, 22), self._candidate.name, self._look, 17, 1, 22)
        painter.end()


class ChosenRow(QFrame):
    """One plant chosen. `changed` carries plant and protocol id, `dropped` the plant."""

    changed = Signal(int, str)
    dropped = Signal(int)

    def __init__(self, candidate: Candidate, protocol: str, protocols: Sequence[Protocol], palette: Palette) -> None:
        super().__init__()
        self._plant = candidate.plant
        self._ids = [one.id for one in protocols]
        self.setProperty("edge", "top")
        self.box = QComboBox()
        self.box.addItems([f"{one.title}{' (own)' if one.own else ''}" for one in protocols])
        self.show_protocol(protocol)
        self.box.setAccessibleName(f"Protocol for {candidate.plant}")
        self.box.view().setAccessibleName(f"Protocols to choose from for {candidate.plant}")
        self.box.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.box.activated.connect(self._on_picked)
        self.drop = button("Take off", "small", f"Take {candidate.plant} off the list")
        self.drop.clicked.connect(lambda: self.dropped.emit(self._plant))
        proposed = next((one.title for one in protocols if one.id == candidate.proposed), candidate.proposed)
        why = label(f"Proposed: {proposed}, because: {candidate.proposed_why}.", "second", px=13)
        pick = QHBoxLayout()
        pick.addWidget(self.box, 1)
        pick.addWidget(self.drop)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 10, 0, 10)
        column.setSpacing(6)
        column.addWidget(NameStrip(candidate, palette))
        column.addLayout(pick)
        column.addWidget(why)

    def show_protocol(self, protocol: str) -> None:
        """Show this protocol as the one chosen."""
        self.box.setCurrentIndex(self._ids.index(protocol) if protocol in self._ids else -1)

    def _on_picked(self, row: int) -> None:
        self.changed.emit(self._plant, self._ids[row])


class ChosenList(QWidget):
    """All plants chosen, in the order they were. Rows that stay are kept, and the keyboard's focus with them."""

    changed = Signal(int, str)
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

    def show_chosen(self, choices: Mapping[int, str], known: Mapping[int, Candidate],
                    protocols: Sequence[Protocol]) -> None:
        """Show the choices, protocol id by plant."""
        if tuple(protocols) != self._protocols:
            self._drop(list(self.rows))
            self._protocols = tuple(protocols)
        self._drop([plant for plant in self.rows if plant not in choices or known[plant] != self._shown[plant]])
        for n, (plant, protocol) in enumerate(choices.items()):
            if plant in self.rows:
                self.rows[plant].show_protocol(protocol)
            else:
                self._add(n, known[plant], protocol)
        self.rows = {plant: self.rows[plant] for plant in choices}

    def _add(self, place: int, candidate: Candidate, protocol: str) -> None:
        row = ChosenRow(candidate, protocol, self._protocols, self._look)
        row.changed.connect(self.changed)
        row.dropped.connect(self.dropped)
        self._column.insertWidget(place, row)
        self.rows[candidate.plant], self._shown[candidate.plant] = row, candidate

    def _drop(self, plants: Sequence[int]) -> None:
        for plant in plants:
            row = self.rows.pop(plant)
            self._column.removeWidget(row)
            row.deleteLater()
