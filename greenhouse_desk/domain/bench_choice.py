"""The one instruction: soaks near their most first, then soaks that may end, then hands, then waiting, then the end.

Before all of them comes the rinse of the plant whose soak was just ended: until then its agent goes on acting.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime

from greenhouse_desk.domain.bench_deciding import why_ended
from greenhouse_desk.domain.bench_open import (
    knowingly_open,
    left_on,
    left_open,
    loose_ends,
    sees_to,
    still_open,
    stopped,
)
from greenhouse_desk.domain.bench_order import apart, before_it, held_lead, rank
from greenhouse_desk.domain.bench_questions import counted_before, question
from greenhouse_desk.domain.bench_turns import (
    Blocked,
    Turn,
    bath,
    current,
    for_tools,
    held_by,
    needed,
    next_step,
    plant_of,
    running,
    starts_soak,
    to_soak,
    tool_for,
    turn,
    wants_hands,
    washes_off,
    whose,
)
from greenhouse_desk.domain.bench_values import (
    CELLS,
    Action,
    Instruction,
    LooseEnd,
    LooseKind,
    Question,
    Run,
    RunStep,
    Sitting,
    ToolState,
)
from greenhouse_desk.domain.countdown import Phase, Soak, view
from greenhouse_desk.domain.figures import Constant

TOOL_AGENT = "ethanol"
TOOL_SOAK_TITLE = "70 % ethanol"
TOOL_SOAK_LEAST_MIN = Constant(3.0, "min", "a used tool in 70 % ethanol, at least",
                               "published: University of Iowa Environmental Health and Safety 8.2.1: 70 to 80 %")
TOOL_SOAK_MOST_MIN = Constant(120.0, "min", "a used tool in 70 % ethanol, at most", "house rule")
TOOL_SOAK_WHY = (
    "Wipe sap and soil off first: ethanol does not reach through dirt. Three minutes at least. It kills no spores and "
    "clears no viruses. No flame near it.")


def choose(sitting: Sitting, now: datetime) -> Instruction:
    """What the hands do at `now` (aware). Always exactly one thing."""
    if sitting.ended_at is not None:
        return Instruction(Action.CLOSE, None, "This session is over")
    return next(_wishes(sitting, now))


def note_plant(sitting: Sitting, wanted: Instruction) -> int | None:
    """The plant a note belongs to: the instruction's, else the one on the bench; None: the session."""
    if wanted.plant is not None or wanted.action is Action.CLOSE or sitting.ending:
        return wanted.plant
    on_bench = current(sitting)
    return None if on_bench is None else on_bench.plant


def soonest(sitting: Sitting) -> Soak | None:
    """The running soak that needs hands first."""
    return min(running(sitting), key=lambda soak: (soak.least_at, soak.id), default=None)


def in_order(sitting: Sitting) -> tuple[Run, ...]:
    """The runs in the order hands turn to them: the one they are on, then the queue."""
    first = current(sitting)
    return (() if first is None else (first,)) + tuple(run for run in sitting.runs if run is not first)


def reopenable(sitting: Sitting, run: int | None) -> tuple[Run, RunStep] | None:
    """The last finished step of `run` (None: of the run hands were on last), which Back opens again.

    None while a soak of that plant runs that was started after it: taking the start back is Undo's.
    """
    at = current(sitting) if run is None else next((item for item in sitting.runs if item.id == run), None)
    if at is None:
        return None
    finished = [(step.done_at, step.ordinal, step) for step in at.steps if step.done_at is not None and step.closed]
    if not finished:
        return None
    done_at, _, step = max(finished, key=lambda item: item[:2])
    return None if any(soak.run == at.id and soak.started_at >= done_at for soak in running(sitting)) else (at, step)


def _wishes(sitting: Sitting, now: datetime) -> Iterator[Instruction]:
    """Everything the board would say, most pressing first."""
    last = current(sitting)
    if last is not None and not sitting.ending and washes_off(sitting, last):
        yield _at(sitting, turn(sitting, last))
    yield from _late_soaks(sitting, now)
    if sitting.ending:
        yield Instruction(Action.ANSWER, None, "End the session", " ".join(still_open(sitting)), question=why_ended())
    yield from _open_questions(sitting)
    yield from (_end(sitting, soak) for soak in _by_most(sitting, now) if wants_hands(sitting, soak, now))
    yield from (_see_to(sitting, end) for run in in_order(sitting) if sees_to(sitting, run)
                for end in left_open(sitting, run))
    yield from _tools_away(sitting, ToolState.UNCLEAN)
    yield from _hands(sitting, now)
    yield from (_end(sitting, soak) for soak in _by_most(sitting, now) if view(soak, now).phase is Phase.MAY_END)
    if any(turn(sitting, run).blocked is Blocked.TOOL for run in sitting.runs):
        yield from _tools_away(sitting, ToolState.IN_USE)
    yield from _waits(sitting)
    yield from (_see_to(sitting, end) for end in loose_ends(sitting) if end.kind is not LooseKind.SOAK)
    yield Instruction(Action.CLOSE, None, "All done: end the session", "Wash hands, sweep up pellets, close bottles.")


