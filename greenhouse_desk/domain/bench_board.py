"""The board of bench mode: the instruction, the countdowns, the queue, the tool, the keys, and how loud it is."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, tzinfo
from math import ceil

from greenhouse_desk.domain.bench_choice import choose, note_plant, waits_for
from greenhouse_desk.domain.bench_keys import faces
from greenhouse_desk.domain.bench_open import left_open, loose_ends, stopped
from greenhouse_desk.domain.bench_order import found_words
from greenhouse_desk.domain.bench_shown import Board, Cell, QueueRow, ToolPanel
from greenhouse_desk.domain.bench_turns import (
    Blocked,
    for_tools,
    kept_apart,
    plant_of,
    running,
    tools,
    turn,
    wants_hands,
    whose,
)
from greenhouse_desk.domain.bench_values import (
    CELLS,
    FRESH_BLADE,
    OWN_BLADE,
    Action,
    Instruction,
    LooseKind,
    Ring,
    Run,
    Sitting,
    Tool,
    ToolState,
)
from greenhouse_desk.domain.care_day import day_words
from greenhouse_desk.domain.countdown import CountdownView, Phase, Soak, spoken, view
from greenhouse_desk.domain.protocols import ProtocolStep

SAID_AFTER_S = 60.0
TAKE_UP = "take up now"
NOT_CLEAN = "not clean yet"
FOR_TOOLS = " for tools"


def board(sitting: Sitting, now: datetime, zone: tzinfo) -> Board:
    """The whole board at `now` (aware UTC), clock times in `zone`. Pure: called every second with one Sitting."""
    instruction = choose(sitting, now)
    cells = _cells(sitting, now, zone)
    waiting = sum(turn(sitting, run).blocked is Blocked.CELL for run in sitting.runs)
    queue = tuple(_row(sitting, run, instruction.run == run.id, now.astimezone(zone)) for run in sitting.runs)
    return Board(now, instruction, cells, waiting, queue, _panel(sitting, instruction, now, zone),
                 faces(sitting, instruction), _ring(sitting, cells, now), loose_ends(sitting), _head(instruction),
                 _clock(sitting, now, zone), _words(sitting, cells, waiting), note_plant(sitting, instruction))


def _cells(sitting: Sitting, now: datetime, zone: tzinfo) -> tuple[Cell, ...]:
    found = []
    for soak in running(sitting)[:CELLS]:
        shown = view(soak, now)
        title = f"{soak.tool} in {soak.what}" if soak.tool else soak.what
        ended = soak.most_at if shown.phase is Phase.OVER else soak.least_at
        plant = None if soak.tool else plant_of(sitting, soak.run)
        found.append(Cell(soak, plant, title, shown, _since(ended, shown, zone)))
    return tuple(found)


def _since(ended: datetime, shown: CountdownView, zone: tzinfo) -> str:
    """When the least (or the most) was reached and how long ago, once that is worth saying."""
    over = shown.phase is Phase.OVER
    ago = -(shown.to_most_s if over else shown.to_least_s)
    if ago < SAID_AFTER_S:
        return ""
    return f"{'most passed' if over else 'least reached'} at {ended.astimezone(zone):%H:%M}, {span(ago)} ago"


def _row(sitting: Sitting, run: Run, now_on: bool, now: datetime) -> QueueRow:
    at = turn(sitting, run)
    first = min((soak for soak in running(sitting) if soak.run == run.id),
                key=lambda soak: (view(soak, now).phase is not Phase.OVER, soak.least_at), default=None)
    say = at.step.step.deed.word if at.step else ""
    halted, done = stopped(sitting, run), at.blocked is Blocked.DONE
    words = {
        Blocked.DONE: "done", Blocked.CELL: "waits for a free countdown", Blocked.TOOL: "waits for a clean tool",
        Blocked.CLEANER: waits_for(sitting, run),
        Blocked.SOAK: _until(sitting, first, now) if first else "",
        Blocked.NOT: f"now: {say}" if now_on else f"next: {say}",
    }[at.blocked]
    if done or halted:
        words = ", ".join(["stopped" if halted else "done", *_left(sitting, run)])
    still = ", ".join(STILL[end.kind] for end in left_open(sitting, run)
                      if done or halted or end.kind is LooseKind.CUT)
    return QueueRow(run.id, run.plant, run.standing, run.standing_why, words, now_on, done and not still, still)


def _until(sitting: Sitting, soak: Soak, now: datetime) -> str:
    """What a plant's soak comes to next, or what it passed, by the clock of `now`."""
    phase = view(soak, now).phase
    if phase is Phase.OVER:
        return f"over its most since {_by_clock(soak.most_at, now)}"
    doing = f"waits for {whose(sitting, soak)}" if soak.tool else "soaking"
    left = (soak.least_at - now).total_seconds()
    if 0 < left < SAID_AFTER_S:
        return f"{doing}, least in {spoken(ceil(left))}"
    return f"{doing}, least {'at' if phase is Phase.LEAVE else 'reached at'} {_by_clock(soak.least_at, now)}"


def _by_clock(moment: datetime, now: datetime) -> str:
    """The clock time of an instant where `now` is told, with its day when that is another."""
    there = moment.astimezone(now.tzinfo)
    return f"{there:%H:%M}" if there.date() == now.date() else f"{there:%H:%M} on {day_words(there.date(), now.date())}"


STILL = {LooseKind.AGENT: "not rinsed", LooseKind.UNPOTTED: "roots bare", LooseKind.CUT: "cut open",
         LooseKind.WET: "wet, no air", LooseKind.SOAK: "in its soak"}
