"""What happened: the kinds of journal entry, their facts, and how facts are written down and read back."""

from __future__ import annotations

import typing
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from greenhouse_desk.domain.journal_contact import Shared, Sharing, VirusTested
from greenhouse_desk.domain.journal_course import Overruled, Settled, Signs
from greenhouse_desk.domain.journal_labels import Labelled
from greenhouse_desk.domain.journal_outbreak import OutbreakOpened
from greenhouse_desk.domain.journal_words import Kind, Leaving, Moving, Part, Purpose, Reply
from greenhouse_desk.domain.journal_year import Flowering, Light, Lit, Phase, Resting, Stage
from greenhouse_desk.domain.written import read, written

__all__ = ["FACTS", "KINDS", "Aired", "Answer", "Arrived", "Blotted", "ClockChanged", "Cut", "Dressed", "Dry",
           "Entry", "Facts", "Flowering", "Kind", "Labelled", "Leaving", "Left", "Light", "Lit", "Looked", "Moving",
           "Note", "OutbreakOpened", "Overruled", "Part", "Phase", "Photo", "Placed", "Potted", "Poured",
           "ProtocolCheck", "Purpose", "Reading", "Released", "Reply", "Resting", "Roots", "Settled", "Shared",
           "Sharing", "Sighted", "Signs", "Stage", "Step", "Treated", "Unpotted", "VirusTested", "Wetted", "facts_of",
           "found_in", "read", "written"]


@dataclass(frozen=True, slots=True)
class Arrived:
    """The plant came into the collection; `source` is the store's key of the source, None when unknown.

    `day_known` False: the entry's day is only when it was written down, so nothing may be counted from it.
    """

    source: int | None = None
    day_known: bool = True


@dataclass(frozen=True, slots=True)
class Placed:
    """The plant stands at a place; `order` sorts plants along the bench (fractions go between neighbours)."""

    place: int
    order: float


@dataclass(frozen=True, slots=True)
class Potted:
    """Potted into `medium` and `pot`; `transition` when it is the move to another kind of medium.

    `day_known` False: the entry's day is only when it was written down, so nothing may be counted from it.
    """

    medium: str
    pot: str = ""
    transition: bool = False
    day_known: bool = True


@dataclass(frozen=True, slots=True)
class Unpotted:
    """Out of its pot, roots bare."""


@dataclass(frozen=True, slots=True)
class Left:
    """Left the collection."""

    how: Leaving
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Looked:
    """An inspection, clean or not; `lens` tells what was used, such as "10x"."""

    clean: bool
    lens: str = ""


@dataclass(frozen=True, slots=True)
class Sighted:
    """A pest or disease seen: `what` is a key of pests.toml or the grower's own word."""

    what: str
    stage: str = ""
    where: str = ""
    count: int = 0


@dataclass(frozen=True, slots=True)
class Released:
    """The plant may stand among the others again: what was held against it until then is over.

    `what` is the pest or disease it is released from, all of them when empty.
    """

    reason: str = ""
    what: str = ""


@dataclass(frozen=True, slots=True)
class Roots:
    """A root count: living and dead roots, new tips, and the share of all roots cut away (percent)."""

    living: int
    dead: int
    new_tips: int = 0
    removed_percent: int = 0


@dataclass(frozen=True, slots=True)
class Cut:
    """`count` cuts made on `part`; they are open until a later entry dresses them."""

    part: Part
    count: int = 1


@dataclass(frozen=True, slots=True)
class Dressed:
    """All open cuts dressed; `agent` is a key of agents.toml."""

    agent: str = ""


@dataclass(frozen=True, slots=True)
class Treated:
    """An agent put on `parts`. `strength` in percent of the agent's own kind (by volume or by mass), None when as sold.

    `minutes` is the contact time kept, None when unknown; `early` tells that it was ended before its least on purpose.
    `rinse` is the store's key of the bench step that rinses the agent off, None where nothing is to be rinsed.
    """

    agent: str
    purpose: Purpose
    parts: tuple[Part, ...] = ()
    strength: float | None = None
    minutes: float | None = None
    early: bool = False
    rinse: int | None = None


@dataclass(frozen=True, slots=True)
class Wetted:
    """Water reached these parts; `pool` when water stands in the crown."""

    parts: tuple[Part, ...]
    pool: bool = False


@dataclass(frozen=True, slots=True)
class Blotted:
    """Crown and axils blotted; no pool stands any more."""


