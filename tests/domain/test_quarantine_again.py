"""Standings worked out from the last answer are those worked out from nothing, whatever changed in between."""

from __future__ import annotations

import random
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from greenhouse_desk.domain.contacts import Cleaned, Handled, Touch, Worked, contacts, share_of, stays
from greenhouse_desk.domain.journal import (
    Arrived,
    Cut,
    Entry,
    Facts,
    Leaving,
    Left,
    Looked,
    Part,
    Placed,
    Purpose,
    Released,
    Shared,
    Sharing,
    Sighted,
    Treated,
    VirusTested,
)
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.quarantine import Answer, Around, answer
from greenhouse_desk.domain.quarantine_looks import Counting
from greenhouse_desk.domain.settings import HouseRules
from tests.builders import plant

BEGIN = datetime(2026, 3, 20, 12, tzinfo=UTC)
MADRID = ZoneInfo("Europe/Madrid")
NUMBERS = (101, 102, 103, 104)
FACTS: tuple[Facts, ...] = (
    Sighted("mealybug"), Sighted("flat-mite"), Sighted("virus-signs"), Sighted("soft-rot"), Looked(True, "10x"),
    Looked(True, "10x"), Looked(False), Treated("mild-soap", Purpose.PEST_WASH), Cut(Part.PLANT), Released("old"),
    Released("dust", "mealybug"), VirusTested("virus-signs", False), VirusTested("virus-signs", True), Placed(1, 1.0),
    Placed(2, 1.0), Placed(9, 1.0), Arrived(), Arrived(source=7), Left(Leaving.DEAD),
    Shared(Sharing.WATER, (101, 103)), Shared(Sharing.TRAY, (102,), 9))
RULES = (HouseRules(), HouseRules(trace_days=60), HouseRules(clean_looks=4))
STEPS, WALKS = 180, 4


class World:
    """Journals, tools and rules, changed as a grower changes them."""

    def __init__(self) -> None:
        self.now, self.rules, self.apart, self.handled = BEGIN, HouseRules(), frozenset({9}), Handled()
        self.entries: list[Entry] = []

    def do(self, what: str, *words: object) -> None:
        getattr(self, "apart_at" if what == "apart" else what)(*words)

    def write(self, number: int, facts: Facts, ago: float) -> None:
        self.entries.append(Entry(len(self.entries) + 1, self.now - timedelta(days=ago), facts, number))

    def correct(self, nth: int, facts: Facts, ago: float) -> None:
        if self.entries:
            old = self.entries.pop(nth % len(self.entries))
            self.entries.append(Entry(old.id, self.now - timedelta(days=ago), facts, old.plant))

    def withdraw(self, nth: int) -> None:
        if self.entries:
            self.entries.pop(nth % len(self.entries))

    def wait(self, days: float) -> None:
        self.now += timedelta(days=days)

    def rule(self, rules: HouseRules) -> None:
        self.rules = rules

    def apart_at(self, places: frozenset[int]) -> None:
        self.apart = places

    def tool(self, first: int, second: int, ago: float, cleaned: bool) -> None:
        at, sitting = self.now - timedelta(days=ago), len(self.handled.touches)
        self.handled = Handled(
            (*self.handled.touches, Touch("cutter", first, at, sitting),
             Touch("cutter", second, at + timedelta(hours=1), sitting)),
            (*self.handled.cleaned, *([Cleaned("cutter", at + timedelta(minutes=30))] if cleaned else [])),
            (*self.handled.worked, Worked(sitting, first, at, at)))

    def answer(self, last: Answer | None) -> Answer:
        around = Around(self.apart, self.now, Counting(self.rules, MADRID), frozenset({"soft-rot", "virus-signs"}))
        return answer(self.histories(), self.handled, around, last)

    def histories(self) -> list[History]:
        return [self._history(number) for number in NUMBERS]

    def _history(self, number: int) -> History:
        mine = tuple(sorted((one for one in self.entries if one.plant == number), key=lambda one: (one.at, one.id)))
        newest = {type(one.facts): one.facts for one in mine}
        where, came, left = newest.get(Placed), newest.get(Arrived), newest.get(Left)
        return History(plant(number, place=where.place if isinstance(where, Placed) else None,
                             source=came.source if isinstance(came, Arrived) else None,
                             left=left.how if isinstance(left, Left) else None), mine)


def change(world: World, dice: random.Random) -> None:
    """Do one thing a grower may do, an entry more often than not."""
    ago, facts = round(dice.choice((dice.uniform(0, 4), dice.uniform(0, 200), -0.1)), 2), dice.choice(FACTS)
    what = dice.choice(("write",) * 6 + ("correct", "withdraw", "withdraw", "wait", "wait", "rule", "apart", "tool"))
    words = {"write": (dice.choice(NUMBERS), facts, ago), "correct": (dice.randrange(99), facts, ago),
             "withdraw": (dice.randrange(99),), "wait": (dice.choice((0.001, 0.001, 0.3, 0.3, 1, 20, -0.2)),),
             "rule": (dice.choice(RULES),), "apart": (dice.choice((frozenset({9}), frozenset({1, 9}))),),
             "tool": (*dice.sample(NUMBERS, 2), ago, dice.random() < 0.5)}
    world.do(what, *words[what])


