"""What is owed, read from the journal each time, and the grower's answers to it: each answer is an entry."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from functools import cache
from zoneinfo import ZoneInfo

from greenhouse_desk.domain import care as care_rules
from greenhouse_desk.domain.airflow import Around
from greenhouse_desk.domain.care import Care, CareKind
from greenhouse_desk.domain.care_day import day_words
from greenhouse_desk.domain.care_pests import rests_on_temperatures
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import (
    Aired,
    Answer,
    Blotted,
    Dressed,
    Dry,
    Facts,
    Kind,
    Part,
    Poured,
    Purpose,
    Reply,
    Treated,
    Wetted,
)
from greenhouse_desk.domain.names_genera import Genera
from greenhouse_desk.domain.pests import Pest
from greenhouse_desk.domain.plants import Air, History, Home, Place, Plant
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.domain.year import NO_YEARS, Years
from greenhouse_desk.services import house, shelf, years
from greenhouse_desk.services.care_rinsed import rinsed
from greenhouse_desk.services.care_temperatures import Temperatures, chain
from greenhouse_desk.services.desk import Done
from greenhouse_desk.store import air, journal, plants
from greenhouse_desk.store.engine import Session

KINDS = frozenset({"journal"})
SPEAKING = frozenset(Kind) - {Kind.PHOTO, Kind.READING, Kind.NOTE, Kind.CLOCK, Kind.LABELLED}
"""The kinds of entry that a care may rest on."""


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What care rests on besides a plant's own journal, read once for all plants."""

    home: Home
    zone: ZoneInfo
    rules: HouseRules
    places: Mapping[int, Place]
    air: Mapping[int, Air]
    home_set: bool
    genera: Genera
    years: Years = NO_YEARS

    @property
    def south(self) -> bool:
        """Whether the home lies south of the equator: its seasons fall half a year later."""
        return self.home.latitude < 0

    def around(self, place: int | None) -> Around:
        """The newest reading of the nearest place around that has one, of humidity too where there is any, and
        lights-out likewise."""
        around = chain(place, self.places)
        readings = [self.air[one.id] for one in around if one.id in self.air]
        read = next((one for one in readings if one.rh is not None), readings[0] if readings else None)
        lights_out = next((one.lights_out for one in around if one.lights_out is not None), None)
        return Around(read, lights_out, self.home, self.home_set)


def surroundings(session: Session) -> Surroundings:
    """The home, its zone, the house rules, the places and their newest air."""
    zone = house.zone(session)
    home = replace(house.home(session), zone=zone.key)
    places = {place.id: place for place in plants.places(session)}
    return Surroundings(home, zone, house.rules(session), places, air.newest(session), house.home_is_set(session),
                        shelf.genera(session), years.known(session))


def due(session: Session, now: datetime) -> tuple[Care, ...]:
    """What all growing plants are owed at `now` (aware), soonest first: what fell due, what will within
    `ahead_days`, and every hold that runs."""
    return ahead(session, now, house.rules(session).ahead_days)


def ahead(session: Session, now: datetime, days: int) -> tuple[Care, ...]:
    """What all growing plants are owed at `now` (aware) that falls due within `days`, holds too, soonest first."""
    around = surroundings(session)
    growing = _growing(session, around, None)
    return care_rules.soonest(_within(_owed(session, now, growing, around), around, now, days), around.zone,
                              around.rules)


def dry_rests(session: Session, now: datetime, days: Sequence[date]) -> tuple[tuple[date, Care], ...]:
    """Each of `days`, today or later, with the dry rests of growing plants held on it, as told at `now` (aware)."""
    around = surroundings(session)
    growing = _growing(session, around, None)
    told = journal.told(session, [plant.number for plant in growing])
    return tuple(found for plant in growing for found in care_rules.rests_ahead(
        History(plant, told[plant.number].of(SPEAKING)), around.around(plant.place), around.rules, now, around.zone,
        days, around.genera, around.years))


def by_plant(session: Session, now: datetime, numbers: Collection[int] | None = None) -> dict[int, tuple[Care, ...]]:
    """What `due` tells, by plant, of those of these plants (None: all) that grow; only their journals are read."""
    around = surroundings(session)
    growing = _growing(session, around, numbers)
    found: dict[int, list[Care]] = {plant.number: [] for plant in growing}
    for care in _within(_owed(session, now, growing, around), around, now, around.rules.ahead_days):
        found[care.plant].append(care)
    return {number: tuple(cares) for number, cares in found.items()}


