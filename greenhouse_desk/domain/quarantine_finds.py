"""What was found on one plant, which looks named it, and for how long the plant could pass it on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from operator import attrgetter

from greenhouse_desk.domain.contacts import NEVER_YET
from greenhouse_desk.domain.journal import (
    Arrived,
    Cut,
    Entry,
    Facts,
    Looked,
    Part,
    Placed,
    Released,
    Shared,
    Sighted,
    Treated,
    VirusTested,
    found_in,
)
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.quarantine_looks import Counting, Course, course, is_clean, is_spray

UNNAMED = ""
"""Stands for what a look found that named nothing."""
POSITIVE = "positive"
IN_TIME = attrgetter("at", "id")


@dataclass(frozen=True, slots=True)
class Find:
    """Something found: the entry, when the plant was released from it (None: not), and whether that was by a `test`
    that did not find it."""

    what: str
    entry: Entry
    released: datetime | None = None
    test: Entry | None = None


@dataclass(frozen=True, slots=True)
class Spell:
    """A stretch in which a plant could pass `what` on, from `start` to `end` (aware), by which `find`'s entry."""

    what: str
    start: datetime
    end: datetime
    find: int


@dataclass(frozen=True, slots=True)
class Life:
    """One plant's journal up to now, sorted by what the rules ask for; every list in time order.

    `looks` are looks and sprays, what a course is read from; `deeds` cuts and treatments of every kind, what is done
    against a disease; `finds` what was found, by pest or disease.
    """

    history: History
    looks: list[Entry]
    looked: list[Entry]
    deeds: list[Entry]
    moves: list[Entry]
    arrived: list[Entry]
    releases: list[Entry]
    tests: list[Entry]
    shared: list[Entry]
    finds: dict[str, list[Find]]

    @property
    def number(self) -> int:
        return self.history.plant.number

    def course(self, find: Find, by: Counting, until: datetime = NEVER_YET) -> Course:
        """The looks after a find, those before `until`."""
        looks = self.looks if until == NEVER_YET else [entry for entry in self.looks if entry.at < until]
        return course(looks, find.entry.at, by, found=True, what=find.what)

    def released_at(self, what: str) -> datetime | None:
        """The last release from `what`."""
        return max((entry.at for entry in self.releases if _frees(entry, what)), default=None)

    def proven(self, what: str) -> Find | None:
        """The find that a test proved and that the plant was not released from."""
        finds = (find for find in self.finds.get(what, ()) if find.released is None)
        return next(filter(tested_positive, finds), None)


def life(history: History, now: datetime, by: Counting) -> Life:
    """A plant's journal read once; what is later than `now` has not happened."""
    told: dict[type[Facts], list[Entry]] = {}
    for entry in history.entries:
        if entry.at <= now:
            told.setdefault(type(entry.facts), []).append(entry)
    looked, treated, cut = (told.get(kind, []) for kind in (Looked, Treated, Cut))
    sprays = [entry for entry in treated if is_spray(entry)]
    read = Life(history, sorted(looked + sprays, key=IN_TIME) if sprays else looked, looked,
                sorted(cut + treated, key=IN_TIME), told.get(Placed, []), told.get(Arrived, []),
                told.get(Released, []), told.get(VirusTested, []),
                told.get(Shared, []), {})
    bad = [entry for entry in looked if not is_clean(entry)]
    if bad or read.tests or Sighted in told:
        _name_finds(read, sorted([*bad, *told.get(Sighted, []), *read.releases, *read.tests], key=IN_TIME), by)
    return read


def _name_finds(read: Life, found: list[Entry], by: Counting) -> None:
    """Sort what was found by pest or disease. A look that was not clean and names nothing is told by what was seen on
    its care day, else it renews what is not over yet, else it stands unnamed until something is named after it. A test
    that found nothing ends a suspicion."""
    named_on = {by.day(entry.at) for entry in found if found_in(entry.facts)}
    for entry in found:
        if isinstance(entry.facts, Released):
            _release(read, entry)
        elif what := found_in(entry.facts):
            read.finds.pop(UNNAMED, None)
            read.finds.setdefault(what, []).append(Find(what, entry))
        elif isinstance(entry.facts, VirusTested):
            _refute(read, entry, entry.facts.what, by)
        elif by.day(entry.at) not in named_on:
            for what in _open(read, entry.at, by) or [UNNAMED]:
                read.finds.setdefault(what, []).append(Find(what, entry))


def _release(read: Life, release: Entry) -> None:
    for what, finds in read.finds.items():
        if _frees(release, what):
            read.finds[what] = [find if find.released else Find(what, find.entry, release.at) for find in finds]


def _refute(read: Life, test: Entry, what: str, by: Counting) -> None:
    """A test that did not find `what` ends the suspicion of it; what a test had proven it does not end."""
    if by.is_virus(what) and read.proven(what) is None:
        read.finds[what] = [find if find.released else Find(what, find.entry, test.at, test)
                            for find in read.finds.get(what, ())]
        if not read.finds[what]:
            del read.finds[what]


def _frees(release: Entry, what: str) -> bool:
    return isinstance(release.facts, Released) and release.facts.what in ("", what)


def _open(read: Life, at: datetime, by: Counting) -> list[str]:
    """What was found before `at` and was not over by then."""
    return [what for what, finds in read.finds.items() if what != UNNAMED and finds[-1].released is None
            and (by.is_virus(what) or not read.course(finds[-1], by, at).over)]


def spells(read: Life, by: Counting) -> list[Spell]:
    """When the plant could pass on what was found on it: from as long before the find as a pest can hide, until there
    were looks enough, until its release, or without an end. A virus goes on until the release. What stands unnamed
    exposes nobody, and what a test did not find never did."""
    hidden, found = timedelta(days=by.rules.trace_days), list[Spell]()
    for what, finds in read.finds.items():
        for find in finds:
            if what == UNNAMED or find.test is not None:
                continue
            end = find.released or NEVER_YET
            if not by.is_virus(what):
                looks = read.course(find, by)
                if looks.watched(by):
                    end = min(end, looks.counted[by.rules.clean_looks - 1].at)
            found.append(Spell(what, find.entry.at - hidden, end, find.entry.id))
    return found


def tested_positive(find: Find) -> bool:
    """Whether a virus was proven by a test."""
    facts = find.entry.facts
    return isinstance(facts, VirusTested) or (isinstance(facts, Sighted) and POSITIVE in facts.stage)


def treated_since(read: Life, find: Find, disease: bool) -> int:
    """How often the plant was treated against a find since: washes; against a disease cuts and other agents too."""
    kept = read.deeds if disease else read.looks
    return sum((entry.at, entry.id) > (find.entry.at, find.entry.id)
               and (_cut_out(entry, find) if disease else is_spray(entry)) for entry in kept)


def _cut_out(entry: Entry, find: Find) -> bool:
    """Whether a deed can have been done against a disease: any but the cut of a spike it was not seen on."""
    if not isinstance(entry.facts, Cut) or entry.facts.part is not Part.SPIKE:
        return True
    return isinstance(find.entry.facts, Sighted) and Part.SPIKE.value in find.entry.facts.where
