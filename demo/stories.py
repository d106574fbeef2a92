"""What befell a plant: each story of the list turned into entries of its journal."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from datetime import timedelta

from greenhouse_desk.domain.journal import (
    Aired,
    Blotted,
    Cut,
    Dressed,
    Dry,
    Leaving,
    Left,
    Looked,
    Note,
    Part,
    Potted,
    Poured,
    Purpose,
    Roots,
    Sighted,
    Treated,
    Unpotted,
    Wetted,
)

from .courses import CHECK_DAYS, looks, overruled
from .days import Days, Told
from .setting import Given

PEROXIDE, SOAP_WASH, CINNAMON = "hydrogen-peroxide", "alcohol-soap-wash", "cinnamon"
WASHES = {"thrips": (3, 4), "mealybug": (12, 3), "scale": (12, 3), "mites": (5, 3), "aphids": (6, 2)}
KEYS = {"thrips": "thrips", "mealybug": "mealybug", "scale": "boisduval-scale",
        "mites": "two-spotted-mite", "aphids": "aphid", "rot": "soft-rot"}
WHERE = {"thrips": ("adult", "on the spike", 3), "mealybug": ("nymph", "in the leaf axils", 6),
         "scale": ("female", "under the second leaf", 9), "mites": ("adult", "under the leaves", 20),
         "aphids": ("nymph", "on the buds", 14)}

RINSED_LATE = {108: 200, 117: 300, 121: 120, 124: 310, 135: 155, 141: 245, 148: 180, 158: 205}
"""Plants whose crown stood wet for a night without harm, so many days ago."""

Story = Callable[[Given, Days, random.Random, tuple[str, ...]], Iterator[Told]]


def told_of(plant: Given, days: Days, dice: random.Random) -> list[Told]:
    """Everything the list's stories say of a plant, in the order they are named."""
    late = _wet_night(days, RINSED_LATE[plant.number]) if plant.number in RINSED_LATE else ()
    return [*late, *(told for name, args in plant.stories if name in STORIES
                     for told in STORIES[name](plant, days, dice, args))]


def _session(days: Days, ago: int, dice: random.Random, living: int, dead: int, tips: int) -> Iterator[Told]:
    at, minutes = days.at(ago, 16, dice.randrange(0, 50)), iter(range(0, 60, 4))

    def next_at() -> timedelta:
        return timedelta(minutes=next(minutes))

    yield Told(at + next_at(), Unpotted())
    yield Told(at + next_at(), Roots(living, dead, tips, round(100 * dead / max(1, living + dead))))
    yield Told(at + next_at(), Treated(PEROXIDE, Purpose.ROOT_DISINFECTION, (Part.ROOTS,), 3.0, 10.0))
    yield Told(at + next_at(), Wetted((Part.ROOTS, Part.LEAVES, Part.CROWN)))


def _afterwards(days: Days, ago: int) -> Iterator[Told]:
    at = days.at(ago, 17, 30)
    yield Told(at, Poured(250, feed=False))
    yield Told(at + timedelta(minutes=2), Blotted())
    yield Told(at + timedelta(minutes=4), Aired())
    yield Told(min(at + timedelta(minutes=150), days.ago(3)), Dry())


def _moved(plant: Given, days: Days, dice: random.Random, args: tuple[str, ...]) -> Iterator[Told]:
    ago, living = int(args[0]), dice.randint(7, 11)
    yield from _session(days, ago, dice, living, dice.randint(1, 3), dice.randint(0, 2))
    yield Told(days.at(ago, 17, 20), Potted(plant.medium, plant.pot, transition=True), "out of the bark for good")
    yield from _afterwards(days, ago)
    yield from looks(plant, days, ago, living, dice)


def _failing(plant: Given, days: Days, dice: random.Random, args: tuple[str, ...]) -> Iterator[Told]:
    ago = int(args[0])
    yield from _session(days, ago, dice, 8, 2, 0)
    yield Told(days.at(ago, 17, 20), Potted(plant.medium, plant.pot, transition=True))
    yield from _afterwards(days, ago)
    for nth, after in enumerate(day for day in CHECK_DAYS if day < ago):
        yield Told(days.at(ago - after, 18, 20), Roots(7 - 2 * nth, 3 + 2 * nth, 0))
    if ago < 40:
        yield from overruled(days, ago - 28)
    yield Told(days.at(3, 18, 25), Note("leaves limp, loose in the pot; look again before the weekend"))