@dataclass(frozen=True, slots=True)
class Aired:
    """Moving air put on the wet plant."""


@dataclass(frozen=True, slots=True)
class Dry:
    """Crown and axils felt dry: the only thing that ends the airing."""


@dataclass(frozen=True, slots=True)
class Poured:
    """Watered: millilitres (None when not measured), with feed or plain, and whether at half strength."""

    ml: int | None = None
    feed: bool = False
    half_strength: bool = False


@dataclass(frozen=True, slots=True)
class Reading:
    """Air at a place: deg C, relative humidity 0 to 1, and air speed in m/s (None when not measured).

    `moving` names how the air moves where its speed was not measured (None: not told either).
    """

    temp_c: float
    rh: float
    air_speed_m_s: float | None = None
    moving: Moving | None = None


@dataclass(frozen=True, slots=True)
class Photo:
    """A photo kept under its SHA-256; `name` is the file name it came with."""

    sha256: str
    name: str = ""


@dataclass(frozen=True, slots=True)
class Note:
    """Free words."""

    text: str


@dataclass(frozen=True, slots=True)
class Step:
    """A confirmed bench step that tells nothing else about the plant."""

    title: str


@dataclass(frozen=True, slots=True)
class Answer:
    """The answer to a care, named by its kind, the entry that caused it, and its place in that row of cares."""

    care: str
    origin: int
    nth: int
    reply: Reply
    until: date | None = None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class ClockChanged:
    """The wall clock jumped by `seconds` against one that runs on in suspend; `used` names the one kept to."""

    seconds: float
    used: str


Facts = (
    Arrived | Placed | Potted | Unpotted | Left | Looked | Sighted | Released | Roots | Cut | Dressed | Treated | Wetted
    | Blotted | Aired | Dry | Poured | Reading | Photo | Note | Step | Answer | ClockChanged | Signs
    | Overruled | Settled | OutbreakOpened | Labelled | Shared | VirusTested | Flowering | Resting | Lit
)

FACTS: dict[Kind, type[Facts]] = {
    Kind.ARRIVED: Arrived, Kind.PLACED: Placed, Kind.POTTED: Potted, Kind.UNPOTTED: Unpotted, Kind.LEFT: Left,
    Kind.LOOKED: Looked, Kind.SIGHTED: Sighted, Kind.RELEASED: Released, Kind.ROOTS: Roots,
    Kind.CUT: Cut, Kind.DRESSED: Dressed,
    Kind.TREATED: Treated, Kind.WETTED: Wetted, Kind.BLOTTED: Blotted, Kind.AIRED: Aired, Kind.DRY: Dry,
    Kind.POURED: Poured, Kind.READING: Reading, Kind.PHOTO: Photo, Kind.NOTE: Note, Kind.STEP: Step,
    Kind.ANSWER: Answer, Kind.CLOCK: ClockChanged, Kind.SIGNS: Signs, Kind.OVERRULED: Overruled,
    Kind.SETTLED: Settled, Kind.OUTBREAK: OutbreakOpened, Kind.LABELLED: Labelled, Kind.SHARED: Shared,
    Kind.TESTED: VirusTested, Kind.FLOWERING: Flowering, Kind.RESTING: Resting, Kind.LIGHT: Lit,
}
KINDS: dict[type[Facts], Kind] = {facts: kind for kind, facts in FACTS.items()}


def found_in(facts: Facts) -> str:
    """The pest or disease that was found, by a look or by a test; "" where the facts tell of no find."""
    if isinstance(facts, Sighted) or (isinstance(facts, VirusTested) and facts.positive):
        return facts.what
    return ""


@dataclass(frozen=True, slots=True)
class ProtocolCheck:
    """Care a protocol's step asks for by itself: look at something, some days after the step."""

    what: str
    days: tuple[int, ...]
    why: str = ""


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the journal: when (aware UTC), what, on which plant or place, and the bench step that wrote it.

    `checks` are the protocol's own checks of that step, as copied when the run was started.
    """

    id: int
    at: datetime
    facts: Facts
    plant: int | None = None
    place: int | None = None
    note: str = ""
    run: int | None = None
    step: int | None = None
    checks: tuple[ProtocolCheck, ...] = ()

    @property
    def kind(self) -> Kind:
        return KINDS[type(self.facts)]


def facts_of(kind: Kind, data: dict[str, Any]) -> Facts:
    """Facts of `kind` read back from JSON's types; ValueError names the field that does not fit."""
    return typing.cast(Facts, read(FACTS[kind], data))
