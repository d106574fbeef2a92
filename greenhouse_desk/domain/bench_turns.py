"""Whose turn it is: what each run can do next, which soaks want hands, and which tool may touch the next plant."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from greenhouse_desk.domain.bench_cuts import needless
from greenhouse_desk.domain.bench_order import before_it
from greenhouse_desk.domain.bench_values import (
    CELLS,
    FRESH_BLADE,
    TOOLS,
    Run,
    RunStep,
    Sitting,
    State,
    Tool,
    ToolState,
    ToolUse,
    own_blade,
)
from greenhouse_desk.domain.countdown import Phase, Soak, view
from greenhouse_desk.domain.journal import Part
from greenhouse_desk.domain.protocols import Deed, ProtocolStep, Work

SEEN_HERE = "pests seen now"
"""What a copied step is only for while the plant's next wash is not due: pests seen again in this very session."""
ALL_TOOLS = "tools"
"""What the soak of the tools laid out together is kept under."""
THINGS = frozenset({Part.POT, Part.MEDIUM, Part.TOOLS, Part.BENCH, Part.HANDS})


TAKES_OFF = (Deed.RINSE, Deed.BLOT, Deed.AIR)


class Blocked(StrEnum):
    """Why a run cannot go on now."""

    NOT = ""
    DONE = "done"
    SOAK = "soak"
    CELL = "cell"
    TOOL = "tool"
    CLEANER = "cleaner plants"


@dataclass(frozen=True, slots=True)
class Turn:
    """A run with its next step, or with what holds it up."""

    run: Run
    step: RunStep | None
    blocked: Blocked


def running(sitting: Sitting) -> tuple[Soak, ...]:
    """The soaks that run, in the order they were started."""
    return tuple(sorted((soak for soak in sitting.soaks if soak.ended_at is None),
                        key=lambda soak: (soak.started_at, soak.id)))


def needed(sitting: Sitting, run: Run) -> tuple[RunStep, ...]:
    """The steps that matter for this plant: wash steps only where pests were seen, dressing only where cuts are open
    or may still be made, none that were left out."""
    return tuple(step for step in run.steps
                 if step.state is not State.SKIPPED and not _nothing_to_dress(sitting, run, step)
                 and (step.state is not State.OPEN or _wanted(sitting, run, step)))


def _wanted(sitting: Sitting, run: Run, step: RunStep) -> bool:
    """Whether the pests a step is for were seen: before or here, or, where no wash is owed yet, here alone."""
    seen = {"pests": sitting.pests, SEEN_HERE: sitting.found}
    return run.plant in seen.get(step.step.only_if, {run.plant})


def _nothing_to_dress(sitting: Sitting, run: Run, step: RunStep) -> bool:
    """Whether the step would dress cuts that nobody made, or that are dressed already."""
    return (step.step.deed is Deed.DRESS and step.state is State.OPEN
            and needless(run, step, sitting.choices, run.plant in sitting.cuts_open))


def on_plant(step: ProtocolStep) -> bool:
    """Whether a step acts on the plant itself, not only on a pot, tool, bench or hands."""
    return not step.on or not THINGS.issuperset(step.on)


def for_tools(step: ProtocolStep) -> bool:
    """Whether a step acts on tools alone."""
    return step.on == (Part.TOOLS,)


def next_step(sitting: Sitting, run: Run) -> RunStep | None:
    """The step hands can do now on this plant, in the protocol's order; None while soaks hold it up or when done."""
    steps = needed(sitting, run)
    asking = next((step for step in steps if step.asking), None)
    if asking is not None:
        return asking
    open_ids = {step.step.id for step in steps if not step.closed}
    ready = [step for step in steps if step.state is State.OPEN and not open_ids.intersection(step.step.after)]
    soaking = [step for step in steps if step.state is State.SOAKING]
    if any(on_plant(step.step) for step in soaking):
        ready = [step for step in ready if step.step.meanwhile]
        return _washed_off_first(steps, ready) if ready else None
    if not ready:
        return None if soaking else next((step for step in steps if step.state is State.OPEN), None)
    return _washed_off_first(steps, ready)


def _washed_off_first(steps: tuple[RunStep, ...], ready: list[RunStep]) -> RunStep:
    """After a soak what follows it comes before work that could have been done meanwhile."""
    if not ready[0].step.meanwhile:
        return ready[0]
    soaked = _soaked(steps)
    return next((step for step in ready if soaked.intersection(step.step.after)), ready[0])


