"""Who met whom: stays in places, tools taken from plant to plant, sittings at the bench, wash water and trays shared,
read from what was recorded.

Not recorded, and so not followed: hands outside a bench session, flying pests between places.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from itertools import combinations, groupby, pairwise

from greenhouse_desk.domain.bench_values import FRESH_BLADE
from greenhouse_desk.domain.journal import Entry, Left, Placed, Shared
from greenhouse_desk.domain.own_words import NO_WORDS, OwnWords, small
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.trace import LAST_S, Contact, in_order

STEMS = ("virus", "viral", "viroid", "virosis", "mosaic", "ringspot")
SHORT = frozenset(("cymmv", "orsv", "ofv", "tmv", "cmv", "tswv", "insv", "cacv", "phcsv", "bymv", "clyvv"))
"""Short names in use for viruses found on orchids: Cymbidium mosaic, Odontoglossum ringspot, orchid fleck, tobacco
mosaic, cucumber mosaic, tomato spotted wilt, Impatiens necrotic spot, Capsicum chlorosis, Phalaenopsis chlorotic spot,
bean yellow mosaic, clover yellow vein (from memory, not a complete list)."""
EVERY_TOOL = "tools"
SITTING, NOT_CLEANED = "worked on in one bench session", ", not disinfected in between"
Path = tuple[Contact, ...]
MOMENT = timedelta(seconds=1)
"""A plant taken away at an instant stood there until just before it."""
ALWAYS, NEVER_YET = datetime.min.replace(tzinfo=UTC), datetime.max.replace(tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Stay:
    """A plant stood at a place from `start` to before `end` (aware; `ALWAYS` and `NEVER_YET` where that is open), by
    which journal entry (None: nobody wrote down how it came there)."""

    plant: int
    place: int
    start: datetime
    end: datetime
    entry: int | None = None


@dataclass(frozen=True, slots=True)
class Touch:
    """A tool was taken to a plant in a bench session; `entry` tells in the journal what was done with it."""

    tool: str
    plant: int
    at: datetime
    sitting: int
    entry: int | None = None


@dataclass(frozen=True, slots=True)
class Cleaned:
    """A tool (`EVERY_TOOL`: all of them) went into a soak at `at` that reached its least contact time.

    `virus` tells whether its agent is known to clear viruses from blades.
    """

    tool: str
    at: datetime
    virus: bool = False


@dataclass(frozen=True, slots=True)
class Worked:
    """A plant was worked on in a bench session, from its first deed to its last; `entry` is that of the last."""

    sitting: int
    plant: int
    first: datetime
    last: datetime
    entry: int | None = None


@dataclass(frozen=True, slots=True)
class Handled:
    """What passed between plants at the bench; each in any order."""

    touches: tuple[Touch, ...] = ()
    cleaned: tuple[Cleaned, ...] = ()
    worked: tuple[Worked, ...] = ()


@dataclass(frozen=True, slots=True)
class Share:
    """Plants that shared wash water or a tray, from `start` to `end`, both included (aware; the same for one day)."""

    plants: tuple[int, ...]
    how: str
    start: datetime
    end: datetime
    entry: int | None = None


NOTHING_HANDLED = Handled()
Move = tuple[datetime, int, int | None]
"""When a plant came to a place, which, and by which entry."""


def is_virus(what: str, own: OwnWords = NO_WORDS) -> bool:
    """Whether a pest's or disease's key, or the grower's own word for it, names a virus, by its short name too: blades
    and water carry it, standing together does not. `own` are the house's own words."""
    told = what.casefold()
    words = re.findall("[a-z]+", told)
    return small(what) in own.viruses or any(stem in told for stem in STEMS) or any(word in SHORT for word in words)


