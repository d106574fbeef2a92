"""The bench session as values: runs, their steps, tools, questions and the one instruction."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum

from greenhouse_desk.domain.countdown import Soak
from greenhouse_desk.domain.protocols import Asks, ProtocolStep

CELLS = 6
TOOLS = ("cutter A", "cutter B")
FRESH_BLADE = "a fresh blade"
OWN_BLADE = "blade of"


def own_blade(plant: int) -> str:
    """The blade that is laid out for one plant alone, by its number: no other is ever touched with it."""
    return f"{OWN_BLADE} {plant}"


class Key(StrEnum):
    """The five keys that do everything."""

    NEXT = "next"
    SOAK = "soak"
    BACK = "back"
    NOTE = "note"
    UNDO = "undo"


LEAVING = (-1,)
"""What stands in place of answers while it is asked why a step is left out."""


class State(StrEnum):
    """Where a step of a run stands. An open step with `done_at` has its hands work done and questions still open."""

    OPEN = "open"
    SOAKING = "soaking"
    DONE = "done"
    SKIPPED = "skipped"


@dataclass(frozen=True, slots=True)
class RunStep:
    """One copied step of a run, with what was found so far (answers accepted, in the order asked)."""

    id: int
    ordinal: int
    step: ProtocolStep
    state: State = State.OPEN
    done_at: datetime | None = None
    found: tuple[int, ...] = ()

    @property
    def asking(self) -> bool:
        """Whether it waits for an answer: its work is done and its questions are open, or it is to be left out."""
        return self.state is State.OPEN and (self.done_at is not None or self.leaving)

    @property
    def leaving(self) -> bool:
        """Whether it is asked why this step, not begun, is to be left out."""
        return self.state is State.OPEN and self.done_at is None and self.found == LEAVING

    @property
    def closed(self) -> bool:
        return self.state in (State.DONE, State.SKIPPED)


@dataclass(frozen=True, slots=True)
class Run:
    """One protocol run on one plant in the session; `standing` is the plant's pest standing in words."""

    id: int
    plant: int
    name: str
    protocol: str
    title: str
    steps: tuple[RunStep, ...]
    standing: str = "clear"
    standing_why: str = ""
    order: float = 0.0


class ToolState(StrEnum):
    """Whether a tool may touch the next plant."""

    CLEAN = "clean"
    IN_USE = "in use"
    UNCLEAN = "unclean"
    SOAKING = "soaking"


@dataclass(frozen=True, slots=True)
class Tool:
    """A tool: the plant it last touched since it was clean, and until when (aware UTC) its soak must go on."""

    name: str
    state: ToolState = ToolState.CLEAN
    plant: int | None = None
    until: datetime | None = None


@dataclass(frozen=True, slots=True)
class ToolUse:
    """A tool taken to a plant."""

    tool: str
    plant: int
    at: datetime


@dataclass(frozen=True, slots=True)
class PestChoice:
    """A pest or disease that can be named at the bench: its key, its name, and the stages one can tell."""

    key: str
    name: str
    stages: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Sitting:
    """A whole bench session as stored. Runs stand in queue order; soaks hold ended ones too.

    The sets hold plant numbers: `cuts_open` undressed, `wet` leaves or crown wet and not yet dry, `pools` water
    standing in the crown, `aired` moving air on, `unpotted` out of the pot, `pests` with something seen (before or
    in this session), `found` those with something seen in it, `virus` with virus signs, `own_blade` those held back by
    a virus, which have a blade of their own. `tools_before` are the last uses of tools in other sessions that no soak
    made good since; of the agents only `virus_agents` clear viruses from a tool. `ending`: it is asked why the session
    is to end with something open. `limit` is when crowns must be dry, `limit_name` "dusk" and the like.
    `undo_label` is "" when undo would take back something else than a press. `notices` are words on the clocks.
    `known` are by plant the keys of what was found on it or stands against it, the newest first.
    """

    id: int
    started_at: datetime
    runs: tuple[Run, ...] = ()
    soaks: tuple[Soak, ...] = ()
    tool_uses: tuple[ToolUse, ...] = ()
    cuts_open: frozenset[int] = frozenset()
    wet: frozenset[int] = frozenset()
    pools: frozenset[int] = frozenset()
    aired: frozenset[int] = frozenset()
    unpotted: frozenset[int] = frozenset()
    pests: frozenset[int] = frozenset()
    found: frozenset[int] = frozenset()
    virus: frozenset[int] = frozenset()
    tools_before: tuple[ToolUse, ...] = ()
    virus_agents: frozenset[str] = frozenset()
    ending: bool = False
    limit: datetime | None = None
    limit_name: str = ""
    undo_label: str = ""
    undo_deed: int | None = None
    undo_at: datetime | None = None
    choices: tuple[PestChoice, ...] = ()
    notices: tuple[str, ...] = ()
    left_at: datetime | None = None
    ended_at: datetime | None = None
    known: Mapping[int, tuple[str, ...]] = field(default_factory=dict)
    own_blade: frozenset[int] = frozenset()


