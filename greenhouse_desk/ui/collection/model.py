"""The plants on the canvas as a list model: a tuple of seats with one `show`."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import Qt

from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services.collection import BenchRow, Card, Overview
from greenhouse_desk.ui.collection.care_rows import because
from greenhouse_desk.ui.rows import RowsModel

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


class CardModel(RowsModel[Seat]):
    """Seats in house order."""

    def __init__(self) -> None:
        super().__init__()
        self._row_of: dict[int, int] = {}
        self.modelReset.connect(self._on_reset)

    @property
    def seats(self) -> tuple[Seat, ...]:
        return self.rows

    def row_of(self, number: int) -> int:
        """The row of plant `number`, -1 when it is not shown."""
        return self._row_of.get(number, -1)

    def key(self, row: Seat) -> object:
        return row.number

    def told(self, row: Seat, role: int) -> str | None:
        if role == Qt.ItemDataRole.DisplayRole:
            return f"{row.number} {row.card.name.plain}"
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return spoken(row)
        return tooltip(row) if role == Qt.ItemDataRole.ToolTipRole else None

    def _on_reset(self) -> None:
        self._row_of = {seat.number: at for at, seat in enumerate(self.rows)}


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
