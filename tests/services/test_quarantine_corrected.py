"""A corrected, withdrawn or undone entry changes every status that depended on it, and nothing else."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from typing import Any

import pytest

from greenhouse_desk.domain.journal import Entry, Facts, Looked, Placed, Purpose, Shared, Sharing, Sighted, Treated
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.domain.quarantine import Standing
from greenhouse_desk.services import collection, quarantine, records
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import journal
from tests.builders import NOW, ago

SILL, SHELF = 0, 1
STORY: tuple[tuple[int, Facts, datetime], ...] = (
    (102, Sighted("flat-mite"), ago(days=20)), (102, Treated("mild-soap", Purpose.PEST_WASH), ago(days=19)),
    (102, Looked(True, "10x"), ago(days=10)), (103, Sighted("mealybug"), ago(days=8)),
    (104, Looked(True, "10x"), ago(days=5)), (105, Shared(Sharing.WATER, (102,)), ago(days=30)))
Deed = Callable[[Desk, Callable[[int, type[Facts]], Entry]], object]


@pytest.fixture
def house(desk: Desk) -> list[int]:
    """101 and 102 on a sill, 103 and 104 on a shelf, 105 and 106 each alone; two pests, water shared; the benches."""
    desk.clock = lambda: ago(days=100)
    benches = [desk.run(collection.save_place, Place(0, f"Bench {nth}")) for nth in range(4)]
    for number, place in zip(range(101, 107), (0, 0, 1, 1, 2, 3), strict=True):
        desk.run(collection.add_plant, NewPlant("Stelis gelida", number, place=benches[place]))
    desk.clock = lambda: NOW
    for number, facts, at in STORY:
        desk.run(records.add, number, facts, at)
    return benches


def status(desk: Desk) -> dict[int, Standing]:
    return desk.read(quarantine.status, NOW)


def mend(kind: type[Facts], plant: int, **changes: object) -> Deed:
    """Correct the plant's entry of this kind: `at` its moment, else its facts."""
    def deed(desk: Desk, of: Callable[[int, type[Facts]], Entry]) -> None:
        entry = of(plant, kind)
        at = changes.get("at", entry.at)
        assert isinstance(at, datetime)
        told: dict[str, Any] = {name: value for name, value in changes.items() if name != "at"}
        desk.run(records.correct, entry.id, at, replace(entry.facts, **told), entry.note)
    return deed


def drop(kind: type[Facts], plant: int) -> Deed:
    return lambda desk, of: desk.run(records.withdraw, of(plant, kind).id)


@pytest.mark.parametrize(("deed", "differ"), [
    pytest.param(drop(Sighted, 102), {101, 102, 105}, id="the mite was none: it, its neighbour, who shared its water"),
    pytest.param(mend(Sighted, 102, what="thrips"), {101, 102, 105}, id="it was another pest"),
    pytest.param(mend(Sighted, 102, at=ago(days=25)), {102}, id="it was found sooner: exposed they were all the same"),
    pytest.param(drop(Treated, 102), {102}, id="it was not washed"),
    pytest.param(mend(Looked, 102, clean=False), {102}, id="the look at the sick one was not clean"),
    pytest.param(drop(Looked, 104), set[int](), id="a look beside the sick one proved nothing anyway"),
    pytest.param(drop(Shared, 105), {105}, id="no water was shared"),
    pytest.param(mend(Shared, 105, plants=(103,)), {105}, id="it was shared with the other sick one"),
    pytest.param(mend(Shared, 105, plants=(106,)), {105}, id="it was shared with neither"),
    pytest.param(mend(Sighted, 103, count=9), set[int](), id="how many were seen")])
def test_it_changes_what_depended_on_it_and_nothing_else_and_undo_brings_all_back(
        deed: Deed, differ: set[int], desk: Desk, house: list[int]) -> None:
    before = status(desk)

    def of(plant: int, kind: type[Facts]) -> Entry:
        return next(one for one in desk.read(journal.of_plant, plant) if isinstance(one.facts, kind))

    deed(desk, of)
    after = status(desk)
    assert {number for number in before if before[number] != after[number]} == differ
    desk.undo()
    assert status(desk) == before
    desk.redo()
    assert status(desk) == after


def test_a_corrected_place_changes_whom_it_met(desk: Desk, house: list[int]) -> None:
    """101 never stood on the sill: it is exposed to the shelf's pest, and no longer to the sill's."""
    before = status(desk)
    entry = next(one for one in desk.read(journal.of_plant, 101) if isinstance(one.facts, Placed))
    desk.run(records.correct, entry.id, entry.at, Placed(house[SHELF], 1.0), "")
    after = status(desk)
    assert {number for number in before if before[number] != after[number]} == {101}
    assert [one.what for one in before[101].statuses] == ["flat-mite"]
    assert [one.what for one in after[101].statuses] == ["mealybug"]
