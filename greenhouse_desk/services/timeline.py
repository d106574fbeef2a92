"""The timeline's questions: which plants have lanes, in the order of the house, and what lies on the lanes in sight."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, time
from zoneinfo import ZoneInfo

from greenhouse_desk.domain import care as rules_of_care
from greenhouse_desk.domain import courses as rules_of_courses
from greenhouse_desk.domain import names, timeline_bands
from greenhouse_desk.domain.care import Care
from greenhouse_desk.domain.care_pests import rests_on_temperatures
from greenhouse_desk.domain.courses import Known
from greenhouse_desk.domain.journal import Entry, Photo, Potted
from greenhouse_desk.domain.names import BotanicalName
from greenhouse_desk.domain.plants import History, Plant
from greenhouse_desk.domain.timeline_values import SORTS, Band, Item, Lane, Sort
from greenhouse_desk.services import care, records, transitions
from greenhouse_desk.services.care import Surroundings
from greenhouse_desk.services.care_temperatures import Temperatures
from greenhouse_desk.services.collection_reading import house_order
from greenhouse_desk.services.records_words import Labels, words
from greenhouse_desk.store import journal, plants
from greenhouse_desk.store.engine import Session


@dataclass(frozen=True, slots=True)
class Head:
    """One lane's plant: its number and name, the place it stands in ("" for none), and whether it left."""

    number: int
    name: BotanicalName
    place: str
    left: bool


@dataclass(frozen=True, slots=True)
class Roster:
    """All lanes there can be, in house order, those that left last; when the first entry happened; the zone."""

    heads: tuple[Head, ...]
    oldest: datetime | None
    zone: ZoneInfo


def roster(session: Session) -> Roster:
    """Every plant as the head of a lane."""
    around = care.surroundings(session)
    order = {place.id: nth for nth, place in enumerate(house_order(tuple(around.places.values())))}
    everyone = sorted(plants.plants(session, around.zone), key=lambda plant: (
        plant.left is not None, order.get(plant.place or 0, len(order)), plant.order, plant.number))
    heads = (Head(plant.number, names.parse(plant.name), _place(plant, around), plant.left is not None)
             for plant in everyone)
    return Roster(tuple(heads), journal.oldest(session), around.zone)


def lanes(session: Session, now: datetime, numbers: Iterable[int]) -> dict[int, Lane]:
    """The lanes of these plants at `now` (aware): what happened, what is owed, and the stretches between."""
    wanted = list(numbers)
    around, named = care.surroundings(session), records.labels(session)
    entries: dict[int | None, list[Entry]] = defaultdict(list)
    for entry in journal.of_plants(session, wanted):
        entries[entry.plant].append(entry)
    read = Temperatures(session, around.places, now, around.zone)
    return {plant.number: _lane(History(plant, tuple(entries[plant.number])), around, named, now, read)
            for plant in plants.plants(session, around.zone, wanted)}


def _lane(history: History, around: Surroundings, named: Labels, now: datetime, read: Temperatures) -> Lane:
    owed = _owed(history, around, now, read)
    return Lane(history.plant.number, tuple(_item(entry, named) for entry in history.entries),
                tuple(sorted((_ahead(one, around, now) for one in owed), key=lambda item: item.at)),
                tuple(_bands(history, around, named.places, now)),
                tuple(entry.at.timestamp() for entry in history.entries if isinstance(entry.facts, Potted)))


def _owed(history: History, around: Surroundings, now: datetime, read: Temperatures) -> Sequence[Care]:
    plant = history.plant
    if plant.left is not None:
        return ()
    washed = any(rests_on_temperatures(entry, now) for entry in history.entries)
    return tuple(rules_of_care.owed(history, around.around(plant.place), around.rules, now, around.zone, care.pests(),
                                    read.around(plant.place) if washed else None))


def _item(entry: Entry, named: Labels) -> Item:
    said = words(entry.facts, named)
    detail = "; ".join(part for part in (said.detail, entry.note) if part)
    photo = entry.facts.sha256 if isinstance(entry.facts, Photo) else ""
    return Item(entry.at.timestamp(), said.mark, said.title, SORTS.get(entry.kind, Sort.NOTE), entry.id, detail, photo)


def _ahead(one: Care, around: Surroundings, now: datetime) -> Item:
    """Care stands at noon of the day it falls due, or at its hour; what is late stands at the now-line."""
    told = rules_of_care.words(one, now, around.zone, around.rules)
    due = one.due if isinstance(one.due, datetime) else datetime.combine(one.due, time(12), around.zone)
    return Item(max(due, now).timestamp(), told.mark, told.text, Sort.CARE, one.origin, one.what)


def _bands(history: History, around: Surroundings, places: Mapping[int, str], now: datetime) -> Iterable[Band]:
    entries, zone = history.entries, around.zone
    yield from timeline_bands.stays(entries, places, now)
    genus = transitions.genera().full(names.genus_of(history.plant.name))
    known = Known(around.rules, zone, now, transitions.rots(), genus)
    yield from timeline_bands.courses(rules_of_courses.courses(history, known), zone)
    yield from timeline_bands.holds(entries, around.rules, zone, known.day(now))
    yield from timeline_bands.soaks(entries)


def _place(plant: Plant, around: Surroundings) -> str:
    place = around.places.get(plant.place or 0)
    return place.name if place is not None else ""
