"""What a plant was given that something else must stay days apart from: asked before a start and before an entry."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime

from greenhouse_desk.domain.care_day import care_day
from greenhouse_desk.domain.faults import Fault
from greenhouse_desk.domain.journal import Entry, Kind
from greenhouse_desk.domain.protocol_apart import Given, apart_faults, counts_as, given, kept_around
from greenhouse_desk.domain.protocols import Protocol
from greenhouse_desk.services import house
from greenhouse_desk.services.shelf import Shelf, shelf
from greenhouse_desk.store import journal
from greenhouse_desk.store.engine import Session

GIVES = (Kind.TREATED, Kind.DRESSED)


def faults(session: Session, now: datetime, chosen: Iterable[tuple[int, Protocol]], shown: Shelf) -> tuple[Fault, ...]:
    """Grave faults of plants with their protocols, started at the aware `now`: agents too close to what the journal
    says a plant was given, in a session or by hand."""
    today = care_day(now, house.zone(session), house.rules(session))
    return tuple(Fault(fault.file, fault.path, f"{plant}: {fault.message}", fault.grave) for plant, protocol in chosen
                 for fault in apart_faults(protocol, _given(session, now, plant, shown), shown.agents, today))


def warnings(session: Session, now: datetime, plant: int) -> tuple[str, ...]:
    """What `plant` must not be given at the aware `now` because of what it was given, each in words with its source."""
    return _words(session, now, _given(session, now, plant, shelf(None)))


def warnings_for(session: Session, entry: Entry) -> tuple[str, ...]:
    """What this entry must not say was given, because of what the plant was given besides, before and after it."""
    if entry.plant is None or entry.kind not in GIVES:
        return ()
    every = _given(session, None, entry.plant, shelf(None))
    return _words(session, entry.at, [one for one in every if one.entry != entry.id])


def warnings_of(session: Session, at: datetime, plant: int, agent: str, besides: int = 0) -> tuple[str, ...]:
    """What speaks against giving `agent` (its key, or the grower's own words for it) to `plant` at the aware `at`,
    because of what it was given before or after; the entry `besides` is left out. Empty when nothing does."""
    known = shelf(None).agents
    meant = counts_as(agent, known)
    if meant is None:
        return ()
    day = care_day(at, house.zone(session), house.rules(session))
    told = [one for one in _given(session, None, plant, shelf(None)) if one.entry != besides]
    return tuple(one.words(day) for one in kept_around(told, known, day) if one.other.key == meant.key)


def _words(session: Session, at: datetime, told: Sequence[Given]) -> tuple[str, ...]:
    day = care_day(at, house.zone(session), house.rules(session))
    return tuple(one.words(day) for one in kept_around(told, shelf(None).agents, day))


def _given(session: Session, until: datetime | None, plant: int, shown: Shelf) -> Sequence[Given]:
    zone, rules = house.zone(session), house.rules(session)
    before = [entry for entry in journal.of_plant(session, plant)
              if entry.kind in GIVES and (until is None or entry.at <= until)]
    return tuple(given(before, shown.agents, lambda at: care_day(at, zone, rules)))
