"""What a journal tells of labels: which was printed, and what it says."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Labelled:
    """A label was printed in a layout. `shows` are the things that layout has room for, `says` what it said of them,
    one line each; the grower's free lines are not kept."""

    layout: str
    shows: tuple[str, ...]
    says: tuple[str, ...]
