"""From the board to what bench mode shows: the call, the line under it, the keys' faces and the notices. No Qt."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from greenhouse_desk.domain.bench import Action, Board, Cell, Key, Ring
from greenhouse_desk.domain.bench_turns import ALL_TOOLS
from greenhouse_desk.domain.countdown import Phase, digits_of, spoken
from greenhouse_desk.ui.bench.dial import Dial, Jotter

SURE_S = 10.0
SAID_S = 8.0


@dataclass(frozen=True)
class Said:
    """Words in answer to a press, until when (aware UTC) they stay; `refused` when the press did nothing."""

    words: str
    until: datetime
    refused: bool = False


@dataclass(frozen=True)
class Sure:
    """A press that waits for its second: which key, why (in words), and until when (aware UTC) it waits."""

    key: Key
    words: str
    until: datetime


@dataclass(frozen=True)
class Hands:
    """What the hands are in the middle of."""

    dial: Dial | None = None
    jotter: Jotter | None = None
    leaving: bool = False
    sure: Sure | None = None
    said: Said | None = None

    def at(self, now: datetime) -> Hands:
        """The same once `now` (aware UTC) has come: what had a time to it is over."""
        sure = self.sure if self.sure is not None and now < self.sure.until else None
        said = self.said if self.said is not None and now < self.said.until else None
        return replace(self, sure=sure, said=said)


def overdue(board: Board) -> tuple[Cell, ...]:
    """Soaks past their most, the longest over first."""
    return tuple(sorted((cell for cell in board.cells if cell.view.phase is Phase.OVER),
                        key=lambda cell: cell.view.to_most_s))


def alarm(board: Board, soak_cap: str = "S", stay_cap: str = "") -> str:
    """The alarm in words: whose soak, what is in it, how long over, what to do (`soak_cap`: the soak key's cap).

    `stay_cap` is the key that stays while it is asked whether to leave: no key ends a soak then.
    """
    cells = overdue(board)
    if not cells:
        return ""
    said = [f"{who(cell)} {spoken(-cell.view.to_most_s)} over {its(cell)} most" for cell in cells[:2]]
    rest = f", and {len(cells) - 2} more" if len(cells) > 2 else ""
    todo = f"press {soak_cap} to end it now" if _names(board, cells[0]) else "see to it now"
    if stay_cap:
        todo = f"{stay_cap} stays, see to it"
    return f"{' and '.join(said)}{rest}: {todo}."


def _names(board: Board, cell: Cell) -> bool:
    return board.instruction.action is Action.END_SOAK and board.instruction.soak == cell.soak.id


def who(cell: Cell) -> str:
    """Whose soak, what is in it, and the verb."""
    who = f"{cell.plant}, {cell.title}," if cell.plant is not None else cell.title
    return f"{who} {'are' if cell.soak.tool == ALL_TOOLS else 'is'}"


def its(cell: Cell) -> str:
    """"its", of tools "their"."""
    return "their" if cell.soak.tool == ALL_TOOLS else "its"


def to_go(board: Board) -> str:
    """How long the soak the instruction names still has to its least, as digits."""
    left = [cell.view.to_least_s for cell in board.cells if cell.soak.id == board.instruction.soak]
    return digits_of(left[0]) if left else ""


def in_soak(board: Board) -> int | None:
    """The plant whose soak the instruction names; None where it is the tools', whatever plant hands are on."""
    return next((cell.plant for cell in board.cells if cell.soak.id == board.instruction.soak), None)


def notices(board: Board, hands: Hands, shown: int, lines: Sequence[str]) -> tuple[str, ...]:
    """What the last press did, then what must be said all the while: clocks, tools, what is wrong outside."""
    answer = [hands.said.words] if hands.said is not None and not hands.said.refused else []
    hidden_by_alarm = [board.instruction.caution] if loud(board) and board.instruction.caution else []
    said = [*answer, *hidden_by_alarm, *lines, *board.words]
    hidden = len(board.cells) - shown
    if hidden > 0:
        said.append(f"{hidden} more {'soak runs' if hidden == 1 else 'soaks run'} than this screen can show.")
    return tuple(dict.fromkeys(said))


def shown_cells(board: Board, fit: int) -> tuple[Cell, ...]:
    """The cells that fit: those that soonest need hands, in the order they were started."""
    soonest = sorted(board.cells, key=lambda cell: (cell.view.to_most_s if cell.view.to_least_s <= 0 else
                                                    cell.view.to_least_s))
    kept = {cell.soak.id for cell in soonest[:fit]}
    return tuple(cell for cell in board.cells if cell.soak.id in kept)


Words = dict[Key, tuple[str, str]]


def key_words(hands: Hands, cap: Callable[[Key], str]) -> Words:
    """The keys' words while the hands are in the middle of something; the board's words are meant for the others.

    `cap` says what stands on the real key of a deed: it may be one that types nothing.
    """
    if hands.leaving:
        return {Key.NEXT: ("Stay", "go on here"), Key.SOAK: ("", ""), Key.BACK: ("Stay", "go on here"),
                Key.NOTE: ("Leave", "for another day"), Key.UNDO: ("Stay", "go on here")}
    if hands.jotter is None:
        chosen = hands.dial is not None and hands.dial.question.choices
        return {Key.SOAK: ("Down", "the next one"), Key.BACK: ("Up", "the one before")} if chosen else {}
    if hands.jotter.typing:
        first = ("Phrases", "ready ones") if hands.jotter.empty else ("Keep", "this note")
        others = (Key.SOAK, Key.BACK, Key.NOTE, Key.UNDO)
        return {Key.NEXT: first, **{key: ("", _typed(cap(key), hands.jotter.empty)) for key in others}}
    return {Key.NEXT: ("Keep", "this phrase"), Key.SOAK: ("Phrase", "the next one"),
            Key.BACK: ("Phrase", "the one before"), Key.NOTE: ("Type", "a line of your own"),
            Key.UNDO: ("Drop", "no note")}


def _typed(cap: str, empty: bool) -> str:
    """What a real key does while a note is typed: one with a longer name, such as a pedal's, does nothing."""
    if cap == "Space":
        return "phrases now" if empty else "a space now"
    if len(cap) > 1:
        return "not while you type"
    return "a letter now" if cap.isalpha() else "a sign now"


def own_cap(hands: Hands, key: Key) -> str:
    """The cap of another real key that does what `key` shows now, "" for its own: a note begun is kept by Enter, and
    before it is begun Space turns to phrases, whatever letter the grower bound."""
    if hands.jotter is None or not hands.jotter.typing or key is not Key.NEXT:
        return ""
    return "Space" if hands.jotter.empty else "Enter"


def leave_words(hands: Hands) -> tuple[str, str]:
    """What the target beside the keys does: leave, stay after all, or drop the note begun."""
    if hands.leaving:
        return "Stay", "go on here"
    return ("Drop", "no note") if hands.jotter is not None else ("Leave", "for another day")


def unanswered(hands: Hands) -> bool:
    """Whether a question is shown and nothing was dialled or typed yet, so that there is nothing to accept."""
    return not hands.leaving and hands.jotter is None and hands.dial is not None and hands.dial.value is None


def loud(board: Board) -> bool:
    """Whether the whole screen turns."""
    return board.ring is Ring.LOUD
