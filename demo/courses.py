"""Transitions of the demo: how each plant settled, which left a doubt, and one plant for every verdict."""

from __future__ import annotations

import random
from collections.abc import Iterator

from greenhouse_desk.domain.journal import Overruled, Potted, Roots, Settled, Signs
from greenhouse_desk.domain.journal_course import Growing, Leaves, RootState, Smell, Stand

from .days import Days, Told
from .setting import Given

CHECK_DAYS = (14, 28, 56, 84, 112)
FIRM = Signs(Leaves.FIRM, Stand.FIRM, Smell.FRESH, growing=Growing.GROWTH)
DEAD = (2, 2, 1, 1, 0)
NO_TIP_WEEKS = 8
UNDER_WAY = {107: 140, 134: 130, 139: 120, 156: 110}
"""Plants that are slower than their neighbours, so that they are still under way."""
LATELY = {132: Signs(roots=RootState.BROWN), 139: Signs(roots=RootState.BROWN),
          156: Signs(Leaves.LIMP, Stand.LOOSE)}
"""What the last look of a plant under way told besides: brown roots are a doubt, but not on a slipper orchid."""


def looks(plant: Given, days: Days, ago: int, living: int, dice: random.Random) -> Iterator[Told]:
    """The looks after a move `ago` days back, and the grower's word when the plant had settled."""
    settled = settled_after(plant.number)
    taken = [after for after in CHECK_DAYS if ago - after > 0 and after <= settled]
    for nth, after in enumerate(CHECK_DAYS):
        more = dice.randint(0, 1)
        if after in taken:
            tips = 0 if _slow(plant.number) and (after < 7 * NO_TIP_WEEKS or nth == 4) else nth + 1
            yield from _look(days, ago - after, Roots(living + nth + more, DEAD[nth], tips))
            if plant.number % 5 == 3 and nth == 1:
                yield from _doubt(plant, days, ago - after)
    if taken and plant.number in LATELY:
        yield Told(days.at(ago - taken[-1], 18, 15), LATELY[plant.number])
    if ago - settled > 0:
        yield Told(days.at(ago - settled, 18, 30), Settled("new roots hold it firm in the pellets"))


def settled_after(number: int) -> int:
    """Days after its move on which a plant settled."""
    if number in UNDER_WAY:
        return UNDER_WAY[number]
    return 126 + 5 * (number % 4) if _slow(number) else 52 + (number * 37) % 57


def _slow(number: int) -> bool:
    return number % 18 == 4 or number == 107


def _look(days: Days, ago: int, roots: Roots) -> Iterator[Told]:
    yield Told(days.at(ago, 18, 10), roots)
    yield Told(days.at(ago, 18, 12), FIRM)


def _doubt(plant: Given, days: Days, ago: int) -> Iterator[Told]:
    """Limp leaves at the second look; every other such plant was taken out and potted anew three days later."""
    yield Told(days.at(ago, 18, 15), Signs(leaves=Leaves.LIMP), "two leaves hang")
    if plant.number % 2 and ago > 9:
        yield Told(days.at(ago - 3, 17, 20), Potted(plant.medium, plant.pot), "same pellets, one size smaller")


def overruled(days: Days, ago: int) -> Iterator[Told]:
    """The rule said to step in, and the grower waits."""
    yield Told(days.at(ago, 18, 40), Overruled(
        "verdict", "step in", "look again", "a new root shows at the rim, and the rest is firm", 10))
