"""Small builders of domain values with sensible defaults: say only what the test is about."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

from greenhouse_desk.domain.journal import Entry, Facts
from greenhouse_desk.domain.plants import Habit, History, Plant

NOW = datetime(2026, 11, 18, 15, 30, tzinfo=UTC)
PLANT = Plant(number=101, name="Phalaenopsis amabilis", habit=Habit.MONOPODIAL, place=1, medium="LECA")


def plant(number: int = 101, name: str = PLANT.name, **changes: Any) -> Plant:
    """A growing plant; `changes` are fields of Plant."""
    return replace(PLANT, number=number, name=name, **changes)


def ago(days: float = 0, hours: float = 0, minutes: float = 0) -> datetime:
    """The instant that long before NOW (aware UTC)."""
    return NOW - timedelta(days=days, hours=hours, minutes=minutes)


def entry(facts: Facts, at: datetime = NOW, id: int = 1, **fields: Any) -> Entry:
    """A journal entry on plant 101; `fields` are fields of Entry."""
    return Entry(**{"id": id, "at": at, "facts": facts, "plant": PLANT.number, **fields})


def history(*written: tuple[datetime, Facts], of: Plant = PLANT) -> History:
    """A plant with its journal from pairs of instant and facts, oldest first, numbered from 1."""
    in_order: Sequence[tuple[datetime, Facts]] = sorted(written, key=lambda pair: pair[0])
    return History(of, tuple(entry(facts, at, id=number, plant=of.number)
                             for number, (at, facts) in enumerate(in_order, start=1)))
