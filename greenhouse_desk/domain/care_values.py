"""The values care is told in: its kinds, its windows, and the reasons behind it. No care is ever stored."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from greenhouse_desk.domain.figures import plainly


class CareKind(StrEnum):
    """What kind of attention is owed."""

    RINSE = "rinse off the agent"
    AIR = "air until dry"
    PLAIN_WATER = "plain water"
    HALF_FEED = "half-strength feed"
    CROWN_CHECK = "crown check"
    CUT_CHECK = "cut check"
    DRESS_CUT = "dress the cut"
    POT_UP = "pot up"
    ROOT_CHECK = "root check"
    FIRST_WASH = "first wash"
    WASH_REPEAT = "repeat the wash"
    PEST_LOOK = "look for the pest"
    CHECK = "protocol check"
    STEP_IN = "step in"
    LOOK_AGAIN = "look again"
    DRY_REST = "dry rest"
    REPOT_WINDOW = "repotting window"


WASHES = (CareKind.FIRST_WASH, CareKind.WASH_REPEAT)
"""The washes against pests that can be owed."""
Moment = date | datetime


@dataclass(frozen=True, slots=True)
class Reason:
    """One step of "why?": a sentence built from the values used, and its source, mark or entry."""

    text: str
    source: str

    @property
    def shown(self) -> str:
        """The source as it is shown, its mark in plain words."""
        return plainly(self.source)


@dataclass(frozen=True, slots=True)
class Drying:
    """An open airing: wet since, earliest and latest likely dry (None: never in this air), and the limit with its name.

    `pool` asks for blotting first; `aired` tells whether moving air was put on; `gain_hours` is how much sooner it is
    dry, at the slow end, by the next thing to do (blot a pool, else put the fan on). `after_rinse`: an agent is on it
    yet, and what is rinsed is wet anew. All instants aware UTC.
    """

    wet_since: datetime
    earliest: datetime | None
    latest: datetime | None
    limit: datetime | None
    limit_name: str
    pool: bool
    aired: bool
    gain_hours: float = 0.0
    after_rinse: bool = False


@dataclass(frozen=True, slots=True)
class PutOff:
    """That a care was put off: the care day it would have been due, and the one it waits for now."""

    was: date
    until: date


@dataclass(frozen=True, slots=True)
class Care:
    """One thing owed to one plant. `opens`, `due`, `latest` are care days (date) or instants (aware UTC datetime).

    `what` is the full wording, `short` fits a card (at most 24 characters, without the date). `origin` is the entry
    that caused it and `nth` its place among that entry's cares of this kind: (kind, origin, nth) names a care.
    `why` is the reasoning, last step the conclusion; never empty. `hold` marks a stretch in which something must not
    be given. `missed` is when an alarm for it rang unanswered last, None when none did. `put_off` tells that the grower
    moved it, None when nobody did. `usual` tells that only its genus is known to do so, without a word of the grower:
    it is never firm for others.
    """

    plant: int
    kind: CareKind
    what: str
    short: str
    opens: Moment
    due: Moment
    latest: Moment | None
    why: tuple[Reason, ...]
    origin: int
    nth: int = 0
    hold: bool = False
    drying: Drying | None = None
    place: int | None = None
    missed: datetime | None = None
    put_off: PutOff | None = None
    usual: bool = False
