"""What a protocol is made of: steps with their deeds, targets, contact times and questions, and materials."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from greenhouse_desk.domain.journal import Part, ProtocolCheck

SAY_LENGTH = 44
ONLY_IF = ("", "pests")


class Deed(StrEnum):
    """What a step does to the plant; it decides which facts the confirmed step writes into the journal."""

    PREPARE = "prepare"
    HYGIENE = "hygiene"
    UNPOT = "unpot"
    COUNT_ROOTS = "count roots"
    CUT = "cut"
    TREAT = "treat"
    WASH = "wash"
    SCRUB = "scrub"
    SOAK_TOOLS = "soak tools"
    RINSE = "rinse"
    POT = "pot"
    DRESS = "dress"
    POUR = "pour"
    BLOT = "blot"
    AIR = "air"
    INSPECT = "inspect"
    PLACE = "place"

    @property
    def word(self) -> str:
        """The deed as a grower says it."""
        return DEED_WORDS.get(self, self.value)


DEED_WORDS = {Deed.PREPARE: "get ready", Deed.HYGIENE: "clean up", Deed.TREAT: "treat the roots", Deed.POT: "pot up",
              Deed.DRESS: "powder cuts", Deed.BLOT: "blot the crown", Deed.AIR: "fan on", Deed.PLACE: "set apart"}


class Work(StrEnum):
    """Hands, or a soak that goes on by itself."""

    HANDS = "hands"
    SOAK = "soak"


class Asks(StrEnum):
    """What a step asks the grower to record, one question each."""

    LIVING = "living roots"
    DEAD = "dead roots"
    NEW_TIPS = "new tips"
    REMOVED = "share removed"
    CUTS = "cuts made"
    SIGHTINGS = "pests and diseases seen"
    POOL = "pool in the crown"
    GO_ON = "whether to go on"


@dataclass(frozen=True, slots=True)
class ProtocolStep:
    """One step. `say` is the sentence for the wall (at most 44 characters), `page` the longer one, `on` its targets.

    `agent` is a key of agents.toml ("" for none), `strength` in the agent's own percent (None: as the label says),
    `amount_ml` what one plant takes. `minutes` is expected hands time; a soak is first put on by hands and then has
    `least_min` and `most_min` (minutes of contact). `after` are ids of steps that must be over before (a soak: ended).
    `meanwhile` true: may be done while a soak of the same plant runs, once everything in `after` is over; false:
    waits until no soak of this plant runs. `wets` is what it makes wet; `owes` the kinds of house care it leaves
    (care words); `checks` the protocol's own care; `only_if` "pests" for steps that matter only where pests were
    seen. `medium` is what a potting step pots into, `transition` true when that is a move to another kind of medium.
    """

    id: str
    say: str
    page: str
    deed: Deed
    work: Work = Work.HANDS
    on: tuple[Part, ...] = ()
    agent: str = ""
    strength: float | None = None
    amount_ml: float = 0.0
    minutes: float = 1.0
    least_min: float = 0.0
    most_min: float = 0.0
    after: tuple[str, ...] = ()
    wets: tuple[Part, ...] = ()
    owes: tuple[str, ...] = ()
    checks: tuple[ProtocolCheck, ...] = ()
    asks: tuple[Asks, ...] = ()
    tool: bool = False
    only_if: str = ""
    caution: str = ""
    source: str = ""
    meanwhile: bool = False
    medium: str = ""
    transition: bool = False


@dataclass(frozen=True, slots=True)
class Material:
    """Something to lay out: what, how much for one plant (unit "" counts pieces), and once a session or each plant.

    `agent` names the agent of agents.toml this is, for agents that are not measured out in millilitres by the steps.
    """

    what: str
    amount: float
    unit: str = ""
    each: bool = True
    note: str = ""
    agent: str = ""


@dataclass(frozen=True, slots=True)
class Protocol:
    """An ordered treatment. `id` is the file's stem; `own` tells a grower's own from a shipped one."""

    id: str
    title: str
    purpose: str
    steps: tuple[ProtocolStep, ...]
    materials: tuple[Material, ...] = ()
    cautions: tuple[str, ...] = ()
    own: bool = False
    file: str = field(default="", compare=False)
