"""The values of the timeline: entries and bands on a lane, the stretch of time in view, and boxes on the screen."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum

from greenhouse_desk.domain.care_values import Reason
from greenhouse_desk.domain.timeline_sorts import NOUNS, Sort

MARK = 16.0
"""A mark's width in pixels."""
GAP = 4.0
"""Free pixels between two things on a lane."""
PAD = 5.0
"""Free pixels before a band's words, and after them."""
HOUR, DAY = 3_600.0, 86_400.0
NEAREST = 0.75
"""Seconds a pixel at the nearest zoom: entries a minute apart stand beside each other, whatever else is there."""
FARTHEST = 30 * 365.25 * DAY
"""The longest stretch of time a view shows, in seconds."""


class Look(StrEnum):
    """How a band is drawn."""

    STAY = "stay"
    COURSE = "course"
    FORECAST = "forecast"
    HOLD = "hold"
    SOAK = "soak"


OF_LOOK = {Look.STAY: Sort.PLACE, Look.COURSE: Sort.POTTING, Look.FORECAST: Sort.CARE, Look.HOLD: Sort.WATER,
           Look.SOAK: Sort.TREATMENT}
"""What a band is about: it goes with the entries of that sort."""


@dataclass(frozen=True, slots=True)
class Item:
    """One thing on a lane: when (seconds), its mark, its words, what it is about, and the entry it opens.

    `photo` is the SHA-256 of a photo. For care, `entry` is the entry that caused it, `why` the reasoning, and `opens`
    and `latest` are the ends of its window in seconds.
    """

    at: float
    mark: str
    title: str
    sort: Sort
    entry: int
    detail: str = ""
    photo: str = ""
    why: tuple[Reason, ...] = ()
    opens: float = 0.0
    latest: float = 0.0


@dataclass(frozen=True, slots=True)
class Band:
    """A stretch on a lane, in seconds; `title` is its words. What lies right of the now-line is drawn hollow.

    `inner` are moments inside it. Of a forecast: the quarter, middle and three quarters, infinite where the record
    does not reach. Of a soak: its least, its most, and its end; its end alone where no least and most were set.
    """

    start: float
    end: float
    look: Look
    title: str = ""
    inner: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Side:
    """What lies on one side of the now-line, the nearest to it first. `way` is 1 for what is owed, -1 for what was.

    `keys` are the instants in seconds times `way`, so that they ascend.
    """

    items: tuple[Item, ...]
    way: int
    keys: tuple[float, ...]


def side(items: Iterable[Item], way: int) -> Side:
    """The items in their order away from the now-line."""
    row = tuple(sorted(items, key=lambda item: item.at * way))
    return Side(row, way, tuple(item.at * way for item in row))


@dataclass(frozen=True, slots=True)
class Lane:
    """One plant's lane: what happened and what is owed; its bands; its pottings (seconds)."""

    plant: int
    past: Side
    ahead: Side
    bands: tuple[Band, ...] = ()
    pottings: tuple[float, ...] = ()

    def only(self, sorts: frozenset[Sort]) -> Lane:
        """The lane with what is about these sorts alone."""
        if len(sorts) == len(Sort):
            return self
        pottings = self.pottings if Sort.POTTING in sorts else ()
        return Lane(self.plant, _only(self.past, sorts), _only(self.ahead, sorts),
                    tuple(band for band in self.bands if OF_LOOK[band.look] in sorts), pottings)

    def of(self, box: Box) -> tuple[Item, ...]:
        """The entries of a box in the order of time."""
        row = self.ahead if box.ahead else self.past
        return row.items[box.first:box.first + box.count][::row.way]


def lane(plant: int, past: Iterable[Item] = (), ahead: Iterable[Item] = (), bands: Iterable[Band] = (),
         pottings: Iterable[float] = ()) -> Lane:
    """A plant's lane from its entries in any order."""
    return Lane(plant, side(past, -1), side(ahead, 1), tuple(bands), tuple(pottings))


def _only(of: Side, sorts: frozenset[Sort]) -> Side:
    return side((item for item in of.items if item.sort in sorts), of.way)


