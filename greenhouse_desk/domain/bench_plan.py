"""A plan of the bench session: one pair of hands, soaks side by side, tools in turn, cleanest plant first.

A greedy: at every moment the hands take, of the steps that may be done, first what a soak past its least waits for
(nearest most first), then the plant they are on, then the queue. A step is put off while it would keep the hands
from a running soak past its most. Where that still leaves a soak too long, plants are planned one after another, and
the better of the two plans is kept.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime

from greenhouse_desk.domain.bench_choice import TOOL_SOAK_LEAST_MIN, TOOL_SOAK_TITLE
from greenhouse_desk.domain.bench_turns import needed, next_step, on_plant
from greenhouse_desk.domain.bench_values import CELLS, TOOLS, Run, RunStep, Sitting, State
from greenhouse_desk.domain.protocols import ProtocolStep, Work

SIDE_BY_SIDE = "cleanest first, then by number; hands stay on a plant until it is done or soaking"
ONE_BY_ONE = "cleanest first, then by number; one plant after another, so that no soak lasts too long"
SLACK_MIN = 1e-9


@dataclass(frozen=True, slots=True)
class Job:
    """One plant with the steps of its protocol; `rank` orders (lowest first), `pests` whether it has any."""

    plant: int
    steps: tuple[ProtocolStep, ...]
    rank: int = 0
    pests: bool = False


@dataclass(frozen=True, slots=True)
class PlanStep:
    """A bar of the plan, in minutes from the start. `lane` is "hands", "soak" or "tool soak"; tools have no plant."""

    lane: str
    plant: int | None
    step: str
    say: str
    start_min: float
    end_min: float
    tool: str = ""


@dataclass(frozen=True, slots=True)
class Plan:
    """The timed steps by start, how long all takes (minutes), what fixed the order, and soaks that last too long."""

    steps: tuple[PlanStep, ...]
    makespan_minutes: float
    rule: str
    overruns: tuple[str, ...] = ()


@dataclass(slots=True)
class _Soak:
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
class _Bench:
    """The bench as the plan goes on."""

    sitting: Sitting
    tools: Sequence[str]
    one_by_one: bool
    now: float = 0.0
    current: int | None = None
    soaks: list[_Soak] = field(default_factory=list)
    tool_until: dict[str, float] = field(default_factory=dict)
    tool_plant: dict[str, int] = field(default_factory=dict)
    bars: list[PlanStep] = field(default_factory=list)
    overruns: list[str] = field(default_factory=list)


def plan(jobs: Sequence[Job], tools: Sequence[str] = TOOLS) -> Plan:
    """The timed session for `jobs` with these tools, by the greedy of this module. Raises nothing; see `overruns`."""
    best = _planned(jobs, tools, False)
    if not best.overruns:
        return best
    other = _planned(jobs, tools, True)
    return other if len(other.overruns) < len(best.overruns) else best


def _planned(jobs: Sequence[Job], tools: Sequence[str], one_by_one: bool) -> Plan:
    ordered = sorted(jobs, key=lambda job: (job.rank, job.plant))
    runs = tuple(Run(number, job.plant, "", "", "", tuple(
        RunStep(count, count, step) for count, step in enumerate(job.steps))) for number, job in enumerate(ordered))
    pests = frozenset(job.plant for job in jobs if job.pests)
    bench = _Bench(Sitting(0, datetime(2000, 1, 1, tzinfo=UTC), runs, pests=pests), tools, one_by_one)
    while _go_on(bench):
        pass
    bars = tuple(sorted(bench.bars, key=lambda bar: (bar.start_min, bar.lane, bar.plant or 0)))
    return Plan(bars, max((bar.end_min for bar in bars), default=0.0), ONE_BY_ONE if one_by_one else SIDE_BY_SIDE,
                tuple(bench.overruns))


def _go_on(bench: _Bench) -> bool:
    """Do the next step, or let time pass to the next event; False when all is done."""
    _end_what_needs_no_hands(bench)
    ready = [(run, step) for run in _turns(bench) if (step := _offer(bench, run)) is not None
             and (not step.step.tool or _tool(bench, run) is not None)]
    for run, step in ready:
        if _in_time(bench, run, step.step):
            _do(bench, run, step)
            return True
        if not _begun(run):  # cleaner plants are begun first
            break
    events = _events(bench)
    if events:
        bench.now = min(events)
    elif ready:
        _do(bench, *ready[0])
    else:
        bench.overruns += [f"{run.plant}: some steps can never be done" for run in bench.sitting.runs
                           if any(not step.closed for step in needed(bench.sitting, run))]
        return False
    return True


def _begun(run: Run) -> bool:
    return any(step.state is not State.OPEN for step in run.steps)


def _events(bench: _Bench) -> list[float]:
    times = [soak.least for soak in bench.soaks] + list(bench.tool_until.values())
    return [time for time in times if time > bench.now + SLACK_MIN]


def _turns(bench: _Bench) -> Iterator[Run]:
    """The runs in the order hands turn to them."""
    runs = {run.id: run for run in bench.sitting.runs}
    reached = [soak for soak in bench.soaks if soak.least <= bench.now + SLACK_MIN]
    order = [soak.run for soak in sorted(reached, key=lambda soak: soak.most)]
    order += [] if bench.current is None else [bench.current]
    order += list(runs)
    if bench.one_by_one:
        order = [run.id for run in runs.values() if any(not step.closed for step in needed(bench.sitting, run))][:1]
    yield from (runs[number] for number in dict.fromkeys(order))


def _offer(bench: _Bench, run: Run) -> RunStep | None:
    """The run's next step once what reached its least is ended; None where it waits."""
    reached = {soak.step.id for soak in bench.soaks if soak.run == run.id and soak.least <= bench.now + SLACK_MIN}
    seen = replace(run, steps=tuple(replace(step, state=State.DONE) if step.step.id in reached else step
                                    for step in run.steps))
    step = next_step(bench.sitting, seen)
    taken = len(bench.soaks) - len(reached) + sum(until > bench.now for until in bench.tool_until.values())
    if step is None or (step.step.work is Work.SOAK and taken >= CELLS):
        return None
    return step


