"""A grower at the bench: reads the board as anyone standing there would, and says what to press or how long to wait.

Shared by the kill campaign, the played session and the window test, so that all of them go the same way through.
"""

from __future__ import annotations

from dataclasses import dataclass

from greenhouse_desk.domain.bench import Action, Board, Key
from greenhouse_desk.domain.bench_questions import NOTHING_SEEN
from greenhouse_desk.domain.countdown import Phase
from greenhouse_desk.domain.protocols import Asks

COUNTS: dict[Asks | None, int] = {Asks.LIVING: 7, Asks.DEAD: 3, Asks.NEW_TIPS: 2, Asks.CUTS: 3}
"""What the grower counts on every plant."""

HANDS_S = 20.0
"""How long the grower's hands take over one step, in simulated seconds."""


@dataclass(frozen=True, slots=True)
class Move:
    """What the grower does next: press `key` (None: nothing), after `wait_s` seconds.

    `must` tells that nothing goes on before that time (a soak's least), not only that hands take it.
    `number` is the answer (a count, or a choice's place in its list from 0); None where nothing is asked.
    `typed` is that answer in digits: choices are typed from 1.
    """

    key: Key | None
    wait_s: float = 0.0
    must: bool = False
    number: int | None = None
    typed: str = ""


def move(board: Board) -> Move:
    """The next move of a grower who does as told and ends each soak once its least is reached."""
    wanted = board.instruction
    if wanted.action is Action.START_SOAK:
        return Move(Key.SOAK, HANDS_S)
    if wanted.action is Action.END_SOAK:
        return _end_of_soak(board)
    if wanted.action is Action.WAIT:
        return Move(None, max(1.0, min((cell.view.to_least_s for cell in board.cells if cell.view.to_least_s > 0),
                                       default=1.0)), must=True)
    wait_s = HANDS_S if wanted.action is Action.HANDS else 2.0
    question = wanted.question
    if question is None:
        return Move(Key.NEXT, wait_s)
    if question.choices:
        chosen = question.choices.index(NOTHING_SEEN) if NOTHING_SEEN in question.choices else 0
        return Move(Key.NEXT, wait_s, number=chosen, typed=str(chosen + 1))
    usual = question.start or question.first or COUNTS.get(question.asks, question.by)
    count = max(question.low, min(question.high, usual))
    return Move(Key.NEXT, wait_s, number=count, typed=str(count))


def _end_of_soak(board: Board) -> Move:
    cell = next(cell for cell in board.cells if cell.soak.id == board.instruction.soak)
    leave = cell.view.phase is Phase.LEAVE
    return Move(Key.SOAK, cell.view.to_least_s + 1.0 if leave else 2.0, must=leave)
