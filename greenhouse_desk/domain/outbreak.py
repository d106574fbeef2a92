"""An outbreak followed to its end: who is concerned, when each is washed, and whether it is over. Nothing is stored but
the opening; all the rest is worked out from the journals."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from greenhouse_desk.domain.pests_repeat import Interval
from greenhouse_desk.domain.quarantine import Standing
from greenhouse_desk.domain.quarantine_status import CLEAR, EXPOSED, Status


@dataclass(frozen=True, slots=True)
class Wash:
    """One wash of a plan: the first and the last day on which it may be given, and whether it was."""

    opens: date
    latest: date
    given: bool = False


@dataclass(frozen=True, slots=True)
class Concerned:
    """A plant an outbreak concerns: how it stands now, whether the pest was found on it, and its washes."""

    plant: int
    word: str
    why: str
    found: bool
    next: str
    earliest: date | None
    washes: tuple[Wash, ...] = ()

    @property
    def open(self) -> bool:
        """Whether it still keeps the outbreak open."""
        return self.word != "clear"


@dataclass(frozen=True, slots=True)
class Followed:
    """An outbreak: its entry, the plant it was opened for, the care day, and whom it concerns.

    `over` is the care day since which nobody concerned is anything but clear (None: it goes on), `why` says it.
    """

    entry: int
    plant: int
    what: str
    opened: date
    concerned: tuple[Concerned, ...]
    over: date | None
    why: str

    @property
    def washed(self) -> tuple[int, ...]:
        """The plants to take to the bench: the pest was found on them, and they are not clear of it."""
        return tuple(one.plant for one in self.concerned if one.found and one.open)

    @property
    def owing(self) -> tuple[int, ...]:
        """Those of `washed` whose plan still wants a wash; without a plan those that were not treated yet."""
        return tuple(one.plant for one in self.concerned if one.found and one.open and (
            not all(wash.given for wash in one.washes) if one.washes else one.word == "infested"))

    @property
    def watched(self) -> tuple[int, ...]:
        """The plants to look at in a round: they were exposed, and nothing was found on them."""
        return tuple(one.plant for one in self.concerned if not one.found and one.open)


def open_status(standing: Standing | None, what: str) -> Status | None:
    """What holds a plant back because of `what`; None where it is clear of it or has left."""
    if standing is None:
        return None
    return next((one for one in standing.statuses if one.what == what and one.rank > CLEAR), None)


def concerned(now: Mapping[int, Standing], then: Mapping[int, Standing], growing: frozenset[int],
              what: str) -> tuple[Concerned, ...]:
    """Whom an outbreak of `what` concerns: who is held back by it now, and who was when it was opened (`then`).

    Those on which it was found come first, then by number. A plant that left is clear: it harms no one here any more.
    """
    found = []
    for number in sorted({*now, *then}):
        here, before = open_status(now.get(number), what), open_status(then.get(number), what)
        if number not in growing:
            here = None
        kept = here or before
        if kept is None:
            continue
        seen = any(status is not None and status.rank > EXPOSED for status in (here, before))
        found.append(_still(number, here, seen) if here else _over(number, seen, number in growing))
    return tuple(sorted(found, key=lambda one: (not one.found, one.plant)))


def _still(number: int, here: Status, seen: bool) -> Concerned:
    return Concerned(number, here.word, here.why, seen, here.next, here.earliest)


def _over(number: int, seen: bool, growing: bool) -> Concerned:
    return Concerned(number, "clear", "clear since" if growing else "it has left the collection", seen, "", None)


def wash_plan(given: Sequence[date], interval: Interval, first: date, clean: bool) -> tuple[Wash, ...]:
    """The washes of a course: those `given` (care days, oldest first) and what is still wanted.

    That is up to the least number, and one more at a time from there up to the most until a look after the last wash
    was `clean`, as care owes them. With none given the first is on `first`; each next one `low` to `high` days after
    the one before it.
    """
    washes = [Wash(day, day, True) for day in given]
    more = len(given) >= interval.least and bool(given) and not clean
    while len(washes) < (min(len(given) + 1, interval.most) if more else interval.least):
        if not washes:
            washes.append(Wash(first, first))
            continue
        last = washes[-1]
        washes.append(Wash(last.opens + timedelta(days=interval.low), last.latest + timedelta(days=interval.high)))
    return tuple(washes)


def last_to_clear(before: Mapping[int, Standing], those: Sequence[Concerned], what: str,
                  growing: frozenset[int]) -> tuple[int, ...]:
    """The plants `growing` here that were still held back by `what` on the day before an outbreak was over; one that
    left with it became clear of nothing."""
    return tuple(one.plant for one in those
                 if one.plant in growing and open_status(before.get(one.plant), what) is not None)
