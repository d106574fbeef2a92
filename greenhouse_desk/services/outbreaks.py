"""Outbreaks: opened from a sighting by one deed, followed to their end; all but the opening is worked out anew."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from greenhouse_desk.domain.care_day import care_day, day_words
from greenhouse_desk.domain.care_pests import rests_on_temperatures
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.figures import counted
from greenhouse_desk.domain.journal import Entry, Kind, Left, OutbreakOpened
from greenhouse_desk.domain.outbreak import Concerned, Followed, concerned, last_to_clear, open_status, wash_plan
from greenhouse_desk.domain.pests import Pest
from greenhouse_desk.domain.pests_repeat import interval
from greenhouse_desk.domain.plants import History, Place
from greenhouse_desk.domain.quarantine import EXPOSED, Standing
from greenhouse_desk.domain.quarantine_looks import is_spray
from greenhouse_desk.domain.quarantine_status import Status
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.services import collection, house, quarantine, records
from greenhouse_desk.services.care_temperatures import Temperatures
from greenhouse_desk.services.desk import Done
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.store import journal, plants
from greenhouse_desk.store.engine import Session

KINDS = frozenset({"journal", "plants"})
NO_WASH = "No wash is known to end it: what follows is looks."
NO_WARMTH = "No number of washes is published for it, and no warmth was read here that tells their days."
FROM_WARMTH = "No number of washes is published for it: their days come from the warmth where it stands."


@dataclass(frozen=True, slots=True)
class Scene:
    """What every outbreak is worked out from, read once: histories, how plants stand at `now`, who grows here."""

    now: datetime
    every: Sequence[History]
    standing: Mapping[int, Standing]
    growing: frozenset[int]


@dataclass(frozen=True, slots=True)
class Proposal:
    """What opening an outbreak would do: whom it concerns with their washes, where the plant could be set apart, and a
    word on what washing does and does not do against this pest or disease."""

    plant: int
    what: str
    name: str
    concerned: tuple[Concerned, ...]
    apart: tuple[Place, ...]
    advice: tuple[str, ...]


def proposal(session: Session, now: datetime, plant: int, what: str) -> Proposal:
    """What an outbreak of `what` on `plant` takes. Raises Refused as `open_outbreak` does."""
    scene = _scene(session, now)
    _check(session, scene, plant, what)
    standing = plants.plants(session, house.zone(session), [plant])[0].place
    places = [place for place in plants.places(session) if place.isolation and place.bench]
    stands_apart = any(place.id == standing for place in places)
    spots = house.rules(session).isolation_spots
    crowded = [] if stands_apart else [words for place in places if (words := _crowded(scene, place, spots))]
    pest = shelf(None).pests.get(what)
    those = _washed(session, scene, concerned(scene.standing, {}, scene.growing, what), what)
    return Proposal(plant, what, records.labels(session).pest(what), those, () if stands_apart else tuple(places),
                    (*crowded, *_advice(pest, any(one.washes for one in those))))


def open_outbreak(session: Session, now: datetime, plant: int, what: str, apart: int | None = None) -> Done[int]:
    """Open an outbreak of `what`, seen on `plant`, and move the plant to the isolation place `apart` (None: it stays).

    Exposure and washes follow from the sighting. Returns the entry. Raises Refused for a plant that is not growing
    here, one on which `what` was not found or is over, an outbreak of it that is open already, and a place that is no
    isolation place.
    """
    scene = _scene(session, now)
    _check(session, scene, plant, what)
    if apart is not None:
        place = next((one for one in plants.places(session) if one.id == apart), None)
        if place is None or not place.isolation:
            raise Refused("That is no isolation place", "", "Choose a place where plants stand apart.")
        collection.move(session, now, [plant], apart)
    entry = journal.add(session, now, OutbreakOpened(what), plant=plant)
    return Done(f"Outbreak of {records.labels(session).pest(what)}, from {plant}", KINDS, entry)


def goes_on(session: Session, now: datetime, what: str) -> bool:
    """Whether an outbreak of `what` was opened that is not over: some growing plant is held back by it."""
    opened = (entry for entry in journal.of_kinds(session, (Kind.OUTBREAK,)) if entry.at <= now)
    if not any(isinstance(entry.facts, OutbreakOpened) and entry.facts.what == what for entry in opened):
        return False
    scene = _scene(session, now)
    return any(open_status(scene.standing.get(number), what) for number in scene.growing)


def followed(session: Session, now: datetime) -> tuple[Followed, ...]:
    """Every outbreak ever opened, those that go on first, then the newest."""
    opened = journal.of_kinds(session, (Kind.OUTBREAK,))
    if not opened:
        return ()
    scene = _scene(session, now)
    found = [_follow(session, scene, entry) for entry in opened if entry.at <= now]
    return tuple(sorted(found, key=lambda one: (one.over is not None, -one.opened.toordinal(), -one.entry)))


def _check(session: Session, scene: Scene, plant: int, what: str) -> None:
    if plant not in scene.growing:
        raise Refused(f"Plant {plant} is not growing here", "", "Check the number.")
    name = records.labels(session).pest(what)
    status = open_status(scene.standing[plant], what)
    if status is None or status.rank <= EXPOSED:
        raise Refused(f"No {name} on {plant} that is not over", "An outbreak begins with what was seen.",
                      "Write the sighting down first.")
    for entry in journal.of_kinds(session, (Kind.OUTBREAK,)):
        if isinstance(entry.facts, OutbreakOpened) and entry.facts.what == what and entry.at <= scene.now:
            running = _follow(session, scene, entry)
            if running.over is None:
                raise Refused(f"An outbreak of {name} is open already", running.why,
                              f"{plant} is followed in it.")


def _scene(session: Session, now: datetime) -> Scene:
    every = quarantine.histories(session)
    growing = frozenset(one.plant.number for one in every if one.plant.left is None)
    return Scene(now, every, quarantine.standings(session, every, now), growing)


def _follow(session: Session, scene: Scene, entry: Entry) -> Followed:
    assert isinstance(entry.facts, OutbreakOpened)
    assert entry.plant is not None
    what, zone, rules = entry.facts.what, house.zone(session), house.rules(session)
    then = quarantine.standings_then(session, scene.every, entry.at)
    those = _washed(session, scene, concerned(scene.standing, then, scene.growing, what), what)
    opened, today = care_day(entry.at, zone, rules), care_day(scene.now, zone, rules)
    still = [one for one in those if one.open]
    if still:
        why = _goes_on(still, records.labels(session).pest(what), today)
        return Followed(entry.id, entry.plant, what, opened, those, None, why)
    ended, before = _ended(session, scene, entry.at, what)
    cleared = _names(last_to_clear(before, those, what, scene.growing))
    gone = [one.plant for one in those if one.plant not in scene.growing and open_status(before.get(one.plant), what)]
    last = f"{cleared} became clear" if cleared else f"{_names(gone) or entry.plant} left the collection"
    why = f"Over since {day_words(ended, today)}: on that day {last}, the last of {counted(len(those), 'plant')}."
    return Followed(entry.id, entry.plant, what, opened, those, ended, why)


def _goes_on(still: Sequence[Concerned], name: str, today: date) -> str:
    found, known = sum(one.found for one in still), [one.earliest for one in still]
    days = [day for day in known if day is not None]
    until = f"over on {day_words(max(days), today)} at the earliest" if len(days) == len(known) else "no end is known"
    return f"{capital(name)} is not over on {counted(found, 'plant')}, {len(still) - found} more exposed; {until}."


def _ended(session: Session, scene: Scene, opened: datetime, what: str) -> tuple[date, Mapping[int, Standing]]:
    """The care day on which the last plant became clear, and how all stood on the evening before: found by halving the
    time since the opening, for a plant that is clear now was held back then."""
    zone, rules = house.zone(session), house.rules(session)
    low, high = 0, max(1, (scene.now - opened).days + 1)

    def standing(days: int) -> Mapping[int, Standing]:
        return quarantine.standings_then(session, scene.every, min(scene.now, opened + timedelta(days=days)))

    before = standing(0)
    while high - low > 1:
        middle = (low + high) // 2
        at = standing(middle)
        if any(open_status(at.get(number), what) for number in _here(scene, opened + timedelta(days=middle))):
            low, before = middle, at
        else:
            high = middle
    return care_day(min(scene.now, opened + timedelta(days=high)), zone, rules), before


def _here(scene: Scene, then: datetime) -> set[int]:
    """Who grew here at an instant gone by."""
    left = {one.plant.number for one in scene.every for entry in one.entries
            if isinstance(entry.facts, Left) and entry.at > then}
    return left | scene.growing


def _names(numbers: Iterable[int]) -> str:
    return ", ".join(map(str, numbers))


def _washed(session: Session, scene: Scene, those: tuple[Concerned, ...], what: str) -> tuple[Concerned, ...]:
    """The same plants with the washes of each that the pest was found on, or that was only exposed to it."""
    pest = shelf(None).pests.get(what)
    if pest is None:
        return those
    zone, rules = house.zone(session), house.rules(session)
    places = {place.id: place for place in plants.places(session)}
    read = Temperatures(session, places, scene.now, zone)
    histories = {one.plant.number: one for one in scene.every}
    first = care_day(scene.now, zone, rules) + timedelta(days=rules.first_wash_days)
    found = []
    for one in those:
        history, status = histories[one.plant], open_status(scene.standing[one.plant], what)
        given = _given(history, status)
        washed = given[-1] if given else None
        read_too = washed is None or rests_on_temperatures(washed, scene.now)
        climate = read.around(history.plant.place) if read_too else None
        every = interval(pest, climate, washed.at if washed else scene.now, zone) if one.open else None
        days = sorted({care_day(entry.at, zone, rules) for entry in given})
        found.append(one if every is None else replace(one, washes=wash_plan(
            days[-every.most:], every, first, status is not None and status.counted > 0)))
    return tuple(found)


def _given(history: History, status: Status | None) -> list[Entry]:
    """The washes since a find began to hold the plant back, oldest first; none against what it was only exposed to."""
    since = status.since if status is not None and status.rank > EXPOSED else None
    return [] if since is None else sorted((entry for entry in history.entries
                                            if is_spray(entry) and entry.at >= since), key=lambda entry: entry.at)


def _crowded(scene: Scene, place: Place, spots: int) -> str:
    """Who stands in an isolation place already, and whether it is full: what is moved there exposes them."""
    here = [one.plant.number for one in scene.every if one.plant.place == place.id and one.plant.left is None]
    full = f" It is full: it holds {spots}." if len(here) >= spots else ""
    return f"On {place.name} stand {', '.join(map(str, here))}: what is moved there exposes them.{full}" if here else ""


def _advice(pest: Pest | None, planned: bool) -> tuple[str, ...]:
    """What is known of the pest or disease that decides what to do; `planned` tells whether washes are."""
    if pest is None:
        return ("Nothing is known of it here: set the plant apart and find out what it is.",)
    told = [pest.spreads, f"A wash misses: {pest.misses}" if pest.misses else "", pest.note]
    if pest.repeat is None:
        told.insert(0, FROM_WARMTH if planned else NO_WARMTH if pest.thermal else NO_WASH)
    return tuple(words for words in told if words)
