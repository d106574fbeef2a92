"""The values of the timeline: entries and bands on a lane, the stretch of time in view, and boxes on the screen."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from greenhouse_desk.domain.journal_words import Kind

MARK = 16.0
"""A mark's width in pixels."""
WIDEST = 80.0
"""No box is wider than this: a mark or plate with six digits; a picture says its own width."""
HOUR, DAY = 3_600.0, 86_400.0
NEAREST, FARTHEST = 2 * HOUR, 30 * 365.25 * DAY
"""The shortest and the longest stretch of time a view shows."""


class Sort(StrEnum):
    """What an entry is about; the timeline can show some of these only."""

    WATER = "water and feed"
    POTTING = "potting and roots"
    TREATMENT = "treatments"
    PEST = "looks and pests"
    PLACE = "places"
    PHOTO = "photos"
    NOTE = "notes"
    CARE = "care ahead"


SORTS: dict[Kind, Sort] = {
    Kind.POURED: Sort.WATER, Kind.WETTED: Sort.WATER, Kind.BLOTTED: Sort.WATER, Kind.AIRED: Sort.WATER,
    Kind.DRY: Sort.WATER, Kind.POTTED: Sort.POTTING, Kind.UNPOTTED: Sort.POTTING, Kind.ROOTS: Sort.POTTING,
    Kind.CUT: Sort.POTTING, Kind.DRESSED: Sort.POTTING, Kind.SIGNS: Sort.POTTING, Kind.OVERRULED: Sort.POTTING,
    Kind.SETTLED: Sort.POTTING, Kind.TREATED: Sort.TREATMENT, Kind.STEP: Sort.TREATMENT, Kind.LOOKED: Sort.PEST,
    Kind.SIGHTED: Sort.PEST, Kind.RELEASED: Sort.PEST, Kind.OUTBREAK: Sort.PEST, Kind.PLACED: Sort.PLACE,
    Kind.ARRIVED: Sort.PLACE, Kind.LEFT: Sort.PLACE, Kind.PHOTO: Sort.PHOTO,
}
"""Kinds that are not named here are notes."""


NOUNS = {
    "pour": "pours", "plain water": "pours", "soak": "soaks", "inspection": "looks", "sighting": "sightings",
    "potting": "pottings", "place": "moves", "photo": "photos", "note": "notes", "cut": "cuts",
    "roots": "root counts", "step": "steps", "answer": "answers",
}
"""Several entries of one mark in a word."""


class Look(StrEnum):
    """How a band is drawn."""

    STAY = "stay"
    HOLD = "hold"
    COURSE = "course"
    SOAK = "soak"


@dataclass(frozen=True, slots=True)
class Item:
    """One thing on a lane: when (seconds), its mark, its words, what it is about, and the entry it opens.

    `photo` is the SHA-256 of a photo. For care, `entry` is the entry that caused it.
    """

    at: float
    mark: str
    title: str
    sort: Sort
    entry: int
    detail: str = ""
    photo: str = ""


@dataclass(frozen=True, slots=True)
class Band:
    """A stretch on a lane, in seconds; `title` is its words. What lies right of the now-line is drawn hollow."""

    start: float
    end: float
    look: Look
    title: str = ""


@dataclass(frozen=True, slots=True)
class Lane:
    """One plant's lane: what happened and what is owed, both in time order; its bands; its pottings (seconds)."""

    plant: int
    past: tuple[Item, ...] = ()
    ahead: tuple[Item, ...] = ()
    bands: tuple[Band, ...] = ()
    pottings: tuple[float, ...] = ()

    def only(self, sorts: frozenset[Sort]) -> Lane:
        """The lane with entries of these sorts alone."""
        if len(sorts) == len(Sort):
            return self
        return replace(self, past=tuple(item for item in self.past if item.sort in sorts),
                       ahead=tuple(item for item in self.ahead if item.sort in sorts))


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

    def zoomed(self, factor: float, x: float) -> View:
        """The view `factor` times nearer, with the moment at pixel `x` staying where it is; it stops at its bounds."""
        per_px = min(max(self.per_px / factor, NEAREST / self.width), FARTHEST / self.width)
        return View(self.moment(x) - x * per_px, per_px, self.width)

    def wide(self, width: float) -> View:
        """The same start and scale on another width."""
        return replace(self, width=width)


def spanning(start: float, end: float, width: float) -> View:
    """The view that shows `start` to `end` on `width` pixels, as near as its bounds allow."""
    length = min(max(end - start, NEAREST), FARTHEST)
    return View((start + end - length) / 2, length / width, width)


@dataclass(frozen=True, slots=True)
class Room:
    """What a lane is laid out in: the view, the now-line (seconds), and the width of a photo's picture (0: none)."""

    view: View
    now: float
    photo: float

    @property
    def widest(self) -> float:
        return max(WIDEST, self.photo + MARK)


@dataclass(frozen=True, slots=True)
class Box:
    """One mark or group on the screen: `left` and `width` in pixels, its words beside it `words` pixels wide (0: none).

    `count` entries of the lane's row, from its place `first` on, lie from `start` to `end` (seconds); `item` is the
    entry, or the one of a group that lies nearest the now-line; `same` tells that all of them bear one mark.
    """

    left: float
    width: float
    first: int
    item: Item
    count: int
    start: float
    end: float
    ahead: bool = False
    same: bool = True
    words: float = 0.0

    @property
    def right(self) -> float:
        return self.left + self.width

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

    def with_words(self, width: float) -> Box:
        """The box with its words shown, `width` pixels wide."""
        return replace(self, words=width)


@dataclass(frozen=True, slots=True)
class Row:
    """A lane as it is laid out: its boxes from left to right."""

    boxes: tuple[Box, ...]