def _see_to(sitting: Sitting, end: LooseEnd) -> Instruction:
    beside = soonest(sitting)
    run = next((run for run in sitting.runs if run.plant == end.plant), None)
    return Instruction(Action.LOOSE_END, end.plant, end.way_out, f"{end.words}. Next confirms it.",
                       "" if run is None else _gloves(sitting, run), run=None if run is None else run.id,
                       soak=beside.id if beside else None, loose=end)


def _by_most(sitting: Sitting, now: datetime) -> list[Soak]:
    return sorted(running(sitting), key=lambda soak: (view(soak, now).to_most_s, soak.id))


def _late_soaks(sitting: Sitting, now: datetime) -> Iterator[Instruction]:
    for soak in _by_most(sitting, now):
        if view(soak, now).phase in (Phase.WARN, Phase.OVER):
            yield _end(sitting, soak)


def _open_questions(sitting: Sitting) -> Iterator[Instruction]:
    for run in in_order(sitting):
        step = next_step(sitting, run)
        if step is not None and step.asking:
            yield _at(sitting, Turn(run, step, Blocked.NOT))


def _tools_away(sitting: Sitting, state: ToolState) -> Iterator[Instruction]:
    item = to_soak(sitting, state)
    if item is not None:
        yield Instruction(Action.START_SOAK, None, f"Put {item.name} into {TOOL_SOAK_TITLE}", TOOL_SOAK_WHY,
                          f"It touched {item.plant}: not for another plant before its soak is over." if item.plant else
                          "Its first soak was ended before its least: not clean yet.", tool=item.name,
                          source=TOOL_SOAK_LEAST_MIN.source)


def _hands(sitting: Sitting, now: datetime) -> Iterator[Instruction]:
    """Hands work by run; a tool that may come out of its soak comes out for the run that waits for it.

    What stands open on cleaner plants is seen to before one is begun that may carry something.
    """
    for run in in_order(sitting):
        at = turn(sitting, run)
        if at.blocked is Blocked.NOT:
            yield from (_see_to(sitting, end) for other in before_it(sitting, run)
                        if not knowingly_open(sitting, other) for end in left_open(sitting, other))
            yield _at(sitting, at)
        if at.blocked in (Blocked.TOOL, Blocked.CELL):
            yield from (_end(sitting, soak) for soak in running(sitting)
                        if soak.tool and view(soak, now).phase is not Phase.LEAVE)


def _waits(sitting: Sitting) -> Iterator[Instruction]:
    soak = soonest(sitting)
    if soak is None:
        return
    left = [end for run in sitting.runs if knowingly_open(sitting, run) for end in left_open(sitting, run)]
    page = f"Nothing else can be done until its least is reached{_but(left)}."
    if len(running(sitting)) >= CELLS:
        page = f"All {CELLS} countdowns are taken. {page}"
    plant = None if soak.tool else plant_of(sitting, soak.run)
    meanwhile = _free_for(left) or _held_words(sitting) or "Hands are free: wash them, check the air."
    yield Instruction(Action.WAIT, plant, f"Wait for {whose(sitting, soak)}: {bath(sitting, soak)}", page, meanwhile,
                      run=soak.run, step=soak.step, soak=soak.id, tool=soak.tool)


def _but(left: Sequence[LooseEnd]) -> str:
    """What there is to do all the same: plants that were stopped and left bare or with open cuts."""
    return f", but to see to what was left open: {'; '.join(end.words for end in left)}" if left else ""


def _free_for(left: Sequence[LooseEnd]) -> str:
    ways = "; ".join(end.way_out[:1].lower() + end.way_out[1:] for end in left)
    return f"Hands are free for what was left open: {ways}." if left else ""


