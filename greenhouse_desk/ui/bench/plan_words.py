"""Where the words of the plan stand: beside their bars, clear of dusk, end and each other. No painting."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

GAP = 8.0
CLEAR = 6.0


@dataclass(frozen=True)
class Spot:
    """Where words stand on a row: from `left` for `width` pixels, less than they need where room is short."""

    left: float
    width: float


def beside(start: float, end: float, wide: float, walls: Sequence[float], room: tuple[float, float]) -> Spot:
    """A place for words `wide` pixels wide beside a bar from `start` to `end`: right of it, else left of it.

    `walls` are x that must stay free, `room` the row's first and last x. Where neither side has room enough the larger
    side is taken.
    """
    first, last = room
    right = min((wall - CLEAR for wall in walls if wall >= end - 1), default=last) - (end + GAP)
    right = min(right, last - (end + GAP))
    before = max((wall + CLEAR for wall in walls if wall <= start), default=first)
    left = start - GAP - max(before, first)
    if wide <= right or (wide > left and right >= left):
        return Spot(end + GAP, max(min(wide, right), 0.0))
    width = max(min(wide, left), 0.0)
    return Spot(start - GAP - width, width)


def spread(middles: Sequence[float], widths: Sequence[float]) -> tuple[bool, ...]:
    """Which of some words, each centred on its own x (rising), can stand on one line clear of those before."""
    taken = float("-inf")
    found = []
    for middle, wide in zip(middles, widths, strict=True):
        fits = middle - wide / 2 >= taken
        taken = middle + wide / 2 + GAP / 2 if fits else taken
        found.append(fits)
    return tuple(found)
