"""The trace within days against brute force: contacts at known hours and at unknown ones, every path tried."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from itertools import product

import pytest

from greenhouse_desk.domain.quarantine import Contact, trace
from greenhouse_desk.domain.trace import DAY_S, LAST_S
from tests.outside.test_trace import DAY, PLANTS, walks

WORLDS = 300
HOURS = (0, 20_000, 40_000, 60_000, 80_000, LAST_S)
"""The seconds at which something may happen: contacts begin and end at one of them."""


def world(seed: int) -> tuple[list[Contact], int]:
    """Up to nine contacts among six plants, nearly all within two days; some timed, some known by the day alone, some
    carried from the one to the other by something that was done with the first before; and a window."""
    dice = random.Random(f"hours {seed}")
    made = []
    for _ in range(dice.randint(2, 9)):
        a, b = dice.sample(PLANTS, 2)
        start = DAY - timedelta(days=dice.choice((0, 0, 0, 1, 1, 2)))
        long = dice.choice((0, 0, 0, 1))
        first, last = sorted(dice.choices(HOURS[1:-1], k=2)) if not long else dice.choices(HOURS[1:-1], k=2)
        kind = dice.choice(("day", "timed", "timed", "carried"))
        if kind == "day":
            made.append(Contact(a, b, start, start + timedelta(days=long), "met", dice.random() < 0.3))
        elif kind == "timed":
            made.append(Contact(a, b, start, start + timedelta(days=long), "met", dice.random() < 0.3, first, last))
        else:
            left = (start, first) if not long else (start - timedelta(days=1), last)
            made.append(Contact(a, b, start, start, "carried", True, max(first, last), max(first, last), left))
    return made, dice.choice((0, 1, 3))


def tick(day: date, second: int) -> int:
    return day.toordinal() * DAY_S + second


def moments(contact: Contact, first: int, last: int) -> Iterator[tuple[int, int]]:
    """Every pair of instants at which something can leave the one plant and be on the other."""
    days = range(contact.start.toordinal() - 2, contact.end.toordinal() + 1)
    every = [at for day, second in product(days, HOURS) if first <= (at := day * DAY_S + second) <= last]
    opens, closes = tick(contact.start, contact.from_s), tick(contact.end, contact.to_s)
    if contact.left is None:
        yield from ((at, at) for at in every if opens <= at <= closes)
        return
    gone = tick(*contact.left)
    yield from ((leaves, opens) for leaves in every if leaves <= gone and opens <= last)


def times(walk: Sequence[Contact], first: int, last: int) -> Iterator[tuple[int, int]]:
    """The first instant of leaving and the last of arriving, for every choice of instants in time order."""
    if not walk:
        return
    for leaves, lands in moments(walk[0], first, last):
        if len(walk) == 1:
            yield leaves, lands
        else:
            yield from ((leaves, arrives) for _, arrives in times(walk[1:], lands, last))


def brute(contacts: Sequence[Contact], window: int) -> tuple[dict[int, date], dict[int, date]]:
    """Back: the latest day of leaving; forward: the earliest of arriving; by trying everything."""
    first, found, end = tick(DAY - timedelta(days=window), 0), tick(DAY, LAST_S), tick(DAY + timedelta(days=9), 0)
    back, forward = dict[int, date](), dict[int, date]()
    for other in PLANTS:
        if other != 101:
            left = [one[0] for walk in walks(contacts, other, 101) for one in times(walk, first, found)]
            came = [one[1] for walk in walks(contacts, 101, other) for one in times(walk, first, end)]
            back |= {other: date.fromordinal(max(left) // DAY_S)} if left else {}
            forward |= {other: date.fromordinal(min(came) // DAY_S)} if came else {}
    return back, forward


@pytest.mark.parametrize("tens", range(WORLDS // 10))
def test_agrees_with_every_path_tried(tens: int) -> None:
    for seed in range(10 * tens, 10 * tens + 10):
        contacts, window = world(seed)
        found = trace(contacts, 101, DAY, window)
        back, forward = brute(contacts, window)
        assert {one.plant: one.day for one in found.back} == back, seed
        assert {one.plant: one.day for one in found.forward} == forward, seed


def test_the_worlds_are_worth_trying() -> None:
    """In many of them the order within a day keeps somebody out whom the days alone would let in."""
    def days_alone(contacts: Sequence[Contact]) -> list[Contact]:
        return [Contact(one.a, one.b, one.start, one.end, one.how, one.one_way) for one in contacts]

    told = [(trace(contacts, 101, DAY, window), trace(days_alone(contacts), 101, DAY, window))
            for contacts, window in map(world, range(WORLDS))]
    assert sum(len(one.back) < len(loose.back) for one, loose in told) > WORLDS / 20
    assert sum(len(one.forward) < len(loose.forward) for one, loose in told) > WORLDS / 20
