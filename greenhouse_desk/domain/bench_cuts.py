"""Cuts made at the bench, and which dressing step is for which of them: the root ends before potting, others after."""

from __future__ import annotations

from collections.abc import Sequence

from greenhouse_desk.domain.bench_questions import answers
from greenhouse_desk.domain.bench_values import PestChoice, Run, RunStep, State
from greenhouse_desk.domain.protocols import Asks, Deed


def cuts_of(run: Run, dress: RunStep) -> tuple[RunStep, ...]:
    """The cutting steps whose cuts `dress` is for: those it comes after, or all of them where it names none."""
    cuts = tuple(step for step in run.steps if step.step.deed is Deed.CUT)
    return tuple(step for step in cuts if step.step.id in dress.step.after) or cuts


def made(cut: RunStep, choices: Sequence[PestChoice]) -> bool:
    """Whether a cutting step that is over made a cut: not left out, and no "0" told."""
    return cut.state is State.DONE and answers(cut, choices).numbers.get(Asks.CUTS, 1) > 0


def needless(run: Run, dress: RunStep, choices: Sequence[PestChoice], cuts_open: bool) -> bool:
    """Whether there is nothing to dress for an open dressing step: its cutting steps are over, and no cut of theirs is
    open. `cuts_open` tells whether the plant has any open cut."""
    cuts = cuts_of(run, dress)
    if not cuts or not all(cut.closed for cut in cuts):
        return False
    return not cuts_open or not any(made(cut, choices) for cut in cuts)


def others_open(run: Run, dress: RunStep, choices: Sequence[PestChoice]) -> bool:
    """Whether cuts stay open when `dress` is done: another dressing step is for cuts that this one leaves."""
    mine = cuts_of(run, dress)
    later = [step for step in run.steps if step.step.deed is Deed.DRESS and step.state is State.OPEN and step != dress]
    return any(cut not in mine and (made(cut, choices) or not cut.closed) for step in later
               for cut in cuts_of(run, step))
