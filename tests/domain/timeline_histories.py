"""Random histories for the timeline's layout, and the faults that a layout of them can have."""

from __future__ import annotations

import random
from collections.abc import Iterator
from itertools import pairwise

from greenhouse_desk.domain.timeline import CLEAR, OUTSIDE, laid_out, strips
from greenhouse_desk.domain.timeline_sorts import Sort
from greenhouse_desk.domain.timeline_values import (
    DAY,
    FARTHEST,
    GAP,
    NEAREST,
    Band,
    Box,
    Item,
    Lane,
    Look,
    Room,
    Row,
    Strip,
    View,
    lane,
    spanning,
)
from tests.builders import NOW

AT = NOW.timestamp()
WORDS = ("pour", "photo", "potted in clay pellets", "clean look", "to North sill", "Phalaenopsis 'ร้อยมาลัย'")
PICTURES: tuple[tuple[float, ...], ...] = ((), (32.0,), (56.0, 32.0), (112.0, 56.0, 32.0))
NEAR = 0.01
"""Pixels that rounding may shift."""


def width(words: str, bold: bool = False) -> float:
    return len(words) * (7.5 if bold else 7.0)


def an_item(at: float, nth: int, sort: Sort = Sort.NOTE, photo: str = "") -> Item:
    return Item(at, "note", WORDS[nth % len(WORDS)], sort, nth, photo=photo)


def a_lane(dice: random.Random, most: int = 300) -> Lane:
    """A random journal: a rhythm of its own, evenings in which much happens, care to come and bands."""
    reach = 10 ** dice.uniform(3, 8.6)
    past = [AT - dice.uniform(0, reach) for _ in range(dice.randint(0, most))]
    for evening in [AT - dice.uniform(0, reach) for _ in range(dice.randint(0, 4))]:
        past += [min(evening + dice.choice((0.0, dice.uniform(0, 7000))), AT) for _ in range(dice.randint(1, 60))]
    ahead = [AT + dice.choice((0.0, dice.uniform(0, 200 * DAY))) for _ in range(dice.randint(0, 25))]
    return lane(101, (an_item(at, nth, photo=dice.choice(("", "sha"))) for nth, at in enumerate(past)),
                (an_item(at, nth, Sort.CARE) for nth, at in enumerate(ahead)),
                (band for look in Look for band in some_bands(dice, look, reach)))


def some_bands(dice: random.Random, look: Look, reach: float) -> Iterator[Band]:
    """Stretches one after the other, some of them touching."""
    ends = sorted(AT + dice.uniform(-reach, reach / 5) for _ in range(2 * dice.randint(0, 6)))
    for start, end in zip(ends[::2], ends[1::2], strict=True):
        yield Band(start, end, look, dice.choice(WORDS))


def a_view(dice: random.Random) -> View:
    """From the nearest zoom to the farthest, near the now-line or far from it."""
    wide = dice.uniform(200, 2600)
    span = NEAREST * wide * (FARTHEST / (NEAREST * wide)) ** dice.random()
    reach = dice.choice((1.0, 3.0, 40.0))
    start = AT - span * dice.uniform(-0.3, reach)
    return spanning(start, start + span, wide)


def faults(of: Lane, room: Room) -> list[str]:
    """What is wrong with this lane's layout."""
    row = laid_out(of, room, width)
    return [*touching(row, room), *untold(of, row, room), *band_faults(of, room)]


def touching(row: Row, room: Room) -> Iterator[str]:
    """Boxes with their pictures and words that touch, cross the now-line, or leave the screen."""
    for one, other in pairwise(row.boxes):
        if one.reach + GAP > other.left + NEAR:
            yield f"{one} touches {other}"
    for box in row.boxes:
        if box.left < -NEAR or box.reach > room.view.width + NEAR:
            yield f"{box} is not wholly on the screen"
        if box.ahead and box.left < room.line + CLEAR - NEAR:
            yield f"{box} crosses the now-line at {room.line}"
        if not box.ahead and box.reach > room.line - CLEAR + NEAR:
            yield f"{box} crosses the now-line at {room.line}"


def untold(of: Lane, row: Row, room: Room) -> Iterator[str]:
    """Entries that are neither a mark nor counted, or that are told twice."""
    inside: list[tuple[bool, int]] = [(box.ahead, place) for box in row.boxes
                                      for place in range(box.first, box.first + box.count)]
    if len(inside) != len(set(inside)):
        yield "an entry is told twice"
    every = len(of.past.items) + len(of.ahead.items)
    if row.earlier + len(inside) + row.later != every:
        yield f"{row.earlier} earlier, {len(inside)} in boxes and {row.later} later are not {every}"
    for box in row.boxes:
        if [one.at for one in of.of(box)] != sorted(one.at for one in of.of(box)) or len(of.of(box)) != box.count:
            yield f"{box} holds {len(of.of(box))}"
        if any(not box.start <= one.at <= box.end for one in of.of(box)):
            yield f"{box} holds another time"
    yield from misplaced(of, set(inside), row, room)


def misplaced(of: Lane, inside: set[tuple[bool, int]], row: Row, room: Room) -> Iterator[str]:
    """Entries in no box must lie on the side where they are counted, and well inside the screen there are none."""
    edge = 100.0
    for ahead, side in ((False, of.past), (True, of.ahead)):
        for place, one in enumerate(side.items):
            x = room.view.x(one.at)
            if (ahead, place) not in inside and edge < x < room.view.width - edge and abs(x - room.line) > edge:
                yield f"{one} is in view and not told"
    left = sum(room.view.x(one.at) < -edge for side in (of.past, of.ahead) for one in side.items)
    right = sum(room.view.x(one.at) > room.view.width + edge for side in (of.past, of.ahead) for one in side.items)
    if row.earlier < left or row.later < right:
        yield f"{row.earlier} earlier and {row.later} later, but {left} and {right} lie there"


def band_faults(of: Lane, room: Room) -> Iterator[str]:
    """Words of bands that touch, cross the now-line, or stand outside their band or the screen."""
    view = room.view
    for track in strips(of.bands, room, width):
        named = [strip for strip in track if strip.words]
        for one, other in pairwise(named):
            if one.words_left + one.words > other.words_left:
                yield f"{one} touches {other}"
        for strip in named:
            if strip.words_left < room.line < strip.words_left + strip.words:
                yield f"{strip} has words across the now-line at {room.line}"
            ahead = strip.band.look in OUTSIDE
            first, last = (strip.right, view.width) if ahead else (max(strip.left, 0.0), min(strip.right, view.width))
            if strip.words_left < first or strip.words_left + strip.words > last:
                yield f"{strip} has words out of place"
        yield from over_others(track)
        yield from adrift(track, view)


def adrift(track: tuple[Strip, ...], view: View) -> Iterator[str]:
    """Words whose band is not to be seen right beside them."""
    for strip in track:
        shown = min(strip.right, view.width) - max(strip.left, 0.0)
        inside = strip.left <= strip.words_left <= strip.right
        if strip.words and (shown < 3.9 or (not inside and strip.words_left - strip.right > 16)):
            yield f"{strip} has words and {shown} pixels of it are seen"


def over_others(track: tuple[Strip, ...]) -> Iterator[str]:
    """Words over another band of their track."""
    for one, other in pairwise(track):
        if one.words and one.words_left + one.words > max(other.left, 0.0) and one.right <= other.left:
            yield f"{one} has words over {other}"


def crowded(boxes: tuple[Box, ...]) -> list[Box]:
    return [box for box in boxes if box.count > 1]
