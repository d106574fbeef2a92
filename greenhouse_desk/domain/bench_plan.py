"""A plan of the bench session: one pair of hands, soaks side by side, tools in turn, cleanest plant first.

Where the greedy of bench_plan_walk leaves a soak too long, plants are planned one after another, and the better of the
two plans is kept.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from types import MappingProxyType

from greenhouse_desk.domain.bench_plan_values import Job, Plan, PlannedBench, PlannedSoak, PlanStep
from greenhouse_desk.domain.bench_plan_walk import go_on, put_away, waited_for
from greenhouse_desk.domain.bench_turns import current, kept_apart, running, tools
from greenhouse_desk.domain.bench_values import FRESH_BLADE, TOOLS, Run, RunStep, Sitting, State, Tool, ToolState
from greenhouse_desk.domain.countdown import Soak

__all__ = ["ONE_BY_ONE", "SIDE_BY_SIDE", "Job", "Plan", "PlanStep", "plan", "plan_left"]

SIDE_BY_SIDE = "cleanest first, then by number; hands stay on a plant until it is done or soaking"
ONE_BY_ONE = "cleanest first, then by number; one plant after another, so that no soak lasts too long"
NO_NAMES: Mapping[str, str] = MappingProxyType({})


def plan(jobs: Sequence[Job], tools: Sequence[str] = TOOLS, names: Mapping[str, str] = NO_NAMES) -> Plan:
    """The timed session for `jobs` with these tools; `names` are the agents' by key. Raises nothing; see `overruns`."""
    ordered = sorted(jobs, key=lambda job: (job.rank, job.plant))
    runs = tuple(Run(number, job.plant, "", "", "", tuple(RunStep(count, count, step) for count, step in
                                                          enumerate(job.steps)), job.standing)
                 for number, job in enumerate(ordered))
    pests = frozenset(job.plant for job in jobs if job.pests)
    at = Sitting(0, datetime(2000, 1, 1, tzinfo=UTC), runs, pests=pests,
                 own_blade=frozenset(job.plant for job in jobs if job.own_blade))
    return _better(lambda one_by_one: PlannedBench(at, tools, one_by_one, names))


def plan_left(sitting: Sitting, now: datetime, names: Mapping[str, str] = NO_NAMES) -> Plan:
    """The plan of what is left of a session at `now` (aware), in minutes from then; soaks that run began before 0."""
    place = {run.id: number for number, run in enumerate(sitting.runs)}
    runs = tuple(replace(run, id=number, steps=tuple(_asked_later(step) for step in run.steps))
                 for number, run in enumerate(sitting.runs))
    at = replace(sitting, runs=runs)
    last = current(sitting)

    def bench(one_by_one: bool) -> PlannedBench:
        made = PlannedBench(at, _usable(sitting), one_by_one, names, current=None if last is None else place[last.id])
        made.soaks = [_under_way(made, place[soak.run], soak, now) for soak in running(sitting) if soak.run is not None]
        for item in tools(sitting):
            _set_tool(made, item, now)
        return made

    return _better(bench)


def _asked_later(step: RunStep) -> RunStep:
    """A step whose questions are open counts as done: answering takes no time worth planning."""
    return replace(step, state=State.DONE) if step.asking and not step.leaving else step


def _usable(sitting: Sitting) -> tuple[str, ...]:
    """The tools any plant may be touched with once they are clean."""
    return tuple(item.name for item in tools(sitting) if not kept_apart(sitting, item)) or (FRESH_BLADE,)


def _under_way(bench: PlannedBench, number: int, soak: Soak, now: datetime) -> PlannedSoak:
    run = bench.sitting.runs[number]
    step = next(step.step for step in run.steps if step.id == soak.step)
    return PlannedSoak(number, step, (soak.started_at - now).total_seconds() / 60, waited_for(bench, run, step))


def _set_tool(bench: PlannedBench, item: Tool, now: datetime) -> None:
    if item.name not in bench.tools:
        return
    if item.state is ToolState.IN_USE and item.plant is not None:
        bench.tool_plant[item.name] = item.plant
    elif item.state is ToolState.SOAKING and item.until is not None:
        bench.tool_until[item.name] = max(0.0, (item.until - now).total_seconds() / 60)
    elif item.state is ToolState.UNCLEAN:
        put_away(bench, item.name)


def _better(bench: Callable[[bool], PlannedBench]) -> Plan:
    """Side by side, or one plant after another where that keeps more soaks within their most."""
    best = _planned(bench(False))
    if not best.overruns:
        return best
    other = _planned(bench(True))
    return other if len(other.overruns) < len(best.overruns) else best


def _planned(bench: PlannedBench) -> Plan:
    while go_on(bench):
        pass
    bars = tuple(sorted(bench.bars, key=lambda bar: (bar.start_min, bar.lane, bar.plant or 0)))
    return Plan(bars, max((bar.end_min for bar in bars), default=0.0), ONE_BY_ONE if bench.one_by_one else SIDE_BY_SIDE,
                tuple(bench.overruns))
