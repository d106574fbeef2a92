"""Which lane and which mark on it the keyboard is on: kept by the entry itself, so that it stays through any zoom."""

from __future__ import annotations

from dataclasses import dataclass, replace

from greenhouse_desk.domain.timeline_values import Box, Row


@dataclass(frozen=True, slots=True)
class Cursor:
    """A plant's lane, and the place of an entry on a side of it (None: no mark is chosen)."""

    plant: int
    at: tuple[bool, int] | None = None

    def box(self, row: Row) -> Box | None:
        """The box of the lane that holds the entry."""
        return None if self.at is None else next((box for box in row.boxes if box.holds(*self.at)), None)

    def on(self, box: Box) -> Cursor:
        """On this box of the same lane."""
        return replace(self, at=(box.ahead, box.first))

    def stepped(self, row: Row, way: int) -> Cursor | None:
        """On the next box of the lane to the right (`way` 1) or left (-1); None where it ends."""
        here = self.box(row)
        nth = row.boxes.index(here) + way if here is not None else 0 if way > 0 else len(row.boxes) - 1
        return self.on(row.boxes[nth]) if 0 <= nth < len(row.boxes) else None