@dataclass(frozen=True, slots=True)
class View:
    """The stretch of time on the screen: its first second, seconds a pixel, and its width in pixels."""

    start: float
    per_px: float
    width: float

    @property
    def end(self) -> float:
        """Its last second."""
        return self.start + self.per_px * self.width

    def x(self, at: float) -> float:
        """Where a moment lies, in pixels from the left."""
        return (at - self.start) / self.per_px

    def moment(self, x: float) -> float:
        """The moment at a pixel."""
        return self.start + x * self.per_px

    def moved(self, px: float) -> View:
        """The view `px` pixels further on."""
        return replace(self, start=self.start + px * self.per_px)

    def with_at(self, at: float, x: float) -> View:
        """The view on the same scale in which the moment `at` lies at pixel `x`."""
        return replace(self, start=at - x * self.per_px)

    def zoomed(self, factor: float, x: float) -> View:
        """The view `factor` times nearer, with the moment at pixel `x` staying where it is; it stops at its bounds."""
        per_px = min(max(self.per_px / factor, NEAREST), FARTHEST / self.width)
        return View(self.moment(x) - x * per_px, per_px, self.width)

    def wide(self, width: float) -> View:
        """The same stretch of time on another width, as near as its bounds allow."""
        return spanning(self.start, self.end, width)

    def kept(self, first: float, last: float) -> View:
        """The view moved no further than it must be for its middle to lie from `first` to `last` (seconds)."""
        middle = (self.start + self.end) / 2
        return replace(self, start=self.start + min(max(middle, first), last) - middle)


def spanning(start: float, end: float, width: float) -> View:
    """The view that shows `start` to `end` on `width` pixels, as near as its bounds allow."""
    length = min(max(end - start, NEAREST * width), FARTHEST)
    return View((start + end - length) / 2, length / width, width)


@dataclass(frozen=True, slots=True)
class Room:
    """What a lane is laid out in: the view, the now-line (seconds), and how wide pictures may be, widest first."""

    view: View
    now: float
    pictures: tuple[float, ...] = ()

    @property
    def line(self) -> float:
        """Where the now-line lies, in pixels from the left."""
        return self.view.x(self.now)


@dataclass(frozen=True, slots=True)
class Box:
    """One mark or group on the screen: `left` and `width` in pixels. Right of it a picture `picture` pixels wide and
    words `words` pixels wide, each after a gap, 0 for none.

    `count` entries of the lane's side, from its place `first` on, lie from `start` to `end` (seconds); `item` is the
    entry, or the one of a group that lies nearest the now-line; `same` tells that all of them bear one mark.
    """

    left: float
    width: float
    first: int
    item: Item
    count: int
    start: float
    end: float
    ahead: bool
    same: bool
    picture: float = 0.0
    words: float = 0.0

    @property
    def right(self) -> float:
        return self.left + self.width

    @property
    def words_left(self) -> float:
        """Where its words begin."""
        return self.right + GAP + (self.picture + GAP if self.picture else 0.0)

    @property
    def reach(self) -> float:
        """The right end of all that is drawn of it."""
        return self.words_left + self.words if self.words else self.right + (GAP + self.picture if self.picture else 0)

    @property
    def title(self) -> str:
        """What is written beside it; the plate of a group holds the count itself."""
        if self.count == 1:
            return self.item.title
        if self.ahead:
            return "things owed"
        return NOUNS.get(self.item.mark, "entries") if self.same else "entries"

    @property
    def told(self) -> str:
        """It in full: "14 entries", or the title with its detail."""
        if self.count > 1:
            return f"{self.count} {self.title}"
        return "; ".join(filter(None, (self.item.title, self.item.detail)))

    def holds(self, ahead: bool, place: int) -> bool:
        """Whether the entry at this place of that side is in it."""
        return self.ahead is ahead and self.first <= place < self.first + self.count


@dataclass(frozen=True, slots=True)
class Row:
    """A lane as it is laid out: its boxes from left to right, and how many entries lie left and right of them.

    Every entry of the lane is in exactly one box, or counted in `earlier` or in `later`.
    """

    boxes: tuple[Box, ...]
    earlier: int
    later: int


@dataclass(frozen=True, slots=True)
class Strip:
    """A band as far as it is in view: its left and right end in pixels, and the room its words take (0: none), which
    begin at `words_left`."""

    band: Band
    left: float
    right: float
    words_left: float = 0.0
    words: float = 0.0
