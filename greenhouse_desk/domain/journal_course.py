"""What a journal tells of a transition besides root counts: signs seen, a verdict overruled, a plant called settled."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Leaves(StrEnum):
    """How the leaves, or the canes and bulbs, feel."""

    FIRM = "firm"
    LIMP = "limp"


class Stand(StrEnum):
    """How the plant stands in its pot when it is touched."""

    FIRM = "firm in the pot"
    LOOSE = "loose in the pot"


class Smell(StrEnum):
    """How the pot smells at its slot."""

    FRESH = "fresh"
    SOUR = "sour"
    ROTTEN = "rotten"


class Crown(StrEnum):
    """How the crown, or the newest growth, feels at its base."""

    FIRM = "firm"
    SOFT = "soft"


class RootState(StrEnum):
    """How the roots that can be seen look and feel."""

    PALE = "firm, pale or green"
    BROWN = "firm, brown"
    WET = "black, wet or squashy"


class Growing(StrEnum):
    """What the plant is about."""

    GROWTH = "in growth"
    REST = "at rest"
    SPIKE = "in spike or bud"


@dataclass(frozen=True, slots=True)
class Signs:
    """Signs seen at a look; each None where it was not looked at."""

    leaves: Leaves | None = None
    stand: Stand | None = None
    smell: Smell | None = None
    crown: Crown | None = None
    roots: RootState | None = None
    growing: Growing | None = None


@dataclass(frozen=True, slots=True)
class Overruled:
    """The grower went another way than a rule: `said` is the rule's word, `instead` the grower's, with the reason.

    `of` is "verdict" (of the last look) or "start" (of a transition); `days` to the next look, 0 when none was named.
    """

    of: str
    said: str
    instead: str
    reason: str
    days: int = 0


@dataclass(frozen=True, slots=True)
class Settled:
    """The grower calls the plant settled in its medium: its transition is over."""

    reason: str = ""
