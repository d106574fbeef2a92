"""A layout changed part by part: one put on where there is room, taken off, traded with another, the code's side."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import replace

from greenhouse_desk.domain.labels import LEAST_LETTER, LEAST_NUMBER, Box, Layout, What
from greenhouse_desk.domain.labels_reading import LAYS_OVER, apart, printable

ROOMS: dict[What, tuple[float, float]] = {
    What.NUMBER: (20, 8), What.NAME: (30, 8), What.CODE: (14, 14), What.ISOLATION: (10, 5), What.DATE: (20, 3),
    What.SOURCE: (20, 3), What.PARENTAGE: (30, 6), What.MEDIUM: (20, 3), What.LINES: (20, 6)}
"""The width and height in mm that a part begins with where there is room."""
SHARES = ((1.0, 1.0), (0.75, 1.0), (1.0, 0.75), (0.55, 1.0), (0.55, 0.75))
LEAST_CODE = 11.0  # mm: a code's side with its light border
NUMBER_SHARE = 0.8  # of its room's height
FIRST_LETTER = 1.7
FIRST_NAME = 2.2
WORDLESS = (What.CODE, What.ISOLATION)
TRADED = (What.NAME, What.DATE, What.SOURCE, What.PARENTAGE, What.MEDIUM, What.LINES)
"""Parts that may stand in each other's place; number, code and mark need rooms of their own shape."""


def added(layout: Layout, what: What, back: bool = False) -> Layout:
    """The layout with one more part, last, where there is room; where there is none, over others, as its faults say."""
    rooms = list(_rooms(what))
    for wide, high in rooms:
        for x, y in _places(layout, wide, high):
            box = _box(what, x, y, wide, high, back)
            if apart(layout, box):
                return replace(layout, boxes=(*layout.boxes, box))
    left, top, *_ = printable(layout)
    return replace(layout, boxes=(*layout.boxes, _box(what, left, top, *rooms[-1], back)))


def _rooms(what: What) -> Iterator[tuple[float, float]]:
    wide, high = ROOMS[what]
    if what is What.CODE:
        yield from ((wide, high), (LEAST_CODE, LEAST_CODE))
    else:
        yield from ((wide * across, max(high * down, LEAST_LETTER * 2)) for across, down in SHARES)


def _places(layout: Layout, wide: float, high: float) -> Iterator[tuple[float, float]]:
    """Upper left corners from the top on, a millimetre apart, 1 mm inside the edge."""
    left, top, right, bottom = printable(layout)
    for down in range(int(bottom - top - high - 2) + 1):
        for across in range(int(right - left - wide - 2) + 1):
            yield left + 1 + across, top + 1 + down


def _box(what: What, x: float, y: float, wide: float, high: float, back: bool) -> Box:
    letter = {What.NUMBER: max(LEAST_NUMBER, round(high * NUMBER_SHARE, 1)), What.NAME: FIRST_NAME}.get(
        what, FIRST_LETTER)
    least = LEAST_NUMBER if what is What.NUMBER else LEAST_LETTER
    return Box(what, x, y, round(wide, 1), round(high, 1), letter, least, serif=what in (What.NUMBER, What.NAME),
               bold=what is What.NUMBER, back=back)


def without(layout: Layout, row: int) -> Layout:
    """The layout with part `row` taken off."""
    return replace(layout, boxes=layout.boxes[:row] + layout.boxes[row + 1:])


def traded(layout: Layout, row: int, step: int) -> Layout | None:
    """Part `row` in the room of the text before it (step -1) or after it (1), read from the top down, and that one in
    its; None where there is none on its side."""
    order = [nth for nth, _ in sorted(enumerate(layout.boxes), key=lambda one: (one[1].y, one[1].x))
             if layout.boxes[nth].what in TRADED and layout.boxes[nth].back == layout.boxes[row].back]
    if row not in order or not 0 <= order.index(row) + step < len(order):
        return None
    other = order[order.index(row) + step]
    boxes = list(layout.boxes)
    here, there = boxes[row], boxes[other]
    boxes[row], boxes[other] = _into(here, there), _into(there, here)
    return replace(layout, boxes=tuple(boxes))


def _into(box: Box, room: Box) -> Box:
    return replace(box, x=room.x, y=room.y, width=room.width, height=room.height)


def code_on_left(layout: Layout) -> bool:
    """Whether the first code stands in the left half of its side."""
    left, _, right, _ = printable(layout)
    codes = [box for box in layout.boxes if box.what is What.CODE]
    return bool(codes) and codes[0].x + codes[0].width / 2 < (left + right) / 2 - LAYS_OVER


def mirrored(layout: Layout) -> Layout:
    """Left and right of each side with a code traded, so that the code comes to the other side; text stays as it is."""
    left, _, right, _ = printable(layout)
    sides = {box.back for box in layout.boxes if box.what is What.CODE}
    boxes = tuple(replace(box, x=round(left + right - box.x - box.width, 2)) if box.back in sides else box
                  for box in layout.boxes)
    hole = layout.hole and replace(layout.hole, x=left + right - layout.hole.x)
    return replace(layout, boxes=boxes, hole=hole)


def fresh_title(title: str, taken: Collection[str], most: int) -> str:
    """`title` of at most `most` letters, with a number behind it where another layout has it."""
    ends = ("", *(f" {nth}" for nth in range(2, len(taken) + 3)))
    return next(made for end in ends if (made := f"{title[:most - len(end)]}{end}") not in taken)


def advice(layout: Layout) -> str:
    """What is no fault but worth a word: a number too small for standing height, a layout without a name or a code."""
    there = {box.what for box in layout.boxes}
    numbers = [box.letter_mm for box in layout.boxes if box.what is What.NUMBER]
    told = [f"From standing height a number reads down to {LEAST_NUMBER:g} mm."
            if numbers and max(numbers) < LEAST_NUMBER else "",
            "No code: a scanner cannot find the plant." if What.CODE not in there else "",
            "No name on it." if What.NAME not in there else ""]
    return " ".join(filter(None, told))