def _held_words(sitting: Sitting) -> str:
    """Which plants wait for which others to be finished, and why; "" where none does."""
    held = [run for run in sitting.runs if turn(sitting, run).blocked is Blocked.CLEANER]
    if not held:
        return ""
    cleaner = {other.id for run in held for other in held_by(sitting, run)} - {run.id for run in held}
    first = _listed([run for run in sitting.runs if run.id in cleaner], "is", "are")
    dirtier = {other.plant: other.standing for run in held for other in held_by(sitting, run)
               if rank(other) > rank(run)}
    return f"{held_lead(sitting, dirtier)}: {_listed(held, 'waits', 'wait')} until {first} finished. Wash your hands."


def waits_for(sitting: Sitting, run: Run) -> str:
    """Which cleaner plants are to be finished first, in words; "" where none is."""
    cleaner = held_by(sitting, run)
    return f"waits until {_listed(cleaner, 'is', 'are')} finished" if cleaner else ""


def _listed(runs: Sequence[Run], one: str, more: str) -> str:
    """The plants of these runs with a verb: "101 and 102 wait"."""
    plants = [str(run.plant) for run in runs]
    return f"{plants[0]} {one}" if len(plants) == 1 else f"{', '.join(plants[:-1])} and {plants[-1]} {more}"


def _end(sitting: Sitting, soak: Soak) -> Instruction:
    if soak.tool:
        return Instruction(Action.END_SOAK, None, f"Take {whose(sitting, soak)} out of {soak.what}",
                           "Dry in the air, then clean for the next plant.", soak=soak.id, tool=soak.tool)
    run = next(run for run in sitting.runs if run.id == soak.run)
    step = next(step for step in run.steps if step.id == soak.step)
    number, count = _place(sitting, run, step)
    after = next((item for item in needed(sitting, run) if step.step.id in item.step.after and not item.closed), None)
    left = "; ".join(end.words for end in left_open(sitting, run)) if stopped(sitting, run) else ""
    return Instruction(Action.END_SOAK, run.plant, f"End the soak: {soak.what}",
                       f"Then: {after.step.say}" if after else
                       f"No step follows on this plant{f', but {left}' if left else ''}.",
                       _taken_up(sitting, run), number, count, run.id, step.id, soak.id)


def _at(sitting: Sitting, at: Turn) -> Instruction:
    assert at.step is not None
    step, run = at.step, at.run
    before = counted_before(run, step, sitting.choices) if step.asking else {}
    asked = question(step, sitting.choices, before, left_on(sitting, run),
                     sitting.known.get(run.plant, ())) if step.asking else None
    action = Action.ANSWER if asked else Action.START_SOAK if starts_soak(step) else Action.HANDS
    number, count = _place(sitting, run, step)
    beside = soonest(sitting) if action is Action.HANDS else None
    caution = " ".join(part for part in (_taken_up(sitting, run), step.step.caution,
                                         _known_words(sitting, run, asked)) if part)
    page = asked.page if asked is not None and asked.page else step.step.page
    plant = None if for_tools(step.step) else run.plant
    return Instruction(action, plant, step.step.say, page, caution, number, count, run.id, step.id,
                       beside.id if beside else None, asked,
                       (tool_for(sitting, run) or "") if step.step.tool and not asked else "",
                       answered=0 if step.leaving else len(step.found), source=step.step.source)


def _known_words(sitting: Sitting, run: Run, asked: Question | None) -> str:
    """What stands first on the dial, because it was found on the plant or may have come to it."""
    if asked is None or not asked.values:
        return ""
    names = {choice.key: choice.name for choice in sitting.choices}
    known = [names[key] for key in dict.fromkeys(sitting.known[run.plant]) if key in names]
    return f"On record for {run.plant}: {', '.join(known)}. Look for {'it' if len(known) == 1 else 'these'} first."


def _place(sitting: Sitting, run: Run, step: RunStep) -> tuple[int, int]:
    ids = [item.id for item in needed(sitting, run)]
    return ids.index(step.id) + 1, len(ids)


def _taken_up(sitting: Sitting, run: Run) -> str:
    """What is said as hands come to a plant: what the one before asks for, and what this one will."""
    last = current(sitting)
    if last is not None and last.id == run.id:
        return ""
    if last is not None and apart(last):
        return f"From {last.plant}, kept apart: wash hands, fresh gloves, soak tools, wipe the bench."
    after = "Kept apart: afterwards wash hands, soak tools, wipe the bench." if apart(run) else ""
    return " ".join(filter(None, (_gloves(sitting, run), after)))


def _gloves(sitting: Sitting, run: Run) -> str:
    last = current(sitting)
    if last is None or rank(last) <= rank(run):
        return ""
    return f"Coming from {last.plant} ({last.standing}): fresh gloves first."