def owed_each(session: Session, now: datetime, numbers: Collection[int]) -> dict[int, tuple[Care, ...]]:
    """What each of these plants is owed at `now` (aware), soonest first, however far ahead; only their journals are
    read."""
    around = surroundings(session)
    found: dict[int, list[Care]] = {number: [] for number in numbers}
    for care in _owed(session, now, _growing(session, around, numbers), around):
        found[care.plant].append(care)
    return {number: care_rules.soonest(cares, around.zone, around.rules) for number, cares in found.items()}


def _growing(session: Session, around: Surroundings, numbers: Collection[int] | None) -> list[Plant]:
    wanted = None if numbers is None else sorted(numbers)
    return [plant for plant in plants.plants(session, around.zone, wanted) if plant.left is None]


def _within(owed: Iterable[Care], around: Surroundings, now: datetime, days: int) -> Iterator[Care]:
    """Holds, and what falls due within `days`."""
    last = care_rules.care_day(now, around.zone, around.rules) + timedelta(days=days)
    return (care for care in owed if care.hold or care_rules.day_of(care.due, around.zone, around.rules) <= last)


def of_plant(session: Session, number: int, now: datetime) -> tuple[Care, ...]:
    """What one plant is owed at `now` (aware), soonest first, however far ahead; nothing for an unknown one."""
    around = surroundings(session)
    found = plants.plants(session, around.zone, [number])
    return care_rules.soonest(_owed(session, now, found, around), around.zone, around.rules)


def answer(session: Session, now: datetime, care: Care, reply: Reply, until: date | None = None,
           reason: str = "") -> Done[int]:
    """Answer a care: done, put off `until` a later day, or declined with a reason. Returns the entry's id.

    Where being done is a fact of the plant (dry, dressed, fed, washed again) the fact is written, so that later care
    rests on it. Raises Refused when the care is no longer owed, or when the reply does not fit it.
    """
    _still_owed(session, now, care)
    _check_reply(session, now, care, reply, until, reason)
    label = f"{care.plant}: {care.short}, {_said(reply, until, _today(session, now))}"
    if reply is Reply.DONE and care.kind is CareKind.RINSE:
        return Done(label, KINDS | {"bench"}, rinsed(session, now, care.plant))
    if reply is Reply.DONE and care.kind in DEEDS:
        return Done(label, KINDS, _deed(session, now, care))
    return Done(label, KINDS, _write_answer(session, now, care, reply, until, reason.strip()))


def missed(session: Session, now: datetime, care: Care) -> Done[int | None]:
    """An alarm for this care rang to its limit unanswered: an entry, unless the care is no longer owed."""
    label = f"{care.plant}: {care.short}, alarm missed"
    if _now_owed(session, now, care) is None:
        return Done(label, frozenset(), None)
    return Done(label, KINDS, _write_answer(session, now, care, Reply.MISSED, None, ""), own=False)


def confirm_dry(session: Session, now: datetime, plant: int) -> Done[int]:
    """Crown and axils of `plant` felt dry. Raises Refused when no wet leaf or crown is written down."""
    return _on_wet(session, now, plant, Dry(), "crown dry")


def blot(session: Session, now: datetime, plant: int) -> Done[int]:
    """Crown and axils of `plant` blotted. Raises Refused when no wet leaf or crown is written down."""
    return _on_wet(session, now, plant, Blotted(), "crown blotted")


def air_on(session: Session, now: datetime, plant: int) -> Done[int]:
    """Moving air put on `plant`. Raises Refused when no wet leaf or crown is written down."""
    return _on_wet(session, now, plant, Aired(), "moving air on")


@cache
def pests() -> Mapping[str, Pest]:
    """The shipped pests and diseases by key, read once."""
    return shelf.shelf(None).pests


@cache
def agent_names() -> Mapping[str, str]:
    """The shipped agents' names by key, read once."""
    return {key: agent.name for key, agent in shelf.shelf(None).agents.items()}


def _owed(session: Session, now: datetime, of: Iterable[Plant], around: Surroundings) -> Iterable[Care]:
    """Every care of these plants, one plant after another."""
    wanted = list(of)
    told = journal.told(session, [plant.number for plant in wanted])
    read = Temperatures(session, around.places, now, around.zone)
    for plant in wanted:
        yield from owed_by(History(plant, told[plant.number].of(SPEAKING)), now, around, read)


def owed_by(history: History, now: datetime, around: Surroundings, read: Temperatures) -> tuple[Care, ...]:
    """What one plant with this journal is owed at `now` (aware), however far ahead."""
    place = history.plant.place
    washed = any(rests_on_temperatures(entry, now) for entry in history.entries)
    return care_rules.owed(history, around.around(place), around.rules, now, around.zone, pests(),
                           read.around(place) if washed else None, agent_names(), around.genera, around.years)


def _now_owed(session: Session, now: datetime, care: Care) -> Care | None:
    """The same care as it is owed now, or None."""
    name = (care.kind, care.origin, care.nth)
    return next((one for one in of_plant(session, care.plant, now) if (one.kind, one.origin, one.nth) == name), None)


