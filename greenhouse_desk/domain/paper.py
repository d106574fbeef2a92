"""Printed pages as plain values in millimetres: words, lines and shapes, and how text is measured without painting."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

from greenhouse_desk.domain.figures import Constant

A4 = (210.0, 297.0)
WIDEST = Constant(216.0, "mm", "widest paper that goes through a printer upright: Letter", "from memory")
HAIR = 0.1  # mm: the thinnest line office printers draw whole
SIZES: dict[str, tuple[float, float]] = {
    "A0": (841, 1189), "A1": (594, 841), "A2": (420, 594), "A3": (297, 420), "A4": (210, 297), "A5": (148, 210),
    "A6": (105, 148), "A7": (74, 105), "A8": (52, 74), "A9": (37, 52), "A10": (26, 37),
    "B0": (1000, 1414), "B1": (707, 1000), "B2": (500, 707), "B3": (353, 500), "B4": (250, 353), "B5": (176, 250),
    "B6": (125, 176), "B7": (88, 125), "B8": (62, 88), "B9": (44, 62), "B10": (31, 44),
}
"""Paper by name, width and height in mm upright. Source: published: ISO 216."""
ARC = Constant(16.0, "minutes of arc", "least letter height that reads well", "published: ISO 9241-3, least height")
ROUND = 21600.0  # minutes of arc in a full turn


def letter_for(distance_mm: float) -> float:
    """The least letter height in mm that reads from `distance_mm`: the arc of `ARC` at that distance."""
    return 6.283 * distance_mm * ARC.value / ROUND


@dataclass(frozen=True, slots=True)
class Face:
    """How words are set. `letter` is the height of a capital in mm; `family` is "serif" or "sans"."""

    letter: float
    family: str = "sans"
    bold: bool = False
    italic: bool = False


@dataclass(frozen=True, slots=True)
class Extent:
    """What words take up, in mm from their starting point on the base line: ink from `left` to `right` and from `top`
    (negative above the line) to `bottom`, and `advance` to where the next word starts."""

    left: float
    right: float
    top: float
    bottom: float
    advance: float


Measure = Callable[[str, Face], Extent]


@dataclass(frozen=True, slots=True)
class Words:
    """Text in one face; `x` is where it starts, `y` its base line."""

    x: float
    y: float
    text: str
    face: Face


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line `width` mm thick; dashed where something is to be cut or folded."""

    x1: float
    y1: float
    x2: float
    y2: float
    width: float = HAIR
    dashed: bool = False


@dataclass(frozen=True, slots=True)
class Shape:
    """A filled outline."""

    points: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Ring:
    """A circle drawn as a thin line."""

    x: float
    y: float
    radius: float
    width: float = HAIR


@dataclass(frozen=True, slots=True)
class Dark:
    """The dark squares of a code: `rows` of 0 and 1, each `module` mm wide, from (`x`, `y`)."""

    x: float
    y: float
    module: float
    rows: tuple[bytes, ...]


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture in colour, `data` as JPEG or PNG, drawn over `width` by `height` mm from (`x`, `y`)."""

    x: float
    y: float
    width: float
    height: float
    data: bytes


@dataclass(frozen=True, slots=True)
class Group:
    """Items drawn from (`x`, `y`) on, turned clockwise by `turn` degrees about that point."""

    x: float
    y: float
    items: tuple[Item, ...]
    turn: float = 0.0


Item = Words | Line | Shape | Ring | Dark | Picture | Group


@dataclass(frozen=True, slots=True)
class Page:
    """One page: its size in mm and what is on it, in the order it is drawn. All but pictures is black."""

    width: float
    height: float
    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class Correction:
    """What a printer gets wrong: how much longer it must be told each way, and how far to shift, in mm."""

    across: float = 1.0
    down: float = 1.0
    shift_x: float = 0.0
    shift_y: float = 0.0

    def on(self, page: Page) -> Correction:
        """As it is for a page. One across that is wider than upright paper goes through the printer turned: its middle
        stays where it is then, since a printer may turn it either way."""
        if page.width <= max(page.height, WIDEST.value):
            return self
        across, down = self.down, self.across
        return Correction(across, down, page.width * (1 - across) / 2, page.height * (1 - down) / 2)


def frame(x: float, y: float, width: float, height: float, thick: float = HAIR, dashed: bool = False) -> Group:
    """An empty rectangle."""
    corners = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    return Group(x, y, tuple(Line(*a, *b, thick, dashed) for a, b in zip(corners, corners[1:] + corners[:1],
                                                                        strict=True)))


def flat(items: Iterable[Item], x: float = 0.0, y: float = 0.0) -> Iterable[Item]:
    """The items of unturned groups, moved to where they come to stand on the page."""
    for item in items:
        if isinstance(item, Group) and not item.turn:
            yield from flat(item.items, x + item.x, y + item.y)
        elif isinstance(item, Line):
            yield replace(item, x1=item.x1 + x, y1=item.y1 + y, x2=item.x2 + x, y2=item.y2 + y)
        elif isinstance(item, Shape):
            yield Shape(tuple((a + x, b + y) for a, b in item.points))
        else:
            yield replace(item, x=item.x + x, y=item.y + y)


def few_at_once(items: Iterable[Item], few: int) -> Iterator[tuple[Item, ...]]:
    """The items in order, in runs that end as soon as they hold `few` words, lines and shapes."""
    some: list[Item] = []
    held = 0
    for item in items:
        some.append(item)
        held += _held(item)
        if held >= few:
            yield tuple(some)
            some, held = [], 0
    if some:
        yield tuple(some)


def _held(item: Item) -> int:
    return sum(_held(one) for one in item.items) if isinstance(item, Group) else 1
