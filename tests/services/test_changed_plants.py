"""Word of a change names the plants whose own rows changed, or none where any may be concerned; care follows it."""

from __future__ import annotations

import random
from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest

from greenhouse_desk.domain import care as rules_of_care
from greenhouse_desk.domain.bench import Key
from greenhouse_desk.domain.care import Care, CareKind
from greenhouse_desk.domain.journal import Cut, Note, Part, Poured, Purpose, Reply, Sighted, Treated, Wetted
from greenhouse_desk.domain.plants import History, Home, Place
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.services import care, collection, house, records, shelf, treatments
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk, Done
from greenhouse_desk.services.treatments import Choice
from greenhouse_desk.store import journal
from tests.builders import NOW

Told = list[frozenset[int] | None]
NUMBERS = (101, 102, 103, 104)


@pytest.fixture
def told(desk: Desk) -> Told:
    """Three plants on a bench; the plants of every change from then on."""
    bench = desk.run(collection.save_place, Place(0, "Sill"))
    for number in NUMBERS[:3]:
        desk.run(collection.add_plant, NewPlant("Laelia anceps", number=number, place=bench, medium="LECA"))
    heard: Told = []
    desk.listeners.append(lambda changed: heard.append(changed.plants))
    return heard


def test_deeds_on_plants_name_them(desk: Desk, told: Told) -> None:
    desk.run(collection.add_plant, NewPlant("Vanda coerulea", number=104))
    desk.run(collection.edit_plant, 102, notes="by the door")
    desk.run(collection.move, (103, 101), 1)
    entry = desk.run(records.add, 101, Wetted((Part.CROWN,)))
    desk.run(records.correct, entry, NOW - timedelta(hours=1), Wetted((Part.CROWN,), pool=True), "")
    desk.run(records.withdraw, entry)
    desk.undo()
    desk.redo()
    assert told == [frozenset(plants) for plants in ({104}, {102}, {101, 103}, *[{101}] * 5)]


def test_an_entry_given_to_another_plant_names_both(desk: Desk, told: Told) -> None:
    desk.run(records.add, 101, Note("x"))
    with desk.store.transaction() as session:
        before = journal.of_plant(session, 101)[-1].id
    desk.run(lambda session, now: (session.connection().exec_driver_sql(
        "UPDATE entry SET plant = 102 WHERE id = ?", (before,)), Done("", frozenset(), None))[1])
    assert told[-1] == frozenset({101, 102})


def test_what_may_concern_any_plant_names_none(desk: Desk, told: Told) -> None:
    desk.run(collection.record_air, 1, 20.0, 0.6)
    desk.run(house.save_rules, HouseRules(plain_water_days=3))
    desk.run(house.save_home, Home(52.5, 13.4, "Europe/Berlin"))
    desk.run(collection.save_place, Place(1, "Window sill"))
    desk.undo()
    assert told == [None] * 5


def test_a_press_at_the_bench_names_the_plants_it_was_made_on(desk: Desk, told: Told) -> None:
    session = desk.run(treatments.start, (Choice(101, "pest-wash"), Choice(103, "pest-wash")), shelf.shelf(None))
    assert told == [frozenset({101, 103})]
    for _ in range(4):
        desk.run(treatments.press, session, Key.NEXT, sure=True)
    assert len(told) == 5
    assert all(plants is not None and plants <= {101, 103} for plants in told)
    desk.undo()
    assert told[-1] == told[-2]


def test_a_missed_alarm_names_its_plant_though_it_is_nobodys_deed(desk: Desk, told: Told) -> None:
    desk.run(records.add, 102, Wetted((Part.CROWN,)))
    (owed,) = [one for one in desk.read(care.of_plant, 102, NOW) if one.kind is CareKind.AIR]
    desk.run(care.missed, owed)
    assert told[-1] == frozenset({102})
    assert len(told) == 2


def deed(desk: Desk, dice: random.Random) -> object:
    """Anything that can change what is owed."""
    plant = dice.choice(NUMBERS[:3])
    facts = dice.choice((Wetted((Part.CROWN,)), Cut(Part.LEAVES), Sighted("mealybug"), Poured(50, feed=True),
                         Treated("soap", Purpose.PEST_WASH), Treated("hydrogen-peroxide", Purpose.ROOT_DISINFECTION)))
    ago = timedelta(days=dice.choice((0, 1, 3, 9)), minutes=1)
    owed = desk.read(care.of_plant, plant, desk.clock())
    entries = desk.read(journal.of_plant, plant)
    done: list[Callable[[], object]] = [
        lambda: desk.run(records.add, plant, facts, desk.clock() - ago),
        lambda: desk.run(records.withdraw, dice.choice(entries).id) if entries else None,
        lambda: desk.run(records.correct, dice.choice(entries).id, desk.clock() - ago, facts, "") if entries else None,
        lambda: desk.run(care.answer, owed[0], Reply.DECLINED, None, "no") if owed else None,
        lambda: desk.run(house.save_rules, HouseRules(plain_water_days=dice.randint(1, 20))),
        lambda: desk.run(collection.record_air, 1, 20.0 + dice.random(), 0.6),
        desk.undo, desk.redo]
    return dice.choice(done)()


def differing(before: dict[int, tuple[Care, ...]], after: dict[int, tuple[Care, ...]]) -> set[int]:
    return {plant for plant in before.keys() | after.keys() if before.get(plant) != after.get(plant)}


@pytest.mark.parametrize("seed", range(8))
def test_no_plant_is_owed_something_else_unless_it_was_named(desk: Desk, told: Told, seed: int) -> None:
    dice = random.Random(seed)
    changed = 0
    for _ in range(40):
        before = desk.read(care.by_plant, NOW)
        told.clear()
        deed(desk, dice)
        different = differing(before, desk.read(care.by_plant, NOW))
        changed += bool(different)
        if None not in told:
            assert different <= set().union(*(plants or () for plants in told))
    assert changed >= 5


def test_after_a_press_only_the_plants_it_named_are_worked_out_again(
        desk: Desk, told: Told, monkeypatch: pytest.MonkeyPatch) -> None:
    worked: list[int] = []
    real = rules_of_care.owed

    def counted(history: History, *rest: Any) -> tuple[Care, ...]:
        worked.append(history.plant.number)
        return real(history, *rest)

    monkeypatch.setattr(rules_of_care, "owed", counted)
    every = desk.read(care.by_plant, NOW)
    assert worked == [101, 102, 103]
    worked.clear()
    assert desk.read(care.by_plant, NOW, {102}) == {102: every[102]}
    assert worked == [102]
