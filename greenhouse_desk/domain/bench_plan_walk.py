"""The greedy of the plan: what the hands do next, when a soak ends, which tool may be taken up.

At every moment the hands take, of the steps that may be done, first what a soak past its least waits for (nearest most
first), then the plant they are on, then the queue. A step is put off while it would keep the hands from a running soak
past its most, and a plant that may carry something is not begun while a cleaner one is unfinished.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from greenhouse_desk.domain.bench_board import soak_title
from greenhouse_desk.domain.bench_choice import TOOL_SOAK_LEAST_MIN, TOOL_SOAK_TITLE
from greenhouse_desk.domain.bench_cuts import others_open
from greenhouse_desk.domain.bench_plan_values import CUTTERS, PlannedBench, PlannedSoak, PlanStep
from greenhouse_desk.domain.bench_turns import for_tools, held_by, needed, next_step, on_plant
from greenhouse_desk.domain.bench_values import CELLS, Run, RunStep, State, own_blade
from greenhouse_desk.domain.protocols import Deed, ProtocolStep, Work

SLACK_MIN = 1e-9


def go_on(bench: PlannedBench) -> bool:
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


def _events(bench: PlannedBench) -> list[float]:
    times = [soak.least for soak in bench.soaks] + list(bench.tool_until.values())
    return [time for time in times if time > bench.now + SLACK_MIN]


def _turns(bench: PlannedBench) -> Iterator[Run]:
    """The runs in the order hands turn to them, without those that wait for cleaner plants."""
    runs = {run.id: run for run in bench.sitting.runs if not held_by(bench.sitting, run)}
    reached = [soak for soak in bench.soaks if soak.least <= bench.now + SLACK_MIN]
    order = [soak.run for soak in sorted(reached, key=lambda soak: soak.most)]
    order += [] if bench.current is None else [bench.current]
    order += list(runs)
    if bench.one_by_one:
        order = [run.id for run in runs.values() if any(not step.closed for step in needed(bench.sitting, run))][:1]
    yield from (runs[number] for number in dict.fromkeys(order) if number in runs)


def _offer(bench: PlannedBench, run: Run) -> RunStep | None:
    """The run's next step once what reached its least is ended; None where it waits."""
    reached = {soak.step.id for soak in bench.soaks if soak.run == run.id and soak.least <= bench.now + SLACK_MIN}
    seen = replace(run, steps=tuple(replace(step, state=State.DONE) if step.step.id in reached else step
                                    for step in run.steps))
    step = next_step(bench.sitting, seen)
    taken = len(bench.soaks) - len(reached) + sum(until > bench.now for until in bench.tool_until.values())
    if step is None or (step.step.work is Work.SOAK and taken >= CELLS):
        return None
    return step


def _in_time(bench: PlannedBench, run: Run, step: ProtocolStep) -> bool:
    """Whether the running soaks, and one this step starts, can still be ended between their least and most.

    What follows several soaks of one plant waits for all of them; where their spans do not meet, nothing helps.
    """
    end = bench.now + step.minutes
    waits = [soak for soak in bench.soaks if soak.follows and not _ends_with(bench, soak, run, step)]
    if waited_for(bench, run, step):
        waits.append(PlannedSoak(run.id, step, end, True))
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


def _ends_with(bench: PlannedBench, soak: PlannedSoak, run: Run, step: ProtocolStep) -> bool:
    """Whether a soak past its least ends when `step` is begun: it waits for it, or may not be done beside it."""
    reached = soak.run == run.id and soak.least <= bench.now + SLACK_MIN
    return reached and (soak.step.id in step.after or not step.meanwhile)


def waited_for(bench: PlannedBench, run: Run, step: ProtocolStep) -> bool:
    """Whether a step is a soak on the plant that hands must come back for."""
    return step.work is Work.SOAK and on_plant(step) and any(
        item.state is State.OPEN and item.step is not step and (step.id in item.step.after or not item.step.meanwhile)
        for item in needed(bench.sitting, run))


def _follow_minutes(bench: PlannedBench, run_id: int) -> float:
    """Hands time of what follows a soak of this run, taken as its longest open step."""
    run = bench.sitting.runs[run_id]
    return max((step.step.minutes for step in needed(bench.sitting, run) if step.state is State.OPEN), default=0.0)


