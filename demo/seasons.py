"""The plants' year in the demo: spikes, buds and flowers in their months, rests, and moves to more shade or sun."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import date, timedelta

from greenhouse_desk.domain.journal import Facts, Flowering, Light, Lit, Phase, Resting, Stage

from .days import Days, Told
from .setting import Given

WRITTEN_DAYS = 540
"""So far back the grower wrote such things down."""
OPENS = {101: 2, 102: 12, 103: 6, 104: 10, 105: 5, 106: 3, 107: 2, 108: 5, 109: 3, 110: 4, 111: 11, 112: 9, 113: 9,
         117: 11, 118: 7, 119: 9, 120: 6, 121: 1, 122: 8, 123: 2, 124: 8, 125: 2, 126: 2, 127: 3, 128: 3, 129: 7,
         130: 5, 132: 4, 133: 5, 134: 4, 135: 12, 136: 4, 138: 5, 139: 3, 140: 2, 141: 10, 143: 6, 144: 5, 145: 12,
         147: 6, 148: 4, 152: 11, 153: 10, 155: 11, 156: 10, 158: 2, 160: 10, 162: 3}
"""The month in which each plant's first flower opens."""
LENGTHS = (32, 45, 58, 74)
DRY = {109: (11, 2), 162: (11, 1), 159: (11, 3)}
"""Plants that were put to a dry rest: the months in which it began and ended."""
DRIER = {103: (11, 2), 121: (11, 1)}
SHADED, BACK = {119: 6, 144: 5, 148: 5}, 9
"""Plants moved into more shade in these months, and back in September."""


def seasons(plant: Given, days: Days) -> Iterator[Told]:
    """What was written of the plant's year since it came; nothing that is still to come."""
    came = days.day(min(plant.arrived, WRITTEN_DAYS))
    for year in range(came.year - 1, days.today.year + 2):
        for day, facts in _of_year(plant, year):
            if came < day <= days.today:
                yield Told(days.at((days.today - day).days, 18, plant.number % 50), facts)
    yield from _cut_back(plant, days)


def _of_year(plant: Given, year: int) -> Iterator[tuple[date, Facts]]:
    number = plant.number
    if number in OPENS:
        yield from _flowering(number, year)
    for given, dry in ((DRY, True), (DRIER, False)):
        if number in given:
            begins, ends = given[number]
            yield date(year, begins, 3 + number % 9), Resting(Phase.BEGINS, dry)
            yield date(year + 1, ends, 10 + number % 9), Resting(Phase.ENDS)
    if number in SHADED:
        yield date(year, SHADED[number], 4), Lit(Light.SHADE)
        yield date(year, BACK, 20), Lit(Light.USUAL)


def _flowering(number: int, year: int) -> Iterator[tuple[date, Facts]]:
    dice = random.Random(f"flowers of {number} in {year}")
    opens = date(year, OPENS[number], dice.randint(2, 26))
    spikes, length = dice.choice((1, 1, 1, 2, 3)), dice.choice(LENGTHS)
    yield opens - timedelta(days=dice.randint(48, 70)), Flowering(Stage.SPIKE, spikes)
    yield opens - timedelta(days=dice.randint(14, 26)), Flowering(Stage.BUDS)
    yield opens, Flowering(Stage.OPEN, dice.randint(1, 3))
    yield opens + timedelta(days=length), Flowering(Stage.OVER)


def _cut_back(plant: Given, days: Days) -> Iterator[Told]:
    """A spike that was cut had flowered before."""
    cut = plant.days_of("cutback")
    if cut is not None:
        for ago, facts in ((cut + 120, Flowering(Stage.SPIKE, 1)), (cut + 62, Flowering(Stage.OPEN, 2)),
                           (cut + 1, Flowering(Stage.OVER))):
            yield Told(days.at(ago, 18, plant.number % 50), facts)
