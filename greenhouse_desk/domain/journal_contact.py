"""Facts that only quarantine reads: what plants shared besides a place, and tests for a virus or a disease."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Sharing(StrEnum):
    """What plants shared that can carry a pest or disease from one to the other."""

    WATER = "wash water"
    TRAY = "a tray"


@dataclass(frozen=True, slots=True)
class Shared:
    """The plant shared `how` with `plants` (their numbers) for so many days, 1 for that day alone."""

    how: Sharing
    plants: tuple[int, ...]
    days: int = 1


@dataclass(frozen=True, slots=True)
class VirusTested:
    """The plant was tested for `what` (a key of pests.toml or the grower's word): found (`positive`) or not.

    `by` tells who tested it, `test` by what means and for which viruses or diseases.
    """

    what: str
    positive: bool
    by: str = ""
    test: str = ""
