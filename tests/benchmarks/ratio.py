"""A measured ratio, and how it is printed."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Ratio:
    """What was measured against what, the ratio, and the two figures behind it."""

    what: str
    value: float
    figures: str

    def __str__(self) -> str:
        return f"{self.value:8.2f}  {self.what}  ({self.figures})"
