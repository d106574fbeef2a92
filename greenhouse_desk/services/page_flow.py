"""Sheets of paper filled from the top: text that wraps, headings that never stand alone, and a foot with the page.

All sizes in mm. Nothing here knows what the sheets tell.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

from greenhouse_desk.domain.care_day import MONTHS
from greenhouse_desk.domain.paper import A4, SIZES, Face, Item, Line, Measure, Page, Words
from greenhouse_desk.domain.paper_text import broken, shortened

LETTER = (215.9, 279.4)
SHEETS: dict[str, tuple[float, float]] = {"A4": A4, "A5": SIZES["A5"], "Letter": LETTER}
"""What paper the sheets can be set on: two sizes of ISO 216, and US letter (ANSI Y14.1)."""
DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
TITLE, PART, BODY, BOLD, SMALL = (Face(4.6, "serif", True), Face(3.2, "serif", True), Face(2.35), Face(2.35, bold=True),
                                  Face(2.0))
LEADING = 2.1  # of a capital's height, from base line to base line
FOOT = 10.0  # from the foot's base line to the edge of the paper


@dataclass(frozen=True, slots=True)
class Margins:
    """White on each side; the foot stands in the lower one."""

    side: float = 12.0
    top: float = 12.0
    bottom: float = 18.0


@dataclass
class Flow:
    """Sheets being filled. `y` is how far down the one in hand is filled; `again` is said at the head of each next one.
    """

    measure: Measure
    size: tuple[float, float] = A4
    margins: Margins = Margins()
    again: str = ""
    y: float = 0.0
    items: list[Item] = field(default_factory=list)
    full: list[list[Item]] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.y = self.y or self.margins.top

    @property
    def left(self) -> float:
        """Where text begins."""
        return self.margins.side

    @property
    def right(self) -> float:
        """Where text ends."""
        return self.size[0] - self.margins.side

    @property
    def bottom(self) -> float:
        """Below this only the foot stands."""
        return self.size[1] - self.margins.bottom

    def gap(self, mm: float = 3.0) -> None:
        """Room before what follows."""
        self.y += mm

    def room(self, high: float) -> None:
        """Turn to a new sheet unless `high` mm are left on this one."""
        if self.y + high > self.bottom and self.y > self.margins.top:
            self.turn()

    def turn(self) -> None:
        """A new sheet."""
        self.full.append(self.items)
        self.items, self.y = [], self.margins.top
        if self.again:
            self.y += PART.letter * LEADING
            words = shortened(f"{self.again}, continued", PART, self.right - self.left, self.measure)
            self.items.append(Words(self.left, self.y, words, PART))
            self.gap()

    def heading(self, words: str, after: float = 0.0) -> None:
        """A part's title with a line over it; never alone at the foot of a page: `after` is room for what follows."""
        self.gap()
        self.room(24 + after)
        self.items.append(Line(self.left, self.y, self.right, self.y))
        self.gap(1.5)
        self.line(words, PART)
        self.gap(0.8)

    def line(self, words: str, face: Face = BODY, left: float | None = None, right: float | None = None) -> None:
        """Words broken into as many lines as they need, over as many sheets."""
        start, end = self.left if left is None else left, self.right if right is None else right
        for row in broken(words, face, end - start, self.measure):
            self.room(face.letter * LEADING)
            self.y += face.letter * LEADING
            self.items.append(Words(start, self.y, row, face))

    def done(self, foot: str) -> tuple[Page, ...]:
        """The pages, each with its number at the foot."""
        every = [*self.full, self.items]
        return tuple(Page(*self.size, (*items, self._foot(f", page {nth} of {len(every)}", foot)))
                     for nth, items in enumerate(every, 1))

    def _foot(self, counted: str, foot: str) -> Words:
        room = self.right - self.left - self.measure(counted, SMALL).advance
        return Words(self.left, self.size[1] - FOOT, shortened(foot, SMALL, room, self.measure) + counted, SMALL)


def day_words(day: date | None) -> str:
    """"18 Nov 2026"; empty for None."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}" if day is not None else ""


def weekday_words(day: date) -> str:
    """"Wed 18 Nov"."""
    return f"{DAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]}"
