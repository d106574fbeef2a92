"""A trace as a picture over time: who stood where and when, what joined them, and the way back from a find.

Only the plants that matter have a line of their own: the find, others on which the same was found, and those on the way
to the likeliest source. The rest of the exposed are folded by place, contacts of one session into one join.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from greenhouse_desk.domain.care_day import care_day, day_words
from greenhouse_desk.domain.contacts import ALWAYS, NEVER_YET, stays
from greenhouse_desk.domain.journal import Arrived, found_in
from greenhouse_desk.domain.outbreak import open_status
from greenhouse_desk.domain.plants import History, Place
from greenhouse_desk.domain.quarantine import Contact, Standing
from greenhouse_desk.services import house, quarantine, records
from greenhouse_desk.services.quarantine import Link, Traced, unordered
from greenhouse_desk.store import plants
from greenhouse_desk.store.engine import Session

TOGETHER = "stood together"
SESSION = "bench session"
LINES_MOST = 9
SHOWN_BEFORE = timedelta(days=21)
SHOWN_AFTER = timedelta(days=21)


@dataclass(frozen=True, slots=True)
class Run:
    """A plant stood at a place from `start` to `end` (care days), cut to what the picture shows."""

    plant: int
    place: int
    start: date
    end: date


@dataclass(frozen=True, slots=True)
class Join:
    """Plants that met by a tool, by what they shared or in a session, from that day on; `plants` have lines, `more` are
    folded away."""

    day: date
    plants: tuple[int, ...]
    more: int
    words: str
    tool: bool


@dataclass(frozen=True, slots=True)
class Band:
    """A place with the plants that have a line there, and how many more exposed plants stand there."""

    place: int
    name: str
    isolation: bool
    plants: tuple[int, ...]
    folded: int


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the way back: its number, day, the plant it leads to, the words, and the contact walked (None: the
    find itself)."""

    nth: int
    day: date
    plant: int
    words: str
    contact: Contact | None = None


@dataclass(frozen=True, slots=True)
class Picture:
    """Everything the picture paints: from `start` to `end` (care days), bands, lines, joins, the way back."""

    plant: int
    what: str
    name: str
    found: date
    start: date
    end: date
    today: date
    bands: tuple[Band, ...]
    runs: tuple[Run, ...]
    joins: tuple[Join, ...]
    steps: tuple[Step, ...]
    words: Mapping[int, str]
    seen: Mapping[int, date]
    release: date | None
    traced: Traced
    brought: str = ""

    @property
    def source(self) -> int | None:
        """The plant the way back ends at; None where nothing on record points to one. `brought` says that the plant
        itself came so lately that it may have brought the find, "" where it did not."""
        return self.steps[-1].plant if len(self.steps) > 1 else None


@dataclass(frozen=True, slots=True)
class Finding:
    """A plant with what was found on it and the care day of the first sighting that still counts in the window."""

    plant: int
    what: str
    name: str
    day: date


def findings(session: Session, now: datetime) -> tuple[Finding, ...]:
    """What can be traced: for each plant and pest or disease its first sighting within the house's window, newest
    first."""
    rules, zone, labels = house.rules(session), house.zone(session), records.labels(session)
    since = now - timedelta(days=rules.trace_days)
    found: dict[tuple[int, str], Finding] = {}
    for one in quarantine.histories(session):
        for entry in one.entries:
            what = found_in(entry.facts)
            if what and since <= entry.at <= now:
                found.setdefault((one.plant.number, what), Finding(one.plant.number, what, labels.pest(what),
                                                                   care_day(entry.at, zone, rules)))
    return tuple(sorted(found.values(), key=lambda one: (-one.day.toordinal(), one.plant)))


def picture(session: Session, plant: int, what: str, day: date, now: datetime) -> Picture:
    """The picture of a trace of `what` from `plant`, found on the care day `day`. Raises Refused when unknown."""
    traced = quarantine.trace_of(session, plant, what, day, now)
    every = {one.plant.number: one for one in quarantine.histories(session)}
    standing = quarantine.standings(session, list(every.values()), now)
    rules, zone = house.rules(session), house.zone(session)
    today = care_day(now, zone, rules)
    steps = _steps(traced, today)
    lines = _lines(traced, steps)
    first = min([day, *(step.day for step in steps), *(one.seen for one in _found(traced) if one.plant in lines
                                                       and one.seen is not None)])
    status = open_status(standing.get(plant), what)
    release = None if status is None else status.earliest
    start, end = first - SHOWN_BEFORE, max(today, release or today) + SHOWN_AFTER
    runs = _runs(lines, every, start, today, now, session)
    joins = _joins(quarantine.contacts(session, now, None, what), lines, start)
    return Picture(plant, what, records.labels(session).pest(what), day, start, end, today,
                   _bands(plants.places(session), runs, every, standing, what, lines), runs, joins, steps,
                   _words(lines, every, standing, what), {one.plant: one.seen for one in _found(traced)
                                                          if one.seen is not None} | {plant: day}, release, traced,
                   _brought(every[plant], traced, session))


