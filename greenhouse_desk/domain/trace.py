"""Trace back and forward: along contacts in time order only, where a pest can have come from and whom it can reach."""

from __future__ import annotations

import heapq
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from greenhouse_desk.domain.faults import within

LONGEST_WINDOW_DAYS = 36_525

Steps = dict[int, list[tuple[int, int, int, "Contact"]]]
"""From each plant: the other one, the first and the last day one can pass, and the contact."""


@dataclass(frozen=True, slots=True)
class Contact:
    """Plants `a` and `b` met from `start` to `end`, both days included; a pest can pass either way on any of them.

    `one_way`: only from `a` to `b`, as a blade carries from the plant it cut first.
    """

    a: int
    b: int
    start: date
    end: date
    how: str = ""
    one_way: bool = False


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
    `day` is the earliest on which it can have arrived. Several contacts may be walked in one day. The plant itself is
    in neither. `window_days` from 0 to 36525, else OutOfRange.
    """
    within("window_days", window_days, 0, LONGEST_WINDOW_DAYS)
    first, last = max(1, day.toordinal() - int(window_days)), day.toordinal()
    later: Steps = defaultdict(list)
    earlier: Steps = defaultdict(list)
    for contact in contacts:
        start, end = contact.start.toordinal(), contact.end.toordinal()
        if end < first:
            continue  # with that no day before the window is ever reached
        _add(later, contact, contact.a, contact.b, start, end)
        if start <= last:
            _add(earlier, contact, contact.b, contact.a, -end, -start)
    ahead = _walk(later, plant, first)
    behind = _walk(earlier, plant, -last)
    return Trace(tuple(Reached(one, date.fromordinal(-at), path) for one, at, path in behind),
                 tuple(Reached(one, date.fromordinal(at), path[::-1]) for one, at, path in ahead))


def _add(steps: Steps, contact: Contact, here: int, there: int, opens: int, closes: int) -> None:
    steps[here].append((there, opens, closes, contact))
    if not contact.one_way:
        steps[there].append((here, opens, closes, contact))


def _walk(steps: Steps, origin: int, begin: int) -> Iterator[tuple[int, int, tuple[Contact, ...]]]:
    """Each plant reached from `origin`, in order of day: the plant, its earliest day, the contacts from it to `origin`.

    Days run forward here; a trace back hands its days in negated. Plants of one day are taken in the order they were
    reached, which keeps walks within a day short.
    """
    arrival, came = {origin: begin}, dict[int, tuple[int, Contact]]()
    waiting: dict[int, list[int]] = {begin: [origin]}
    days = [begin]
    while days:
        today = heapq.heappop(days)
        for here in waiting[today]:  # grows while it is walked
            if arrival[here] != today:
                continue  # it was reached sooner, and gone on from, meanwhile
            for there, opens, closes, contact in steps.get(here, ()):
                on = max(today, opens)
                if on > closes or on >= arrival.get(there, on + 1):
                    continue
                arrival[there], came[there] = on, (here, contact)
                if on not in waiting:
                    waiting[on] = []
                    heapq.heappush(days, on)
                waiting[on].append(there)
    for found in sorted(came, key=lambda plant: (arrival[plant], plant)):
        yield found, arrival[found], _path(found, came)


def _path(plant: int, came: dict[int, tuple[int, Contact]]) -> tuple[Contact, ...]:
    path = []
    while plant in came:
        plant, contact = came[plant]
        path.append(contact)
    return tuple(path)
