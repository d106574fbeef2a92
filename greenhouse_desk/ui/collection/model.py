"""The plants on the canvas as a list model: a tuple of seats with one `show`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractListModel, QModelIndex, QPersistentModelIndex, Qt

from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services.collection import BenchRow, Card, Overview
from greenhouse_desk.ui.collection.care_rows import because

Index = QModelIndex | QPersistentModelIndex
SEAT = int(Qt.ItemDataRole.UserRole)
NOWHERE = Place(0, "No place yet")


@dataclass(frozen=True, slots=True)
class Seat:
    """A plant on its bench: the card, the bench's place (id 0: none yet) and its path, whether it stands apart."""

    card: Card
    bench: int
    place: int
    where: str
    isolation: bool

    @property
    def number(self) -> int:
        return self.card.plant.number


class CardModel(QAbstractListModel):
    """Seats in house order."""

    def __init__(self) -> None:
        super().__init__()
        self.seats: tuple[Seat, ...] = ()
        self._rows: dict[int, int] = {}

    def show(self, seats: Sequence[Seat]) -> None:
        """Show these; a plant that stays in its row is only told changed, so that the selection survives."""
        old, new = self.seats, tuple(seats)
        if [seat.number for seat in old] == [seat.number for seat in new]:
            self.seats = new
            for row, (was, now) in enumerate(zip(old, new, strict=True)):
                if was != now:
                    self.dataChanged.emit(self.index(row), self.index(row))
            return
        self.beginResetModel()
        self.seats = new
        self._rows = {seat.number: row for row, seat in enumerate(new)}
        self.endResetModel()

    def row_of(self, number: int) -> int:
        """The row of plant `number`, -1 when it is not shown."""
        return self._rows.get(number, -1)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008
        """How many plants."""
        return 0 if parent.isValid() else len(self.seats)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """The seat itself, or it in words."""
        if not index.isValid() or index.row() >= len(self.seats):
            return None
        seat = self.seats[index.row()]
        if role == SEAT:
            return seat
        if role == Qt.ItemDataRole.DisplayRole:
            return f"{seat.number} {seat.card.name.plain}"
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return spoken(seat)
        return tooltip(seat) if role == Qt.ItemDataRole.ToolTipRole else None


def spoken(seat: Seat) -> str:
    """The whole card as one sentence, for those who hear the screen."""
    card = seat.card
    parts = [f"{seat.number} {card.name.plain}", seat.where, card.plant.medium and f"in {card.plant.medium}",
             card.stage, "" if card.standing.word == "clear" else card.standing.word,
             card.words.text if card.words else "nothing owed"]
    return ", ".join(part for part in parts if part)


def tooltip(seat: Seat) -> str:
    """What a card may have cut off: the whole name, and why its standing and its care are what they are."""
    card = seat.card
    why = "" if card.standing.word == "clear" else f"\n{card.standing.word}: {card.standing.why}"
    if card.care is not None and card.words is not None:
        why += f"\n{card.words.text}, because {because(card.care)}"
    return f"{seat.number} {card.name.plain}\n{seat.where}{why}\nDrag it, or press Ctrl with an arrow, to move it."


def benches_of(overview: Overview) -> tuple[BenchRow, ...]:
    """The benches of the house, and one more for plants that have no place yet."""
    if not overview.homeless:
        return overview.benches
    return (*overview.benches, BenchRow(NOWHERE, NOWHERE.name, None, (), overview.homeless))


def seats_of(benches: Sequence[BenchRow]) -> tuple[Seat, ...]:
    """Every plant on its bench, in house order."""
    return tuple(Seat(card, number, bench.place.id, bench.path, bench.place.isolation)
                 for number, bench in enumerate(benches) for card in bench.cards)