def _found(traced: Traced) -> list[Link]:
    """The other plants on which the same was found, each once."""
    return list({link.plant: link for link in (*traced.forward, *traced.back) if link.seen is not None}.values())


def likeliest(traced: Traced) -> Link | None:
    """Where it most likely came from: of the plants it can have come from, the one on which it was found first; None
    where it was found on none of them sooner, for then nothing points to one more than to another."""
    return next((link for link in traced.back if link.seen is not None and link.seen <= traced.day), None)


def _brought(one: History, traced: Traced, session: Session) -> str:
    """That the plant came within the window before the find, and from where; "" where it did not."""
    rules, zone, labels = house.rules(session), house.zone(session), records.labels(session)
    for entry in one.entries:
        if isinstance(entry.facts, Arrived) and entry.facts.day_known:
            days = (traced.day - care_day(entry.at, zone, rules)).days
            if 0 <= days <= traced.window_days:
                source = labels.sources.get(entry.facts.source or 0, "a source not written down")
                when = {0: "on the same day", 1: "the day before"}.get(days, f"{days} days before")
                return f"{traced.plant} came from {source} {when} and may have brought it."
    return ""


def _steps(traced: Traced, today: date) -> tuple[Step, ...]:
    steps = [Step(1, traced.day, traced.plant, f"found on {traced.plant} on {day_words(traced.day, today)}")]
    link, here, before = likeliest(traced), traced.plant, traced.day
    path = link.path if link is not None else ()
    for contact in reversed(path):
        here = contact.b if contact.a == here else contact.a
        before = min(contact.end, before)  # a way back never turns forward again
        steps.append(Step(len(steps) + 1, before, here, f"{contact.a} and {contact.b}: {contact.how}, "
                                                     f"{_span(contact, today)}{unordered(contact, path)}", contact))
    return tuple(steps)


def _span(contact: Contact, today: date) -> str:
    start, end = day_words(contact.start, today), day_words(contact.end, today)
    if contact.start == date.min:
        return f"until {end}"
    return start if start == end else f"{start} to {end}"


def _lines(traced: Traced, steps: Sequence[Step]) -> tuple[int, ...]:
    """The plants with a line of their own, those on the way back first."""
    wanted = [*(step.plant for step in steps), *(link.plant for link in _found(traced))]
    return tuple(dict.fromkeys(wanted))[:LINES_MOST]


def _runs(lines: Iterable[int], every: Mapping[int, History], start: date, today: date, now: datetime,
          session: Session) -> tuple[Run, ...]:
    rules, zone = house.rules(session), house.zone(session)
    found = []
    for number in lines:
        for stay in stays(every[number], now):
            begun = start if stay.start == ALWAYS else max(start, care_day(stay.start, zone, rules))
            ended = today if stay.end == NEVER_YET else min(today, care_day(stay.end, zone, rules))
            if begun <= ended and ended >= start:
                found.append(Run(number, stay.place, begun, ended))
    return tuple(found)


def _joins(contacts: Iterable[Contact], lines: Sequence[int], start: date) -> tuple[Join, ...]:
    """Contacts by hand, those of one day and one way folded into one; only where two plants with lines met."""
    met: dict[tuple[date, str], set[int]] = {}
    for contact in contacts:
        mine = contact.a in lines or contact.b in lines
        if contact.how.startswith(TOGETHER) or contact.start < start or not mine:
            continue
        met.setdefault((contact.start, contact.how), set()).update((contact.a, contact.b))
    found = []
    for (day, how), those in sorted(met.items()):
        drawn = tuple(number for number in lines if number in those)
        if len(drawn) > 1:
            tool = SESSION not in how
            words = how.partition(",")[0] if tool else "same session"
            found.append(Join(day, drawn, len(those) - len(drawn), words, tool))
    tools = {(join.day, join.plants) for join in found if join.tool}
    return tuple(join for join in found if join.tool or (join.day, join.plants) not in tools)


def _bands(places: Sequence[Place], runs: Sequence[Run], every: Mapping[int, History],
           standing: Mapping[int, Standing], what: str, lines: Sequence[int]) -> tuple[Band, ...]:
    held: dict[int, int] = {}
    for number, one in every.items():
        where = one.plant.place
        if where is not None and number not in lines and one.plant.left is None and open_status(
                standing.get(number), what):
            held[where] = held.get(where, 0) + 1
    found = []
    for place in sorted(places, key=lambda place: not place.isolation):
        here = tuple(dict.fromkeys(run.plant for run in runs if run.place == place.id))
        if here or held.get(place.id):
            found.append(Band(place.id, place.name, place.isolation, here, held.get(place.id, 0)))
    return tuple(found)


def _words(lines: Iterable[int], every: Mapping[int, History], standing: Mapping[int, Standing],
           what: str) -> dict[int, str]:
    found = {}
    for number in lines:
        status = open_status(standing.get(number), what)
        left = every[number].plant.left
        found[number] = left.value if left is not None else status.word if status is not None else "clear"
    return found
