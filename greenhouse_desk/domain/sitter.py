"""What somebody who knows nothing may do while the grower is away: look, and pour plain water. Nothing else.

Washes, cuts, disinfectants, feed and potting stay the grower's: they can hurt the plant or who does them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from greenhouse_desk.domain.care_values import Care, CareKind
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.figures import Constant

MOST_DAYS = Constant(14, "days", "the longest stretch that a sitter's sheet covers", "house rule")


@dataclass(frozen=True, slots=True)
class Look:
    """A look a sitter may take: its name in a word or two, and what to do in plain words."""

    name: str
    words: str


OUTSIDE = Look("from outside", "Are the leaves firm, does it stand straight? Do not pull.")
LOOKS: Mapping[CareKind, Look] = {
    CareKind.CROWN_CHECK: Look("the middle", "Where the leaves meet: dark, soft or wet?"),
    CareKind.CUT_CHECK: Look("the cut end", "Dry is good. Is it dark, soft or wet?"),
    CareKind.ROOT_CHECK: OUTSIDE,
    CareKind.LOOK_AGAIN: OUTSIDE,
    CareKind.PEST_LOOK: Look("under the leaves", "There and where they join: white, sticky, moving?"),
}
"""The looks a sitter may take, with bare eyes and without touching. They do not stand for the grower's own look with a
lens, which stays owed; what a protocol asks to look at is in the grower's words, and stays the grower's too."""


@dataclass(frozen=True, slots=True)
class Visit:
    """One look at one plant on a day."""

    day: date
    plant: int
    look: Look


@dataclass(frozen=True, slots=True)
class Rest:
    """A plant that rests dry on days of the stretch: from `first` in it, to its `last`, be that after the stretch.
    `usual` tells that only its genus says so, not the grower."""

    plant: int
    first: date
    last: date
    usual: bool = False


def checked(first: date, last: date, today: date) -> None:
    """Raise Refused unless a sheet can cover these days, both ends meant."""
    days = (last - first).days + 1
    if first < today:
        raise Refused("That day is over", "A sitter's sheet begins today or later.", "Choose a later first day.")
    if days < 1:
        raise Refused("The days run backwards", "The last day lies before the first.", "Choose a later last day.")
    if days > MOST_DAYS.value:
        raise Refused("That is too long for one sheet", f"It would cover {days} days; at most {MOST_DAYS.value:g} fit, "
                      "and after so long somebody who knows the plants should look.",
                      "Print a second sheet for the days after.")


def visits(cares: Iterable[tuple[Care, date]], first: date, last: date) -> tuple[Visit, ...]:
    """The looks of these days, each care with its care day; one that is late stands on the first day. The same look at
    a plant is taken once a day."""
    found = {Visit(max(day, first), care.plant, LOOKS[care.kind]) for care, day in cares
             if not care.hold and day <= last and care.kind in LOOKS}
    return tuple(sorted(found, key=lambda visit: (visit.day, visit.plant, visit.look.name)))


def left_to_grower(cares: Iterable[tuple[Care, date]], last: date) -> tuple[tuple[Care, date], ...]:
    """What falls due by `last` and a sitter must not do, soonest first."""
    found = [(care, day) for care, day in cares if not care.hold and day <= last and care.kind not in LOOKS]
    return tuple(sorted(found, key=lambda item: (item[1], item[0].plant)))


def held(cares: Iterable[tuple[Care, date]], first: date) -> tuple[tuple[int, date], ...]:
    """Plants on plain water on the first day or later, with the day feed may resume."""
    return tuple(sorted({(care.plant, day) for care, day in cares
                         if care.kind is CareKind.PLAIN_WATER and day > first}))


def resting(told: Iterable[tuple[date, Care]]) -> tuple[Rest, ...]:
    """Dry rests of the stretch, each care with a day on which it holds: a round of water must pass these plants by."""
    found: dict[tuple[int, date, bool], date] = {}
    for day, care in told:
        end = care.due.date() if isinstance(care.due, datetime) else care.due
        if care.kind is CareKind.DRY_REST:
            name = (care.plant, end, care.usual)
            found[name] = min(day, found.get(name, day))
    return tuple(Rest(plant, first, end, usual) for (plant, end, usual), first in sorted(found.items()))


def days_of(first: date, last: date) -> tuple[date, ...]:
    """Every day from the first to the last."""
    return tuple(first + timedelta(days=nth) for nth in range((last - first).days + 1))