def in_vain(run: Run, left_out: RunStep) -> tuple[RunStep, ...]:
    """The open steps that only take off or dry what the soak `left_out` would have put on: they follow it and no other
    soak on the plant."""
    gone = {left_out.step.id}
    soaks = {step.step.id for step in run.steps if step.step.work is Work.SOAK and on_plant(step.step)} - gone
    found = []
    for step in run.steps:
        follows = step.step.deed in TAKES_OFF and gone.intersection(step.step.after)
        if step.state is State.OPEN and follows and not soaks.intersection(step.step.after):
            gone.add(step.step.id)
            found.append(step)
    return tuple(found)


def washes_off(sitting: Sitting, run: Run) -> bool:
    """Whether the run's next step takes an agent off the plant whose soak was ended: until then it goes on acting."""
    at = turn(sitting, run)
    if at.step is None or at.blocked is not Blocked.NOT or at.step.asking or at.step.step.work is Work.SOAK:
        return False
    return bool(_soaked(run.steps).intersection(at.step.step.after))


def _soaked(steps: tuple[RunStep, ...]) -> set[str]:
    return {step.step.id for step in steps
            if step.state is State.DONE and step.step.work is Work.SOAK and on_plant(step.step)}


def turn(sitting: Sitting, run: Run) -> Turn:
    """What this run can do now, or what holds it up."""
    step = next_step(sitting, run)
    if step is None:
        waits = any(step.state is not State.DONE for step in needed(sitting, run))
        return Turn(run, None, Blocked.SOAK if waits else Blocked.DONE)
    if held_by(sitting, run):
        return Turn(run, step, Blocked.CLEANER)
    if starts_soak(step) and len(running(sitting)) >= CELLS:
        return Turn(run, step, Blocked.CELL)
    if step.step.tool and not step.asking and tool_for(sitting, run) is None:
        return Turn(run, step, Blocked.TOOL)
    return Turn(run, step, Blocked.NOT)


def held_by(sitting: Sitting, run: Run) -> tuple[Run, ...]:
    """The runs with work left that this one is not begun beside: of cleaner plants, or with a find of this session."""
    return tuple(other for other in before_it(sitting, run)
                 if any(not step.closed for step in needed(sitting, other)))


def work_left(sitting: Sitting) -> bool:
    """Whether any plant of the session still has work before it, or a soak that runs."""
    return bool(running(sitting)) or any(turn(sitting, run).blocked is not Blocked.DONE for run in sitting.runs)


def starts_soak(step: RunStep) -> bool:
    return step.step.work is Work.SOAK and step.state is State.OPEN and not step.asking


def touched_at(sitting: Sitting, run: Run) -> datetime | None:
    """When hands were last on this run."""
    times = [step.done_at for step in run.steps if step.done_at is not None and step.state is not State.SKIPPED]
    times += [soak.started_at for soak in sitting.soaks if soak.run == run.id]
    return max(times, default=None)


def current(sitting: Sitting) -> Run | None:
    """The run hands were on last; None before the first press."""
    touched = [(at, run.id, run) for run in sitting.runs if (at := touched_at(sitting, run)) is not None]
    return max(touched, key=lambda item: item[:2])[2] if touched else None


def wants_hands(sitting: Sitting, soak: Soak, now: datetime) -> bool:
    """Whether a soak past its least should end now: one on the plant when work follows, a thing's when it is next."""
    if view(soak, now).phase is not Phase.MAY_END or soak.run is None:
        return False
    run = next(run for run in sitting.runs if run.id == soak.run)
    own = next(step for step in run.steps if step.id == soak.step)
    left = [step for step in needed(sitting, run) if step.state is State.OPEN]
    if on_plant(own.step):
        return bool(left)
    return bool(left) and own.step.id in left[0].step.after


def tools(sitting: Sitting) -> tuple[Tool, ...]:
    """The session's tools as they stand: clean as laid out, unless their first soak was ended before its least."""
    return tuple(tool(sitting, name) for name in TOOLS)


