"""Before buying and before trading: what a source sent before, where a newcomer could stand, what may be handed on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from greenhouse_desk.domain.care import Reason, Turn, by_need, turn_of, words
from greenhouse_desk.domain.care_day import care_day, day_words
from greenhouse_desk.domain.dealings import Check, SourceRecord, Verdict, passes_from, trading_checks
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.origins import DaysApart, days_apart, new_words, of_source
from greenhouse_desk.domain.plants import Source
from greenhouse_desk.domain.quarantine import CLEAR, EXPOSED, Standing
from greenhouse_desk.domain.quarantine_finds import life
from greenhouse_desk.domain.quarantine_looks import Counting
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.domain.settings import RULES
from greenhouse_desk.services import care, house, inspections, quarantine, records
from greenhouse_desk.services.dealings_sources import records_by_source
from greenhouse_desk.store import plants
from greenhouse_desk.store.engine import Session

NO_RECORD = SourceRecord(0, 0, (), (), None)


@dataclass(frozen=True, slots=True)
class Room:
    """An isolation place on a day to come: how many stand there, how many of them may be released by then, how many
    spots are free then, and how many it holds."""

    place: int
    name: str
    standing: int
    released: int
    holds: int

    @property
    def free(self) -> int:
        """Spots free on that day if everyone who may go by then is released."""
        return max(0, self.holds - self.standing + self.released)


@dataclass(frozen=True, slots=True)
class Buying:
    """What is known before something is bought from a source: its record, room on the day it comes, what is active at
    home, all in plain values; `words` say the record in a sentence, `why` its steps. `apart` is for how many days a
    plant from there would stand apart."""

    source: str
    record: SourceRecord
    rooms: tuple[Room, ...]
    active: tuple[tuple[str, int], ...]
    words: str
    why: tuple[Reason, ...]
    apart: DaysApart


@dataclass(frozen=True, slots=True)
class Trading:
    """The check list of a plant, and the first day on which it would pass (None: no day can be said)."""

    plant: int
    name: str
    standing: Standing
    checks: tuple[Check, ...]
    passes: date | None

    @property
    def passed(self) -> bool:
        """Whether every point passed."""
        return all(check.verdict is Verdict.PASSED for check in self.checks)


def sources(session: Session) -> tuple[Source, ...]:
    """Every source a plant came from, by name."""
    return plants.sources(session)


def before_buying(session: Session, now: datetime, source: str, arrival: date) -> Buying:
    """What is known of the source called `source` (as typed; an unknown one has no record) for a plant that would come
    on the care day `arrival`."""
    every = quarantine.histories(session)
    standing = quarantine.standings(session, every, now)
    by = quarantine.counting(session)
    key = next((one.id for one in plants.sources(session) if one.name.casefold() == source.strip().casefold()), 0)
    record = records_by_source(session, every, now, by).get(key, NO_RECORD)
    growing = [one.plant for one in every if one.plant.left is None]
    rooms = []
    for place in plants.places(session):
        if place.isolation:
            here = [standing[plant.number] for plant in growing if plant.place == place.id]
            gone = sum(one.earliest is not None and one.earliest <= arrival for one in here)
            rooms.append(Room(place.id, place.name, len(here), gone, by.rules.isolation_spots))
    labels = records.labels(session)
    active = tuple((labels.pest(what), _carriers(standing, {one.number for one in growing}, what))
                   for what in inspections.active(session, now))
    words = _words(record)
    from_it = [life(one, now, by) for one in every if key and one.plant.source == key]
    isolation = frozenset(place.id for place in plants.places(session) if place.isolation)
    apart = days_apart(of_source(from_it, isolation, now, by), by.rules)
    return Buying(source.strip(), record, tuple(rooms), active, words,
                  (*_why(record, words, by), *_apart_why(apart)), apart)


def _carriers(standing: dict[int, Standing], growing: set[int], what: str) -> int:
    return sum(number in growing and any(status.what == what and status.rank > EXPOSED for status in one.statuses)
               for number, one in standing.items())


def _words(record: SourceRecord) -> str:
    if not record.came:
        return "no record: nothing came from here yet"
    if record.share is None:
        return f"no record yet: {record.came} came from here, {_uncounted(record)}"
    showed = f"{len(record.found)} of {record.had} showed something while they stood apart{new_words(record.new)}"
    low, high = 100 * record.share.low, 100 * record.share.high
    return f"{showed}; in the long run {low:.0f} to {high:.0f} of a hundred"


def _uncounted(record: SourceRecord) -> str:
    told = [f"{count} {words}" for count, words in ((record.unlooked, "never looked at"),
                                                    (record.new, "still too new to count")) if count]
    return ", ".join(told) or "all of them count"


def _why(record: SourceRecord, words: str, by: Counting) -> tuple[Reason, ...]:
    if not record.came:
        return (Reason("No plant of this source is in the journal, so nothing can be said of it.", "the journal"),)
    rule = RULES["isolation_days"].metadata
    return (
        Reason(f"{record.came} came from here, those that left since included; {_uncounted(record)}.",
               "arrivals in the journal"),
        Reason(f"{record.had} count: something showed while they stood apart, or they were looked at and came "
               f"{by.rules.isolation_days} days ago or more.", f"{rule['label']}: {rule['source']}"),
        Reason(f"On {len(record.found)} something showed before they joined the rest; on {len(record.later)} only "
               "later, which proves nothing against the source.", "sightings and moves in the journal"),
        Reason(f"A plant that never stood in an isolation place is taken as apart for {by.rules.isolation_days} days.",
               f"{rule['label']}: {rule['source']}"),
        Reason("The span holds the true share in 95 of 100 such records; with few plants it is wide.",
               "Wilson 1927, J. Am. Stat. Assoc. 22:209"),
        Reason(f"{capital(words)}.", "worked out from the steps above"))


def _apart_why(apart: DaysApart) -> tuple[Reason, ...]:
    rule = RULES[apart.rule].metadata
    because = f", for {apart.why}" if apart.why else ""
    return (Reason(f"A plant from here would stand apart for {apart.days} days{because}.",
                   f"{rule['label']}: {rule['source']}"),)


def before_trading(session: Session, now: datetime, plant: int) -> Trading:
    """The check list of `plant` at the aware `now`. Raises Refused when it is not growing here."""
    every = quarantine.histories(session)
    one = next((one for one in every if one.plant.number == plant and one.plant.left is None), None)
    if one is None:
        raise Refused(f"Plant {plant} is not growing here", "", "Check the number.")
    rules, zone = house.rules(session), house.zone(session)
    by = quarantine.counting(session)
    standing = quarantine.standings(session, every, now)[plant]
    checks = trading_checks(life(one, now, by), standing, care.of_plant(session, plant, now), now, by)
    return Trading(plant, one.plant.name, standing, checks, passes_from(checks, care_day(now, zone, rules)))


def against_parting(session: Session, now: datetime, plant: int) -> tuple[str, ...]:
    """What stands against parting with `plant` at the aware `now`, a sentence each: its standing, what it is owed soon
    or must not be given, what the check list says; empty when nothing does."""
    told = before_trading(session, now, plant)
    zone, rules = house.zone(session), house.rules(session)
    soon = [one for one in by_need(care.of_plant(session, plant, now), now, zone, rules)
            if turn_of(one, now, zone, rules) is not Turn.LATER]
    owed = ", ".join(words(one, now, zone, rules).text for one in soon)
    listed = verdict_words(told, care_day(now, zone, rules))
    stands = told.standing.rank > CLEAR and told.standing.why
    return (*((f"It is {told.standing.word}: {told.standing.why}.",) if stands else ()),
            *((f"It is owed: {owed}.",) if soon else ()),
            *(() if told.passed else (f"The check list before trading says: {listed}",)))


def verdict_words(trading: Trading, today: date) -> str:
    """The check list in a sentence, with the day from which it would pass."""
    if trading.passed:
        return "Every point passed: it may be handed on, with its record."
    if trading.passes is None:
        first = "; ".join(check.first for check in trading.checks if check.first)
        return ("It does not pass, and no day can be said from which it would"
                f"{': first ' if first else ''}{first}.")
    if trading.passes <= today:
        return "It does not pass yet; it would today, once what failed is made good and nothing is found."
    return f"It does not pass yet; it would from {day_words(trading.passes, today)} on, if nothing is found by then."
