"""The status the window is told after any deed, undo and redo is what the rows alone say."""

from __future__ import annotations

import random
from datetime import timedelta

import pytest

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import (
    Facts,
    Looked,
    Placed,
    Purpose,
    Released,
    Shared,
    Sharing,
    Sighted,
    Treated,
)
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.domain.quarantine import Standing
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.services import collection, house, outbreaks, quarantine, records
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import journal
from greenhouse_desk.store.kept import Kept

STEPS = 90


def from_the_rows(desk: Desk, clock: SteppedClock) -> dict[int, Standing]:
    """The status by one who never asked before."""
    with desk.store.session() as session:
        session.info["kept"] = Kept()
        return quarantine.status(session, clock.now())


def deed(desk: Desk, clock: SteppedClock, dice: random.Random, places: list[int]) -> None:
    """One thing a grower may do; what is refused changes nothing."""
    facts: Facts = dice.choice((
        Sighted("mealybug"), Sighted("flat-mite"), Looked(True, "10x"), Looked(False), Released("dust"),
        Treated("mild-soap", Purpose.PEST_WASH), Placed(dice.choice(places), 1.0), Shared(Sharing.WATER, (103,))))
    plant, at = dice.randint(101, 104), clock.now() - timedelta(days=dice.uniform(0, 60))
    every = [entry.id for entry in desk.read(journal.everything) if entry.plant is not None] or [0]
    ways = (lambda: desk.run(records.add, plant, facts, at), lambda: desk.run(records.add, plant, facts),
            lambda: desk.run(records.correct, dice.choice(every), at, facts, ""),
            lambda: desk.run(records.withdraw, dice.choice(every)), desk.undo, desk.undo, desk.redo,
            lambda: desk.run(outbreaks.open_outbreak, plant, "mealybug"),
            lambda: desk.run(house.save_rules, HouseRules(clean_looks=dice.choice((2, 3)))),
            lambda: clock.advance(dice.choice((30.0, 9_000.0, 400_000.0))))
    try:
        dice.choice(ways)()
    except Refused:
        desk.read(outbreaks.followed, clock.now())


@pytest.mark.parametrize("walk", range(2))
def test_the_status_is_what_the_rows_say_whatever_was_done_or_taken_back(
        walk: int, desk: Desk, clock: SteppedClock) -> None:
    dice = random.Random(f"walk {walk}")
    places = [desk.run(collection.save_place, Place(0, name, isolation=nth == 0))
              for nth, name in enumerate(("Apart", "Sill", "Shelf"))]
    for number in range(101, 105):
        desk.run(collection.add_plant, NewPlant("Laelia anceps", number, place=places[number % 3]))
    seen = set()
    for _ in range(STEPS):
        deed(desk, clock, dice, places)
        told = desk.read(quarantine.status, clock.now())
        assert told == from_the_rows(desk, clock)
        seen |= {one.word for one in told.values()}
    assert len(seen) > 3
