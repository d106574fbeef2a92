"""What a care rule is asked: one plant's journal sorted by what each entry tells, and the figures that apply."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, tzinfo
from operator import attrgetter
from typing import TypeVar

from greenhouse_desk.domain.airflow import Around
from greenhouse_desk.domain.care_day import care_day
from greenhouse_desk.domain.care_values import CareKind
from greenhouse_desk.domain.journal import Answer, ClockChanged, Entry, Facts, Note, Photo, Reading
from greenhouse_desk.domain.names_genera import Genera
from greenhouse_desk.domain.pests import Pest
from greenhouse_desk.domain.pests_climate import Climate
from greenhouse_desk.domain.plants import History, Plant
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.domain.year import NO_YEARS, Years

F = TypeVar("F", bound=Facts)
Name = tuple[str, int, int]
"""What names a care: its kind, the entry that caused it, and its place among that entry's cares of the kind."""
in_time = attrgetter("at", "id")
NO_GENERA = Genera()
BESIDE = (Photo, Reading, Note, ClockChanged)
"""Entries that may be written while a step is open, but never confirm it: they do not owe the step's checks."""


@dataclass(frozen=True, slots=True)
class Asked:
    """The question put to every rule. `today` is the care day of `now`; `pests` are the known ones by key.

    `climate` are the temperatures read around the plant, None where none were asked for or read lately; `agents` the
    agents' names by key; `genera` the genera behind short forms, `years` the year of each genus.
    """

    plant: Plant
    around: Around
    rules: HouseRules
    now: datetime
    zone: tzinfo
    pests: Mapping[str, Pest]
    today: date
    told: Mapping[type[Facts], list[Entry]]
    checked: tuple[Entry, ...]
    answered: Mapping[Name, list[tuple[Entry, Answer]]]
    answered_entries: frozenset[int]
    climate: Climate | None = None
    agents: Mapping[str, str] = field(default_factory=dict)
    genera: Genera = NO_GENERA
    years: Years = NO_YEARS

    @property
    def south(self) -> bool:
        """Whether the home lies south of the equator."""
        return self.around.home.latitude < 0

    def of(self, *kinds: type[Facts]) -> list[Entry]:
        """The entries that tell one of these kinds of facts, oldest first."""
        found = [entry for kind in kinds for entry in self.told.get(kind, ())]
        return found if len(kinds) == 1 else sorted(found, key=in_time)

    def day(self, at: datetime) -> date:
        """The care day of `at`."""
        return care_day(at, self.zone, self.rules)

    def answers(self, kind: CareKind, origin: int, nth: int) -> list[tuple[Entry, Answer]]:
        """What the grower answered to that care, oldest first."""
        return self.answered.get((kind.value, origin, nth), [])


def asked(history: History, around: Around, rules: HouseRules, now: datetime, zone: tzinfo,
          pests: Mapping[str, Pest], climate: Climate | None = None,
          agents: Mapping[str, str] | None = None, genera: Genera = NO_GENERA,
          years: Years = NO_YEARS) -> Asked:
    """The question for one plant. Entries later than `now` have not happened yet and are left out."""
    told: dict[type[Facts], list[Entry]] = {}
    checked = []
    for entry in history.entries:
        if entry.at <= now:
            told.setdefault(type(entry.facts), []).append(entry)
            if entry.checks and not isinstance(entry.facts, BESIDE):
                checked.append(entry)
    answered = _answered(told.get(Answer, ()))
    return Asked(history.plant, around, rules, now, zone, pests, care_day(now, zone, rules), told,
                 _once_each_step(checked), answered, frozenset(origin for _, origin, _ in answered), climate,
                 agents or {}, genera, years)


def _answered(entries: Iterable[Entry]) -> dict[Name, list[tuple[Entry, Answer]]]:
    found: dict[Name, list[tuple[Entry, Answer]]] = {}
    for entry in entries:
        if isinstance(answer := entry.facts, Answer):
            found.setdefault((answer.care, answer.origin, answer.nth), []).append((entry, answer))
    return found


def _once_each_step(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """A step may write several entries that all carry its checks: only the first of them owes the checks."""
    seen: dict[int, Entry] = {}
    for entry in entries:
        seen.setdefault(-entry.id if entry.step is None else entry.step, entry)
    return tuple(seen.values())


def pairs(entries: Iterable[Entry], kind: type[F]) -> Iterable[tuple[Entry, F]]:
    """Entries with their facts, for those that tell `kind`."""
    for entry in entries:
        if isinstance(facts := entry.facts, kind):
            yield entry, facts