def _do(bench: PlannedBench, run: Run, step: RunStep) -> None:
    start, end = bench.now, bench.now + step.step.minutes
    for soak in [soak for soak in bench.soaks if _ends_with(bench, soak, run, step.step)]:
        _end(bench, soak, start)
    tool = _tool(bench, run) if step.step.tool else None
    if tool is not None and tool in bench.tools:
        bench.tool_plant[tool] = run.plant
    bench.bars.append(PlanStep("hands", run.plant, step.step.id, step.step.say, start, end, tool or ""))
    soaks = step.step.work is Work.SOAK
    _set(bench, run.id, step.step.id, State.SOAKING if soaks else State.DONE)
    _note_cuts(bench, run, step)
    if soaks:
        bench.soaks.append(PlannedSoak(run.id, step.step, end, waited_for(bench, run, step.step)))
    bench.now, bench.current = end, run.id
    _put_tools_away(bench)


def _note_cuts(bench: PlannedBench, run: Run, step: RunStep) -> None:
    """A cut planned is a cut open until a dressing step that leaves none."""
    plants = set(bench.sitting.cuts_open)
    if step.step.deed is Deed.CUT:
        plants.add(run.plant)
    elif step.step.deed is Deed.DRESS and not others_open(run, step, bench.sitting.choices):
        plants.discard(run.plant)
    bench.sitting = replace(bench.sitting, cuts_open=frozenset(plants))


def _end_what_needs_no_hands(bench: PlannedBench) -> None:
    """End soaks that nothing waits for at their least."""
    for soak in [soak for soak in bench.soaks if not soak.follows and soak.least <= bench.now + SLACK_MIN]:
        _end(bench, soak, soak.least)


def _end(bench: PlannedBench, soak: PlannedSoak, at: float) -> None:
    plant = bench.sitting.runs[soak.run].plant
    bench.soaks.remove(soak)
    title = soak_title(soak.step, bench.names)
    bench.bars.append(
        PlanStep("tool soak", None, soak.step.id, f"{CUTTERS} in {title}", soak.start, at, CUTTERS, title)
        if for_tools(soak.step) else PlanStep("soak", plant, soak.step.id, soak.step.say, soak.start, at, "", title))
    _set(bench, soak.run, soak.step.id, State.DONE)
    if at > soak.most + SLACK_MIN:
        bench.overruns.append(f"{plant}: {soak.step.say} lasts {at - soak.most:.0f} min over its most")


def _set(bench: PlannedBench, run_id: int, step_id: str, state: State) -> None:
    runs = list(bench.sitting.runs)
    runs[run_id] = replace(runs[run_id], steps=tuple(
        replace(step, state=state) if step.step.id == step_id else step for step in runs[run_id].steps))
    bench.sitting = replace(bench.sitting, runs=tuple(runs))


def _tool(bench: PlannedBench, run: Run) -> str | None:
    """The tool this run may take: the one on it, a blade of its own where a virus holds it back, else the first that is
    clean by now."""
    own = [tool for tool, plant in bench.tool_plant.items() if plant == run.plant]
    clean = [tool for tool in bench.tools
             if tool not in bench.tool_plant and bench.tool_until.get(tool, 0.0) <= bench.now + SLACK_MIN]
    if not own and run.plant in bench.sitting.own_blade:
        return own_blade(run.plant)
    return next(iter(own or clean), None)


def _put_tools_away(bench: PlannedBench) -> None:
    """Tools with no more work on their plant go into alcohol at once."""
    for tool, plant in list(bench.tool_plant.items()):
        if not any(step.step.tool and step.state is State.OPEN for run in bench.sitting.runs if run.plant == plant
                   for step in needed(bench.sitting, run)):
            del bench.tool_plant[tool]
            put_away(bench, tool)


def put_away(bench: PlannedBench, tool: str) -> None:
    """A tool goes into alcohol now."""
    until = bench.now + TOOL_SOAK_LEAST_MIN.value
    bench.tool_until[tool] = until
    bench.bars.append(PlanStep("tool soak", None, "", f"{tool} in {TOOL_SOAK_TITLE}", bench.now, until, tool,
                               TOOL_SOAK_TITLE))
