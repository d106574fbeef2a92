"""Trace back and forward: along contacts in time order only, where a pest can have come from and whom it can reach."""

from __future__ import annotations

import heapq
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from greenhouse_desk.domain.faults import within

LONGEST_WINDOW_DAYS = 36_525
DAY_S = 100_000
"""Room for the seconds of one care day, the longest of the year included."""
LAST_S = DAY_S - 1

Steps = dict[int, list[tuple[int, int, int, int | None, "Contact"]]]
"""From each plant: the other one, the first and the last instant one can pass, when one arrives where that is later
(None: at once), and the contact."""


@dataclass(frozen=True, slots=True)
class Contact:
    """Plants `a` and `b` met from `start` to `end`, both days included; a pest can pass either way on any of them.

    `one_way`: only from `a` to `b`, as a blade carries from the plant it cut first. `from_s` and `to_s` are seconds
    into the first and the last day, where the instants are known; else the whole days count, in any order. `left` is
    the day and the second at which `a` was done with, where `b` was reached only after that.
    """

    a: int
    b: int
    start: date
    end: date
    how: str = ""
    one_way: bool = False
    from_s: int = 0
    to_s: int = LAST_S
    left: tuple[date, int] | None = None

    @property
    def timed(self) -> bool:
        """Whether more is known than the days."""
        return self.from_s > 0 or self.to_s < LAST_S


@dataclass(frozen=True, slots=True)
class Reached:
    """A plant at the other end of a trace; `path` are the contacts in the order the pest walked them."""

    plant: int
    day: date
    path: tuple[Contact, ...]


@dataclass(frozen=True, slots=True)
class Trace:
    """`back`: where it can have come from, latest day first; `forward`: whom it can have reached, earliest first.
    """

    back: tuple[Reached, ...]
    forward: tuple[Reached, ...]


def trace(contacts: Iterable[Contact], plant: int, day: date, window_days: int) -> Trace:
    """Where a pest found on `plant` on `day` can have come from, and whom it can have reached from there.

    Back: along contacts in time order, each walked on a day from `day - window_days` to `day`; a plant's `day` is the
    latest on which it can have left there. Forward: from `plant` from `day - window_days` on, without an end; a plant's
    `day` is the earliest on which it can have arrived. Within one day contacts go in the order of their instants; one
    of which only the day is known may come before or after any other of it. The plant itself is in neither.
    `window_days` from 0 to 36525, else OutOfRange.
    """
    within("window_days", window_days, 0, LONGEST_WINDOW_DAYS)
    first = max(1, day.toordinal() - int(window_days)) * DAY_S
    last = day.toordinal() * DAY_S + LAST_S
    later: Steps = defaultdict(list)
    earlier: Steps = defaultdict(list)
    for contact in contacts:
        start, end = _tick(contact.start, contact.from_s), _tick(contact.end, contact.to_s)
        if end < first:
            continue  # with that no day before the window is ever reached
        if contact.left is not None:
            left = _tick(*contact.left)
            if left < first:
                continue
            later[contact.a].append((contact.b, first, left, start, contact))
            earlier[contact.b].append((contact.a, -last, -start, -left, contact))
            continue
        _add(later, contact, contact.a, contact.b, start, end)
        if start <= last:
            _add(earlier, contact, contact.b, contact.a, -end, -start)
    ahead = _walk(later, plant, first)
    behind = _walk(earlier, plant, -last)
    return Trace(tuple(Reached(one, date.fromordinal(-at // DAY_S), path) for one, at, path in behind),
                 tuple(Reached(one, date.fromordinal(at // DAY_S), path[::-1]) for one, at, path in ahead))


def in_order(path: Iterable[Contact]) -> bool:
    """Whether contacts can be walked one after the other in time."""
    now = 0
    for contact in path:
        opens, closes = _tick(contact.start, contact.from_s), _tick(contact.end, contact.to_s)
        if now > (closes if contact.left is None else _tick(*contact.left)):
            return False
        now = max(now, opens)
    return True


def _tick(day: date, seconds: int) -> int:
    return day.toordinal() * DAY_S + seconds


def _add(steps: Steps, contact: Contact, here: int, there: int, opens: int, closes: int) -> None:
    steps[here].append((there, opens, closes, None, contact))
    if not contact.one_way:
        steps[there].append((here, opens, closes, None, contact))


def _walk(steps: Steps, origin: int, begin: int) -> Iterator[tuple[int, int, tuple[Contact, ...]]]:
    """Each plant reached from `origin`, in order of time: the plant, its earliest instant, the contacts from it to
    `origin`.

    Time runs forward here; a trace back hands it in negated. Plants of one instant are taken in the order they were
    reached, which keeps walks within a day short.
    """
    arrival, came = {origin: begin}, dict[int, tuple[int, Contact]]()
    waiting: dict[int, list[int]] = {begin: [origin]}
    times = [begin]
    while times:
        now = heapq.heappop(times)
        for here in waiting[now]:  # grows while it is walked
            if arrival[here] != now:
                continue  # it was reached sooner, and gone on from, meanwhile
            for there, opens, closes, lands, contact in steps.get(here, ()):
                at = max(now, opens)
                on = at if lands is None else lands
                if at > closes or on >= arrival.get(there, on + 1):
                    continue
                arrival[there], came[there] = on, (here, contact)
                if on not in waiting:
                    waiting[on] = []
                    heapq.heappush(times, on)
                waiting[on].append(there)
    for found in sorted(came, key=lambda plant: (arrival[plant], plant)):
        yield found, arrival[found], _path(found, came)


def _path(plant: int, came: dict[int, tuple[int, Contact]]) -> tuple[Contact, ...]:
    path = []
    while plant in came:
        plant, contact = came[plant]
        path.append(contact)
    return tuple(path)
