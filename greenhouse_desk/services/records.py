"""The journal: writing an entry, mending or withdrawing it, and saying it in words."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from functools import cache

from greenhouse_desk.domain.care_day import dated, moment_words
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import (
    Entry,
    Facts,
    Note,
    Photo,
    Placed,
    Shared,
    Sighted,
    Treated,
    VirusTested,
    found_in,
)
from greenhouse_desk.domain.own_words import NO_WORDS, OwnKind
from greenhouse_desk.domain.plants import History, Plant
from greenhouse_desk.services import own_words
from greenhouse_desk.services.desk import Done
from greenhouse_desk.services.house import zone as house_zone
from greenhouse_desk.services.records_checks import check
from greenhouse_desk.services.records_words import MONTHS as MONTHS
from greenhouse_desk.services.records_words import Labels as Labels
from greenhouse_desk.services.records_words import Line as Line
from greenhouse_desk.services.records_words import day_words as day_words
from greenhouse_desk.services.records_words import line as line
from greenhouse_desk.services.records_words import words as words
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.store import journal, plants
from greenhouse_desk.store.engine import Session

KINDS = frozenset({"journal", "plants"})
CLOCK_SLACK = timedelta(minutes=1)


def add(session: Session, now: datetime, plant: int, facts: Facts, at: datetime | None = None,
        note: str = "") -> Done[int]:
    """Write an entry on `plant` at the aware instant `at` (now when None). Returns its id.

    Raises Refused for an unknown plant, one that had left by then, a moment to come, or a figure that cannot be.
    """
    moment = _moment(session, now, at)
    known = _plant(session, plant)
    check(facts, own_words.known(session) if isinstance(facts, VirusTested) else NO_WORDS)
    _check_place(session, facts)
    _check_shared(session, plant, facts)
    _check_still_here(session, known, facts, moment)
    entry = journal.add(session, moment, facts, plant=plant, note=note.strip())
    return Done(f"{plant}: {words(facts, labels(session)).title}", KINDS, entry)


def correct(session: Session, now: datetime, entry: int, at: datetime, facts: Facts, note: str,
            own: OwnKind | None = None) -> Done[None]:
    """Rewrite an entry: its moment (aware), its facts and its note; what rested on it follows. `own` tells what another
    own word for a pest or disease names.

    Raises Refused when there is no such entry, the moment is to come, or a figure cannot be; for another own word of
    which nobody told what it names.
    """
    old = _entry(session, entry)
    moment = _moment(session, now, at)
    check(facts, own_words.known(session) if isinstance(facts, VirusTested) else NO_WORDS)
    _check_place(session, facts)
    _check_shared(session, old.plant, facts)
    if isinstance(facts, Treated) and isinstance(old.facts, Treated):
        facts = replace(facts, rinse=old.facts.rinse)  # the form does not ask which step of the bench rinses it off
    if isinstance(facts, Sighted) and (own is not None or facts.what != found_in(old.facts)):
        facts = replace(facts, what=own_words.learn(session, facts.what, own))
    journal.correct(session, entry, moment, facts, note.strip())
    return Done(f"Correct {_whose(old)}{words(facts, labels(session)).title}", KINDS, None)


def withdraw(session: Session, now: datetime, entry: int) -> Done[None]:
    """Take an entry back: what it owed goes with it. Raises Refused when there is no such entry."""
    old = _entry(session, entry)
    journal.withdraw(session, [entry])
    return Done(f"Withdraw {_whose(old)}{words(old.facts, labels(session)).title}", KINDS, None)


def labels(session: Session) -> Labels:
    """The names of places, sources, agents and pests that entries name by key."""
    agents, pests = _shipped_names()
    return Labels({place.id: place.name for place in plants.places(session)},
                  {source.id: source.name for source in plants.sources(session)}, agents, pests)


@cache
def _shipped_names() -> tuple[dict[str, str], dict[str, str]]:
    shipped = shelf(None)
    return ({key: agent.name for key, agent in shipped.agents.items()},
            {key: pest.name for key, pest in shipped.pests.items()})


def moment_of(session: Session, now: datetime, day: date | None) -> datetime:
    """The instant an entry of the local `day` is kept at: noon, never later than `now`; `now` when None.

    Raises Refused when the day is to come.
    """
    if day is None:
        return now
    zone = house_zone(session)
    if day > now.astimezone(zone).date():
        raise Refused("That day is still to come", f"{dated(day)} is after today.", "Name an earlier one.")
    return min(datetime(day.year, day.month, day.day, 12, tzinfo=zone).astimezone(UTC), now)


def _moment(session: Session, now: datetime, at: datetime | None) -> datetime:
    if at is None:
        return now
    if at > now + CLOCK_SLACK:
        raise Refused("That moment is still to come", f"{moment_words(at, house_zone(session))} is later than now.",
                      "The journal keeps what happened: name an earlier moment.")
    return at


def _plant(session: Session, number: int) -> Plant:
    found = plants.plants(session, house_zone(session), [number])
    if not found:
        raise Refused(f"There is no plant {number}", "Nothing was written.", "Check the number.")
    return found[0]


def _entry(session: Session, entry: int) -> Entry:
    found = journal.one(session, entry)
    if found is None:
        raise Refused("That entry is gone", "It was withdrawn meanwhile.", "Look at the journal again.")
    return found


def _check_place(session: Session, facts: Facts) -> None:
    if isinstance(facts, Placed) and facts.place not in {place.id for place in plants.places(session)}:
        raise Refused("There is no such place", f"Place {facts.place} is not known.", "Choose a place from the list.")


def _check_shared(session: Session, plant: int | None, facts: Facts) -> None:
    if not isinstance(facts, Shared):
        return
    if plant in facts.plants:
        raise Refused(f"{plant} cannot share with itself", "Nothing was written.", "Name the other plants.")
    known = {one.number for one in plants.plants(session, house_zone(session), list(facts.plants))}
    for number in facts.plants:
        if number not in known:
            raise Refused(f"There is no plant {number}", "Nothing was written.", "Check the numbers.")


def _check_still_here(session: Session, plant: Plant, facts: Facts, at: datetime) -> None:
    if plant.left is None or plant.left_on is None or isinstance(facts, (Note, Photo)):
        return
    if at.astimezone(house_zone(session)).date() > plant.left_on:
        raise Refused(f"{plant.number} has left the collection", f"{plant.left.value} on {dated(plant.left_on)}.",
                      "Write a note, or name a day before it left.")


def _whose(entry: Entry) -> str:
    return f"{entry.plant}: " if entry.plant is not None else ""


def histories(session: Session, numbers: list[int] | None = None) -> list[History]:
    """The plants of these `numbers` (None: every plant, those that left too) with their whole journals."""
    told = journal.told(session, numbers)
    return [History(plant, told[plant.number].entries if plant.number in told else ())
            for plant in plants.plants(session, house_zone(session), numbers)]
