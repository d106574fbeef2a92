"""The values a transition is told in: a look with what was seen, the verdict on it, the course from start to end."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from greenhouse_desk.domain.care_values import Reason
from greenhouse_desk.domain.journal_course import Signs


class Verdict(StrEnum):
    """What a look says about the course."""

    UNSEEN = "not looked at yet"
    STAY = "stay the course"
    AGAIN = "look again"
    STEP_IN = "step in"
    SETTLED = "settled"


class End(StrEnum):
    """How a course ended, or that it has not."""

    RUNNING = "under way"
    SETTLED = "settled"
    DIED = "died"
    LEFT = "left the collection"
    MOVED = "moved to another medium"
    UNWATCHED = "no longer watched"


UNSIGNED = Signs()


@dataclass(frozen=True, slots=True)
class Look:
    """All that was written down on one care day: the newest root count (None: not counted) and the signs together.

    `rot` is the rot seen on the plant since the look before, "" for none; `entry` is the newest entry of the look.
    """

    day: date
    at: datetime
    entry: int
    living: int | None = None
    dead: int | None = None
    new_tips: int | None = None
    signs: Signs = UNSIGNED
    rot: str = ""

    @property
    def dead_share(self) -> float | None:
        """The share of the roots counted that were dead, None where none were counted."""
        if self.living is None or self.dead is None or self.living + self.dead == 0:
            return None
        return self.dead / (self.living + self.dead)


@dataclass(frozen=True, slots=True)
class Judged:
    """The verdict on a look. `rule` is what the rules say, `verdict` what holds: the grower may have overruled it.

    `line` is the evidence in a few words, `days` to the look the verdict asks for (0: the usual row of looks goes on),
    `steps` what to do when stepping in. `why` ends with the conclusion. Where the grower overruled it, `overruled` is
    the reason, `entry` where it is written, and `asked_on` the care day from which `days` count then.
    """

    look: Look
    rule: Verdict
    verdict: Verdict
    line: str
    why: tuple[Reason, ...]
    days: int = 0
    steps: tuple[str, ...] = ()
    overruled: str = ""
    entry: int | None = None
    asked_on: date | None = None

    @property
    def since(self) -> date:
        """The care day from which what it asks for is counted."""
        return self.asked_on or self.look.day


@dataclass(frozen=True, slots=True)
class Course:
    """A transition of one plant. `origin` is the potting that began it on the care day `start`.

    `came_from` and `medium` are the media before and after, `genus` as spelled out. `last` is the care day it ended
    on, or today; `stepped` are the days on which the roots were taken in hand after the start. `by_rule` tells that no
    word of the grower settled it.
    """

    plant: int
    genus: str
    origin: int
    start: date
    came_from: str
    medium: str
    looks: tuple[Judged, ...]
    end: End
    last: date
    stepped: tuple[date, ...] = ()
    why_ended: tuple[Reason, ...] = ()
    by_rule: bool = False

    @property
    def days(self) -> int:
        """Days from the start until it ended, or until today."""
        return (self.last - self.start).days

    @property
    def week(self) -> int:
        """The week it is in; the first seven days are week 1."""
        return self.days // 7 + 1

    @property
    def verdict(self) -> Verdict:
        """The verdict at the last look."""
        if self.end is End.SETTLED:
            return Verdict.SETTLED
        return self.looks[-1].verdict if self.looks else Verdict.UNSEEN
