"""A plan of the bench session as values: jobs, bars, and the bench as the plan goes on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from greenhouse_desk.domain.bench_values import Sitting
from greenhouse_desk.domain.protocols import ProtocolStep

CUTTERS = "cutters"
"""What all tools soaked together are called."""


@dataclass(frozen=True, slots=True)
class Job:
    """One plant with the steps of its protocol; `rank` orders (lowest first), `pests` whether it has any,
    `standing` what it may carry, in words, `own_blade` whether a virus holds it back, so that it has its own."""

    plant: int
    steps: tuple[ProtocolStep, ...]
    rank: int = 0
    pests: bool = False
    standing: str = "clear"
    own_blade: bool = False


@dataclass(frozen=True, slots=True)
class PlanStep:
    """A bar of the plan, in minutes from the start. `lane` is "hands", "soak" or "tool soak"; tools have no plant.

    `tool` names the tool a bar is about, or "cutters" for all of them; `title` what a soak is called on its countdown.
    """

    lane: str
    plant: int | None
    step: str
    say: str
    start_min: float
    end_min: float
    tool: str = ""
    title: str = ""


@dataclass(frozen=True, slots=True)
class Plan:
    """The timed steps by start, how long all takes (minutes), what fixed the order, and soaks that last too long."""

    steps: tuple[PlanStep, ...]
    makespan_minutes: float
    rule: str
    overruns: tuple[str, ...] = ()


@dataclass(slots=True)
class PlannedSoak:
    """A soak of the plan: of a step of a run, with its instants in minutes."""

    run: int
    step: ProtocolStep
    start: float
    follows: bool

    @property
    def least(self) -> float:
        return self.start + self.step.least_min

    @property
    def most(self) -> float:
        return self.start + self.step.most_min


@dataclass(slots=True)
class PlannedBench:
    """The bench as the plan goes on."""

    sitting: Sitting
    tools: Sequence[str]
    one_by_one: bool = False
    names: Mapping[str, str] = field(default_factory=dict)
    now: float = 0.0
    current: int | None = None
    soaks: list[PlannedSoak] = field(default_factory=list)
    tool_until: dict[str, float] = field(default_factory=dict)
    tool_plant: dict[str, int] = field(default_factory=dict)
    bars: list[PlanStep] = field(default_factory=list)
    overruns: list[str] = field(default_factory=list)
