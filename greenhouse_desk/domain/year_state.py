"""Where a plant is in its year by its own entries: in spike or flower, at rest, or neither as far as it is told."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.journal import Entry
from greenhouse_desk.domain.journal_year import Flowering, Phase, Resting, Stage

LASTS = Constant(240, "days", "a spike whose end is not written down counts for at most", "from memory")
RESTS = Constant(180, "days", "a rest whose end is not written down counts for at most", "from memory")
OVER_FOR = Constant(60, "days", "flowers over, or a rest ended, tell that the plant is free of them for", "house rule")


@dataclass(frozen=True, slots=True)
class Word:
    """What the newest entry says of spikes, or of rest: whether it is so, in words, when, and by which entry."""

    so: bool
    words: str
    at: datetime
    entry: int

    @property
    def source(self) -> str:
        return f"journal entry {self.entry}"


@dataclass(frozen=True, slots=True)
class Standing:
    """What is written down of spikes and flowers, and of rest; each None where nothing is that still counts.

    `dry` tells that the rest which runs is a dry one.
    """

    spike: Word | None = None
    rest: Word | None = None
    dry: bool = False


def standing(entries: Iterable[Entry], now: datetime) -> Standing:
    """Where the plant is at `now` (aware) by its entries, in any order."""
    told = sorted((entry for entry in entries if entry.at <= now), key=lambda entry: (entry.at, entry.id))
    flowering = [(entry, entry.facts) for entry in told if isinstance(entry.facts, Flowering)]
    resting = [(entry, entry.facts) for entry in told if isinstance(entry.facts, Resting)]
    spike = _word(flowering[-1][0], flowering[-1][1].stage is not Stage.OVER, flowering[-1][1].stage.value, LASTS,
                  now) if flowering else None
    rest = _word(resting[-1][0], resting[-1][1].phase is Phase.BEGINS, REST_WORDS[resting[-1][1].phase], RESTS,
                 now) if resting else None
    return Standing(spike, rest, rest is not None and rest.so and resting[-1][1].dry)


REST_WORDS = {Phase.BEGINS: "at rest", Phase.ENDS: "its rest ended"}


def _word(entry: Entry, so: bool, words: str, counts: Constant, now: datetime) -> Word | None:
    still = now - entry.at <= timedelta(days=(counts if so else OVER_FOR).value)
    return Word(so, words, entry.at, entry.id) if still else None
