"""Generic agents: working strengths by use, hazards, what they must not meet, what cancels them, shelf life."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Percent(StrEnum):
    """What a strength in percent means. Never mixed silently."""

    BY_VOLUME = "% by volume"
    BY_MASS = "% by mass"
    LABEL = "as the label says"


@dataclass(frozen=True, slots=True)
class Use:
    """A use of an agent: on what (a Part), lowest and highest working strength, least contact in minutes, source."""

    on: str
    low: float
    high: float
    least_min: float
    source: str


@dataclass(frozen=True, slots=True)
class Clash:
    """A pair that must not meet: the other agent's key, from which strengths on (percent), what happens, source."""

    other: str
    why: str
    source: str
    from_strength: float = 0.0
    other_from_strength: float = 0.0


@dataclass(frozen=True, slots=True)
class Agent:
    """One agent. `hazards` are GHS phrases word for word; `cancelled_by` maps agent keys that undo its effect."""

    key: str
    name: str
    percent: Percent
    uses: tuple[Use, ...]
    hazards: tuple[str, ...] = ()
    clashes: tuple[Clash, ...] = ()
    cancelled_by: tuple[str, ...] = ()
    shelf_hours: float | None = None
    shelf_source: str = ""
    caution: str = ""
    family: str = ""