@pytest.mark.parametrize("walk", range(WALKS))
def test_an_answer_that_begins_from_the_last_is_the_answer_from_scratch(walk: int) -> None:
    world, last, dice = World(), None, random.Random(f"walk {walk}")
    words: set[str] = set()
    for _ in range(STEPS):
        change(world, dice)
        last = world.answer(last)
        assert last.standings == world.answer(None).standings
        words |= {one.word for one in last.standings.values()}
    assert len(words) > 4, "a walk that meets nearly every status"


MOVES: tuple[Facts, ...] = (Placed(1, 1.0), Placed(2, 1.0), Placed(9, 1.0), Sighted("mealybug"), Sighted("flat-mite"),
                            Sighted("virus-signs"), Looked(True, "10x"), Shared(Sharing.TRAY, (102, 104), 9))


@pytest.mark.parametrize("seed", range(4))
def test_it_is_so_while_plants_move_between_benches_and_the_hours_pass(seed: int) -> None:
    """Written down as they happen and asked at once, then a little later the same day."""
    world, last, dice = World(), None, random.Random(f"moves {seed}")
    for _ in range(STEPS // 2):
        world.wait(dice.choice((0.02, 0.1, 0.1, 1, 8)))
        world.write(dice.choice(NUMBERS), dice.choice(MOVES), dice.choice((0, 0, 0.01, 30)))
        if dice.random() < 0.2:
            first, second = dice.sample(NUMBERS, 2)
            world.tool(first, second, 0.05, dice.random() < 0.5)
        for hours in (0, 1):
            world.wait(hours / 24)
            last = world.answer(last)
            assert last.standings == world.answer(None).standings


def test_an_exposure_that_ended_at_the_asking_gives_way_to_one_that_goes_on() -> None:
    """101 leaves the sill with the mite for the shelf with the mealybug, and is asked for as it moves and later."""
    world = World()
    for number, place in ((101, 1), (102, 1), (103, 2)):
        world.write(number, Placed(place, 1.0), 9)
    world.write(102, Sighted("two-spotted-mite"), 4)
    world.write(103, Sighted("mealybug"), 4)
    world.write(101, Placed(2, 1.0), 0)
    moving = world.answer(None)
    world.wait(0.1)
    later = world.answer(moving)
    assert later.standings == world.answer(None).standings
    assert [status.what for status in later.standings[101].statuses] == ["two-spotted-mite", "mealybug"]


def touched(world: World, plant: int) -> set[int]:
    """The plant, all it ever met, and those that came from its source: whose status its journal may change."""
    every = world.histories()
    standing = [stay for one in every for stay in stays(one, world.now)]
    shares = [share_of(entry) for entry in world.entries if isinstance(entry.facts, Shared)]
    met = [contact for what in ("", "virus") for contact in contacts(
        standing, world.handled, lambda at: at.date(), world.now, {}, what, shares)]
    sources = {one.plant.source for one in every if one.plant.number == plant} - {None}
    return {plant, *(number for one in met for number in (one.a, one.b) if plant in (one.a, one.b)),
            *(one.plant.number for one in every if one.plant.source in sources)}


@pytest.mark.parametrize("walk", range(WALKS))
def test_an_entry_written_corrected_or_withdrawn_changes_whom_its_plant_met_and_nobody_else(walk: int) -> None:
    world, dice, changed = World(), random.Random(f"entries of {walk}"), 0
    for _ in range(STEPS // 2):
        before, met_before = world.answer(None).standings, {number: touched(world, number) for number in NUMBERS}
        entries = set(world.entries)
        change(world, dice)
        plants = {entry.plant for entry in entries ^ set(world.entries) if entry.plant is not None}
        if not plants:
            continue  # time or a rule: that may change any
        (plant,) = plants
        after = world.answer(None).standings
        differing = {number for number in NUMBERS if before[number] != after[number]}
        assert differing <= met_before[plant] | touched(world, plant)
        changed += differing != set()
    assert changed > STEPS // 18, "a walk in which a good part of the entries changed something"


def test_only_what_one_entry_can_change_is_worked_out_again() -> None:
    """One entry on 101: it, and what it exposes on its bench; 104 stands elsewhere and is taken as it was."""
    world = World()
    for number, place in zip(NUMBERS, (1, 1, 1, 2), strict=True):
        world.write(number, Placed(place, 1.0), 100)
    before = world.answer(None)
    world.wait(0.001)
    world.write(101, Sighted("mealybug"), 0)
    after = world.answer(before)
    assert {number for number in NUMBERS if after.answered[number].own is not before.answered[number].own} == {101}
    assert {number for number in NUMBERS if after.answered[number] is not before.answered[number]} == {101, 102, 103}
