"""Where everything of a trace's picture lies: days to pixels, bands and rows of plants, the way back as a line."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from math import ceil

from PySide6.QtCore import QPointF, QRectF

from greenhouse_desk.services.tracing import Picture, Run

HEAD = 28.0
NAME = 112.0
NUMBER = 50.0
ROW = 38.0
FOLDED = 26.0
PAD = 9.0
WORDS = 210.0
FLAG = 24.0


@dataclass(frozen=True, slots=True)
class Row:
    """One plant's row in one place's band: its y, in pixels."""

    plant: int
    place: int
    y: float


@dataclass(frozen=True, slots=True)
class Lane:
    """One place's band: its rectangle, and the y of the words on those folded away (None: nobody is)."""

    place: int
    top: float
    height: float
    folded: float | None


@dataclass(frozen=True, slots=True)
class Geometry:
    """The picture laid out for a width; `height` is what it needs."""

    picture: Picture
    width: float
    lanes: tuple[Lane, ...]
    rows: tuple[Row, ...]
    height: float

    @property
    def left(self) -> float:
        """Where the time axis begins."""
        return NAME + NUMBER

    def x(self, day: date) -> float:
        """A day's pixel; days outside the picture stay at its edge."""
        seen = self.picture
        share = (day - seen.start).days / max(1, (seen.end - seen.start).days)
        return self.left + (self.width - self.left - 1) * min(1.0, max(0.0, share))

    def y(self, plant: int, day: date) -> float | None:
        """The row on which a plant stood on a day; its nearest where it stood nowhere then, None without a row."""
        runs = [run for run in self.picture.runs if run.plant == plant]
        if not runs:
            return None
        return self.row(min(runs, key=lambda run: _away(run, day)))

    def y_now(self, plant: int) -> float | None:
        """The row on which a plant stands by now, also on the day it was moved; None without one."""
        runs = [run for run in reversed(self.picture.runs) if run.plant == plant]
        return self.row(min(runs, key=lambda run: _away(run, self.picture.today))) if runs else None

    def row(self, run: Run) -> float | None:
        """The y of a run."""
        return next((row.y for row in self.rows if row.plant == run.plant and row.place == run.place), None)

    def way(self) -> list[QPointF]:
        """The way back from the find: along each plant's row in time, across where two met."""
        points: list[QPointF] = []
        here, day = self.picture.plant, self.picture.found
        self._along(points, here, day, day)
        for step in self.picture.steps[1:]:
            self._along(points, here, day, step.day)
            self._along(points, step.plant, step.day, step.day)
            here, day = step.plant, step.day
        seen = self.picture.seen.get(here)
        if len(points) > 1 and seen is not None and seen < day:
            self._along(points, here, day, seen)
        return points

    def _along(self, points: list[QPointF], plant: int, start: date, end: date) -> None:
        for run in sorted((run for run in self.picture.runs if run.plant == plant), key=lambda run: run.start,
                          reverse=True):
            y = self.row(run)
            if y is None or run.start > start or run.end < end:
                continue
            points += [QPointF(self.x(min(start, run.end)), y), QPointF(self.x(max(end, run.start)), y)]

    def at(self, point: QPointF) -> int | None:
        """The plant whose row lies under a point."""
        near = min(self.rows, key=lambda row: abs(row.y - point.y()), default=None)
        return near.plant if near is not None and abs(near.y - point.y()) <= ROW / 2 else None


def _away(run: Run, day: date) -> timedelta:
    return max(run.start - day, day - run.end, timedelta())


def lay_out(picture: Picture, width: float, least: float = 0.0) -> Geometry:
    """The picture in `width` pixels, at least `least` high: bands under each other, room spread over them evenly; so
    many days to come that the words right of now have room."""
    picture = _ahead(picture, width)
    needs = [2 * PAD + ROW * len(band.plants) + (FOLDED if band.folded or not band.plants else 0) for band in
             picture.bands]
    spare = max(0.0, least - HEAD - FLAG - sum(needs)) / max(1, len(needs))
    lanes, rows, top = list[Lane](), list[Row](), HEAD
    for band, need in zip(picture.bands, needs, strict=True):
        more = min(spare, 3 * ROW)
        rows += [Row(plant, band.place, top + PAD + more / 2 + ROW * (nth + 0.5)) for nth, plant in
                 enumerate(band.plants)]
        under = top + PAD + more / 2 + ROW * len(band.plants)
        lanes.append(Lane(band.place, top, need + more, under if band.folded else None))
        top += need + more
    return Geometry(picture, width, tuple(lanes), tuple(rows), top + FLAG)


def _ahead(picture: Picture, width: float) -> Picture:
    room, past = width - NAME - NUMBER, (picture.today - picture.start).days
    if room <= 2 * WORDS:
        return picture
    days = ceil(past * WORDS / (room - WORDS))
    return replace(picture, end=max(picture.end, picture.today + timedelta(days=days)))


def hatched(geometry: Geometry) -> list[QRectF]:
    """Stretches in which two plants of the way back stood side by side, between their rows."""
    found = []
    for before, step in zip(geometry.picture.steps, geometry.picture.steps[1:], strict=False):
        if step.contact is None or "stood" not in step.contact.how:
            continue
        one, other = geometry.y(before.plant, step.day), geometry.y(step.plant, step.day)
        if one is not None and other is not None and one != other:
            x = geometry.x(max(step.contact.start, geometry.picture.start))
            found.append(QRectF(x, min(one, other) + 4, geometry.x(min(step.contact.end, geometry.picture.today)) - x,
                                abs(one - other) - 8))
    return found


def dates(picture: Picture, width: float) -> list[date]:
    """The days written over the axis: Mondays, so many weeks apart that their words do not touch."""
    room, span = max(1.0, (width - NAME - NUMBER) / 72), (picture.end - picture.start).days
    weeks = max(1, -(-span // int(7 * room)))
    first = picture.start + timedelta(days=(7 - picture.start.weekday()) % 7)
    return [first + timedelta(days=7 * weeks * nth) for nth in range(span // (7 * weeks) + 1)
            if first + timedelta(days=7 * weeks * nth) <= picture.end - timedelta(days=3)]
