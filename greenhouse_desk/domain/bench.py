"""The bench session: whose turn it is, what the hands do now, which soaks run, and what stands open at the end."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from greenhouse_desk.domain.protocols import ProtocolStep


class Key(StrEnum):
    """The five keys that do everything."""

    NEXT = "next"
    SOAK = "soak"
    BACK = "back"
    NOTE = "note"
    UNDO = "undo"


class State(StrEnum):
    """Where a step of a run stands."""

    OPEN = "open"
    SOAKING = "soaking"
    DONE = "done"
    SKIPPED = "skipped"


@dataclass(frozen=True, slots=True)
class Soak:
    """A contact time that never pauses. Instants aware UTC, `least_s` and `most_s` seconds; `run` None for tools.

    `boot` and `boot_s` name the machine's boot and its steady clock at the start ("" and 0 when unknown): they tell
    a changed wall clock from time that really passed.
    """

    id: int
    what: str
    agent: str
    started_at: datetime
    least_s: float
    most_s: float
    run: int | None = None
    step: int | None = None
    tool: str = ""
    ended_at: datetime | None = None
    early: bool = False
    boot: str = ""
    boot_s: float = 0.0


@dataclass(frozen=True, slots=True)
class RunStep:
    """One copied step of a run, with what was found so far (answers accepted, in the order asked)."""

    id: int
    ordinal: int
    step: ProtocolStep
    state: State = State.OPEN
    done_at: datetime | None = None
    found: tuple[int, ...] = ()


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