"""What stands open on a plant, short enough for the queue: a cut until it is dressed, the rest once work is over."""


def _left(sitting: Sitting, run: Run) -> list[str]:
    return [end.words for end in loose_ends(sitting) if end.plant == run.plant]


def _in_soak(until: datetime, now: datetime) -> str:
    """How long a tool stays in its soak, by the clock of `now`; the last minute in seconds."""
    left = (until - now).total_seconds()
    if left <= 0:
        return "may come out of its soak now"
    if left < SAID_AFTER_S:
        return f"in its soak for {spoken(ceil(left))} more"
    return f"in its soak until {_by_clock(until, now)}"


def _panel(sitting: Sitting, instruction: Instruction, now: datetime, zone: tzinfo) -> ToolPanel | None:
    stand = {item.name: item for item in tools(sitting)}
    keep = "; ".join(_keeps(item, now.astimezone(zone)) for item in stand.values()
                     if item.name != instruction.tool and item.state is not ToolState.CLEAN)
    if instruction.tool and instruction.action in (Action.HANDS, Action.START_SOAK):
        return _to_take(sitting, instruction, stand.get(instruction.tool), keep)
    waits = any(turn(sitting, run).blocked is Blocked.TOOL for run in sitting.runs)
    first = min((item for item in stand.values() if item.until is not None), key=lambda item: str(item.until),
                default=None)
    if waits and first is not None and first.until is not None:
        return ToolPanel(NOT_CLEAN, first.name, _in_soak(first.until, now.astimezone(zone)), keep)
    return None


def _to_take(sitting: Sitting, instruction: Instruction, item: Tool | None, keep: str) -> ToolPanel:
    if instruction.run is None:
        touched = f"touched {item.plant}" if item is not None and item.plant is not None else "not clean yet"
        return ToolPanel(NOT_CLEAN, instruction.tool, f"{touched}: ethanol now", keep)
    if instruction.tool.startswith(OWN_BLADE):
        return ToolPanel(TAKE_UP, instruction.tool, "for this plant alone: a virus holds it back; afterwards "
                         "into a closed bag, ethanol clears no virus", keep)
    if instruction.plant in sitting.virus:
        return ToolPanel(TAKE_UP, instruction.tool,
                         "virus signs: for this plant only; ethanol does not clear viruses, use another agent",
                         keep)
    if instruction.tool == FRESH_BLADE:
        return ToolPanel(TAKE_UP, FRESH_BLADE, "single use: the others touched virus signs", keep)
    own = item is not None and item.plant == instruction.plant
    return ToolPanel(TAKE_UP, instruction.tool, f"already on {instruction.plant}" if own else "clean", keep)


def _keeps(item: Tool, now: datetime) -> str:
    if item.state is ToolState.SOAKING and item.until is not None:
        stays = "stays " if item.until > now else ""
        return f"{item.name} {stays}{_in_soak(item.until, now)}"
    return f"{item.name} is for {item.plant} only" if item.state is ToolState.IN_USE else f"{item.name} is not clean"


def _ring(sitting: Sitting, cells: tuple[Cell, ...], now: datetime) -> Ring:
    phases = {cell.view.phase for cell in cells}
    if Phase.OVER in phases:
        return Ring.LOUD
    if Phase.WARN in phases:
        return Ring.WARN
    return Ring.CHIME if any(wants_hands(sitting, cell.soak, now) for cell in cells) else Ring.SILENT


def _head(instruction: Instruction) -> str:
    if not instruction.step_no:
        return ""
    return f"step {instruction.step_no} of {instruction.step_count}"


def _clock(sitting: Sitting, now: datetime, zone: tzinfo) -> str:
    time = f"{now.astimezone(zone):%H:%M}"
    if sitting.limit is None:
        return time
    left = (sitting.limit - now).total_seconds()
    name = sitting.limit_name or "limit"
    return f"{time}, {name} in {span(left)}" if left >= 0 else f"{time}, {span(-left)} past {name}"


def _words(sitting: Sitting, cells: tuple[Cell, ...], waiting: int) -> tuple[str, ...]:
    words = [*sitting.notices, *found_words(sitting)]
    late_first = sorted(cells, key=lambda cell: cell.view.to_most_s)
    words += [f"{whose(sitting, cell.soak)}: {cell.note}." for cell in late_first if cell.note]
    if waiting:
        words.append(f"All {CELLS} countdowns are taken: {waiting} more to start once one is free.")
    words += [f"{item.name} touched {item.plant}, which has virus signs: keep it for that plant, ethanol is not enough."
              for item in tools(sitting) if kept_apart(sitting, item)]
    return tuple(words)


def span(seconds: float) -> str:
    """Seconds as "35 min" or "2 h 10"."""
    minutes = int(seconds // 60)
    return f"{minutes} min" if minutes < 90 else f"{minutes // 60} h {minutes % 60:02}"


def soak_title(step: ProtocolStep, names: Mapping[str, str]) -> str:
    """What a step's countdown is called: "roots in hydrogen peroxide"; a tool soak by its agent alone. `names` are the
    agents' names by key."""
    agent = names.get(step.agent, step.agent.replace("-", " ")).removesuffix(FOR_TOOLS)
    if for_tools(step):
        return agent if step.strength is None else f"{step.strength:g} % {agent}"
    parts = " and ".join(step.on) or "plant"
    return f"{parts} in {agent}" if agent else parts
