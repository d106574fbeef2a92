"""The timeline: what lies on a plant's lane, and which marks, groups and words of it have room on the screen.

Positions are seconds since 1970 (UTC) until a `View` turns them into pixels. What happened is laid out from the
now-line leftwards, what is owed from it rightwards, so that neither ever crosses it: both are one walk along the
distance from the line. A mark that would touch its neighbour joins it in a group, which tells its count; groups unfold
as the view comes nearer. Since groups are counted from the now-line and not from the edge of the screen, they stay as
they are while the view is only moved. What is not wholly on the screen is counted at the edge it lies beyond, so that
boxes and edges together tell every entry once, at any zoom.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from greenhouse_desk.domain.timeline_values import GAP, MARK, PAD, Band, Box, Lane, Look, Room, Row, Side, Strip

CLEAR = 5.0
"""Free pixels between a box and the now-line."""
DIGIT = 8.0
LEAST_WORDS = 40.0
"""Words with less room than this are left out: three letters and an ellipsis tell nothing."""
SEEN_THROUGH = 60
"""How many entries of a group are compared to tell whether all bear one mark."""
WALK = 300
"""How many crowded entries outside the view are walked to find where their groups begin."""
TRACKS = ((Look.STAY,), (Look.COURSE, Look.FORECAST), (Look.HOLD,), (Look.SOAK,))
"""Bands that lie in one row: those of one row never lie over each other."""
OUTSIDE = (Look.FORECAST, Look.SOAK)
"""Bands whose words stand after them: inside there is something to be seen."""
SEEN = 4.0
"""A soak narrower than so many pixels is not drawn: the mark of its entry tells it. Nor have words after a band that
shows less than that of itself, or from which the now-line parts them by more than `APART`."""
APART = 3 * PAD
Width = Callable[[str, bool], float]
"""How wide some words are on the screen, in pixels; the second value asks for the bold face."""


class _Group(NamedTuple):
    """Entries `first` to before `after` of a side, `near` pixels from the now-line at their nearer edge."""

    first: int
    after: int
    near: float
    size: float


class _Laid(NamedTuple):
    """The boxes of a side away from the now-line, and how many entries lie before them and beyond them."""

    boxes: list[Box]
    inner: int
    outer: int


def laid_out(lane: Lane, room: Room, width: Width) -> Row:
    """What of `lane` shows in `room`, with the words and pictures there is room for.

    Every entry of the lane is in exactly one box, or counted in `earlier` or `later`; every box is wholly on the
    screen; no box, picture or words touch others or the now-line.
    """
    past, ahead = _side(lane.past, room), _side(lane.ahead, room)
    boxes = [*reversed(past.boxes), *ahead.boxes]
    return Row(tuple(_worded(boxes, room, width)), past.outer + ahead.inner, past.inner + ahead.outer)


def plate_width(count: int) -> float:
    """One entry is a mark; several are a plate with their count."""
    return MARK if count == 1 else MARK + 8 + DIGIT * len(str(count))


def _side(of: Side, room: Room) -> _Laid:
    """The boxes of one side that are wholly in view; the window is told as a distance from the now-line."""
    line, width = room.line, room.view.width
    low, high = (-line, width - line) if of.way > 0 else (line - width, line)
    boxes: list[Box] = []
    before = after = _start(of, room, low)
    for group in _groups(of, room, before):
        if group.near < low:
            before = after = group.after
            continue
        if group.near + group.size > high:
            break
        boxes.append(_box(of, group, line))
        after = group.after
    return _Laid(boxes, before, len(of.items) - after)


def _groups(of: Side, room: Room, at: int) -> Iterator[_Group]:
    """Groups away from the now-line, from the entry at place `at` on, each beginning at its nearest entry."""
    keys, per_px, zero, count = of.keys, room.view.per_px, of.way * room.now, len(of.keys)
    while at < count:
        near = max((keys[at] - zero) / per_px, CLEAR + MARK / 2) - MARK / 2
        after, size = at + 1, MARK
        while after < count and keys[after] < (edge := zero + (near + size + GAP + MARK / 2) * per_px):
            after = bisect_left(keys, edge, after + 1)
            size = plate_width(after - at)
        yield _Group(at, after, near, size)
        at = after


def _start(of: Side, room: Room, low: float) -> int:
    """The nearest entry to lay out: the first in view, or, where a crowd runs on before it, where that crowd begins."""
    zero, per_px = of.way * room.now, room.view.per_px
    apart = (plate_width(len(of.keys)) + GAP) * per_px
    least = (CLEAR + MARK / 2) * per_px
    first = bisect_left(of.keys, zero + low * per_px)
    for at in range(first, max(first - WALK, 0), -1):
        if at < len(of.keys) and of.keys[at] - max(of.keys[at - 1], zero + least) >= apart:
            return at
    return 0


def _box(of: Side, group: _Group, line: float) -> Box:
    ends = of.items[group.first].at, of.items[group.after - 1].at
    left = line + group.near if of.way > 0 else line - group.near - group.size
    return Box(left, group.size, group.first, of.items[group.first], group.after - group.first, min(ends), max(ends),
               of.way > 0, _same(of, group.first, group.after))


def _same(of: Side, first: int, after: int) -> bool:
    """Whether these entries all bear one mark; a large group is not looked through."""
    mark = of.items[first].mark
    return after - first <= SEEN_THROUGH and all(item.mark == mark for item in of.items[first + 1:after])


def _worded(boxes: Sequence[Box], room: Room, width: Width) -> Iterator[Box]:
    """Each box with the picture and the words that fit between it and the next one, or the now-line."""
    line = room.line
    for nth, box in enumerate(boxes):
        end = boxes[nth + 1].left - GAP if nth + 1 < len(boxes) else room.view.width
        if not box.ahead and box.left < line:
            end = min(end, line - CLEAR)
        yield _filled(box, end, room.pictures, width)


def _filled(box: Box, end: float, pictures: Iterable[float], width: Width) -> Box:
    """The box with the widest picture there is room for, and then its words."""
    wanted = pictures if box.count == 1 and box.item.photo else ()
    picture = next((wide for wide in wanted if end - box.right - GAP >= wide), 0.0)
    need, space = width(box.title, box.ahead), end - box.right - GAP - (picture + GAP if picture else 0.0)
    words = 0.0 if space < min(LEAST_WORDS, need) else min(space, need)
    return replace(box, picture=picture, words=words) if picture or words else box


def strips(bands: Iterable[Band], room: Room, width: Callable[[str], float]) -> tuple[tuple[Strip, ...], ...]:
    """The bands in view, track by track (`TRACKS`), with the words that fit into each, or after a forecast or a soak.

    No words touch others, another band of their track, or the now-line.
    """
    every = sorted(bands, key=lambda band: (band.start, band.end))
    return tuple(tuple(_track([band for band in every if band.look in looks], room, width)) for looks in TRACKS)


def _track(bands: Sequence[Band], room: Room, width: Callable[[str], float]) -> Iterator[Strip]:
    view, free = room.view, 0.0
    for nth, band in enumerate(bands):
        left, right = view.x(band.start), view.x(band.end)
        if right < 0 or left > view.width or (band.look is Look.SOAK and right - left < SEEN):
            continue
        outside = band.look in OUTSIDE
        until = view.x(bands[nth + 1].start) if nth + 1 < len(bands) else view.width
        end = min(until if outside else right, until, view.width) - PAD
        begin, words = _beside(max(right if outside else left, free, 0.0) + PAD, end, room.line, width(band.title))
        if outside and (min(right, view.width) - max(left, 0.0) < SEEN or begin - right > APART):
            words = 0.0
        free = begin + words + PAD if words else free
        yield Strip(band, max(left, -PAD), min(right, view.width + PAD), begin, words)


def _beside(begin: float, end: float, line: float, need: float) -> tuple[float, float]:
    """Where words stand between `begin` and `end`, and how wide: left of the now-line, or else right of it; 0 for none.
    """
    least = min(LEAST_WORDS, need)
    for first, last in ((begin, min(end, line - CLEAR) if begin < line else end), (max(begin, line + CLEAR), end)):
        if need and last - first >= least and not first < line < last:
            return first, min(last - first, need)
    return begin, 0.0