class Action(StrEnum):
    """What the one instruction wants."""

    HANDS = "hands"
    START_SOAK = "start soak"
    END_SOAK = "end soak"
    ANSWER = "answer"
    WAIT = "wait"
    LOOSE_END = "loose end"
    CLOSE = "close"


@dataclass(frozen=True, slots=True)
class Question:
    """One question: a number from `low` to `high` dialled by `by`, or the index of one of `choices`.

    `start` is where the dial stands unasked; None: at no answer, and nothing can be accepted before something was
    dialled or typed. The first step of a dial at no answer goes to `first` (None: to `low`). `page` says more about it.
    `values` are the answers that are kept, one a choice, where the choices stand in an order of their own.
    """

    prompt: str
    unit: str = ""
    low: int = 0
    high: int = 99
    start: int | None = None
    choices: tuple[str, ...] = ()
    by: int = 1
    asks: Asks | None = None
    first: int | None = None
    page: str = ""
    values: tuple[int, ...] = ()

    def kept(self, at: int) -> int:
        """The answer that is kept for where the dial stands."""
        return self.values[at] if self.values else at

    def told(self, answer: int) -> str:
        """The words of an answer that is kept."""
        if self.choices:
            return self.choices[self.values.index(answer) if self.values else answer]
        return f"{answer} {self.unit}".strip()


class LooseKind(StrEnum):
    """What must not be left behind quietly."""

    SOAK = "soak running"
    AGENT = "agent not rinsed off"
    UNPOTTED = "unpotted"
    CUT = "undressed cut"
    WET = "wet without air"


@dataclass(frozen=True, slots=True)
class LooseEnd:
    """Something left open on a plant (None for a tool's soak), in words, with its one way out."""

    kind: LooseKind
    plant: int | None
    words: str
    way_out: str
    soak: int | None = None


@dataclass(frozen=True, slots=True)
class Instruction:
    """The one thing to do now. `step_no` of `step_count` counts the plant's own steps, from 1 (0: none).

    `run`, `step` and `soak` are the store's ids (beside hands work `soak` is the one that soonest needs hands), `tool`
    the tool it is about. `source` says where the page has its figures from; it is not for the wall.
    """

    action: Action
    plant: int | None
    say: str
    page: str = ""
    caution: str = ""
    step_no: int = 0
    step_count: int = 0
    run: int | None = None
    step: int | None = None
    soak: int | None = None
    question: Question | None = None
    tool: str = ""
    loose: LooseEnd | None = None
    answered: int = 0
    source: str = ""

    def token_for(self, key: Key) -> str:
        """What this very instruction means by `key`: a press that carries another token does nothing."""
        parts = (self.action, self.plant, self.step, self.tool, self.answered, self.loose and self.loose.kind,
                 self.soak if key is Key.SOAK or self.action is Action.END_SOAK else None)
        return "/".join("" if part is None else str(part) for part in parts)


class Ring(StrEnum):
    """How loud the board is: silent, a least reached until acted on, a most near, a most passed."""

    SILENT = "silent"
    CHIME = "chime"
    WARN = "warn"
    LOUD = "loud"
