"""What stands open when the bench is left for another day, in large type across the whole middle of the screen."""

from __future__ import annotations

import math
from dataclasses import dataclass

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter

from greenhouse_desk.domain.bench import Board, LooseKind
from greenhouse_desk.ui.bench.lettering import Lines, draw, fitted, sans
from greenhouse_desk.ui.bench.sizes import Sizes

MOST_ROW = 132.0


@dataclass(frozen=True)
class Open:
    """What is left open, and its way out."""

    what: str
    way_out: str


@dataclass(frozen=True)
class Leaving:
    """All that stands open when the session is left."""

    ends: tuple[Open, ...]

    @property
    def words(self) -> tuple[str, str]:
        """The page in words: what it is, and each thing with its way out."""
        return "Leave for another day", "; ".join(f"{end.what}: {end.way_out}" for end in self.ends) or NOTHING

    @property
    def lead(self) -> str:
        """The line above the list."""
        return OPEN if self.ends else NOTHING


NOTHING = "Nothing stands open. Soaks, cuts and crowns are all seen to."
OPEN = "Still open. What is not seen to now waits, and is said again on return."


TOGETHER = {
    LooseKind.AGENT: ("Agent still on, not rinsed: {}", "Rinse each before it dries"),
    LooseKind.UNPOTTED: ("Roots bare: {}", "Pot each of them up"),
    LooseKind.CUT: ("Cuts undressed: {}", "Dress the cuts of each"),
    LooseKind.WET: ("Wet without moving air: {}", "Put moving air on each")}
"""How several plants with the same open are told in one, where one by one would be too many: what, and the way out."""
MANY = 8


def leaving(board: Board) -> Leaving:
    """The page of this board: a running soak carries its countdown; many plants with the same open stand together."""
    clocks = {cell.soak.id: f", {cell.view.told}" for cell in board.cells}
    ends = [Open(f"{end.words}{clocks.get(end.soak or 0, '')}", end.way_out) for end in board.loose_ends]
    if len(ends) <= MANY:
        return Leaving(tuple(ends))
    together: list[Open] = []
    for kind, (words, way_out) in TOGETHER.items():
        same = [n for n, end in enumerate(board.loose_ends) if end.kind is kind]
        who = ", ".join(str(board.loose_ends[n].plant) for n in same)
        together += [Open(words.format(who), way_out)] if len(same) > 1 else [ends[n] for n in same]
    alone = (shown for shown, end in zip(ends, board.loose_ends, strict=True) if end.kind not in TOGETHER)
    return Leaving((*together, *alone))


class LeavingPainter:
    """Paints the page into a rectangle: in one column while all fits large, else in two."""

    def __init__(self, painter: QPainter, ink: QColor, sizes: Sizes) -> None:
        self._painter, self._ink, self._sizes = painter, ink, sizes

    def paint(self, page: Leaving, inside: QRectF) -> None:
        """Everything there is room for: six soaks and all the rest told together fit on the smallest screen."""
        large = (self._sizes.letters(30), self._sizes.letters(24), self._sizes.letters(17))
        lead = fitted(page.lead, sans(400), inside.width(), large, 2)
        top = draw(self._painter, lead, inside.left(), inside.top(), self._ink) + self._sizes.u(10)
        rows, columns, high = self.grid(len(page.ends), inside.bottom() - top)
        wide = inside.width() / columns
        for n, end in enumerate(page.ends):
            self._paint_end(end, QRectF(inside.left() + n // rows * wide, top + n % rows * high,
                                        wide - self._sizes.u(24), high))

    def grid(self, count: int, room: float) -> tuple[int, int, float]:
        """Rows, columns and the height of a row for `count` things in `room` pixels of height."""
        columns = 1 if count * self._sizes.u(96) <= room else 2
        rows = max(1, math.ceil(count / columns))
        return rows, columns, min(room / rows, self._sizes.u(MOST_ROW))

    def lines(self, end: Open, wide: float, high: float) -> tuple[Lines, Lines]:
        """What stands open and its way out, as large as the row holds."""
        for px in range(self._sizes.letters(46), self._sizes.letters(18) - 1, -1):
            what = fitted(end.what, sans(600), wide, (px, px, px), 2)
            small = max(round(px * 0.8), self._sizes.letters(17))
            way = fitted(f"Way out: {end.way_out}", sans(400), wide, (small, small, small), 1)
            if what.height + way.height <= high - self._sizes.u(6) and " ".join(what.lines) == end.what:
                break
        return what, way

    def _paint_end(self, end: Open, row: QRectF) -> None:
        what, way = self.lines(end, row.width(), row.height())
        below = draw(self._painter, what, row.left(), row.top(), self._ink)
        draw(self._painter, way, row.left(), below, self._ink)

