"""A plant's record to hand on: who it is, what happened to it, and how likely it still carries something.

It is a grower's record of what was written down, no phytosanitary certificate. Private notes and prices stay out unless
asked for.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from datetime import date, datetime
from typing import Any

from greenhouse_desk.domain import names
from greenhouse_desk.domain.care import Reason
from greenhouse_desk.domain.care_day import care_day, dated
from greenhouse_desk.domain.dealings import Check
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Entry, Kind, Photo
from greenhouse_desk.domain.plants import Plant
from greenhouse_desk.domain.quarantine import EXPOSED, Status
from greenhouse_desk.services import dealings, house, inspections, quarantine, records
from greenhouse_desk.services.records_words import Labels
from greenhouse_desk.store import journal
from greenhouse_desk.store.engine import Session

NO_CERTIFICATE = ("This is a grower's record of what was written down. It is no phytosanitary certificate; moving "
                  "plants across borders has its own law.")
SECTIONS: tuple[tuple[str, tuple[Kind, ...]], ...] = (
    ("Potting and transition", (Kind.POTTED, Kind.UNPOTTED, Kind.ROOTS, Kind.SETTLED)),
    ("Places", (Kind.ARRIVED, Kind.PLACED, Kind.SHARED, Kind.LEFT)),
    ("Inspections", (Kind.LOOKED,)),
    ("Pests and diseases seen", (Kind.SIGHTED, Kind.OUTBREAK, Kind.RELEASED)),
    ("Tests for a virus", (Kind.TESTED,)),
    ("Treatments", (Kind.TREATED,)),
)
"""The parts of a record, and the kinds of entry in each."""
NOTES = "Notes"


@dataclass(frozen=True, slots=True)
class Line:
    """One entry: its local day, what happened, the rest, and its id in the journal."""

    day: date
    title: str
    detail: str
    entry: int


@dataclass(frozen=True, slots=True)
class Part:
    """One part of the record; empty where nothing of it is in the journal."""

    title: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Exposed:
    """What the plant was or is exposed to: the words, since when (None: no day can be said), by which plants, and the
    entries that rests on: how they met (none where no entry tells it), and what was found on each."""

    words: str
    since: date | None
    sources: tuple[int, ...]
    met: tuple[int, ...] = ()
    finds: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class PlantRecord:
    """The record of one plant in plain values. `standing_entry` put it where it stands (None: no entry did). `chance`
    is in words, never 0 or 100 %; `assumptions` its steps.

    `photos` are SHA-256 with their local day, newest first.
    """

    number: int
    name: str
    source: str
    came: date | None
    medium: str
    pot: str
    place: str
    left: str
    made: date
    standing: str
    standing_why: str
    parts: tuple[Part, ...]
    exposures: tuple[Exposed, ...]
    checks: tuple[Check, ...]
    chance: str
    assumptions: tuple[Reason, ...]
    photos: tuple[tuple[str, date], ...]
    notes: str
    standing_entry: int | None = None
    notice: str = NO_CERTIFICATE

    def plain(self) -> dict[str, Any]:
        """The record in JSON's types; days as ISO dates."""
        told: dict[str, Any] = _plain(asdict(self))
        return told


def plant_record(session: Session, now: datetime, number: int, private: bool = False) -> PlantRecord:
    """The record of plant `number` at the aware `now`, also of one that left. `private` takes notes and remarks in.

    Raises Refused when there is no such plant.
    """
    every = quarantine.histories(session)
    plant = next((one.plant for one in every if one.plant.number == number), None)
    if plant is None:
        raise Refused(f"There is no plant {number}", "", "Check the number.")
    standing = quarantine.standings(session, every, now)[number]
    zone, labels = house.zone(session), records.labels(session)
    entries = [entry for entry in journal.of_plant(session, number) if entry.at <= now]
    today = care_day(now, zone, house.rules(session))
    chance, why = _chance(session, now, plant)
    return PlantRecord(
        number, names.parse(plant.name).plain, labels.sources.get(plant.source or 0, ""), plant.acquired_on,
        plant.medium, plant.pot, labels.places.get(plant.place or 0, ""), _left(plant), today, standing.word,
        standing.why, _parts(entries, labels, session, private), _exposures(session, standing.statuses),
        () if plant.left is not None else dealings.before_trading(session, now, number).checks, chance, why,
        _photos(entries, session), plant.notes if private else "", standing.entry)


def _chance(session: Session, now: datetime, plant: Plant) -> tuple[str, tuple[Reason, ...]]:
    turn = next((turn for turn in inspections.turns(session, now) if turn.plant == plant.number), None)
    if turn is None:
        return "not reckoned: it has left", ()
    return turn.chance.words, turn.chance.why


def _parts(entries: Sequence[Entry], labels: Labels, session: Session, private: bool) -> tuple[Part, ...]:
    wanted = (*SECTIONS, (NOTES, (Kind.NOTE,))) if private else SECTIONS
    return tuple(Part(title, tuple(_line(entry, labels, session, private) for entry in entries
                                   if entry.kind in kinds)) for title, kinds in wanted)


def _line(entry: Entry, labels: Labels, session: Session, private: bool) -> Line:
    said = records.words(entry.facts, labels)
    detail = "; ".join(filter(None, (said.detail, entry.note if private else "")))
    return Line(entry.at.astimezone(house.zone(session)).date(), said.title, detail, entry.id)


def _exposures(session: Session, statuses: Iterable[Status]) -> tuple[Exposed, ...]:
    zone = house.zone(session)
    return tuple(Exposed(one.why, None if one.since is None else one.since.astimezone(zone).date(), one.sources,
                         tuple(dict.fromkeys(met.contact for met in one.behind if met.contact is not None)),
                         tuple(met.find for met in one.behind))
                 for one in statuses if one.rank == EXPOSED)


def _photos(entries: Sequence[Entry], session: Session) -> tuple[tuple[str, date], ...]:
    zone = house.zone(session)
    return tuple((entry.facts.sha256, entry.at.astimezone(zone).date()) for entry in reversed(entries)
                 if isinstance(entry.facts, Photo))


def _left(plant: Plant) -> str:
    if plant.left is None:
        return ""
    return plant.left.value if plant.left_on is None else f"{plant.left.value} on {dated(plant.left_on)}"


def _plain(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _plain(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(inner) for inner in value]
    return value.isoformat() if isinstance(value, date) else value


def words(record: PlantRecord) -> str:
    """The record in plain lines, the notice last."""
    lines = [f"{record.number}  {record.name}", f"Now {record.standing}: {record.standing_why}",
             f"Chance that it still carries something: {record.chance}",
             *(f"  {reason.text} [{reason.shown}]" for reason in record.assumptions)]
    for part in record.parts:
        lines += [part.title, *([f"  {dated(line.day):>11}  {', '.join(filter(None, (line.title, line.detail)))}"
                                 for line in part.lines] or ["  Nothing is written down."])]
    lines += ["Exposures that still count", *([f"  {dated(one.since) if one.since else 'day unknown':>11}  {one.words}"
                                               for one in record.exposures] or ["  None on record."])]
    if record.checks:
        lines += ["Check list before handing on", *(f"  {check.verdict.value}: {check.title}. {check.evidence}"
                                                    for check in record.checks)]
    return "\n".join([*lines, *(["Private notes", f"  {record.notes}"] if record.notes else []), record.notice])
