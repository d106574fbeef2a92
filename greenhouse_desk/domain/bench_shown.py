"""What the board of bench mode shows at one instant, as values."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime

from greenhouse_desk.domain.bench_values import Instruction, Key, LooseEnd, Ring
from greenhouse_desk.domain.countdown import CountdownView, Soak


@dataclass(frozen=True, slots=True)
class Cell:
    """One running soak on the board; a tool's soak is titled with the tool's name and has no plant."""

    soak: Soak
    plant: int | None
    title: str
    view: CountdownView
    note: str = ""


@dataclass(frozen=True, slots=True)
class QueueRow:
    """One plant of the queue, in its order, with what it does or waits for.

    `still` is what stands open on it: a cut from when it is made to its dressing, and what was left open though the
    work on it is over: it is not done then.
    """

    run: int
    plant: int
    standing: str
    why: str
    words: str
    current: bool
    done: bool
    still: str = ""


@dataclass(frozen=True, slots=True)
class ToolPanel:
    """The tool to take up now, or the one that is not clean yet; `keep` says what the others do."""

    title: str
    tool: str
    detail: str
    keep: str = ""


@dataclass(frozen=True, slots=True)
class KeyFace:
    """A key as it now reads; a key that is not live says why in `sub`."""

    key: Key
    word: str
    sub: str
    live: bool


@dataclass(frozen=True, slots=True)
class Board:
    """Everything bench mode shows at one instant. `waiting` counts plants that wait for a free countdown, `note_for` is
    the plant a note begun now belongs to (None: the session)."""

    now: datetime
    instruction: Instruction
    cells: tuple[Cell, ...]
    waiting: int
    queue: tuple[QueueRow, ...]
    tool: ToolPanel | None
    keys: tuple[KeyFace, ...]
    ring: Ring
    loose_ends: tuple[LooseEnd, ...]
    head: str
    clock: str
    words: tuple[str, ...] = field(default=())
    note_for: int | None = None