def share_of(entry: Entry) -> Share:
    """What a plant shared, as its entry tells it."""
    facts = entry.facts
    assert isinstance(facts, Shared)
    assert entry.plant is not None
    plants = tuple(dict.fromkeys((entry.plant, *facts.plants)))
    return Share(plants, facts.how.value, entry.at, entry.at + timedelta(days=facts.days - 1), entry.id)


def stays(history: History, now: datetime) -> list[Stay]:
    """Where a plant stood up to `now`, oldest first; moves along one bench are one stay.

    A plant whose moves were never written down has always stood where it stands.
    """
    moves: list[Move] = []
    gone = last = None
    for entry in history.entries:
        if entry.at > now:
            break
        last = entry.at
        if isinstance(entry.facts, Placed):
            moves.append((entry.at, entry.facts.place, entry.id))
        elif isinstance(entry.facts, Left):
            gone = entry.at
    if gone is None:  # of one that left on no known day the last entry is all that is known
        gone = NEVER_YET if history.plant.left is None else last or ALWAYS
    if not moves and history.plant.place is not None:
        moves = [(ALWAYS, history.plant.place, None)]
    return list(_runs(history.plant.number, moves, gone))


def _runs(plant: int, moves: list[Move], gone: datetime) -> Iterator[Stay]:
    """Stays from moves in time order, until the plant was gone."""
    runs = [next(run) for _, run in groupby(moves, key=lambda move: move[1])]
    for (since, place, entry), (until, *_) in pairwise([*runs, (gone, 0, None)]):
        if since < min(until, gone):
            yield Stay(plant, place, since, min(until, gone), entry)


def contacts(every_stay: Iterable[Stay], handled: Handled, day: Callable[[datetime], date], until: datetime,
             places: Mapping[int, str], what: str = "", shares: Iterable[Share] = (),
             own: OwnWords = NO_WORDS, second: Callable[[datetime], int] | None = None) -> list[Contact]:
    """All contacts along which `what` can pass (anything when empty), up to `until`.

    `day` gives an instant's care day, `places` the names of places, `own` the house's own words, `second`
    how far into its care day an instant lies (None: contacts hold their days alone).

    A virus passes by blades, and by sap in shared water (from memory, on the safe side); everything else also by
    standing at the same place and by a sitting at the bench. A tool that went from one plant to another is a contact of
    the day on which it reached the second, one way; so is a sitting in which work on the first was over by then. When
    in its days something was shared is not known.
    """
    second = second or _no_second
    found = [_carried(one.plant, other.plant, (one.at, other.at, other.at), _tool_words(one.tool), day, second)
             for one, other in _by_tools(handled, is_virus(what, own))]
    found += [Contact(one, other, day(share.start), day(min(share.end, until)), f"shared {share.how}")
              for share in shares if share.start <= until for one, other in combinations(share.plants, 2)]
    if is_virus(what, own):
        return found
    for sitting in _sittings(handled.worked):
        found += [_sat(one, other, day, second) for nth, one in enumerate(sitting) for other in sitting[nth + 1:]]
    for where, stood in by_place(every_stay).items():
        how = f"stood together on {places.get(where, 'a place since removed')}"
        found += [_met(one.plant, other.plant, start, max(start, min(one.end - MOMENT, other.end - MOMENT, until)), how,
                       day, second) for one, other in _together(stood, until)
                  for start in (max(one.start, other.start),)]
    return found


def _no_second(_at: datetime) -> int:
    return 0


def _met(a: int, b: int, start: datetime, end: datetime, how: str, day: Callable[[datetime], date],
         second: Callable[[datetime], int]) -> Contact:
    """A meeting, either way at any time of it."""
    always = start == ALWAYS
    return Contact(a, b, date.min if always else day(start), day(end), how, False, 0 if always else second(start),
                   LAST_S if second is _no_second else second(end))


