"""How every plant stands with pests and diseases, from what was recorded on it and on those it met, nothing else.

Read: sightings, looks, tests, treatments, moves, arrivals, releases and departures; tools and sittings at the bench;
wash water and trays shared. Each pest or disease stands by itself: clear of one, a plant can be exposed to another.
Exposure follows direct contact while the other could pass something on, `trace_days` before the find included, and no
time alone ends it; sharing a place means standing on the same bench or shelf, near or far. Not read, because nobody
writes it down: hands between sessions.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, tzinfo

from greenhouse_desk.domain.contacts import NOTHING_HANDLED, Handled, share_of
from greenhouse_desk.domain.journal import Released
from greenhouse_desk.domain.origins import NO_ORIGIN, Origin, origins
from greenhouse_desk.domain.own_words import NO_WORDS, OwnWords
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.quarantine_exposure import Exposure, exposures
from greenhouse_desk.domain.quarantine_finds import Life
from greenhouse_desk.domain.quarantine_looks import NO_NAMES, Counting
from greenhouse_desk.domain.quarantine_newcomers import newcomer
from greenhouse_desk.domain.quarantine_own import Own, owns
from greenhouse_desk.domain.quarantine_status import (
    CLEAR,
    EXPOSED,
    INFESTED,
    NEVER_LOOKED,
    NEWCOMER,
    SUSPECT,
    TREATED,
    Status,
    after_exposure,
    after_find,
)
from greenhouse_desk.domain.sampling import chance_infested, chance_words, sample_size, sample_size_large, wilson
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.domain.trace import Contact, Reached, Trace, trace

__all__ = ["CLEAR", "EXPOSED", "INFESTED", "NEVER_LOOKED", "NEWCOMER", "SUSPECT", "TREATED", "Contact", "Handled",
           "Reached", "Standing", "Status", "Trace", "chance_infested", "chance_words", "sample_size",
           "sample_size_large", "standings", "trace", "wilson"]


@dataclass(frozen=True, slots=True)
class Standing:
    """A plant over all pests and diseases: the worst word, why, and its rank for the bench, which goes from the lowest
    to the highest.

    `next` is what must happen, `earliest` the first day all that holds it back can be over (None: no day can be said),
    `entry` the journal entry that put it there; `statuses` each pest or disease by itself, the worst first.
    """

    word: str
    why: str
    rank: int
    next: str = ""
    earliest: date | None = None
    entry: int | None = None
    statuses: tuple[Status, ...] = ()


@dataclass(frozen=True, slots=True)
class Around:
    """What every plant's standing is worked out with besides journals: isolation places, the instant, the rules, keys
    of diseases."""

    apart: frozenset[int]
    now: datetime
    by: Counting
    diseases: frozenset[str]

    def same_day(self, other: Around) -> bool:
        """Whether a standing worked out with the other holds: of the instant only its care day is asked."""
        return (self.by == other.by and self.apart == other.apart and self.diseases == other.diseases
                and self.by.day(self.now) == other.by.day(other.now))


@dataclass(frozen=True, slots=True)
class Answered:
    """One plant's standing, with all that is its own in what it rests on: its journal, what it met, its source."""

    own: Own
    met: Mapping[str, Exposure]
    origin: Origin
    standing: Standing


@dataclass(frozen=True, slots=True)
class Answer:
    """How every plant stands, with what that rests on, so that the next answer works out again only what differs."""

    around: Around
    answered: Mapping[int, Answered]

    @property
    def standings(self) -> dict[int, Standing]:
        """Each plant's standing, by number."""
        return {number: one.standing for number, one in self.answered.items()}


def standings(histories: Iterable[History], isolation_places: frozenset[int], now: datetime, rules: HouseRules,
              zone: tzinfo = UTC, handled: Handled = NOTHING_HANDLED,
              diseases: frozenset[str] = frozenset(), names: Mapping[str, str] = NO_NAMES,
              own: OwnWords = NO_WORDS) -> dict[int, Standing]:
    """Each plant's standing at `now` (aware), by number; days are care days of `zone`.

    `histories` are all plants, those that left too: they keep their past and may have exposed others. `handled` is what
    passed between plants at the bench, `diseases` the keys that name no pest, `names` what
    the keys are called, `own` the house's own words.
    """
    by = Counting(rules, zone, names, own=own)
    return answer(histories, handled, Around(isolation_places, now, by, diseases)).standings