def tool(sitting: Sitting, name: str) -> Tool:
    """How one tool stands: clean, in use, unclean, or in its soak. What it touched in another session counts too."""
    use = last_use(sitting, name)
    soaks = [soak for soak in sitting.soaks if soak.tool in (name, ALL_TOOLS)]
    now_in = next((soak for soak in soaks if soak.ended_at is None), None)
    if now_in is not None:
        return Tool(name, ToolState.SOAKING, use.plant if use else None, now_in.least_at)
    if use is None:
        early = bool(soaks) and all(soak.early for soak in soaks)
        return Tool(name, ToolState.UNCLEAN) if early else Tool(name)
    if any(soak.started_at >= use.at and not soak.early and _clears(sitting, soak, use) for soak in soaks):
        return Tool(name)
    goes_on = use in sitting.tool_uses and _cuts_again(sitting, use.plant)
    return Tool(name, ToolState.IN_USE if goes_on else ToolState.UNCLEAN, use.plant)


def last_use(sitting: Sitting, name: str) -> ToolUse | None:
    """When the tool was taken to a plant last, in this session or, not made good since, in another."""
    uses = [use for use in (*sitting.tools_before, *sitting.tool_uses) if use.tool == name]
    return max(uses, key=lambda use: use.at, default=None)


def _clears(sitting: Sitting, soak: Soak, use: ToolUse) -> bool:
    """Whether a soak of all tools makes this one good. A tool's own soak is offered only where alcohol is enough."""
    return soak.tool != ALL_TOOLS or use.plant not in sitting.virus or soak.agent in sitting.virus_agents


def kept_apart(sitting: Sitting, item: Tool) -> bool:
    """Whether a tool touched a plant with virus signs: alcohol does not make it fit for another."""
    return item.plant is not None and item.plant in sitting.virus


def tool_for(sitting: Sitting, run: Run) -> str | None:
    """The tool this plant may be touched with: the one on it, a blade of its own where a virus holds it back, a clean
    one, a fresh blade when none can become clean."""
    stand = tools(sitting)
    own = [item for item in stand if item.plant == run.plant and item.state in (ToolState.IN_USE, ToolState.UNCLEAN)]
    clean = [item for item in stand if item.state is ToolState.CLEAN]
    if not own and run.plant in sitting.own_blade:
        return own_blade(run.plant)
    if own or clean:
        return (own or clean)[0].name
    if all(kept_apart(sitting, item) for item in stand):
        return FRESH_BLADE
    return None


def to_soak(sitting: Sitting, state: ToolState) -> Tool | None:
    """A tool in `state` that alcohol can make clean, when a countdown is free for it."""
    if len(running(sitting)) >= CELLS:
        return None
    return next((item for item in tools(sitting) if item.state is state and not kept_apart(sitting, item)
                 and (_used_here(sitting, item) or _wanted_unclean(sitting))), None)


def _used_here(sitting: Sitting, item: Tool) -> bool:
    return item.plant is None or any(use.tool == item.name for use in sitting.tool_uses)


def _wanted_unclean(sitting: Sitting) -> bool:
    """Whether a tool another session left unclean is wanted in this one, and no soak of all tools is still to come."""
    left = [step for run in sitting.runs for step in needed(sitting, run) if not step.closed]
    return any(step.step.tool for step in left) and not any(
        step.step.on == (Part.TOOLS,) and step.step.work is Work.SOAK for step in left)


def whose(sitting: Sitting, soak: Soak) -> str:
    """Whose soak it is, in words: a tool's is the tool's, whatever plant it was begun with, and a pot's the pot's."""
    if soak.tool:
        return "the tools" if soak.tool == ALL_TOOLS else soak.tool
    plant = plant_of(sitting, soak.run)
    in_it = next((step.step for run in sitting.runs for step in run.steps if step.id == soak.step), None)
    return f"{plant}'s pot" if in_it is not None and in_it.on == (Part.POT,) else str(plant)


def bath(sitting: Sitting, soak: Soak) -> str:
    """What soaks in what, without the pot where `whose` names it already: "roots in peroxide", "in alcohol"."""
    return soak.what.removeprefix("pot ") if whose(sitting, soak).endswith("'s pot") else soak.what


def plant_of(sitting: Sitting, run: int | None) -> int | None:
    """The plant number of a run, None for no run."""
    return next((item.plant for item in sitting.runs if item.id == run), None)


def _cuts_again(sitting: Sitting, plant: int) -> bool:
    return any(step.step.tool and not step.closed and not step.asking
               for run in sitting.runs if run.plant == plant for step in needed(sitting, run))