def _still_owed(session: Session, now: datetime, care: Care) -> None:
    if _now_owed(session, now, care) is None:
        raise Refused(f"{care.plant}: {care.short} is no longer owed",
                      "It was answered, or the entry it rested on was changed.", "Nothing is left to do.")


def _check_reply(session: Session, now: datetime, care: Care, reply: Reply, until: date | None, reason: str) -> None:
    fault = REFUSALS.get((care.kind, reply))
    if fault is not None:
        raise Refused(f"{care.plant}: {care.short} cannot be answered so", *fault)
    if reply is Reply.DECLINED and not reason.strip():
        raise Refused("A reason is missing", "Declined care keeps its reason in the journal.", "Say why, in short.")
    if reply is Reply.PUT_OFF and (until is None or until <= _today(session, now)):
        raise Refused("The new date is not in the future", "Care can be put off to a later day only.",
                      "Choose tomorrow or a later day.")
    if reply is Reply.MISSED:
        raise Refused("A missed alarm is no answer", "The program writes that down by itself.", "Answer it otherwise.")


REFUSALS: dict[tuple[CareKind, Reply], tuple[str, str]] = {
    (CareKind.RINSE, Reply.PUT_OFF): ("An agent left on goes on acting.", "Rinse it off, then say that it is done."),
    (CareKind.AIR, Reply.PUT_OFF): ("A wet crown does not wait.", "Blot it, keep air moving, and say when it is dry."),
    (CareKind.PLAIN_WATER, Reply.PUT_OFF): ("A hold runs until its day.", "Change the days in the house rules."),
    (CareKind.PLAIN_WATER, Reply.DONE): ("A hold ends by itself.", "Decline it, with a reason, to end it early."),
    (CareKind.DRY_REST, Reply.PUT_OFF): ("A rest is held through its months.", "Write down that it ended, or decline "
                                         "it with a reason."),
    (CareKind.DRY_REST, Reply.DONE): ("A rest ends by itself.", "Write down under Rest that it ended."),
    (CareKind.REPOT_WINDOW, Reply.DONE): ("The potting itself is what ends it.", "Write down the medium and the pot."),
    (CareKind.PEST_LOOK, Reply.DONE): ("What the look found is what counts.",
                                       "Write the look down, clean or not; that ends it."),
    (CareKind.POT_UP, Reply.DONE): ("The potting itself is what ends it.", "Write down the medium and the pot."),
}


def _today(session: Session, now: datetime) -> date:
    return care_rules.care_day(now, house.zone(session), house.rules(session))


def _said(reply: Reply, until: date | None, today: date) -> str:
    return f"put off until {day_words(until, today)}" if reply is Reply.PUT_OFF and until else reply.value


def _write_answer(session: Session, now: datetime, care: Care, reply: Reply, until: date | None, reason: str) -> int:
    facts = Answer(care.kind.value, care.origin, care.nth, reply, until if reply is Reply.PUT_OFF else None, reason)
    return journal.add(session, now, facts, plant=care.plant)


DEEDS: dict[CareKind, Facts] = {
    CareKind.AIR: Dry(), CareKind.DRESS_CUT: Dressed(), CareKind.HALF_FEED: Poured(feed=True, half_strength=True),
    CareKind.FIRST_WASH: Treated("", Purpose.PEST_WASH), CareKind.WASH_REPEAT: Treated("", Purpose.PEST_WASH),
}
"""What the plant's journal says once a care of this kind is done: no more than the word "done" tells."""
UNTOLD = "answered as done; where and how strong was not told"
TAKEN_AS_WET = "taken as wetted by the wash; where was not told"


def _deed(session: Session, now: datetime, care: Care) -> int:
    """Write what was done. A wash is taken to have wetted the leaves, so that drying them is owed in turn.

    With what a plant was washed the answer does not tell: the last wash's agent may have been another one.
    """
    facts = DEEDS[care.kind]
    if not isinstance(facts, Treated):
        return journal.add(session, now, facts, plant=care.plant)
    journal.add(session, now, Wetted((Part.LEAVES,)), plant=care.plant, note=TAKEN_AS_WET)
    return journal.add(session, now, facts, plant=care.plant, note=UNTOLD)


def _on_wet(session: Session, now: datetime, plant: int, facts: Facts, words: str) -> Done[int]:
    if not any(care.kind is CareKind.AIR for care in of_plant(session, plant, now)):
        raise Refused(f"{plant} is not wet", "No water on its leaves or crown is written down since it was last dry.",
                      "Write down the wetting first.")
    return Done(f"{plant}: {words}", KINDS, journal.add(session, now, facts, plant=plant))
