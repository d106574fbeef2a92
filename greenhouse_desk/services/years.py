"""A year for each genus: what is known of it, asked and changed; the grower's own travel with the collection."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from greenhouse_desk.domain.faults import Fault, Refused
from greenhouse_desk.domain.names_genera import Genera, full_genus
from greenhouse_desk.domain.plants import Plant
from greenhouse_desk.domain.year import OWN, PARTS, GenusYear, Years, read_years, species_of, whose, written_year
from greenhouse_desk.services import house as services_house
from greenhouse_desk.services.desk import Done
from greenhouse_desk.services.shelf import genera, shipped_years
from greenhouse_desk.store import house, plants
from greenhouse_desk.store.engine import Session

KINDS = frozenset({"house"})
YOURS = "your years of genera"


@dataclass(frozen=True, slots=True)
class Row:
    """One genus as the House page lists it, in months of the home: its plants growing here, and whose year it is.

    A species or a single plant with an own year has a row too: `genus` is then what that year is kept under. `year` is
    None where neither you nor the program has one.
    """

    genus: str
    plants: int
    year: GenusYear | None
    own: bool
    shipped: bool


def known(session: Session) -> Years:
    """The years shipped and the grower's own, in months of the north; one of the own that is at fault is left out."""
    return Years(shipped_years()[0], read_years(house.own_years(session), YOURS)[0])


def rows(session: Session) -> tuple[Row, ...]:
    """Every genus that grows here or has a year, those with most plants here first."""
    all_, names = known(session), genera(session)
    growing = Counter(key for plant in plants.plants(session, services_house.zone(session)) if plant.left is None
                      for key in _keys(plant, names, all_))
    wanted = {*growing, *all_.shipped, *all_.own}
    south = house.home(session).latitude < 0
    made = (Row(genus, growing[genus], local(all_.of(genus), south), genus in all_.own, genus in all_.shipped)
            for genus in wanted)
    return tuple(sorted(made, key=lambda row: (-row.plants, row.genus)))


def _keys(plant: Plant, names: Genera, known: Years) -> Iterator[str]:
    """What may have a year of those a plant belongs to: its genus; its species and itself where they have an own."""
    genus = full_genus(plant.name, names)
    if genus:
        yield genus
    yield from (key for key in {species_of(plant.name, genus), str(plant.number)} if key in known.own)


def local(year: GenusYear | None, south: bool) -> GenusYear | None:
    """A year with its months as the seasons fall at the home; doing it twice gives it back."""
    if year is None or not south:
        return year
    return replace(year, **{part: one.local(True) for part in PARTS if (one := getattr(year, part)) is not None})


def save(session: Session, now: datetime, year: GenusYear) -> Done[None]:
    """Keep `year` (in months of the home) as the grower's own. Raises Refused where it does not go together."""
    north = local(replace(year, source=OWN), house.home(session).latitude < 0)
    assert north is not None
    if north.genus.isdecimal():
        _growing(session, int(north.genus))
    _, wrong = read_years({north.genus: written_year(north)}, YOURS)
    if wrong:
        raise Refused(f"The year of {year.genus or 'a genus'} does not go together", _told(wrong),
                      "Change it; nothing was kept.")
    house.save_year(session, north.genus, written_year(north))
    return Done(f"Year of {whose(year.genus)}", KINDS, None)


def _growing(session: Session, number: int) -> None:
    found = plants.plants(session, services_house.zone(session), [number])
    if not found or found[0].left is not None:
        raise Refused(f"No plant {number} grows here", "A year can be kept for a plant that is here.",
                      "Check the number; nothing was kept.")


def forget(session: Session, now: datetime, genus: str) -> Done[None]:
    """Go back to the year as it was shipped, or to none. Raises Refused where the grower has no own."""
    if genus not in house.own_years(session):
        raise Refused(f"You have no year of your own for {genus}", "", "Nothing is left to do.")
    house.forget_year(session, genus)
    return Done(f"Year of {whose(genus)}: as it came with the program", KINDS, None)


def _told(wrong: Sequence[Fault]) -> str:
    return "; ".join(f"{fault.path}: {fault.message}" for fault in wrong[:3]) + "."
