"""Quarantine: how every plant stands and why, who met whom, where a pest can have come from, and the release."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from functools import cache

from greenhouse_desk.domain import contacts as meetings
from greenhouse_desk.domain import quarantine as rules_of_quarantine
from greenhouse_desk.domain.care_day import care_day, care_second, day_words
from greenhouse_desk.domain.contacts import Cleaned, Handled, Stay, is_virus
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Kind, Released, Shared, found_in
from greenhouse_desk.domain.plants import History, Plant
from greenhouse_desk.domain.quarantine import (
    CLEAR,
    INFESTED,
    SUSPECT,
    TREATED,
    Answer,
    Around,
    Contact,
    Reached,
    Standing,
    Trace,
)
from greenhouse_desk.domain.quarantine_looks import Counting
from greenhouse_desk.services import house, own_words, shelf
from greenhouse_desk.services.desk import Done
from greenhouse_desk.store import contacts as kept_contacts
from greenhouse_desk.store import journal, plants
from greenhouse_desk.store.engine import Session
from greenhouse_desk.store.kept import Told

KINDS = frozenset({"journal", "plants"})
READ = frozenset((Kind.ARRIVED, Kind.PLACED, Kind.LEFT, Kind.LOOKED, Kind.SIGHTED, Kind.RELEASED, Kind.TREATED,
                  Kind.CUT, Kind.SHARED, Kind.TESTED))
"""The kinds of entry that a standing rests on."""
FOR_TOOLS = "tools"


@dataclass(frozen=True, slots=True)
class Link:
    """One end of a trace: the plant, the day it can have left or been reached, and the contacts walked.

    `seen` is the day on which the same pest or disease was first found on it, None when it never was; `words` tell the
    contacts one by one.
    """

    plant: int
    day: date
    path: tuple[Contact, ...]
    seen: date | None
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Traced:
    """A trace of `what` from `plant` on `day`: plants on which it was found come first, the earliest find first."""

    plant: int
    what: str
    day: date
    window_days: int
    back: tuple[Link, ...]
    forward: tuple[Link, ...]


def status(session: Session, now: datetime) -> dict[int, Standing]:
    """The standing of every plant at `now` (aware), by number, each pest and disease by itself in `statuses`."""
    return standings(session, histories(session), now)


def standings(session: Session, every: Sequence[History], now: datetime) -> dict[int, Standing]:
    """The standings of `every` plant, for callers that have read the journals (at least the kinds of `READ`).

    They begin from those asked for last, and are kept for the next who asks.
    """
    kept = journal.kept(session)
    kept.last_answer = _answer(session, every, now, kept.last_answer)
    return kept.last_answer.standings


def standings_then(session: Session, every: Sequence[History], then: datetime) -> dict[int, Standing]:
    """The standings at an instant gone by; those of today are left kept."""
    return _answer(session, every, then, journal.kept(session).last_answer).standings


def _answer(session: Session, every: Sequence[History], now: datetime, last: Answer | None) -> Answer:
    apart = frozenset(place.id for place in plants.places(session) if place.isolation)
    around = Around(apart, now, counting(session), _diseases())
    return rules_of_quarantine.answer(every, handled(session, now), around, last)


def counting(session: Session) -> Counting:
    """By what looks and finds are counted in this house."""
    return Counting(house.rules(session), house.zone(session), _names(), own=own_words.known(session))


def standing(session: Session, plant: Plant, now: datetime) -> Standing:
    """The standing of one plant. It rests on its own journal, on those that tell on others, and on what else came from
    its source; no other is read."""
    mates = journal.came_from(session, plant.source) if plant.source is not None else ()
    wanted = sorted({plant.number, *journal.telling(session), *mates})
    there = plants.plants(session, house.zone(session), wanted)
    return standings_then(session, with_entries(there, journal.told(session, wanted)), now)[plant.number]


def histories(session: Session) -> list[History]:
    """Every plant with the entries its standing rests on, those that left too."""
    return with_entries(plants.plants(session, house.zone(session)), journal.told(session))


def with_entries(everyone: Iterable[Plant], told: Mapping[int, Told]) -> list[History]:
    """Plants with the entries their standing rests on, in the order given."""
    return [History(plant, told[plant.number].of(READ) if plant.number in told else ()) for plant in everyone]


def handled(session: Session, now: datetime, since: datetime | None = None) -> Handled:
    """What passed between plants at the bench from `since` (None: ever) to `now`; only a soak in an agent for tools
    that reached its least cleared one."""
    since = since or now - timedelta(days=36_500)
    touches = kept_contacts.touches(session, since)
    if not touches:
        return Handled(worked=kept_contacts.worked(session, since))
    disinfecting, against_virus = _tool_agents()
    cleaned = [Cleaned(soak.tool, soak.started_at, soak.agent in against_virus)
               for soak in kept_contacts.tool_soaks(session, since)
               if not soak.early and soak.agent in disinfecting
               and (soak.ended_at or now) - soak.started_at >= timedelta(seconds=soak.least_s)]
    return Handled(touches, tuple(cleaned), kept_contacts.worked(session, since))


def contacts(session: Session, now: datetime, plant: int | None = None, what: str = "") -> tuple[Contact, ...]:
    """Who met whom up to `now`, oldest first: the contacts along which `what` can pass, anything when empty.

    With `plant` only its own.
    """
    found = _contacts(session, histories(session), now, what, None)
    mine = (contact for contact in found if plant is None or plant in (contact.a, contact.b))
    return tuple(sorted(mine, key=lambda contact: (contact.start, contact.end, contact.a, contact.b)))


def trace_of(session: Session, plant: int, what: str, day: date, now: datetime) -> Traced:
    """Where `what` (a key of pests.toml or the grower's word), found on `plant` on `day`, can have come from, and whom
    it can have reached since, over the house's window of days. Raises Refused for an unknown plant."""
    every = histories(session)
    if plant not in {one.plant.number for one in every}:
        raise Refused(f"There is no plant {plant}", "", "Check the number.")
    days = house.rules(session).trace_days
    since = now - timedelta(days=(care_day(now, house.zone(session), house.rules(session)) - day).days + days + 1)
    met = _contacts(session, every, now, what, since)
    found = rules_of_quarantine.trace(met, plant, day, days)
    blades = meetings.blades_of(met)
    found = Trace(tuple(replace(one, path=meetings.by_blades(one.path, one.plant, blades)) for one in found.back),
                  tuple(replace(one, path=meetings.by_blades(one.path, plant, blades)) for one in found.forward))
    return _traced(session, found, plant, what, day, days, every)


def release(session: Session, now: datetime, plant: int, reason: str, what: str = "") -> Done[int]:
    """Write down that `plant` may stand among the others, from everything or from `what` alone. Returns the entry's id.

    Raises Refused for an unknown or departed plant, for one that is clear, while a pest or disease on it is not over,
    for one suspected of a virus, which a test alone ends, and for a release before its day without a reason.
    """
    standing = status(session, now)
    growing = {one.number for one in plants.plants(session, house.zone(session)) if one.left is None}
    if plant not in growing:
        raise Refused(f"Plant {plant} is not growing here", "", "Check the number.")
    held = [one for one in standing[plant].statuses if one.rank > CLEAR and what in ("", one.what)]
    if not held:
        raise Refused(f"{plant} needs no release", f"It is clear: {standing[plant].why}.")
    grave = next((one for one in held if one.rank == INFESTED or one.word == "under treatment"
                  or (one.rank == SUSPECT and is_virus(one.what, own_words.known(session)))), None)
    if grave is not None:
        raise Refused(f"{plant} cannot be released yet", f"{grave.word.capitalize()}: {grave.why}.",
                      grave.next or "Treat it and look again.")
    today = care_day(now, house.zone(session), house.rules(session))
    early = [one for one in held if one.earliest is None or one.earliest > today or one.rank == TREATED]
    if early and not reason.strip():
        when = early[0].earliest
        raise Refused(f"{plant} would be released early", f"{early[0].word.capitalize()}: {early[0].why}.",
                      f"Wait until {day_words(when, today)}, or give a reason." if when else "Give a reason.")
    entry = journal.add(session, now, Released(reason.strip(), what), plant=plant)
    return Done(f"{plant}: released", KINDS, entry)


def _contacts(session: Session, every: Sequence[History], now: datetime, what: str,
              since: datetime | None) -> list[Contact]:
    rules, zone = house.rules(session), house.zone(session)
    stays: list[Stay] = [stay for one in every for stay in meetings.stays(one, now)
                         if since is None or stay.end >= since]
    passed = handled(session, now, since)
    names = {place.id: place.name for place in plants.places(session)}
    shares = [meetings.share_of(entry) for one in every for entry in one.entries if isinstance(entry.facts, Shared)]
    return meetings.contacts(stays, passed, lambda at: care_day(at, zone, rules), now, names, what,
                             [share for share in shares if since is None or share.end >= since],
                             own_words.known(session), lambda at: care_second(at, zone, rules))


def _traced(session: Session, found: Trace, plant: int, what: str, day: date, days: int,
            every: Sequence[History]) -> Traced:
    rules, zone = house.rules(session), house.zone(session)
    seen: dict[int, date] = {}
    for one in every:
        for entry in one.entries:
            if found_in(entry.facts) == what:
                seen.setdefault(one.plant.number, care_day(entry.at, zone, rules))
    return Traced(plant, what, day, days, _links(found.back, seen, day), _links(found.forward, seen, day))


def _links(reached: Iterable[Reached], seen: Mapping[int, date], day: date) -> tuple[Link, ...]:
    """Plants on which the same was found, by the day it was, then the rest as traced; the path's contacts in words."""
    links = [Link(one.plant, one.day, one.path, seen.get(one.plant),
                  tuple(f"{contact.a} and {contact.b}: {contact.how}, {_span(contact, day)}"
                        f"{unordered(contact, one.path)}" for contact in one.path)) for one in reached]
    return tuple(sorted(links, key=lambda link: link.seen or date.max))


def unordered(contact: Contact, path: Sequence[Contact]) -> str:
    """That nobody knows whether a contact came before or after the others of its day, "" where that makes no odds."""
    days = {day for other in path if other is not contact for day in (other.start, other.end)}
    same = not contact.timed and {contact.start, contact.end} & days
    return ", at what time of that day is not known" if same else ""


def _span(contact: Contact, day: date) -> str:
    start, end = day_words(contact.start, day), day_words(contact.end, day)
    return start if start == end else f"{start} to {end}"


@cache
def _names() -> dict[str, str]:
    return {key: pest.name for key, pest in shelf.shelf(None).pests.items()}


@cache
def _diseases() -> frozenset[str]:
    return frozenset(key for key, pest in shelf.shelf(None).pests.items() if pest.kind == "disease")


@cache
def _tool_agents() -> tuple[frozenset[str], frozenset[str]]:
    """The agents that disinfect a tool, and those of them known to clear viruses from blades."""
    agents = shelf.shelf(None).agents
    return (frozenset(key for key, agent in agents.items() if agent.use(FOR_TOOLS) is not None),
            frozenset(key for key, agent in agents.items() if agent.clears_virus))
