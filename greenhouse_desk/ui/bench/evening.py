"""The evening as bars on one time axis: what the hands do, what soaks, when tools are clean. Values only, no Qt."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from greenhouse_desk.domain.bench_plan import Plan, PlanStep
from greenhouse_desk.domain.protocols import Protocol, ProtocolStep

FREE_MIN = 5.0
LABEL_MIN = 100.0


@dataclass(frozen=True)
class Hands:
    """A stretch of hands work on one plant, in minutes from the start; `deeds` in their order."""

    start: float
    end: float
    plant: int | None
    deeds: tuple[str, ...]


@dataclass(frozen=True)
class SoakBar:
    """A soak, in minutes from the start: begun, least reached, most, and when the hands are planned to end it."""

    start: float
    least: float
    most: float
    ends: float
    words: str

    @property
    def ways(self) -> tuple[str, ...]:
        """The words in full, without the minutes, and only what soaks: none is ever cut in the middle."""
        title = self.words.rpartition(", ")[0] or self.words
        return tuple(dict.fromkeys((self.words, title, title.partition(" in ")[0])))


@dataclass(frozen=True)
class Lane:
    """One plant of the queue with its soaks. `why` is the reason it stands where it does."""

    plant: int
    name: str
    standing: str
    why: str
    soaks: tuple[SoakBar, ...]

    @property
    def rows(self) -> tuple[int, ...]:
        """In which row of the lane each soak stands, so that neither bars nor their words lie on each other."""
        until: list[float] = []
        found = []
        for soak in self.soaks:
            row = next((n for n, end in enumerate(until) if end <= soak.start), len(until))
            until[row:row + 1] = [max(soak.most, soak.start + LABEL_MIN)]
            found.append(row)
        return tuple(found)


@dataclass(frozen=True)
class ToolBar:
    """A tool in use or soaking, in minutes from the start."""

    start: float
    end: float
    soaking: bool


@dataclass(frozen=True)
class Evening:
    """The whole chart. Instants aware; `limit` is dusk or lights-out, None when the day has none."""

    starts_at: datetime
    ends_at: datetime
    limit: datetime | None
    limit_name: str
    hands: tuple[Hands, ...]
    lanes: tuple[Lane, ...]
    tools: tuple[tuple[str, tuple[ToolBar, ...]], ...]
    rule: str = ""
    overruns: tuple[str, ...] = ()

    @property
    def minutes(self) -> float:
        """How long the axis is: the session, and dusk where it comes soon after."""
        last = max([(self.ends_at - self.starts_at).total_seconds() / 60,
                    *(soak.most for lane in self.lanes for soak in lane.soaks)])
        dusk = self.minute_of(self.limit) if self.limit is not None else 0.0
        wanted = max(last, dusk) if dusk < last + 90 else last
        return max(wanted * 1.04, 30.0)

    def minute_of(self, moment: datetime) -> float:
        """Minutes from the start to `moment` (aware)."""
        return (moment - self.starts_at).total_seconds() / 60

    def at(self, minute: float) -> datetime:
        """The instant so many minutes after the start."""
        return self.starts_at + timedelta(minutes=minute)

    @property
    def free(self) -> tuple[tuple[float, float], ...]:
        """Stretches of at least 5 minutes in which the hands are free before the end."""
        return tuple((one.end, two.start) for one, two in zip(self.hands, self.hands[1:], strict=False)
                     if two.start - one.end >= FREE_MIN)


@dataclass(frozen=True)
class Place:
    """A plant of the queue: what stands at the left of its lane."""

    plant: int
    name: str
    standing: str
    why: str


def evening(plan: Plan, protocols: Mapping[int, Protocol], places: Sequence[Place], starts_at: datetime,
            limit: datetime | None, limit_name: str) -> Evening:
    """The chart of `plan`; `protocols` by plant, `places` in queue order."""
    lanes = tuple(Lane(place.plant, place.name, place.standing, place.why, _soaks(plan, place.plant, protocols))
                  for place in places)
    return Evening(starts_at, starts_at + timedelta(minutes=plan.makespan_minutes), limit, limit_name,
                   _hands(plan, protocols), lanes, _tools(plan), plan.rule, plan.overruns)


def _step(protocols: Mapping[int, Protocol], bar: PlanStep) -> ProtocolStep | None:
    protocol = protocols.get(bar.plant) if bar.plant is not None else None
    return next((step for step in protocol.steps if step.id == bar.step), None) if protocol else None


def _hands(plan: Plan, protocols: Mapping[int, Protocol]) -> tuple[Hands, ...]:
    """Hands work, what is done on one plant without a break drawn as one stretch."""
    found: list[Hands] = []
    for bar in plan.steps:
        if bar.lane != "hands":
            continue
        step = _step(protocols, bar)
        deed = step.deed.word if step else bar.say
        if found and found[-1].plant == bar.plant and bar.start_min - found[-1].end < 0.01:
            deeds = found[-1].deeds if found[-1].deeds[-1] == deed else (*found[-1].deeds, deed)
            found[-1] = replace(found[-1], end=bar.end_min, deeds=deeds)
        else:
            found.append(Hands(bar.start_min, bar.end_min, bar.plant, (deed,)))
    return tuple(found)


def _soaks(plan: Plan, plant: int, protocols: Mapping[int, Protocol]) -> tuple[SoakBar, ...]:
    found = []
    for bar in plan.steps:
        step = _step(protocols, bar)
        if bar.lane != "soak" or bar.plant != plant or step is None:
            continue
        found.append(SoakBar(bar.start_min, bar.start_min + step.least_min, bar.start_min + step.most_min, bar.end_min,
                             f"{bar.title}, {step.least_min:g} to {step.most_min:g} min"))
    return tuple(found)


def _tools(plan: Plan) -> tuple[tuple[str, tuple[ToolBar, ...]], ...]:
    found: dict[str, list[ToolBar]] = {}
    for bar in plan.steps:
        if bar.tool:
            found.setdefault(bar.tool, []).append(ToolBar(bar.start_min, bar.end_min, bar.lane == "tool soak"))
    return tuple((name, tuple(_joined(found[name]))) for name in sorted(found))


def _joined(bars: Sequence[ToolBar]) -> list[ToolBar]:
    """A tool stays in use from its first cut to its last before it is put away."""
    found: list[ToolBar] = []
    for bar in sorted(bars, key=lambda item: item.start):
        if found and not found[-1].soaking and not bar.soaking:
            found[-1] = replace(found[-1], end=max(found[-1].end, bar.end))
        else:
            found.append(bar)
    return found
