"""The trace against brute force: on small random worlds every path of contacts is listed and walked day by day."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from itertools import pairwise

import networkx
import pytest

from greenhouse_desk.domain.quarantine import Contact, Reached, Trace, trace

DAY = date(2026, 11, 18)
PLANTS = range(101, 107)
WORLDS = 300
ONE_WAY = 0.4


def world(seed: int) -> tuple[list[Contact], int]:
    """A few contacts among six plants over about a fortnight around DAY, some long, some of a day; and a window."""
    dice, ways = random.Random(f"world {seed}"), random.Random(f"ways {seed}")
    made = []
    for _ in range(dice.randint(1, 9)):
        a, b = dice.sample(PLANTS, 2)
        start = DAY + timedelta(days=dice.randint(-10, 4))
        made.append(Contact(a, b, start, start + timedelta(days=dice.choice((0, 0, 1, 3, 8))), "met",
                            one_way=ways.random() < ONE_WAY))
    return made, dice.choice((0, 2, 5, 9, 30))


def walks(contacts: Sequence[Contact], source: int, target: int) -> Iterator[tuple[Contact, ...]]:
    """Every way from `source` to `target` that comes to no plant twice, whatever the days."""
    met = networkx.MultiDiGraph()
    for plant in PLANTS:
        met.add_node(plant)
    for key, contact in enumerate(contacts):
        met.add_edge(contact.a, contact.b, key)
        if not contact.one_way:
            met.add_edge(contact.b, contact.a, key)
    for edges in networkx.all_simple_edge_paths(met, source, target):
        yield tuple(contacts[key] for _, _, key in edges)


def days_at(walk: Sequence[Contact], first: date, last: date) -> Iterator[tuple[date, ...]]:
    """Every choice of a day for each contact of a walk, in time order, from `first` to `last`."""
    if not walk:
        yield ()
        return
    day = max(walk[0].start, first)
    while day <= min(walk[0].end, last):
        yield from ((day, *rest) for rest in days_at(walk[1:], day, last))
        day += timedelta(days=1)


def brute(contacts: Sequence[Contact], plant: int, window_days: int) -> tuple[dict[int, date], dict[int, date]]:
    """Back: the latest day of leaving; forward: the earliest of arriving; by trying everything."""
    first, end = DAY - timedelta(days=window_days), DAY + timedelta(days=30)
    back, forward = dict[int, date](), dict[int, date]()
    for other in PLANTS:
        if other != plant:
            left = [days[0] for walk in walks(contacts, other, plant) for days in days_at(walk, first, DAY)]
            came = [days[-1] for walk in walks(contacts, plant, other) for days in days_at(walk, first, end)]
            back |= {other: max(left)} if left else {}
            forward |= {other: min(came)} if came else {}
    return back, forward


def ends(path: Sequence[Contact], start: int) -> int:
    """Where a path leads that begins at the plant `start`; fails when two contacts of it do not join."""
    here = start
    for contact in path:
        assert here == contact.a or (here == contact.b and not contact.one_way)
        here = contact.b if here == contact.a else contact.a
    return here


def check_path(one: Reached, source: int, target: int, first: date, last: date, leaves: bool) -> None:
    """The path joins the two, in time order, and leaves (or arrives) on the very day that is told."""
    assert ends(one.path, source) == target
    told = [days[0] if leaves else days[-1] for days in days_at(one.path, first, last)]
    assert told, "there are days in time order on which it can be walked"
    assert (max(told) if leaves else min(told)) == one.day


@pytest.mark.parametrize("tens", range(WORLDS // 10))
def test_agrees_with_every_path_tried(tens: int) -> None:
    for seed in range(10 * tens, 10 * tens + 10):
        contacts, window = world(seed)
        found = trace(contacts, 101, DAY, window)
        back, forward = brute(contacts, 101, window)
        assert {one.plant: one.day for one in found.back} == back, seed
        assert {one.plant: one.day for one in found.forward} == forward, seed
        first = DAY - timedelta(days=window)
        for one in found.back:
            check_path(one, one.plant, 101, first, DAY, leaves=True)
        for one in found.forward:
            check_path(one, 101, one.plant, first, DAY + timedelta(days=30), leaves=False)


def test_the_worlds_are_worth_trying() -> None:
    """Many of them hold a way that would be wrong backwards in time, and answers on several days."""
    traces = [trace(contacts, 101, DAY, window) for contacts, window in map(world, range(WORLDS))]
    assert sum(len(one.back) != len(one.forward) for one in traces) > WORLDS / 4
    assert sum(any(len(reached.path) > 2 for reached in one.forward) for one in traces) > WORLDS / 10
    assert len({reached.day for one in traces for reached in (*one.back, *one.forward)}) == 15, "every day"


def test_nearest_in_time_comes_first() -> None:
    found: Trace = trace(world(7)[0], 101, DAY, 30)
    assert all(one.day >= other.day for one, other in pairwise(found.back))
    assert all(one.day <= other.day for one, other in pairwise(found.forward))
