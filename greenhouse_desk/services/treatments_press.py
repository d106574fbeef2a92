"""One key press at the bench: what it confirms, starts, ends, reopens or notes. Each is one deed."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime

from greenhouse_desk.domain.bench import (
    CELLS,
    Action,
    Instruction,
    Key,
    Run,
    RunStep,
    Sitting,
    Soak,
    State,
    choose,
    dialled,
)
from greenhouse_desk.domain.bench_board import soak_title
from greenhouse_desk.domain.bench_choice import (
    TOOL_AGENT,
    TOOL_SOAK_LEAST_MIN,
    TOOL_SOAK_MOST_MIN,
    TOOL_SOAK_TITLE,
    note_plant,
    reopenable,
)
from greenhouse_desk.domain.bench_facts import Kept, wetted
from greenhouse_desk.domain.bench_questions import accepted, answers, question
from greenhouse_desk.domain.bench_turns import ALL_TOOLS, for_tools, on_plant, running, whose, work_left
from greenhouse_desk.domain.countdown import spoken, view
from greenhouse_desk.domain.faults import OutOfRange, Refused
from greenhouse_desk.domain.journal import Kind, Note
from greenhouse_desk.domain.protocols import ProtocolStep, Work
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.services import care
from greenhouse_desk.services.desk import Done
from greenhouse_desk.services.treatments_clock import mend
from greenhouse_desk.services.treatments_deciding import (
    ask_why_ended,
    ask_why_left_out,
    end_for,
    leave_out,
    reopen_skipped,
    stop,
    take_way_out,
)
from greenhouse_desk.services.treatments_rank import rank_anew
from greenhouse_desk.services.treatments_sitting import PRESSES, Steady, at_bench
from greenhouse_desk.services.treatments_steps import Pressed, end_soak, finish, kept_of
from greenhouse_desk.store import bench, journal
from greenhouse_desk.store.engine import Session

OVER = Refused("This session is over", "It was ended; nothing is changed.", "Start another one.")
GROWERS_OWN = (Kind.NOTE.value, Kind.PHOTO.value)
"""What Back leaves standing: it was not the step that said it."""


@dataclass(frozen=True, slots=True)
class Press:
    """A press with all it may touch."""

    session: Session
    now: datetime
    at: Sitting
    wanted: Instruction
    value: int | None
    sure: bool
    text: str
    steady: Steady

    @property
    def run(self) -> Run:
        return next(run for run in self.at.runs if run.id == self.wanted.run)

    @property
    def step(self) -> RunStep:
        return next(step for step in self.run.steps if step.id == self.wanted.step)


def press(session: Session, now: datetime, session_id: int, key: Key, value: int | None = None, sure: bool = False,
          text: str = "", expect: str = "", steady: Steady = ("", 0.0)) -> Done[Pressed]:
    """What `key` does under the present instruction, at `now` (aware).

    `value` is the dialled answer, `sure` the second press, `text` a note's. `expect` is the instruction's token for
    this key as the grower saw it: when it is another by now, nothing is done. `steady` is the boot id and seconds of
    the clock that runs on in suspend. Raises Refused on an ended session or an answer out of range.
    """
    mended = mend(session, now, steady)
    at = at_bench(session, session_id, now, steady)
    if at.ended_at is not None:
        raise OVER
    wanted = choose(at, now)
    if expect and expect != wanted.token_for(key):
        return _nothing("The instruction has changed meanwhile: nothing was done.")
    done = KEYS[key](Press(session, now, at, wanted, value, sure, text, steady))
    return done if done.label or not mended else replace(done, label="Clock put right")


def note(session: Session, now: datetime, session_id: int, text: str, plant: int | None = None) -> Done[Pressed]:
    """Write a note on `plant`, or on the one the board's note belongs to; else on the session.

    Raises Refused on an ended session, or for a plant that is not in it.
    """
    at = at_bench(session, session_id, now)
    if at.ended_at is not None:
        raise OVER
    if plant is not None and plant not in {run.plant for run in at.runs}:
        raise Refused(f"{plant} is not in this session", "Nothing was written.", "Write it into the plant's journal.")
    wanted = choose(at, now)
    return _write_note(session, now, at, wanted, text, note_plant(at, wanted) if plant is None else plant)


def _next(at: Press) -> Done[Pressed]:
    act = {Action.HANDS: _confirm, Action.ANSWER: _accept, Action.LOOSE_END: _way_out, Action.CLOSE: _close,
           Action.START_SOAK: _leave_out}
    do = act.get(at.wanted.action)
    return do(at) if do else _nothing("Nothing to confirm here: the soak key acts on the soak.")


def _soak(at: Press) -> Done[Pressed]:
    act: dict[Action, Callable[[Press], Done[Pressed]]] = {
        Action.START_SOAK: _start, Action.ANSWER: _more}
    if at.wanted.action is Action.LOOSE_END and not work_left(at.at):
        return _close(at)
    if at.wanted.action in act:
        return act[at.wanted.action](at)
    return _end(at) if at.wanted.soak is not None else _nothing("No soak runs.")


def _back(at: Press) -> Done[Pressed]:
    if at.wanted.action is Action.ANSWER:
        return _dial(at, -1)
    found = reopenable(at.at, at.wanted.run)
    if found is None:
        return _nothing("Nothing to open again here.")
    run, step = found
    soak = bench.soak_of_step(at.session, step.id) if step.step.work is Work.SOAK else None
    also = ""
    if soak is None:
        bench.change_step(at.session, step.id, State.OPEN, None, ())
        bench.withdraw_of_step(at.session, step.id, GROWERS_OWN)
        reopen_skipped(at.session, run, step.id)
        if answers(step, at.at.choices).sighted:
            also = rank_anew(at.session, at.now, at.at.id)
    elif len(running(at.at)) >= CELLS:
        return _nothing("All countdowns are taken: end another soak first.")
    else:
        bench.change_step(at.session, step.id, State.SOAKING, None, ())
        bench.withdraw_of_step(at.session, step.id, (*GROWERS_OWN, Kind.WETTED.value))
        bench.end_soak(at.session, soak, None)
    return _done(f"Back: {run.plant} {_word(step.step)}", f"Open again: {step.step.say}", also)


def _note(at: Press) -> Done[Pressed]:
    return _write_note(at.session, at.now, at.at, at.wanted, at.text, note_plant(at.at, at.wanted))


def _write_note(session: Session, now: datetime, at: Sitting, wanted: Instruction, text: str,
                plant: int | None) -> Done[Pressed]:
    """A note on a plant's run; one on the session is kept with its first run and no plant."""
    if not text.strip():
        return _nothing("The note is empty: nothing was written.")
    run = next((run for run in at.runs if run.plant == plant), at.runs[0])
    step = wanted.step if run.id == wanted.run else None
    journal.add(session, now, Note(text.strip()), plant, run=run.id, step=step)
    return _done(f"Note: {plant or 'session'}", "Note written.")


