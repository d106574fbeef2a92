"""The everyday of a plant: how it came, where it stood, its waterings and its looks."""

from __future__ import annotations

import random
from collections.abc import Iterable, Iterator, Mapping

from greenhouse_desk.domain.journal import Left, Looked, Placed, Potted, Poured, Purpose, Treated

from .days import Days, Told
from .seasons import seasons
from .setting import Given

WRITTEN_POURS = 120  # the grower began to write waterings down this many days ago
JOURNAL_DAYS = 548
APART_DAYS = 42
ISOLATION = "Apart tray"
HOLD_DAYS = 15


def everyday(plant: Given, days: Days, dice: random.Random, stories: list[Told],
             places: Mapping[str, int]) -> list[Told]:
    """Everything told of a plant in time order, nothing of it after the plant had left."""
    told = [*_came(plant, days, places), *_first_potting(plant, days), *_looks(plant, days, dice), *stories]
    told += [*seasons(plant, days), *_pours(days, dice, plant, stories)]
    told.sort(key=lambda one: one.at)
    left = next((one.at for one in told if isinstance(one.facts, Left)), None)
    return [one for one in told if left is None or one.at <= left]


def _came(plant: Given, days: Days, places: Mapping[str, int]) -> Iterator[Told]:
    order = float(plant.number)
    if plant.arrived >= JOURNAL_DAYS - 10:
        yield Told(days.at(min(plant.arrived, JOURNAL_DAYS), 12, 1), Placed(places[plant.bench], order))
        return
    yield Told(days.at(plant.arrived, 12, 1), Placed(places[ISOLATION], order))
    if plant.bench != ISOLATION:
        yield Told(days.at(plant.arrived - APART_DAYS, 12, 5), Placed(places[plant.bench], order),
                   "six weeks apart, clean throughout")


def _first_potting(plant: Given, days: Days) -> Iterator[Told]:
    if plant.days_of("moved") or plant.days_of("failing"):
        yield Told(days.at(plant.arrived, 12, 2), Potted("bark", "as it came"))
    elif not plant.days_of("repot"):
        yield Told(days.at(plant.arrived, 12, 2), Potted(plant.medium, plant.pot), "left in what it came in")


def _looks(plant: Given, days: Days, dice: random.Random) -> Iterator[Told]:
    found = min([day for day in (plant.days_of(name) for name in ("mealybug", "washing", "thripslook")) if day],
                default=None)
    if plant.arrived < JOURNAL_DAYS - 10:
        for after in range(7, APART_DAYS + 1, 7):
            ago = plant.arrived - after
            if ago > 0 and (found is None or ago > found + 30):
                yield Told(days.at(ago, 19, 0), Looked(True, "10x"))
    for ago in range(dice.randint(16, 24), min(plant.arrived - APART_DAYS, JOURNAL_DAYS), 45):
        if found is None or ago > found + 30:
            yield Told(days.at(ago, 19, dice.randrange(50)), Looked(True, dice.choice(("", "10x", "10x"))))


def _pours(days: Days, dice: random.Random, plant: Given, stories: Iterable[Told]) -> Iterator[Told]:
    treated = [one.at for one in stories
               if isinstance(one.facts, Treated) and one.facts.purpose is Purpose.ROOT_DISINFECTION]
    ago = min(WRITTEN_POURS, plant.arrived - 1) - dice.randrange(6)
    nth = 0
    while ago > 0:
        at = days.at(ago, 8, dice.randrange(50))
        held = any(0 <= (at - start).days < HOLD_DAYS for start in treated)
        feed = not held and nth % 3 != 2
        yield Told(at, Poured(dice.randrange(180, 460, 20), feed=feed))
        nth += 1
        ago -= dice.choice((8, 9, 10, 10, 11))


