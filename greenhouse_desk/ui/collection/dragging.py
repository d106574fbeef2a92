"""Where a card would go: the place under the pointer, the plant it would stand in front of, the bar that shows it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from PySide6.QtCore import QPoint, QRect

from greenhouse_desk.services.collection import BenchRow
from greenhouse_desk.ui.collection.layout import GAP, Plan, Strip

BAR = 4
REACH = 120


class Target(NamedTuple):
    """The bench to move to, the plant to stand in front of (None: the end), and where the bar is drawn."""

    place: int
    before: int | None
    bar: QRect


def target_at(plan: Plan, benches: Sequence[BenchRow], at: QPoint) -> Target | None:
    """What a card let go at `at` (canvas pixels) would do; None off every bench or on plants without a place."""
    strip = min(plan.strips, key=lambda strip: _distance(strip, at), default=None)
    if strip is None or _distance(strip, at) > REACH or benches[strip.bench].place.id == 0:
        return None
    numbers = [card.plant.number for card in benches[strip.bench].cards]
    if not strip.cards:
        assert strip.empty is not None
        return Target(benches[strip.bench].place.id, None, _bar(strip.empty.x(), strip.empty))
    return _between(strip, numbers, benches[strip.bench].place.id, at)


def stays(benches: Sequence[BenchRow], numbers: Sequence[int], target: Target) -> bool:
    """Whether letting go there would leave everything where it stands."""
    bench = next((bench for bench in benches if bench.place.id == target.place), None)
    here = [card.plant.number for card in bench.cards] if bench is not None else []
    left = [number for number in here if number not in numbers]
    before = target.before
    while before in numbers:
        after = here.index(before) + 1 if before in here else len(here)
        before = here[after] if after < len(here) else None
    at = left.index(before) if before in left else len(left)
    return here == [*left[:at], *numbers, *left[at:]]


def told(benches: Sequence[BenchRow], numbers: Sequence[int], target: Target | None) -> str:
    """Where a card in hand would go, in words."""
    if target is None:
        return "no bench here"
    if stays(benches, numbers, target):
        return "stays where it is"
    bench = next(bench.place.name for bench in benches if bench.place.id == target.place)
    return f"to {bench}, before {target.before}" if target.before else f"to the end of {bench}"


def _distance(strip: Strip, at: QPoint) -> int:
    """Pixels from the pointer to the nearest card of a bench, or to its head."""
    rects = [*strip.cards, strip.head] if strip.cards else [strip.area]
    return min(max(rect.left() - at.x(), at.x() - rect.right(), 0) + max(rect.top() - at.y(), at.y() - rect.bottom(), 0)
               for rect in rects)


def _bar(x: int, like: QRect) -> QRect:
    return QRect(x - BAR // 2 - GAP // 2, like.y() - 2, BAR, like.height() + 4)


def _between(strip: Strip, numbers: Sequence[int], place: int, at: QPoint) -> Target:
    row_y = min({card.y() for card in strip.cards}, key=lambda y: abs(y + strip.cards[0].height() // 2 - at.y()))
    row = [n for n, card in enumerate(strip.cards) if card.y() == row_y]
    for n in row:
        if at.x() < strip.cards[n].center().x():
            return Target(place, numbers[n], _bar(strip.cards[n].x(), strip.cards[n]))
    last = row[-1]
    after = numbers[last + 1] if last + 1 < len(numbers) else None
    return Target(place, after, _bar(strip.cards[last].x() + strip.cards[last].width() + GAP, strip.cards[last]))


def by_key(benches: Sequence[BenchRow], number: int, along: int, across: int) -> tuple[int, int | None] | None:
    """Where plant `number` goes by one press: `along` its bench (-1, 1) or `across` to the next bench (-1, 1).

    Returns (place, before), or None where there is nowhere to go.
    """
    real = [bench for bench in benches if bench.place.id]
    found = [(n, [card.plant.number for card in bench.cards]) for n, bench in enumerate(real)
             if any(card.plant.number == number for card in bench.cards)]
    if not found:
        return (real[0].place.id, None) if across and real else None
    bench, numbers = found[0]
    at = numbers.index(number)
    if along:
        return _along(real[bench].place.id, numbers, at, along)
    if not 0 <= bench + across < len(real):
        return None
    there = [card.plant.number for card in real[bench + across].cards]
    return real[bench + across].place.id, there[at] if at < len(there) else None


def _along(place: int, numbers: Sequence[int], at: int, step: int) -> tuple[int, int | None] | None:
    if not 0 <= at + step < len(numbers):
        return None
    if step < 0:
        return place, numbers[at - 1]
    return place, numbers[at + 2] if at + 2 < len(numbers) else None
