"""Looks at plants: where to search on each, whose turn it is, and writing down what was seen as one deed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from greenhouse_desk.domain import names
from greenhouse_desk.domain.chances import Chance, carrying
from greenhouse_desk.domain.dealings import recent_looks
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.hiding import Search, searched
from greenhouse_desk.domain.journal import Entry, Looked, Sighted, found_in
from greenhouse_desk.domain.names import BotanicalName
from greenhouse_desk.domain.origins import NO_ORIGIN, Origin, origins
from greenhouse_desk.domain.own_words import OwnKind
from greenhouse_desk.domain.plants import Habit, History
from greenhouse_desk.domain.quarantine import CLEAR, EXPOSED, INFESTED, Standing
from greenhouse_desk.domain.quarantine_finds import life
from greenhouse_desk.domain.quarantine_looks import LOOK_EVERY, Counting, course
from greenhouse_desk.services import house, own_words, quarantine, records
from greenhouse_desk.services.desk import Done
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.store import journal, plants
from greenhouse_desk.store.engine import Session

KINDS = frozenset({"journal", "plants"})
ROUND_MOST = 30
SMALL = 300
"""Plants up to which every turn is reckoned at each change: a change is never held up by it."""
WOULD_BE = -1
"""The entry of a look that was not written: it only tells whether it would count."""


@dataclass(frozen=True, slots=True)
class Turn:
    """A plant whose look is due: its standing, place, chance of carrying something, and its last look (care day).

    `not_now` says why a clean look today would not count, "" where it would.
    """

    plant: int
    name: BotanicalName
    habit: Habit
    place: str
    standing: Standing
    chance: Chance
    last: date | None
    not_now: str


@dataclass(frozen=True, slots=True)
class Guide:
    """A guided look: the spots to search, in order, each with the names of what may sit there and how to see it."""

    plant: int
    habit: Habit
    searches: tuple[Search, ...]
    looks: Mapping[str, str]
    names: Mapping[str, str]
    expected: tuple[tuple[str, str], ...]


def turns(session: Session, now: datetime) -> tuple[Turn, ...]:
    """Every growing plant with its chance of carrying something, the likeliest first: whom to look at next.

    Plants on which something was seen and not treated since come last: a look tells nothing that is not known.
    """
    every = quarantine.histories(session)
    standing = quarantine.standings(session, every, now)
    by = quarantine.counting(session)
    places = {place.id: place.name for place in plants.places(session)}
    apart = frozenset(place.id for place in plants.places(session) if place.isolation)
    came = origins([life(one, now, by) for one in every], apart, now, by)
    found = [_turn(one, standing[one.plant.number], now, by, places.get(one.plant.place or 0, ""),
                   came.get(one.plant.number, NO_ORIGIN)) for one in every if one.plant.left is None]
    return tuple(sorted(found, key=lambda turn: (turn.standing.rank == INFESTED, -turn.chance.value, turn.plant)))


def round_of(every: Sequence[Turn], most: int = ROUND_MOST) -> tuple[Turn, ...]:
    """The likeliest `most` plants whose look would count today, in the order they are walked: the cleanest first."""
    wanted = [turn for turn in every if not turn.not_now][:most]
    return tuple(sorted(wanted, key=lambda turn: (turn.standing.rank, turn.place, turn.plant)))


def is_small(session: Session) -> bool:
    """Whether the collection is small enough for every plant's turn to be reckoned at each change."""
    return plants.how_many(session) <= SMALL


def due(every: Sequence[Turn], today: date) -> tuple[Turn, ...]:
    """The plants that need a look on the care day `today`: held back, not looked at for a week, and a clean look would
    count. Not those on which something was seen and not treated since: they need something else first."""
    return tuple(turn for turn in every if EXPOSED <= turn.standing.rank < INFESTED and not turn.not_now
                 and (turn.last is None or (today - turn.last).days >= LOOK_EVERY.value))


