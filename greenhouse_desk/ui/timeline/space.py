"""Where things lie on the timeline: the heads of lanes, the counts at the edges, the axis, and what a lane is made of.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from PySide6.QtCore import QRectF

FLAG, OVER, UNDER = 22.0, 22.0, 24.0
AXIS = FLAG + OVER + UNDER
"""The rows of the axis: the now-line's flag, the larger stretch, the ticks."""
EDGE = 52.0
"""The columns in which what lies beyond the view is counted."""
HEADS, HEADS_NARROW, NARROW = 224.0, 70.0, 760.0
BAR = 12.0
DENSE, FULL, TALLEST = 44.0, 104.0, 178.0
TRACK = 17.0
SOAK = 14.0
WIDTHS = (112.0, 56.0, 32.0)
"""How wide pictures are; they are four to three."""
DROP = 18.0
"""Marks stand so far above the end of their row, where the thread runs."""


@dataclass(frozen=True)
class Space:
    """A timeline `width` by `height` pixels with `count` lanes: full ones where they have room, else dense ones."""

    width: float
    height: float
    count: int

    @cached_property
    def narrow(self) -> bool:
        return self.width < NARROW

    @cached_property
    def heads(self) -> float:
        """How wide the heads of the lanes are."""
        return HEADS_NARROW if self.narrow else HEADS

    @cached_property
    def left(self) -> float:
        """Where the view begins."""
        return self.heads + EDGE

    @cached_property
    def view(self) -> float:
        """How wide the view is."""
        return max(self.width - self.left - EDGE - BAR, 80.0)

    @cached_property
    def right(self) -> float:
        """Where the view ends."""
        return self.left + self.view

    @cached_property
    def lanes(self) -> float:
        """How high the room for lanes is."""
        return max(self.height - AXIS, 0.0)

    @cached_property
    def full(self) -> bool:
        """Whether bands have words, and photos are large."""
        return self.count <= 2 or self.lanes / max(self.count, 1) >= FULL

    @cached_property
    def lane(self) -> float:
        """How high a lane is."""
        return min(max(self.lanes / max(self.count, 1), FULL), TALLEST) // 1 if self.full else DENSE

    @cached_property
    def marks(self) -> float:
        """How high the row of marks in a lane is."""
        return self.lane - SOAK - 3 * TRACK - 3 if self.full else 29.0

    @cached_property
    def middle(self) -> float:
        """Where the middle of the marks lies below the top of a lane."""
        return self.marks - DROP if self.full else self.marks / 2

    @cached_property
    def pictures(self) -> tuple[float, ...]:
        """How wide a photo may be drawn, widest first."""
        return tuple(wide for wide in WIDTHS if wide * 0.75 + 5 <= self.marks)

    @cached_property
    def scrolls(self) -> float:
        """How far the lanes can be scrolled."""
        return max(self.count * self.lane - self.lanes, 0.0)

    def track(self, nth: int) -> tuple[float, float]:
        """Top and height of a track below the top of its lane: stays, courses, holds, and soaks under the marks."""
        if not self.full:
            return (self.marks - 3, 3.0) if nth == 3 else (self.marks + 1 + 4.5 * nth, 3.5)
        return (self.marks, SOAK) if nth == 3 else (self.marks + SOAK + TRACK * nth + 1, TRACK - 2)

    def top(self, lane: int, scrolled: float) -> float:
        """Where a lane begins."""
        return AXIS + lane * self.lane - scrolled

    def seen(self, scrolled: float) -> range:
        """The lanes in sight."""
        first = int(scrolled // self.lane)
        return range(max(first, 0), min(int((scrolled + self.lanes) // self.lane) + 1, self.count))

    def lane_at(self, y: float, scrolled: float) -> int | None:
        """The lane at this height."""
        nth = int((y - AXIS + scrolled) // self.lane)
        return nth if y >= AXIS and 0 <= nth < self.count else None

    def room(self) -> QRectF:
        """The lanes' part of the view."""
        return QRectF(self.left, AXIS, self.view, self.lanes)
