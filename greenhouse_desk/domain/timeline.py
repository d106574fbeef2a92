"""The timeline: what lies on a plant's lane, and which marks, groups and words of it have room on the screen.

Positions are seconds since 1970 (UTC) until a `View` turns them into pixels. What happened is laid out from the
now-line leftwards, what is owed from it rightwards, so that neither ever crosses it. A mark that would touch its
neighbour joins it in a group, which tells its count; groups unfold as the view comes nearer. Since groups are counted
from the now-line and not from the edge of the screen, they stay as they are while the view is only moved.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Sequence

from greenhouse_desk.domain.timeline_values import MARK, Box, Item, Lane, Room, Row, View

GAP = 4.0
CLEAR = 5.0
"""Free pixels between two boxes, and between a box and the now-line."""
DIGIT = 8.0
LEAST_WORDS = 40.0
"""Words with less room than this are left out: three letters and an ellipsis tell nothing."""
WALK = 300
"""How many crowded entries outside the view are walked to find where their groups begin."""
Width = Callable[[str, bool], float]
"""How wide some words are on the screen, in pixels; the second value asks for the bold face."""


def laid_out(lane: Lane, view: View, now: float, width: Width, photo: float = 0.0) -> Row:
    """What of `lane` shows in `view`: its boxes from left to right, each with the words it has room for.

    `photo` is the width of a picture that stands for a lone photo, 0 for the mark alone. Every entry in view is in
    exactly one box, and no box or words touch others or the now-line.
    """
    room = Room(view, now, photo)
    boxes = [*reversed(_past(lane.past, room)), *_ahead(lane.ahead, room)]
    return Row(tuple(_worded(boxes, room, width)))


def _box_width(items: Sequence[Item], first: int, last: int, photo: float) -> float:
    """One entry is a mark, or a picture; several are a plate with their count."""
    if first == last:
        return photo if photo and items[first].photo else MARK
    return MARK + 8 + DIGIT * len(str(last - first + 1))


def _past(row: Sequence[Item], room: Room) -> list[Box]:
    """Boxes of what happened, newest first, each ending at its newest entry."""
    view, limit = room.view, room.now - (CLEAR + MARK / 2) * room.view.per_px
    at = _first_free(row, room, limit)
    boxes: list[Box] = []
    low = view.start - room.widest * view.per_px
    while at >= 0 and row[at].at >= low:
        right = view.x(min(row[at].at, limit)) + MARK / 2
        first, size = _taken_in(row, at, right, room)
        if right >= 0 and right - size <= view.width:
            boxes.append(Box(right - size, size, first, row[at], at - first + 1, row[first].at, row[at].at,
                             same=_same(row, first, at)))
        at = first - 1
    return boxes


def _taken_in(row: Sequence[Item], last: int, right: float, room: Room) -> tuple[int, float]:
    """The oldest entry that the box ending at `right` takes in, and the width it comes to."""
    first = last
    while True:
        size = _box_width(row, first, last, room.photo)
        edge = room.view.moment(right - size - GAP - MARK / 2)
        more = bisect_right(row, edge, 0, first, key=_at)
        if more == first:
            return first, size
        first = more


def _first_free(row: Sequence[Item], room: Room, limit: float) -> int:
    """The newest entry to lay out: the view's last, or, where a crowd runs on beyond it, where that crowd ends."""
    end = bisect_right(row, room.view.end, key=_at)
    apart = room.widest * room.view.per_px
    for at in range(end, min(end + WALK, len(row))):
        if at and min(row[at].at, limit) - row[at - 1].at >= apart:
            return at - 1
    return len(row) - 1


def _ahead(row: Sequence[Item], room: Room) -> list[Box]:
    """Boxes of what is owed, soonest first, each beginning at its soonest."""
    view, limit = room.view, room.now + (CLEAR + MARK / 2) * room.view.per_px
    boxes: list[Box] = []
    at = 0
    while at < len(row) and row[at].at <= view.end + room.widest * view.per_px:
        left = view.x(max(row[at].at, limit)) - MARK / 2
        last, size = at, MARK
        while True:
            edge = view.moment(left + size + GAP + MARK / 2)
            more = bisect_left(row, max(edge, limit + 1e-6), last + 1, key=_at)
            if more == last + 1:
                break
            last = more - 1
            size = _box_width(row, at, last, 0)
        if left + size >= 0 and left <= view.width:
            boxes.append(Box(left, size, at, row[at], last - at + 1, row[at].at, row[last].at, True,
                             _same(row, at, last)))
        at = last + 1
    return boxes


def _at(item: Item) -> float:
    return item.at


def _same(row: Sequence[Item], first: int, last: int) -> bool:
    """Whether these entries all bear one mark; a large group is not looked through."""
    return last - first < 60 and all(row[at].mark == row[first].mark for at in range(first + 1, last + 1))


def _worded(boxes: Sequence[Box], room: Room, width: Width) -> list[Box]:
    """Each box with the words that fit between it and the next one, or the now-line."""
    line = room.view.x(room.now)
    worded = []
    for nth, box in enumerate(boxes):
        end = boxes[nth + 1].left - GAP if nth + 1 < len(boxes) else room.view.width
        if not box.ahead and box.left < line:
            end = min(end, line - CLEAR)
        space = end - box.right - GAP
        need = width(box.title, box.ahead)
        worded.append(box if space < min(LEAST_WORDS, need) else box.with_words(min(space, need)))
    return worded
