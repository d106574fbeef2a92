"""The timeline's questions: which plants have lanes, what lies on the lanes in sight, and where an entry is."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, time
from zoneinfo import ZoneInfo

from greenhouse_desk.domain import care as rules_of_care
from greenhouse_desk.domain import names, timeline_bands
from greenhouse_desk.domain.bench import Soak
from greenhouse_desk.domain.care import Care, Moment
from greenhouse_desk.domain.care_day import care_day, dated, month_name
from greenhouse_desk.domain.courses_forecast import comparable, outlook
from greenhouse_desk.domain.courses_values import End
from greenhouse_desk.domain.day_typed import day_typed
from greenhouse_desk.domain.journal import Entry, Photo, Potted
from greenhouse_desk.domain.names import BotanicalName
from greenhouse_desk.domain.plants import History, Plant
from greenhouse_desk.domain.timeline_sorts import SORTS, Sort
from greenhouse_desk.domain.timeline_values import Band, Item, Lane, lane
from greenhouse_desk.services import care, collection_reading, records, transitions
from greenhouse_desk.services.care import Surroundings
from greenhouse_desk.services.care_temperatures import Temperatures
from greenhouse_desk.services.records_words import Labels, words
from greenhouse_desk.services.transitions import Record
from greenhouse_desk.store import bench, journal, plants
from greenhouse_desk.store.engine import Session

NUMBERS = re.compile(r"\s*\d+(\s*-\s*\d+)?(\s*[,;\s]\s*\d+(\s*-\s*\d+)?)*\s*,?\s*")
"""One plant number, or several and stretches of them: "101, 104-107"."""
NUMBERED = re.compile(r"(?:journal )?entry (\d{1,18})")
NOON = time(12)


@dataclass(frozen=True, slots=True)
class Head:
    """One lane's plant: its number and name, the place it stands in ("" for none), and whether it left; the local
    time at which the lamps of its place go off, None where the sun alone lights it."""

    number: int
    name: BotanicalName
    place: str
    left: bool
    lights_out: time | None = None


@dataclass(frozen=True, slots=True)
class Roster:
    """All lanes there can be, in house order, those that left last; when the first entry happened; the zone.

    `record` is what all lanes rest on together: the house and every plant's courses.
    """

    heads: tuple[Head, ...]
    oldest: datetime | None
    zone: ZoneInfo
    record: Record


@dataclass(frozen=True, slots=True)
class Hit:
    """An entry whose words were asked for: its plant, its id, and when it happened (aware)."""

    plant: int
    entry: int
    at: datetime


def roster(session: Session, now: datetime) -> Roster:
    """Every plant as the head of a lane, at `now` (aware)."""
    record = transitions.record(session, now)
    around = record.around
    order = {place.id: nth for nth, place in enumerate(collection_reading.house_order(tuple(around.places.values())))}
    everyone = sorted(record.plants.values(), key=lambda plant: (
        plant.left is not None, order.get(plant.place or 0, len(order)), plant.order, plant.number))
    heads = (Head(plant.number, names.parse(plant.name), _place(plant, around), plant.left is not None,
                  around.around(plant.place).lights_out) for plant in everyone)
    return Roster(tuple(heads), journal.oldest(session), around.zone, record)


def found(session: Session, text: str) -> frozenset[int] | None:
    """The plants that `text` asks for, by their numbers ("101, 104-107") or as the collection finds them; None for all.
    """
    if not text.strip():
        return None
    if not NUMBERS.fullmatch(text):
        return frozenset(collection_reading.find(session, text))
    known = {plant.number for plant in plants.plants(session, care.surroundings(session).zone)}
    wanted = [(int(low), int(high or low)) for low, high in re.findall(r"(\d+)(?:\s*-\s*(\d+))?", text)]
    exact = frozenset(number for number in known if any(low <= number <= high for low, high in wanted))
    return exact or frozenset(collection_reading.find(session, text))


def lanes(session: Session, of: Roster, now: datetime, numbers: Iterable[int]) -> dict[int, Lane]:
    """The lanes of these plants at `now` (aware): what happened, what is owed, and the stretches between."""
    wanted = [number for number in numbers if number in of.record.plants]
    named = records.labels(session)
    told = journal.told(session, wanted)
    read = Temperatures(session, of.record.around.places, now, of.zone)
    soaks: dict[int, list[Soak]] = defaultdict(list)
    for number, soak in bench.soaks_of(session, wanted):
        soaks[number].append(soak)
    return {number: _lane(History(of.record.plants[number], told[number].entries), of.record, named, now, read,
                          soaks[number]) for number in wanted}


def day_asked(session: Session, text: str, now: datetime) -> datetime | None:
    """The noon of the day that `text` names by itself; None where it names none."""
    zone = care.surroundings(session).zone
    day = day_typed(text, now.astimezone(zone).date())
    return None if day is None else datetime.combine(day, NOON, zone)


def search(session: Session, numbers: Sequence[int], text: str, day: datetime | None = None) -> tuple[Hit, ...]:
    """Entries of these plants on that `day` of the home; where none is asked for, those in whose words, note or day
    each word of `text` stands. Newest first. "Journal entry 3699", as reasons name it, is that entry alone."""
    wanted = text.casefold().split()
    if not wanted:
        return ()
    named, zone = records.labels(session), care.surroundings(session).zone
    told = sorted((entry for one in journal.told(session, numbers).values() for entry in one.entries),
                  key=lambda entry: (entry.at, entry.id), reverse=True)
    return tuple(Hit(entry.plant or 0, entry.id, entry.at) for entry in told
                 if _is_asked(entry, wanted, day, named, zone))


def _is_asked(entry: Entry, wanted: Sequence[str], day: datetime | None, named: Labels, zone: ZoneInfo) -> bool:
    numbered = NUMBERED.fullmatch(" ".join(wanted))
    if numbered is not None:
        return entry.id == int(numbered[1])
    if day is not None:
        return entry.at.astimezone(zone).date() == day.date()
    return _says(entry, named, zone, wanted)


def _says(entry: Entry, named: Labels, zone: ZoneInfo, wanted: Sequence[str]) -> bool:
    said, day = words(entry.facts, named), entry.at.astimezone(zone).date()
    spelt = f"{day:%Y-%m-%d} {dated(day)} {month_name(day)}"
    text = f"{said.title} {said.detail} {entry.note} {spelt}".casefold()
    return all(word in text for word in wanted)


def _lane(history: History, record: Record, named: Labels, now: datetime, read: Temperatures,
          soaks: Sequence[Soak]) -> Lane:
    around = record.around
    owed = care.owed_by(history, now, around, read) if history.plant.left is None else ()
    return lane(history.plant.number, (_item(entry, named, now) for entry in history.entries),
                (_ahead(one, around, now) for one in owed), _bands(history, record, named.places, now, soaks),
                (entry.at.timestamp() for entry in history.entries if isinstance(entry.facts, Potted)))


def _item(entry: Entry, named: Labels, now: datetime) -> Item:
    """An entry; one that a clock set back has left after `now` stands at the now-line."""
    said = words(entry.facts, named)
    detail = "; ".join(part for part in (said.detail, entry.note) if part)
    photo = entry.facts.sha256 if isinstance(entry.facts, Photo) else ""
    return Item(min(entry.at, now).timestamp(), said.mark, said.title, SORTS.get(entry.kind, Sort.NOTE), entry.id,
                detail, photo)


def _ahead(one: Care, around: Surroundings, now: datetime) -> Item:
    """Care stands at noon of the day it falls due, or at its hour; what is late stands at the now-line."""
    told = rules_of_care.words(one, now, around.zone, around.rules)
    latest = one.latest if one.latest is not None else one.due
    return Item(max(_instant(one.due, around.zone), now.timestamp()), told.mark, told.text, Sort.CARE, one.origin,
                one.what, "", one.why, _instant(one.opens, around.zone), _instant(latest, around.zone))


def _instant(moment: Moment, zone: ZoneInfo) -> float:
    return (moment if isinstance(moment, datetime) else datetime.combine(moment, time(12), zone)).timestamp()


def _bands(history: History, record: Record, places: Mapping[int, str], now: datetime,
           soaks: Sequence[Soak]) -> Iterator[Band]:
    entries, around = history.entries, record.around
    today = care_day(now, around.zone, around.rules)
    own = record.courses.get(history.plant.number, ())
    yield from timeline_bands.stays(entries, places, now)
    yield from timeline_bands.courses(own, entries, now, around.zone, today)
    for course in own:
        if course.end is End.RUNNING:
            seen = outlook(course, comparable(course, record.all, record.habits))
            yield from timeline_bands.forecast(course, seen, now, around.zone)
    yield from timeline_bands.holds(entries, around.rules, around.zone, today)
    yield from timeline_bands.soaks(entries, soaks, now)


def _place(plant: Plant, around: Surroundings) -> str:
    place = around.places.get(plant.place or 0)
    return place.name if place is not None else ""