def answer(histories: Iterable[History], handled: Handled, around: Around, last: Answer | None = None) -> Answer:
    """The standings, as `standings` gives them; what cannot differ from the `last` answer is taken from there.

    A plant's own part is worked out again when its journal or the rules differ, its standing when its own part, what it
    met, its source's record or the care day does. Who met whom is joined anew each time: one entry can change it for
    any plant.
    """
    around = replace(around, by=replace(around.by, diseases=around.diseases))
    now, by = around.now, around.by
    kept = last.answered if last is not None and last.around.by == by else {}
    every = list(owns(histories, now, by, {number: one.own for number, one in kept.items()}))
    sick = {one.number: one.spells for one in every if one.spells}
    stays = (stay for one in every for stay in one.stays)
    shares = (share_of(entry) for one in every for entry in one.life.shared)
    met = exposures(stays, handled, sick, now, shares, by.own) if sick else {}
    came = origins([one.life for one in every], around.apart, now, by)
    if last is None or not around.same_day(last.around):
        kept = {}
    return Answer(around, {one.number: _answered(one, met.get(one.number, {}), came.get(one.number, NO_ORIGIN), around,
                                                 kept.get(one.number)) for one in every})


def _answered(one: Own, met: Mapping[str, Exposure], came: Origin, around: Around, kept: Answered | None) -> Answered:
    """The `kept` one where it rests on the same and nothing goes on: what does is since now, and may come after what
    it came before."""
    same = kept is not None and kept.own is one and kept.met == met and kept.origin == came
    if kept is not None and same and not any(exposure.going for exposure in met.values()):
        return kept
    return Answered(one, met, came, _standing(one.life, met, came, around))


def _standing(one: Life, met: Mapping[str, Exposure], came: Origin, around: Around) -> Standing:
    now, by = around.now, around.by
    found = [after_find(one, what, now, by, by.is_disease(what)) for what, finds in one.finds.items()
             if finds[-1].released is None or finds[-1].test is not None]
    if one.history.plant.left is None:
        again = {status.what for status in found if status.rank > CLEAR}
        cleared = max((status.since for status in found if status.rank == CLEAR and status.found and status.since),
                      default=None)
        exposed = (after_exposure(one, exposure, now, by) for what, exposure in met.items() if what not in again)
        found += [status for status in exposed if status is not None]
        held = max((status.earliest for status in found if status.rank > CLEAR and status.earliest), default=date.min)
        new = newcomer(one, around.apart, now, by, cleared, came, held)
        found += [new] if new is not None else []
    found.sort(key=lambda status: (-status.rank, status.since is None, status.since, status.what))
    return _worst(one, found, {what for what, exposure in met.items() if exposure.going}, by)


def _all_over(kept: list[Status]) -> date | None:
    """The first day on which the last of all that holds a plant back can be over; of one that is clear the day it was,
    None where something has no day."""
    held = [status.earliest for status in kept if status.rank > CLEAR] or [kept[0].earliest]
    known = [day for day in held if day is not None]
    return max(known) if len(known) == len(held) else None


def _next(kept: list[Status], going: set[str]) -> str:
    """What the worst asks for, and before it whom to set apart, where an exposure beside it goes on."""
    sick = {number for status in kept[1:] if status.rank == EXPOSED and status.what in going
            for number in status.sources}
    apart = sorted(sick - set(kept[0].sources))
    return f"set {', '.join(map(str, apart))} apart; {kept[0].next}" if apart else kept[0].next


def _worst(one: Life, kept: list[Status], going: set[str], by: Counting) -> Standing:
    looks = len(one.looked)
    if kept and (kept[0].rank > CLEAR or looks):
        worst = kept[0]
        also = "".join(f"; also {other.word}: {other.named}" for other in kept[1:] if other.rank > CLEAR and other.what)
        return Standing(worst.word, worst.why + also, worst.rank, _next(kept, going), _all_over(kept), worst.entry,
                        tuple(kept))
    rank = CLEAR if looks else NEVER_LOOKED
    if one.releases:
        last = one.releases[-1]
        reason = last.facts.reason if isinstance(last.facts, Released) else ""
        return Standing("clear", f"released on {by.told(last.at)}{': ' if reason else ''}{reason}", rank, entry=last.id)
    if not looks:
        return Standing("clear", "not yet looked at: nothing was found because no look is written down", rank)
    return Standing("clear", f"nothing found in {looks} {'look' if looks == 1 else 'looks'}", rank)
