"""The shelf map: every bench with its plants as they stand, their numbers readable from standing height."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from greenhouse_desk.domain.care_day import care_day
from greenhouse_desk.domain.figures import counted
from greenhouse_desk.domain.names_genera import Genera
from greenhouse_desk.domain.paper import A4, Face, Measure, Page, Words, frame, letter_for
from greenhouse_desk.services import collection_reading, house, shelf
from greenhouse_desk.services.page_flow import SMALL, Flow, day_words
from greenhouse_desk.services.page_parts import Wordings, head, name_in, place_head, wordings
from greenhouse_desk.store.engine import Session

READ_FROM = 1300.0  # mm: from the eye of somebody who stands to a sheet at waist height
NUMBER = Face(max(5.5, letter_for(READ_FROM)), "serif", True)
CELL_WIDE, CELL_HIGH, CELL_GAP, PAD = 30.0, 20.0, 1.0, 1.6
NO_PLACE = "No place"
HOW = "Plants from left to right as they stand on their bench. Moved since? Write it here, then into the journal."


@dataclass(frozen=True, slots=True)
class Bench:
    """A bench: the way to it, whether plants stand apart there, and its plants in order."""

    path: str
    isolation: bool
    plants: tuple[tuple[int, Wordings], ...]


@dataclass(frozen=True, slots=True)
class ShelfMap:
    """The benches in house order on a care day."""

    day: date
    benches: tuple[Bench, ...]


def shelf_map(session: Session, now: datetime) -> ShelfMap:
    """The benches at the aware `now` in the order one walks the house, empty ones too."""
    seen, genera = collection_reading.overview(session, now), shelf.genera(session)
    benches = [_bench(row.path, row.place.isolation, row.cards, genera) for row in seen.benches]
    if seen.homeless:
        benches.append(_bench(NO_PLACE, False, seen.homeless, genera))
    return ShelfMap(care_day(now, seen.zone, house.rules(session)), tuple(benches))


def _bench(path: str, isolation: bool, cards: Sequence[collection_reading.Card], genera: Genera) -> Bench:
    return Bench(path, isolation, tuple((card.plant.number, wordings(card.plant.name, genera)) for card in cards))


def pages(made: ShelfMap, measure: Measure, size: tuple[float, float] = A4) -> tuple[Page, ...]:
    """The map on sheets of `size`."""
    flow = Flow(measure, size)
    title = f"Shelf map of {day_words(made.day)}"
    head(flow, title, (HOW,))
    across = int((flow.right - flow.left + CELL_GAP) // (CELL_WIDE + CELL_GAP))
    wide = (flow.right - flow.left + CELL_GAP) / across - CELL_GAP
    for bench in made.benches:
        place_head(flow, bench.path, bench.isolation, CELL_HIGH, counted(len(bench.plants), "plant"))
        for first in range(0, len(bench.plants), across):
            flow.room(CELL_HIGH + CELL_GAP)
            for place, (number, name) in enumerate(bench.plants[first:first + across]):
                _cell(flow, flow.left + place * (wide + CELL_GAP), wide, number, name)
            flow.y += CELL_HIGH + CELL_GAP
    flow.again = ""
    return flow.done(title)


def _cell(flow: Flow, x: float, wide: float, number: int, name: Wordings) -> None:
    """One plant: its number as large as the cell bears, its name below."""
    face = NUMBER
    while flow.measure(str(number), face).right > wide - 2 * PAD:
        face = Face(face.letter * 0.95, face.family, face.bold)
    base = flow.y + PAD + NUMBER.letter
    flow.items.append(frame(x, flow.y, wide, CELL_HIGH))
    flow.items.append(Words(x + PAD, base, str(number), face))
    flow.items += name_in((x + PAD, base + 1.6, wide - 2 * PAD, flow.y + CELL_HIGH - PAD - base - 1.6), name,
                          SMALL.letter, flow.measure)
