"""Labels: for which plants, what each says, and the entry that one was printed."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from datetime import datetime

from greenhouse_desk.domain.care_day import dated
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Entry, Kind
from greenhouse_desk.domain.labels import Layout, Told
from greenhouse_desk.domain.labels_choice import chosen, numbers
from greenhouse_desk.domain.labels_printed import changed, labelled
from greenhouse_desk.domain.names import BotanicalName, parse
from greenhouse_desk.domain.names_genera import Genera
from greenhouse_desk.domain.plants import Plant
from greenhouse_desk.services.desk import Done
from greenhouse_desk.services.house import zone
from greenhouse_desk.services.shelf import NO_GENERA
from greenhouse_desk.store import bench, journal, plants
from greenhouse_desk.store.engine import Session

KINDS = frozenset({"journal"})
MOST_SESSIONS = 8
"""How many of the last bench sessions are offered."""


def named(session: Session, text: str) -> tuple[int, ...]:
    """The plants that "101-140, 150" names, in that order; a plant that left only where it is named by itself.

    Raises Refused for what is no list of numbers, and for numbers that nobody has.
    """
    everyone = plants.plants(session, zone(session))
    return chosen(numbers(text), [plant.number for plant in everyone], _growing(everyone))


def growing(session: Session) -> tuple[int, ...]:
    """Every plant that grows here, by number."""
    return _growing(plants.plants(session, zone(session)))


def on_places(session: Session) -> dict[int, tuple[int, ...]]:
    """The plants that stand on each bench, in their order on it; a bench without any is left out."""
    found: dict[int, list[Plant]] = defaultdict(list)
    for plant in plants.plants(session, zone(session)):
        if plant.left is None and plant.place is not None:
            found[plant.place].append(plant)
    return {place: tuple(plant.number for plant in sorted(here, key=lambda plant: (plant.order, plant.number)))
            for place, here in found.items()}


def of_sessions(session: Session) -> tuple[tuple[datetime, tuple[int, ...]], ...]:
    """The bench sessions begun last, newest first: when each began, by the local clock, and its plants in its order."""
    here, sats = zone(session), bench.latest(session, MOST_SESSIONS)
    plants_of = (dict.fromkeys(run.plant for run in bench.runs(session, sat.id)) for sat in sats)
    return tuple((sat.started_at.astimezone(here), tuple(found)) for sat, found in zip(sats, plants_of, strict=True))


def changed_since(session: Session) -> tuple[int, ...]:
    """The plants that grow here whose label in the pot is out of date, or that never had one, by number."""
    printed: dict[int | None, list[Entry]] = defaultdict(list)
    for entry in journal.of_kinds(session, (Kind.LABELLED,)):
        printed[entry.plant].append(entry)
    return tuple(one.number for one in told(session, growing(session)) if changed(one, printed[one.number]))


def told(session: Session, wanted: Sequence[int], genera: Genera = NO_GENERA,
         lines: Sequence[str] = ()) -> tuple[Told, ...]:
    """What labels say of these plants, in this order; `genera` give the short forms, `lines` are the grower's own.

    Raises Refused for a number that nobody has.
    """
    known = {plant.number: plant for plant in plants.plants(session, zone(session), list(wanted))}
    lost = [number for number in wanted if number not in known]
    if lost:
        raise Refused(f"There is no plant {lost[0]}", "Nothing was printed.", "Check the numbers.")
    apart = {place.id for place in plants.places(session) if place.isolation}
    sources = {source.id: source.name for source in plants.sources(session)}
    return tuple(_told(known[number], apart, sources, genera, lines) for number in wanted)


def printed(session: Session, now: datetime, layout: Layout, labels: Sequence[Told]) -> Done[None]:
    """Write down that labels in this layout were printed, so that it is known when they are out of date."""
    for one in labels:
        journal.add(session, now, labelled(layout, one), plant=one.number)
    whose = str(labels[0].number) if len(labels) == 1 else f"{len(labels)} plants"
    return Done(f"Labels of {whose}", KINDS, None)


def _growing(everyone: Sequence[Plant]) -> tuple[int, ...]:
    return tuple(plant.number for plant in everyone if plant.left is None)


def _told(plant: Plant, apart: set[int], sources: dict[int, str], genera: Genera, lines: Sequence[str]) -> Told:
    name = parse(plant.name)
    return Told(plant.number, name, plant.place in apart and plant.left is None, _dates(plant),
                sources.get(plant.source or 0, ""), plant.medium, tuple(lines), _shorts(name, genera))


def _dates(plant: Plant) -> tuple[str, ...]:
    """The day it was potted, else the day it came: with the deed, without, and in numbers."""
    for deed, day in (("potted", plant.potted_on), ("came", plant.acquired_on)):
        if day is not None:
            return f"{deed} {dated(day)}", dated(day), day.isoformat()
    return ()


def _shorts(name: BotanicalName, genera: Genera) -> tuple[tuple[str, str], ...]:
    words = {word for piece in name.pieces if piece.italic for word in piece.text.split() if word[:1].isupper()}
    return tuple((word, shorts[0]) for word in sorted(words) if (shorts := genera.shorts(word)))
