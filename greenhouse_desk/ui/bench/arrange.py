"""Where everything stands in bench mode: rectangles from sizes and how much there is to show. No widgets."""

from __future__ import annotations

from dataclasses import dataclass, replace

from greenhouse_desk.ui.bench.sizes import MOST_ROWS, Sizes

NOTICES = (30.0, 50.0)
"""How high one line of notices is, and two: these stand closer."""
MOST_LINES = 2
TOOL = 146.0


@dataclass(frozen=True)
class Box:
    """A rectangle in pixels."""

    x: float
    y: float
    w: float
    h: float

    @property
    def right(self) -> float:
        return self.x + self.w

    @property
    def bottom(self) -> float:
        return self.y + self.h

    @property
    def whole(self) -> tuple[int, int, int, int]:
        """Rounded outwards to whole pixels, edges shared with the neighbours."""
        left, top = round(self.x), round(self.y)
        return left, top, round(self.right) - left, round(self.bottom) - top


@dataclass(frozen=True)
class Arrangement:
    """Every part's place. `detail` is what the cells leave, None where they leave nothing; what needs more room than it
    has lies `beside`, over tool and queue; `middle` is all between instruction and notices."""

    head: Box
    cells: tuple[Box, ...]
    detail: Box | None
    beside: Box
    middle: Box
    tool: Box
    queue: Box
    notices: Box
    keys: tuple[Box, ...]
    leave: Box


def arrange(sizes: Sizes, cells: int, tool: bool, notices: int, keys: int = 5) -> Arrangement:
    """Lay out `cells` countdowns, the tool panel when there is one, `notices` lines, and the keys.

    Countdowns leave room for all lines of notices: they stand still whatever comes to be said below them.
    """
    gap, margin = sizes.gap, sizes.margin
    head = Box(0, 0, sizes.width, sizes.head - gap)
    bottom = sizes.height - sizes.foot - sizes.key
    notices = max(notices, 1)
    lines = sizes.u(NOTICES[min(notices, MOST_LINES) - 1])
    told = Box(margin, bottom - gap - lines, sizes.width - 2 * margin, lines)
    middle = Box(margin, sizes.head, sizes.field, max(told.y - gap / 2 - sizes.head, 1))
    side = Box(sizes.width - margin - sizes.queue, sizes.head, sizes.queue, middle.h)
    high = sizes.u(TOOL) if tool else 0.0
    below = side.y + high + (gap if tool else 0)
    still = sizes.u(NOTICES[-1]) - lines if cells else 0.0
    boxes, rest = _cells(sizes, cells, Box(middle.x, middle.y, middle.w, max(middle.h - still, 1)))
    rest = rest and replace(rest, h=rest.h + still)
    whole = Box(margin, middle.y, side.right - margin, middle.h)
    return Arrangement(head, boxes, rest, side, whole, Box(side.x, side.y, side.w, high),
                       Box(side.x - sizes.u(8), below, side.w + sizes.u(8), max(side.bottom - below, 1)), told,
                       *_keys(sizes, keys, bottom))


def _cells(sizes: Sizes, count: int, middle: Box) -> tuple[tuple[Box, ...], Box | None]:
    rows = sizes.rows
    wide = (middle.w - (sizes.columns - 1) * sizes.gap) / sizes.columns
    high = (middle.h - (rows - 1) * sizes.gap) / rows
    spots = ((n % sizes.columns, n // sizes.columns) for n in range(min(count, sizes.cells)))
    boxes = tuple(Box(middle.x + column * (wide + sizes.gap), middle.y + row * (high + sizes.gap), wide, high)
                  for column, row in spots)
    used = -(-len(boxes) // sizes.columns)
    if used == 0:
        return boxes, middle
    left = boxes[-1].right + sizes.gap if used == rows and len(boxes) % sizes.columns else middle.x
    if rows == MOST_ROWS and (used < rows or left > middle.x):
        return boxes, Box(left, middle.y + high + sizes.gap, middle.right - left, high)
    return boxes, None


def _keys(sizes: Sizes, count: int, top: float) -> tuple[tuple[Box, ...], Box]:
    room = sizes.width - 2 * sizes.margin - sizes.leave - count * sizes.gap
    wide = (room - (first := sizes.u(24))) / count
    keys = (Box(sizes.margin, top, wide + first, sizes.key), *(
        Box(sizes.margin + first + n * (wide + sizes.gap), top, wide, sizes.key) for n in range(1, count)))
    return keys, Box(sizes.width - sizes.margin - sizes.leave, top, sizes.leave, sizes.key)