def _undo(at: Press) -> Done[Pressed]:
    raise Refused("A press cannot take itself back", "Undo belongs to the desk.", "Call its undo.")


KEYS: dict[Key, Callable[[Press], Done[Pressed]]] = {
    Key.NEXT: _next, Key.SOAK: _soak, Key.BACK: _back, Key.NOTE: _note, Key.UNDO: _undo}


def _confirm(at: Press) -> Done[Pressed]:
    _take_tool(at)
    label = f"Next: {at.run.plant} {_word(at.step.step)}"
    if question(replace(at.step, found=()), at.at.choices) is not None:
        bench.change_step(at.session, at.step.id, State.OPEN, at.now, ())
        return _done(label, "Done; now what was found.")
    finish(at.session, at.now, at.at, at.run, at.step, Kept())
    return _done(label, "Done.")


def _leave_out(at: Press) -> Done[Pressed]:
    """A soak that is not to be done on this plant: it is asked why."""
    if at.wanted.step is None:
        return _nothing("The soak key starts it.")
    return ask_why_left_out(at.session, at.run, at.step)


def _accept(at: Press) -> Done[Pressed]:
    asked = at.wanted.question
    assert asked is not None
    try:
        value = accepted(asked, at.value)
    except OutOfRange as error:
        raise Refused("That answer is out of range", f"{asked.prompt} {asked.low} to {asked.high}.",
                      "Dial another one.") from error
    if value is None:
        return _nothing("No answer yet: dial or type one first.")
    if at.wanted.step is None:
        return end_for(at.session, at.now, at.at, value)
    if at.step.leaving:
        return leave_out(at.session, at.now, at.run, at.step, asked, value)
    step = replace(at.step, found=(*at.step.found, value))
    told = asked.told(value)
    also = ""
    if question(step, at.at.choices) is None:
        finish(at.session, at.now, at.at, at.run, step, kept_of(at.at, step))
        if answers(step, at.at.choices).stops:
            stop(at.session, at.now, at.at, at.run, step)
        if answers(step, at.at.choices).sighted:
            also = rank_anew(at.session, at.now, at.at.id)
    else:
        bench.change_step(at.session, step.id, State.OPEN, step.done_at, step.found)
    return _done(f"Answer: {at.run.plant} {asked.asks.value if asked.asks else asked.prompt}: {told}", told, also)


