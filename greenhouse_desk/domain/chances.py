"""How likely a plant still carries something: what it was exposed to, thinned out by the clean looks that count.

Looks that a spray masks or that follow each other too closely are no second opinion; the rules of quarantine leave them
out before they come here. No published shares were found for collections at home: each one is marked so.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from greenhouse_desk.domain.care_values import Reason
from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.origins import NO_ORIGIN, Origin
from greenhouse_desk.domain.quarantine_exposure import SHARED, SITTING, TOOL
from greenhouse_desk.domain.quarantine_status import CLEAR, EXPOSED, INFESTED, NEWCOMER, SUSPECT, Status
from greenhouse_desk.domain.sampling import chance_infested, chance_words
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.domain.settings import RULES, HouseRules

MEMORY = "from memory, house rule: no published share was found"
BY_TOOL = Constant(0.5, "share", "plants that catch a pest from a tool not disinfected in between", MEMORY)
BY_PLACE = Constant(0.25, "share", "plants that catch a pest on the bench of one that has it", MEMORY)
BY_SHARED = Constant(0.25, "share", "plants that catch a pest from one they share wash water or a tray with", MEMORY)
BY_SITTING = Constant(0.1, "share", "plants that catch a pest when worked on after one that has it", MEMORY)
UNKNOWN_ORIGIN = Constant(0.2, "share", "newcomers that bring something, from a source nothing is known of", MEMORY)
ORIGIN_WEIGHT = Constant(5, "plants", "how many plants of a source's own record weigh as much as knowing nothing of it",
                         "from memory, house rule")
AFTER_FIND = Constant(0.5, "share", "plants that still carry a pest once they are washed", MEMORY)
UNSEEN = Constant(0.02, "share", "plants that carry something where nothing points to it", MEMORY)


WAYS = {TOOL: BY_TOOL, SHARED: BY_SHARED, SITTING: BY_SITTING}
"""The share of those who catch a pest by how they met it; standing at one place is the rest."""


@dataclass(frozen=True, slots=True)
class Chance:
    """A chance (0 to 1) that a plant carries something, and the steps that lead to it. Its words never say 0 or 100."""

    value: float
    why: tuple[Reason, ...]

    @property
    def words(self) -> str:
        """Whole percents, never 0 or 100."""
        return chance_words(self.value)


def carrying(statuses: Iterable[Status], looks: int, rules: HouseRules, origin: Origin = NO_ORIGIN) -> Chance:
    """The chance that a plant carries anything: of each open status by itself, then together.

    `looks` are the clean looks that count where no status is open. What was seen and not treated since is taken as
    there: "more than 99 %".
    """
    open_ones = [status for status in statuses if status.rank > CLEAR]
    parts = [one_of(status, rules, origin) for status in open_ones] or [_unseen(looks, rules)]
    free = 1.0
    for part in parts:
        free *= 1 - part.value
    steps = tuple(reason for part in parts for reason in part.why)
    return Chance(1 - free, (*steps, Reason(f"So the chance that it carries something is {chance_words(1 - free)}. "
                                            "The parts are taken as independent; no look proves a plant clean.",
                                            "worked out from the steps above")))


def one_of(status: Status, rules: HouseRules, origin: Origin = NO_ORIGIN) -> Chance:
    """The chance that a plant carries what one open status is about."""
    prior, source = _prior(status, origin)
    return _thinned(prior, f"{capital(status.why)}: {_whole(prior)} before any look.", source,
                    status.counted, rules)


def _unseen(looks: int, rules: HouseRules) -> Chance:
    return _thinned(UNSEEN.value, f"Nothing points to a pest: {_whole(UNSEEN.value)} before any look.", UNSEEN.source,
                    looks, rules)


def _thinned(prior: float, told: str, source: str, looks: int, rules: HouseRules) -> Chance:
    finds = rules.look_finds_percent / 100
    after = chance_infested(prior, finds, looks)
    field = RULES["look_finds_percent"].metadata
    counted = f"{looks} clean {'look counts' if looks == 1 else 'looks count'}, each finding " \
              f"{rules.look_finds_percent} % of what is there: {chance_words(after)} left."
    return Chance(after, (Reason(told, source), Reason(counted, f"{field['label']}: {field['source']}; Bayes' rule")))


def _prior(status: Status, origin: Origin) -> tuple[float, str]:
    if status.rank == INFESTED:
        return 1.0, "seen on it, not treated since"
    if status.rank == EXPOSED:
        given = next((share for way, share in WAYS.items() if status.how.startswith(way)), BY_PLACE)
        return given.value, given.source
    if status.rank == NEWCOMER:
        return _newcomer(origin)
    if status.rank == SUSPECT:
        return AFTER_FIND.value, f"a sign that was not tested; {AFTER_FIND.source}"
    return AFTER_FIND.value, AFTER_FIND.source


def _newcomer(origin: Origin) -> tuple[float, str]:
    """From its source's own record, drawn towards what is taken of an unknown one: a clean plant more can only lower
    it, and a single plant, clean or not, says little."""
    if not origin.had:
        return UNKNOWN_ORIGIN.value, UNKNOWN_ORIGIN.source
    weight = ORIGIN_WEIGHT.value
    share = (origin.found + weight * UNKNOWN_ORIGIN.value) / (origin.had + weight)
    return share, (f"your own record: {origin.found} of {origin.had} others from its source, with "
                   f"{weight * UNKNOWN_ORIGIN.value:g} of {weight:g} more that stand for an unknown source; "
                   f"{UNKNOWN_ORIGIN.source}")


def _whole(share: float) -> str:
    return chance_words(share)
