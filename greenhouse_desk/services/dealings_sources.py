"""What came from each source before: the record that a purchase rests on."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from datetime import datetime

from greenhouse_desk.domain.dealings import SourceRecord, source_record
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.quarantine_looks import Counting
from greenhouse_desk.store import plants
from greenhouse_desk.store.engine import Session


def records_by_source(session: Session, every: Iterable[History], now: datetime,
                      by: Counting) -> dict[int, SourceRecord]:
    """The record of each source a plant came from, by the source's key; plants that left count too."""
    apart = frozenset(place.id for place in plants.places(session) if place.isolation)
    kept: dict[int, list[History]] = defaultdict(list)
    for one in every:
        if one.plant.source is not None:
            kept[one.plant.source].append(one)
    return {source: source_record(mine, apart, now, by) for source, mine in kept.items()}
