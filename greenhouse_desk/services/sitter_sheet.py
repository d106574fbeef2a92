"""The sitter's sheet: what is told to somebody who looks in while the grower is away, as plain values."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from greenhouse_desk.domain import care as rules_of_care
from greenhouse_desk.domain import sitter
from greenhouse_desk.domain.care import Care, CareKind
from greenhouse_desk.domain.paper_text import all_but
from greenhouse_desk.domain.plants import Plant
from greenhouse_desk.domain.sitter import Look, Rest, Visit
from greenhouse_desk.services import care as services_care
from greenhouse_desk.services import collection_reading
from greenhouse_desk.store import plants
from greenhouse_desk.store.engine import Session

BEFORE = (CareKind.RINSE, CareKind.AIR, CareKind.POT_UP, CareKind.DRESS_CUT)
"""What stands open and must be closed before anybody goes away."""
LEFT_OUT = 3
"""So many plants of a bench are named when all but they are meant."""
NO_PLACE = "No place"


@dataclass(frozen=True, slots=True)
class Row:
    """The same look at plants of one place on one day; `whom` names them the short way."""

    day: date
    place: str
    isolation: bool
    look: Look
    plants: tuple[int, ...]
    whom: str


@dataclass(frozen=True, slots=True)
class Bench:
    """A place to water: the way to it, `short` its own name where no other has it, whether plants stand apart there,
    and its plants in order."""

    name: str
    short: str
    isolation: bool
    plants: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class SitterSheet:
    """Days from `first` to `last`. `held` are plants on plain water with the day it ends, `resting` those that rest
    dry on some of the days, `left` what stays the grower's with its day, `before` what must be seen to before leaving;
    `photos` are SHA-256 by plant."""

    made: date
    first: date
    last: date
    benches: tuple[Bench, ...]
    rows: tuple[Row, ...]
    held: tuple[tuple[int, date], ...]
    resting: tuple[Rest, ...]
    left: tuple[tuple[Care, date], ...]
    before: tuple[Care, ...]
    photos: Mapping[int, str]


def first_days(session: Session, now: datetime) -> tuple[date, date]:
    """The days a sheet begins with: today and the two weeks from it."""
    around = services_care.surroundings(session)
    today = rules_of_care.care_day(now, around.zone, around.rules)
    return today, today + timedelta(days=round(sitter.MOST_DAYS.value) - 1)


def sitter_sheet(session: Session, now: datetime, first: date, last: date) -> SitterSheet:
    """What a sitter is told for the days from `first` to `last`, as care is owed at the aware `now`.

    Raises Refused for days that are over, run backwards, or are more than two weeks.
    """
    around = services_care.surroundings(session)
    today = rules_of_care.care_day(now, around.zone, around.rules)
    sitter.checked(first, last, today)
    owed = [(care, rules_of_care.stands_on(care, around.zone, around.rules))
            for care in services_care.ahead(session, now, (last - today).days)]
    growing = [plant for plant in plants.plants(session, around.zone) if plant.left is None]
    benches = _benches(session, growing)
    before = tuple(care for care, day in owed if _before(care, day, first, today))
    told = [(care, day) for care, day in owed if care not in before]
    rests = sitter.resting(services_care.dry_rests(session, now, sitter.days_of(first, last)))
    return SitterSheet(today, first, last, benches, _rows(sitter.visits(told, first, last), benches),
                       sitter.held(owed, first), rests, sitter.left_to_grower(told, last),
                       before, {plant.number: plant.photo for plant in growing if plant.photo})


def _before(care: Care, day: date, first: date, today: date) -> bool:
    """Whether the grower must see to it before the first day; what may be done on any day of months keeps nobody."""
    if care.kind in BEFORE:
        return True
    return not care.hold and care.kind not in rules_of_care.CALM and day < first and first > today


def _benches(session: Session, growing: Sequence[Plant]) -> tuple[Bench, ...]:
    """The places that hold plants as one walks the house, isolation last."""
    every = {place.id: place for place in plants.places(session)}
    standing: dict[int | None, list[int]] = defaultdict(list)
    for plant in sorted(growing, key=lambda plant: (plant.order, plant.number)):
        standing[plant.place].append(plant.number)
    named = Counter(place.name for place in every.values())
    walked = [Bench(path, place.name if named[place.name] == 1 else path, place.isolation,
                    tuple(standing.pop(place.id)))
              for place in collection_reading.house_order(tuple(every.values())) if place.id in standing
              for path in [collection_reading.path_of(place.id, every)]]
    nowhere = [number for numbers in standing.values() for number in numbers]
    if nowhere:
        walked.append(Bench(NO_PLACE, NO_PLACE, False, tuple(nowhere)))
    return tuple(sorted(walked, key=lambda bench: bench.isolation))


def _rows(visits: Sequence[Visit], benches: Sequence[Bench]) -> tuple[Row, ...]:
    """Looks gathered by day, place and words: days in order, in a day the benches in order."""
    where = {number: place for place, bench in enumerate(benches) for number in bench.plants}
    found: dict[tuple[date, int, Look], list[int]] = defaultdict(list)
    for visit in visits:
        found[visit.day, where[visit.plant], visit.look].append(visit.plant)
    rows = []
    for (day, place, look), numbers in sorted(found.items(), key=lambda item: (*item[0][:2], item[0][2].name)):
        bench = benches[place]
        inside = tuple(number for number in bench.plants if number in numbers)
        rows.append(Row(day, bench.short, bench.isolation, look, inside, all_but(inside, bench.plants, LEFT_OUT)))
    return tuple(rows)