def _start(at: Press) -> Done[Pressed]:
    if at.wanted.run is None:
        soak = Soak(0, TOOL_SOAK_TITLE, TOOL_AGENT, at.now, TOOL_SOAK_LEAST_MIN.value * 60,
                    TOOL_SOAK_MOST_MIN.value * 60, tool=at.wanted.tool, boot=at.steady[0], boot_s=at.steady[1])
        bench.add_soak(at.session, at.at.id, soak)
        return _done(f"Soak: {at.wanted.tool} in {soak.what}", "The clock runs.")
    step = at.step.step
    _take_tool(at)
    soak = Soak(0, soak_title(step, care.agent_names()), step.agent, at.now, step.least_min * 60, step.most_min * 60,
                at.run.id, at.step.id, ALL_TOOLS if for_tools(step) else "", boot=at.steady[0], boot_s=at.steady[1])
    bench.add_soak(at.session, at.at.id, soak)
    bench.change_step(at.session, at.step.id, State.SOAKING, None, ())
    for facts in wetted(step):
        journal.add(at.session, at.now, facts, at.run.plant, run=at.run.id, step=at.step.id)
    label = f"the tools in {soak.what}" if soak.tool else f"{at.run.plant} {soak.what}"
    return _done(f"Soak: {label}", "The clock runs.")


def _end(at: Press) -> Done[Pressed]:
    soak = next(soak for soak in running(at.at) if soak.id == at.wanted.soak)
    shown, who = view(soak, at.now), whose(at.at, soak)
    if shown.to_least_s > 0 and not at.sure:
        least = f"short of {'their' if soak.tool == ALL_TOOLS else 'its'} least"
        return Done("", PRESSES, Pressed(f"{capital(who)}: {spoken(math.ceil(shown.to_least_s))} {least}. "
                                         f"{_sooner(at, soak)}", True))
    early = end_soak(at.session, at.now, at.at, soak)
    return _done(f"Soak ended{' early' if early else ''}: {who}", f"Ended after {spoken(shown.elapsed_s)}.")


def _sooner(at: Press, soak: Soak) -> str:
    """What ending sooner means: a plant may be rinsed sooner, a thing would not be clean."""
    step = next((step.step for run in at.at.runs for step in run.steps if step.id == soak.step), None)
    if step is not None and on_plant(step):
        return "Sooner is allowed on a plant. Press again to end it; it is noted."
    unclean = "They are" if soak.tool == ALL_TOOLS else "It is"
    return f"{unclean} not clean then. Press again to end it early; it is recorded."


def _take_tool(at: Press) -> None:
    if at.wanted.tool:
        bench.add_tool_use(at.session, at.at.id, at.wanted.tool, at.run.plant, at.now)


def _way_out(at: Press) -> Done[Pressed]:
    assert at.wanted.loose is not None
    return take_way_out(at.session, at.now, at.at, at.wanted.loose)


def _close(at: Press) -> Done[Pressed]:
    return ask_why_ended(at.session, at.now, at.at)


def _more(at: Press) -> Done[Pressed]:
    return _dial(at, 1)


def _dial(at: Press, steps: int) -> Done[Pressed]:
    asked = at.wanted.question
    assert asked is not None
    value = dialled(asked, at.value, steps)
    return Done("", PRESSES, Pressed(asked.choices[value] if asked.choices else f"{value}", value=value))


def _word(step: ProtocolStep) -> str:
    return step.deed.word


def _done(label: str, words: str, also: str = "") -> Done[Pressed]:
    return Done(label, PRESSES, Pressed(words, also=also))


def _nothing(words: str) -> Done[Pressed]:
    return Done("", PRESSES, Pressed(words))