def _in_time(bench: _Bench, run: Run, step: ProtocolStep) -> bool:
    """Whether the running soaks, and one this step starts, can still be ended between their least and most.

    What follows several soaks of one plant waits for all of them; where their spans do not meet, nothing helps.
    """
    end = bench.now + step.minutes
    waits = [soak for soak in bench.soaks if soak.follows and not _ends_with(bench, soak, run, step)]
    if _is_waited_for(bench, run, step):
        waits.append(_Soak(run.id, step, end, True))
    groups = [[soak for soak in waits if soak.run == number] for number in {soak.run for soak in waits}]
    spans = sorted((max(min(soak.most for soak in group), max(soak.least for soak in group)),
                    max(soak.least for soak in group), group[0].run) for group in groups)
    at = end
    for most, least, number in spans:
        at = max(at, least)
        if at > most + SLACK_MIN:
            return False
        at += _follow_minutes(bench, number)
    return True


def _ends_with(bench: _Bench, soak: _Soak, run: Run, step: ProtocolStep) -> bool:
    """Whether a soak past its least ends when `step` is begun: it waits for it, or may not be done beside it."""
    reached = soak.run == run.id and soak.least <= bench.now + SLACK_MIN
    return reached and (soak.step.id in step.after or not step.meanwhile)


def _is_waited_for(bench: _Bench, run: Run, step: ProtocolStep) -> bool:
    """Whether a step is a soak on the plant that hands must come back for."""
    return step.work is Work.SOAK and on_plant(step) and any(
        item.state is State.OPEN and item.step is not step and (step.id in item.step.after or not item.step.meanwhile)
        for item in needed(bench.sitting, run))


def _follow_minutes(bench: _Bench, run_id: int) -> float:
    """Hands time of what follows a soak of this run, taken as its longest open step."""
    run = bench.sitting.runs[run_id]
    return max((step.step.minutes for step in needed(bench.sitting, run) if step.state is State.OPEN), default=0.0)


def _do(bench: _Bench, run: Run, step: RunStep) -> None:
    start, end = bench.now, bench.now + step.step.minutes
    for soak in [soak for soak in bench.soaks if _ends_with(bench, soak, run, step.step)]:
        _end(bench, soak, start)
    tool = _tool(bench, run) if step.step.tool else None
    if tool is not None:
        bench.tool_plant[tool] = run.plant
    bench.bars.append(PlanStep("hands", run.plant, step.step.id, step.step.say, start, end, tool or ""))
    soaks = step.step.work is Work.SOAK
    _set(bench, run.id, step.step.id, State.SOAKING if soaks else State.DONE)
    if soaks:
        bench.soaks.append(_Soak(run.id, step.step, end, _is_waited_for(bench, run, step.step)))
    bench.now, bench.current = end, run.id
    _put_tools_away(bench)


def _end_what_needs_no_hands(bench: _Bench) -> None:
    """End soaks that nothing waits for at their least."""
    for soak in [soak for soak in bench.soaks if not soak.follows and soak.least <= bench.now + SLACK_MIN]:
        _end(bench, soak, soak.least)


def _end(bench: _Bench, soak: _Soak, at: float) -> None:
    plant = bench.sitting.runs[soak.run].plant
    bench.soaks.remove(soak)
    bench.bars.append(PlanStep("soak", plant, soak.step.id, soak.step.say, soak.start, at))
    _set(bench, soak.run, soak.step.id, State.DONE)
    if at > soak.most + SLACK_MIN:
        bench.overruns.append(f"{plant}: {soak.step.say} lasts {at - soak.most:.0f} min over its most")


def _set(bench: _Bench, run_id: int, step_id: str, state: State) -> None:
    runs = list(bench.sitting.runs)
    runs[run_id] = replace(runs[run_id], steps=tuple(
        replace(step, state=state) if step.step.id == step_id else step for step in runs[run_id].steps))
    bench.sitting = replace(bench.sitting, runs=tuple(runs))


def _tool(bench: _Bench, run: Run) -> str | None:
    """The tool this run may take: the one on it, else the first that is clean by now."""
    own = [tool for tool, plant in bench.tool_plant.items() if plant == run.plant]
    clean = [tool for tool in bench.tools
             if tool not in bench.tool_plant and bench.tool_until.get(tool, 0.0) <= bench.now + SLACK_MIN]
    return next(iter(own or clean), None)


def _put_tools_away(bench: _Bench) -> None:
    """Tools with no more work on their plant go into alcohol at once."""
    for tool, plant in list(bench.tool_plant.items()):
        if not any(step.step.tool and step.state is State.OPEN for run in bench.sitting.runs if run.plant == plant
                   for step in needed(bench.sitting, run)):
            del bench.tool_plant[tool]
            until = bench.now + TOOL_SOAK_LEAST_MIN.value
            bench.tool_until[tool] = until
            bench.bars.append(PlanStep("tool soak", None, "", f"{tool} in {TOOL_SOAK_TITLE}", bench.now, until, tool))
