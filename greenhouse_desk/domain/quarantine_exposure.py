"""Who was exposed to what: contacts over time with plants that could pass something on, also ones that left since."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby

from greenhouse_desk.domain.contacts import (
    NEVER_YET,
    Cleaned,
    Handled,
    Share,
    Stay,
    Touch,
    Worked,
    by_place,
    is_virus,
    tool_runs,
)
from greenhouse_desk.domain.own_words import NO_WORDS, OwnWords
from greenhouse_desk.domain.quarantine_finds import Spell

NAMED_MOST = 3


@dataclass(frozen=True, slots=True)
class Behind:
    """What an exposure rests on: a plant that could pass it on, the entry that tells what was found on it, and the one
    that tells how the two met (None: no entry does)."""

    plant: int
    find: int
    contact: int | None = None


@dataclass(frozen=True, slots=True)
class Exposure:
    """The last contact of a plant with something: when (`NEVER_YET` while it goes on), from which plants, how."""

    what: str
    at: datetime
    behind: tuple[Behind, ...]
    how: str

    @property
    def sources(self) -> tuple[int, ...]:
        """The plants it came from."""
        return tuple(one.plant for one in self.behind)

    @property
    def going(self) -> bool:
        """Whether it goes on."""
        return self.at == NEVER_YET


Exposures = dict[int, dict[str, Exposure]]
Spells = Mapping[int, list[Spell]]


@dataclass(frozen=True, slots=True)
class Danger:
    """At one place, a plant that could pass something on stood there from `start` to before `end` (may be to come)."""

    start: datetime
    end: datetime
    stay: Stay
    find: int

    @property
    def plant(self) -> int:
        return self.stay.plant

    def met_by(self, stay: Stay) -> Behind:
        """What the exposure of another that stood there rests on: whichever came last brought them together."""
        return Behind(self.plant, self.find, max(self.stay, stay, key=lambda one: one.start).entry)


PLACE, TOOL, SITTING, SHARED = "place", "tool ", "sitting", "shared "


def exposures(every_stay: Iterable[Stay], handled: Handled, spells: Spells, now: datetime,
              shares: Iterable[Share] = (), own: OwnWords = NO_WORDS) -> Exposures:
    """The last exposure of each plant to each pest or disease up to `now`, however long ago.

    It follows direct contact: sharing a place, a tool not disinfected in between, wash water or a tray, being worked
    on after the other in one bench session. A virus passes by tools and by what was shared. Who met an exposed plant
    is found by a trace, not here.
    """
    found: Exposures = defaultdict(dict)
    for stays in by_place(every_stay).values():
        _by_place(stays, spells, now, found, own)
    for events in tool_runs(handled):
        _by_tool(events, spells, now, found, own)
    for _, sitting in groupby(sorted(handled.worked, key=lambda one: one.sitting), key=lambda one: one.sitting):
        _by_sitting(list(sitting), spells, now, found, own)
    for share in shares:
        _by_share(share, spells, now, found)
    return found


def _by_place(stays: list[Stay], spells: Spells, now: datetime, found: Exposures,
              own: OwnWords) -> None:
    dangers: dict[str, list[Danger]] = defaultdict(list)
    for stay in stays:
        for spell in spells.get(stay.plant, ()):
            start, end = max(stay.start, spell.start), min(stay.end, spell.end)
            if start < end and not is_virus(spell.what, own):
                dangers[spell.what].append(Danger(start, end, stay, spell.find))
    for what, there in dangers.items():
        there.sort(key=lambda danger: danger.end, reverse=True)
        for stay in stays:
            _met(stay, what, there, now, found)


def _met(stay: Stay, what: str, dangers: list[Danger], now: datetime, found: Exposures) -> None:
    """The last of the dangers (latest end first) that a stay overlapped, with up to three plants that ended it so."""
    last, behind = None, dict[int, Behind]()
    for danger in dangers:
        until = min(danger.end, stay.end)
        if last is not None and (until < last or len(behind) == NAMED_MOST):
            break
        if danger.plant != stay.plant and danger.plant not in behind and max(danger.start, stay.start) < until:
            last = until
            behind[danger.plant] = danger.met_by(stay)
    if last is not None:
        met = tuple(sorted(behind.values(), key=lambda one: one.plant))
        _keep(found, stay.plant, Exposure(what, NEVER_YET if last > now else last, met, PLACE))


def _by_tool(events: list[Touch | Cleaned], spells: Spells, now: datetime, found: Exposures,
             own: OwnWords) -> None:
    """Follow one tool: what it took up from a plant it carries on until a soak that clears it.

    Tools are laid out clean, in alcohol, before a session: what is no virus is gone by then.
    """
    carried: dict[tuple[str, int], int] = {}
    sitting = None
    for event in events:
        new = isinstance(event, Touch) and event.sitting != sitting
        if isinstance(event, Cleaned) or new:
            thorough = isinstance(event, Cleaned) and event.virus
            carried = {load: find for load, find in carried.items() if is_virus(load[0], own) and not thorough}
        if isinstance(event, Cleaned) or event.at > now:
            continue
        sitting = event.sitting
        for (what, source), find in carried.items():
            if source != event.plant:
                behind = Behind(source, find, event.entry)
                _keep(found, event.plant, Exposure(what, event.at, (behind,), TOOL + event.tool))
        carried |= {(spell.what, event.plant): spell.find for spell in spells.get(event.plant, ())
                    if spell.start <= event.at < spell.end}


def _by_sitting(sitting: list[Worked], spells: Spells, now: datetime, found: Exposures,
                own: OwnWords) -> None:
    """Hands and the bench: who was still worked on once work on the other had begun."""
    for one in sitting:
        for spell in spells.get(one.plant, ()):
            if is_virus(spell.what, own) or not spell.start <= one.last or not one.first < spell.end:
                continue
            for other in sitting:
                known = found[other.plant].get(spell.what)
                by_tool = known is not None and known.how.startswith(TOOL) and known.at >= other.first
                if other.plant != one.plant and one.first <= other.last <= now and not by_tool:
                    _keep(found, other.plant, Exposure(
                        spell.what, other.last, (Behind(one.plant, spell.find, other.entry),), SITTING))


def _by_share(share: Share, spells: Spells, now: datetime, found: Exposures) -> None:
    """Water carries from each plant that could pass something on to all the others, whichever came first."""
    for plant in share.plants:
        for spell in spells.get(plant, ()):
            last = min(share.end, spell.end)
            if spell.start <= share.end and share.start < spell.end and share.start <= now:
                met = Exposure(spell.what, NEVER_YET if last > now else last,
                               (Behind(plant, spell.find, share.entry),), SHARED + share.how)
                for other in share.plants:
                    if other != plant:
                        _keep(found, other, met)


def _keep(found: Exposures, plant: int, met: Exposure) -> None:
    """Keep the latest exposure to each thing, the one that goes on before others."""
    known = found[plant].get(met.what)
    if known is None or met.at > known.at:
        found[plant][met.what] = met
