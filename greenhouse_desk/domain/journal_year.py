"""What a journal tells of a plant's year: its flowering, its rest, and moves to more shade or more sun."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Stage(StrEnum):
    """How far a flowering has come."""

    SPIKE = "spike seen"
    BUDS = "in bud"
    OPEN = "in flower"
    OVER = "flowers over"


class Phase(StrEnum):
    """The two ends of a rest."""

    BEGINS = "rest begins"
    ENDS = "rest ends"


class Light(StrEnum):
    """Where the light of a plant was changed to, wherever it stands."""

    SHADE = "more shade"
    SUN = "more sun"
    USUAL = "its usual light"


@dataclass(frozen=True, slots=True)
class Flowering:
    """A stage of a flowering seen; `count` are the spikes, buds or flowers, 0 when not counted."""

    stage: Stage
    count: int = 0


@dataclass(frozen=True, slots=True)
class Resting:
    """A rest begins or ends; `dry` tells of a beginning one that the plant is kept dry in it."""

    phase: Phase
    dry: bool = False


@dataclass(frozen=True, slots=True)
class Lit:
    """The plant was moved into more shade or sun, or back."""

    to: Light
