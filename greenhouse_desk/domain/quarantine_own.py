"""What one plant's journal tells of pests by itself, kept from one answer to the next while the journal is the same."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime

from greenhouse_desk.domain.contacts import Stay, stays
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.quarantine_finds import Life, Spell, life, spells
from greenhouse_desk.domain.quarantine_looks import Counting


@dataclass(frozen=True, slots=True)
class Own:
    """A plant's journal sorted, when the plant could pass something on, and where it stood; no other was read for it.

    Where it is `whole`, nothing in it being still to come, it holds at every instant from the last entry on, by the
    same rules, zone and names.
    """

    history: History
    life: Life
    spells: list[Spell]
    stays: list[Stay]
    whole: bool

    @property
    def number(self) -> int:
        return self.history.plant.number

    def holds(self, history: History, now: datetime) -> bool:
        """Whether it is what this journal tells at `now`."""
        return self.whole and self.history == history and _all_happened(history, now)


def own(history: History, now: datetime, by: Counting) -> Own:
    """A plant's own part, worked out anew; what is later than `now` has not happened."""
    one = life(history, now, by)
    return Own(history, one, spells(one, by) if one.finds else [], stays(history, now), _all_happened(history, now))


def owns(histories: Iterable[History], now: datetime, by: Counting, known: Mapping[int, Own]) -> Iterator[Own]:
    """Each plant's own part: the one `known` (by the same `by`) where its journal is the same, else worked out anew."""
    for history in histories:
        kept = known.get(history.plant.number)
        yield kept if kept is not None and kept.holds(history, now) else own(history, now, by)


def _all_happened(history: History, now: datetime) -> bool:
    return not history.entries or history.entries[-1].at <= now
