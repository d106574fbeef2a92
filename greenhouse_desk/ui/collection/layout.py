"""Where everything stands on the canvas: benches as rows of cards, small benches side by side, heads, rails, ends."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRect

LEFT = 12
TOP = 8
GAP = 4
BETWEEN = 24
ROW_GAP = 6
BENCH_GAP = 12


@dataclass(frozen=True, slots=True)
class Sizes:
    """Pixels of one card and its bench's head. `photo` is the height above the rail, 0 in the dense view."""

    card: int
    height: int
    photo: int
    rail: int
    head: int
    columns: int
    dense: bool

    @property
    def pitch(self) -> int:
        return self.card + GAP


@dataclass(frozen=True, slots=True)
class Rail:
    """A stretch of rail under one row of cards: `goes_on` to another row, or ends (`end`) with the bench."""

    rect: QRect
    goes_on: bool


@dataclass(frozen=True, slots=True)
class Strip:
    """One bench on the canvas: where its head stands, its cards, its rails, the room for words when it is empty."""

    bench: int
    area: QRect
    head: QRect
    cards: tuple[QRect, ...]
    rails: tuple[Rail, ...]
    empty: QRect | None


@dataclass(frozen=True, slots=True)
class Plan:
    """All benches laid out."""

    sizes: Sizes
    strips: tuple[Strip, ...]
    height: int


def sizes(width: int, dense: bool, longest: int = 1000) -> Sizes:
    """Card sizes that fill a canvas of `width` pixels without a ragged edge, in no more columns than it needs."""
    head = 116 if width > 420 else 92
    least = 150 if dense else 164
    room = max(least, width - LEFT - head - 4 - GAP)
    columns = max(1, min((room + GAP) // (least + GAP), max(longest, 4)))
    card = min(int((room + GAP) // columns) - GAP, 200 if dense else 212)
    if dense:
        return Sizes(card, 68, 0, 8, head, columns, True)
    photo = card * 3 // 4
    return Sizes(card, photo + 122, photo, 14, head, columns, False)


def lay(counts: Sequence[int], width: int, dense: bool) -> Plan:
    """Lay benches with these numbers of plants on a canvas of `width` pixels.

    A bench too long for one row goes on in the next; one that fits into what is left of a row stands there.
    """
    size = sizes(width, dense, max(counts, default=0))
    strips: list[Strip] = []
    x, y, bottom = LEFT, TOP, TOP
    for bench, count in enumerate(counts):
        need = size.head + 4 + _wide(count, size) * size.pitch - GAP
        if strips and (count > size.columns or x + need > width):
            x, y = LEFT, bottom + BENCH_GAP
        strip = _strip(bench, count, x, y, size)
        strips.append(strip)
        last = strip.rails[-1].rect
        x, y = last.x() + last.width() + BETWEEN, last.y() - size.photo
        bottom = max(bottom, y + size.height)
    return Plan(size, tuple(strips), bottom + TOP)


def _wide(count: int, size: Sizes) -> int:
    """How many columns a bench takes; an empty one keeps room for its words."""
    return min(count or (1 if size.dense else 2), size.columns)


def _strip(bench: int, count: int, x: int, y: int, size: Sizes) -> Strip:
    left = x + size.head + 4
    cards = tuple(QRect(left + n % size.columns * size.pitch, y + n // size.columns * (size.height + ROW_GAP),
                        size.card, size.height) for n in range(count))
    rows = max(1, -(-count // size.columns))
    wide = _wide(count, size) * size.pitch - GAP
    height = rows * (size.height + ROW_GAP) - ROW_GAP
    rails = tuple(_rail(row, rows, count, left, y, size) for row in range(rows))
    empty = None if count else QRect(left, y, wide, size.height)
    return Strip(bench, QRect(x, y, size.head + 4 + wide, height), QRect(x, y, size.head, height), cards, rails, empty)


def _rail(row: int, rows: int, count: int, left: int, y: int, size: Sizes) -> Rail:
    last = row == rows - 1
    here = size.columns if not last else (count - row * size.columns or _wide(0, size))
    top = y + row * (size.height + ROW_GAP) + size.photo
    return Rail(QRect(left - 2, top, here * size.pitch, size.rail), not last)


def nearest(rects: Sequence[QRect], at: int, dx: int, dy: int) -> int:
    """The card to go to from card `at` by an arrow key: along the bench, or the nearest in the row above or below."""
    if dx:
        return min(max(at + dx, 0), len(rects) - 1)
    here = rects[at]
    beyond = [(n, r) for n, r in enumerate(rects) if (r.y() > here.y() if dy > 0 else r.y() < here.y())]
    if not beyond:
        return at
    line = min((abs(r.y() - here.y()) for _, r in beyond))
    row = [(abs(r.x() - here.x()), n) for n, r in beyond if abs(r.y() - here.y()) == line]
    return min(row)[1]