def _turn(one: History, standing: Standing, now: datetime, by: Counting, place: str, origin: Origin) -> Turn:
    read = life(one, now, by)
    counted = len(recent_looks(read, standing, now, by).counted)
    last = by.day(read.looked[-1].at) if read.looked else None
    return Turn(one.plant.number, names.parse(one.plant.name), one.plant.habit, place, standing,
                carrying(standing.statuses, counted, by.rules, origin), last, _not_now(one, standing, now, by))


def _not_now(one: History, standing: Standing, now: datetime, by: Counting) -> str:
    """Why a clean look at `now` would not count, "" where it would: the rules are asked with such a look added.

    An exposure that goes on is no reason against a look: it is told by what must happen next. A newcomer's looks are
    counted over the days it stands apart, which its source's record may set.
    """
    would = replace(one, entries=(*one.entries, Entry(WOULD_BE, now, Looked(True), one.plant.number)))
    since = [(status.since, status.found, by.apart(status.apart.days) if status.apart else by)
             for status in standing.statuses if status.since is not None and status.rank > CLEAR and status.since < now]
    for start, found, how in since or [(now - timedelta(days=by.rules.trace_days), False, by)]:
        before, after = (course(life(told, now, by).looks, start, how, found=found).ignored for told in (one, would))
        if len(after) > len(before):
            return after[-1]
    return ""


def counts(session: Session, now: datetime, plant: int) -> str:
    """Why a clean look at `plant` at the aware `now` would not count; "" where it would. Raises Refused when it is not
    growing here."""
    every = quarantine.histories(session)
    one = next((one for one in every if one.plant.number == plant and one.plant.left is None), None)
    if one is None:
        raise Refused(f"Plant {plant} is not growing here", "", "Check the number.")
    by = quarantine.counting(session)
    return _not_now(one, quarantine.standings(session, every, now)[plant], now, by)


def guide(session: Session, now: datetime, turn: Turn) -> Guide:
    """Where to search on a plant: for what it is held back by first, then what it had before, then what is at home."""
    known = shelf(None).pests
    before = [what for entry in reversed(journal.of_plant(session, turn.plant))
              if (what := found_in(entry.facts)) and entry.at <= now]
    held = [(one.what, one.why) for one in turn.standing.statuses if one.what and one.rank > CLEAR]
    reasons = {**{what: "it had it before" for what in before}, **dict(held)}
    expected = dict.fromkeys([*(what for what, _ in held), *before, *active(session, now)])
    told = tuple((what, reasons.get(what, "it is at home now")) for what in expected)
    return Guide(turn.plant, turn.habit, searched(expected), {key: pest.looks for key, pest in known.items()},
                 {key: pest.name for key, pest in known.items()}, told)


def active(session: Session, now: datetime) -> tuple[str, ...]:
    """The pests and diseases that some growing plant carries or may carry at `now`, by key, the most plants first."""
    growing = {one.number for one in plants.plants(session, house.zone(session)) if one.left is None}
    tally: dict[str, int] = {}
    for number, standing in quarantine.status(session, now).items():
        for status in standing.statuses:
            if number in growing and status.what and status.rank > EXPOSED:
                tally[status.what] = tally.get(status.what, 0) + 1
    return tuple(sorted(tally, key=lambda what: (-tally[what], what)))


def look_clean(session: Session, now: datetime, plant: int, lens: str = "") -> Done[str]:
    """Write down a clean look. Returns why it does not count, "" where it does. Raises Refused as `records.add`."""
    why = counts(session, now, plant)
    records.add(session, now, plant, Looked(True, lens))
    return Done(f"{plant}: clean look", KINDS, why)


def sight(session: Session, now: datetime, plant: int, seen: Sighted, lens: str = "",
          kind: OwnKind | None = None) -> Done[int]:
    """Write down a look that was not clean and what was seen, as one deed; `kind` tells what an own word names.

    Returns the sighting's entry. Raises Refused for an own word of which nobody told that yet.
    """
    seen = replace(seen, what=own_words.learn(session, seen.what, kind))
    records.add(session, now, plant, Looked(False, lens))
    entry = records.add(session, now, plant, seen).value
    said = records.words(seen, records.labels(session))
    return Done(f"{plant}: {said.title}", KINDS, entry)