def _repot(plant: Given, days: Days, dice: random.Random, args: tuple[str, ...]) -> Iterator[Told]:
    ago, living = int(args[0]), dice.randint(8, 14)
    yield Told(days.at(ago, 16, 5), Roots(living, dice.randint(0, 2), dice.randint(1, 4)))
    yield Told(days.at(ago, 16, 30), Potted(plant.medium, plant.pot))
    for after in CHECK_DAYS:
        if ago - after > 0:
            yield Told(days.at(ago - after, 18, 5), Roots(living + after // 28, 1, 1 + after // 40))


def _rinsed(plant: Given, days: Days, dice: random.Random, args: tuple[str, ...]) -> Iterator[Told]:
    ago = int(args[0])
    yield from _session(days, ago, dice, dice.randint(6, 9), dice.randint(2, 3), 1)
    yield Told(days.at(ago, 17, 20), Potted(plant.medium, plant.pot), "same pellets, scalded and rinsed")
    yield from _afterwards(days, ago)


def _halffed(plant: Given, days: Days, dice: random.Random, args: tuple[str, ...]) -> Iterator[Told]:
    yield from _rinsed(plant, days, dice, args)
    yield Told(days.at(int(args[0]) - 14, 18, 0), Poured(300, feed=True, half_strength=True))


def _wash(days: Days, ago: int) -> Iterator[Told]:
    at = days.at(ago, 16, 10)
    yield Told(at, Treated(SOAP_WASH, Purpose.PEST_WASH, (Part.LEAVES,), 15.0, 10.0))
    yield Told(at + timedelta(minutes=12), Wetted((Part.LEAVES, Part.CROWN)))
    yield Told(at + timedelta(minutes=16), Blotted())
    yield Told(at + timedelta(minutes=17), Aired())
    yield Told(min(at + timedelta(minutes=140), days.ago(4)), Dry())


def _found(days: Days, pest: str, ago: int) -> Told:
    stage, where, count = WHERE[pest]
    return Told(days.at(ago, 15, 50), Sighted(KEYS[pest], stage, where, count))


def _infested(pest: str) -> Story:
    """A pest found, washed away in the usual number of washes, and looked for in the weeks after."""
    def story(plant: Given, days: Days, dice: random.Random, args: tuple[str, ...]) -> Iterator[Told]:
        ago, (interval, times) = int(args[0]), WASHES[pest]
        yield _found(days, pest, ago)
        for nth in range(times):
            if ago - nth * interval > 0:
                yield from _wash(days, ago - nth * interval)
        last = ago - (times - 1) * interval
        for week in range(1, 9):
            if last - 7 * week > 0:
                yield Told(days.at(last - 7 * week, 19, 5), Looked(True, "10x"))
    return story


def _washing(plant: Given, days: Days, dice: random.Random, args: tuple[str, ...]) -> Iterator[Told]:
    pest, ago = args[0], int(args[1])
    interval = WASHES[pest][0]
    first = ago + interval if interval < 6 else ago
    yield _found(days, pest, first)
    for at in range(first, ago - 1, -interval):
        yield from _wash(days, at)


def _thripslook(plant: Given, days: Days, dice: random.Random, args: tuple[str, ...]) -> Iterator[Told]:
    ago = int(args[0])
    yield _found(days, "thrips", ago)
    for at in (ago, ago - 3, ago - 6, ago - 9):
        yield from _wash(days, at)


def _wet_night(days: Days, ago: int) -> Iterator[Told]:
    """A crown rinsed too late in the day, and dry only in the morning."""
    yield Told(days.at(ago, 20, 30), Wetted((Part.LEAVES, Part.CROWN)), "rinsed late")
    yield Told(days.at(ago - 1, 8, 40), Dry())


def _rot(plant: Given, days: Days, dice: random.Random, args: tuple[str, ...]) -> Iterator[Told]:
    ago = int(args[0])
    seen = Sighted(KEYS["rot"], "", "in the newest growth", 1)
    yield from _wet_night(days, ago + 1)
    yield Told(days.at(ago, 9, 40), seen, "wet overnight after a late rinse")
    yield Told(days.at(ago, 9, 55), Cut(Part.PLANT, 1))
    yield Told(days.at(ago, 10, 5), Dressed(CINNAMON))
    for week in range(1, 6):
        yield Told(days.at(ago - 7 * week, 18, 30), Looked(True, "10x"))


def _cutback(plant: Given, days: Days, dice: random.Random, args: tuple[str, ...]) -> Iterator[Told]:
    yield Told(days.at(int(args[0]), 17, 0), Cut(Part.SPIKE, 1), "above the second node")
    yield Told(days.at(int(args[0]), 17, 6), Dressed(CINNAMON))


def _undressed(plant: Given, days: Days, dice: random.Random, args: tuple[str, ...]) -> Iterator[Told]:
    yield Told(days.ago(40), Cut(Part.SPIKE, 1), "the bell rang; not dressed yet")


def _wet(plant: Given, days: Days, dice: random.Random, args: tuple[str, ...]) -> Iterator[Told]:
    yield Told(days.ago(50), Wetted((Part.LEAVES, Part.CROWN)), "dust rinsed off")
    yield Told(days.ago(44), Aired())


def _pool(plant: Given, days: Days, dice: random.Random, args: tuple[str, ...]) -> Iterator[Told]:
    yield Told(days.ago(35), Wetted((Part.LEAVES, Part.CROWN), pool=True), "the can tipped")


def _wetcrown(plant: Given, days: Days, dice: random.Random, args: tuple[str, ...]) -> Iterator[Told]:
    at = days.at(int(args[0]), 10, 30)
    yield Told(at, Wetted((Part.LEAVES, Part.CROWN), pool=True))
    yield Told(at + timedelta(minutes=3), Blotted())
    yield Told(at + timedelta(hours=4), Dry())


def _bare(plant: Given, days: Days, dice: random.Random, args: tuple[str, ...]) -> Iterator[Told]:
    yield Told(days.ago(20 * 60), Unpotted(), "old roots off; airing on the rack until new ones show")


def _cuttings(plant: Given, days: Days, dice: random.Random, args: tuple[str, ...]) -> Iterator[Told]:
    yield Told(days.at(int(args[0]), 18, 0), Note("two lengths of stem laid on moss; one rooted five weeks later"))


def _dead(plant: Given, days: Days, dice: random.Random, args: tuple[str, ...]) -> Iterator[Told]:
    ago = int(args[0])
    yield Told(days.at(ago + 60, 18, 0), Roots(6, 5, 0))
    yield Told(days.at(ago + 30, 18, 0), Roots(3, 8, 0), "black to the collar")
    yield from _wet_night(days, ago + 10)
    yield Told(days.at(ago + 9, 9, 0), Sighted(KEYS["rot"], "", "in the crown", 1))
    yield Told(days.at(ago, 12, 0), Left(Leaving.DEAD, "crown rot after a night wet"))


def _traded(plant: Given, days: Days, dice: random.Random, args: tuple[str, ...]) -> Iterator[Told]:
    yield Told(days.at(int(args[0]), 12, 0), Left(Leaving.TRADED, "for the seedlings of a pen friend"))


def _given(plant: Given, days: Days, dice: random.Random, args: tuple[str, ...]) -> Iterator[Told]:
    yield Told(days.at(int(args[0]), 12, 0), Left(Leaving.GIVEN_AWAY, "to a neighbour with a warm bathroom"))


STORIES: dict[str, Story] = {
    "moved": _moved, "failing": _failing, "repot": _repot, "rinsed": _rinsed, "halffed": _halffed,
    "washing": _washing, "thripslook": _thripslook, "rot": _rot, "cutback": _cutback, "undressed": _undressed,
    "wet": _wet, "pool": _pool, "wetcrown": _wetcrown, "bare": _bare, "cuttings": _cuttings, "dead": _dead,
    "traded": _traded, "given": _given, **{pest: _infested(pest) for pest in WASHES},
}