def _carried(a: int, b: int, times: tuple[datetime, datetime, datetime], how: str, day: Callable[[datetime], date],
             second: Callable[[datetime], int]) -> Contact:
    """What went from `a` to `b` one way; `times` are when `a` was done with, and from when to when `b` was reached."""
    left, first, last = times
    if second is _no_second:
        return Contact(a, b, day(first), day(last), how, one_way=True)
    return Contact(a, b, day(first), day(last), how, True, second(first), second(last), (day(left), second(left)))


def _sat(one: Worked, other: Worked, day: Callable[[datetime], date], second: Callable[[datetime], int]) -> Contact:
    """Two plants of one sitting, the one begun first named first: hands go on from either while both are worked on."""
    if other.first > one.last:
        return _carried(one.plant, other.plant, (one.last, other.first, other.last), SITTING, day, second)
    return _met(one.plant, other.plant, other.first, min(one.last, other.last), SITTING, day, second)


def by_place(every_stay: Iterable[Stay]) -> dict[int, list[Stay]]:
    """Stays by place."""
    found: dict[int, list[Stay]] = defaultdict(list)
    for stay in every_stay:
        found[stay.place].append(stay)
    return found


def _together(place: list[Stay], until: datetime) -> Iterator[tuple[Stay, Stay]]:
    """Pairs of stays of two plants that overlap: those still there when another comes."""
    there: list[Stay] = []
    for stay in sorted(place, key=lambda stay: stay.start):
        if stay.start > until:
            return
        there = [other for other in there if other.end > stay.start]
        yield from ((other, stay) for other in there if other.plant != stay.plant)
        there.append(stay)


def tool_runs(handled: Handled) -> Iterator[list[Touch | Cleaned]]:
    """For each tool, its touches and soaks in time order; a soak that began as a touch was made comes after it. A fresh
    blade is another one each time."""
    by_tool: dict[str, list[Touch | Cleaned]] = defaultdict(list)
    for touch in handled.touches:
        if touch.tool != FRESH_BLADE:
            by_tool[touch.tool].append(touch)
    for tool, events in by_tool.items():
        events += [soak for soak in handled.cleaned if soak.tool in (tool, EVERY_TOOL)]
        yield sorted(events, key=lambda event: (event.at, isinstance(event, Cleaned)))


def _by_tools(handled: Handled, virus: bool) -> Iterator[tuple[Touch, Touch]]:
    """Pairs of touches with one tool, two plants, and nothing in between that clears what is traced.

    Tools are laid out clean before a session, in alcohol: enough for pests, not for viruses.
    """
    for events in tool_runs(handled):
        before: list[Touch] = []
        for event in events:
            if isinstance(event, Cleaned):
                before = before if virus and not event.virus else []
                continue
            if before and before[-1].sitting != event.sitting and not virus:
                before = []
            yield from ((one, event) for one in before if one.plant != event.plant)
            before.append(event)


def by_blades(path: Path, plant: int, blades: Mapping[tuple[int, int, date], Contact]) -> Path:
    """A path from `plant` with the blade named where hands and a blade both went that way on that day: the path says
    how it most likely went. `blades` are contacts by a tool, by their plants and day."""
    here = plant
    for nth, contact in enumerate(path):
        there = contact.b if contact.a == here else contact.a
        told = (*path[:nth], blades.get((here, there, contact.end), contact), *path[nth + 1:])
        path, here = told if contact.how == SITTING and in_order(told) else path, there
    return path


def blades_of(every: Iterable[Contact]) -> dict[tuple[int, int, date], Contact]:
    """The contacts by a tool among `every`, by their plants and day."""
    return {(one.a, one.b, one.end): one for one in every if one.how.endswith(NOT_CLEANED)}


def _tool_words(tool: str) -> str:
    return f"{tool}{NOT_CLEANED}"


def _sittings(worked: Sequence[Worked]) -> Iterator[list[Worked]]:
    for _, sitting in groupby(sorted(worked, key=lambda one: (one.sitting, one.first)), key=lambda one: one.sitting):
        yield list(sitting)

