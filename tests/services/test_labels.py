"""Labels from the collection: who is chosen, what each says, and when the one in the pot is out of date."""

from __future__ import annotations

from datetime import date

import pytest

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Labelled, Leaving
from greenhouse_desk.domain.labels import Layout
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services import collection, labels, labels_shelf, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.store import journal

SHIPPED = labels_shelf.layouts(None)
ROLL, STAKE = SHIPPED.named("roll-57x32"), SHIPPED.named("stake-across")


@pytest.fixture
def bench(desk: Desk) -> int:
    """101 to 104 on a bench in the order 102, 101, 103, 104; 103 has left, 105 stands apart."""
    long = desk.run(collection.save_place, Place(0, "Long bench"))
    apart = desk.run(collection.save_place, Place(0, "Isolation shelf", isolation=True))
    for number in (101, 102, 103, 104):
        desk.run(collection.add_plant, NewPlant("Phalaenopsis amabilis", number, place=long, source="a swap",
                                                acquired_on=date(2025, 5, 3)))
    desk.run(collection.add_plant, NewPlant("Cattleya Dawn", 105, place=apart, medium="bark"))
    desk.run(collection.move, [102], long, 101)
    desk.run(collection.part_with, 103, Leaving.TRADED, "for a Stelis")
    return long


def print_all(desk: Desk, layout: Layout, *numbers: int) -> None:
    desk.run(labels.printed, layout, desk.read(labels.told, numbers))


def test_chosen_by_numbers_by_bench_and_all_that_grow(desk: Desk, bench: int) -> None:
    assert desk.read(labels.named, "101-105") == (101, 102, 104, 105)
    assert desk.read(labels.named, "103, 101") == (103, 101), "one that left prints when it is named"
    assert desk.read(labels.on_places)[bench] == (102, 101, 104), "in their order on it"
    assert desk.read(labels.growing) == (101, 102, 104, 105)
    with pytest.raises(Refused, match="There is no plant 109"):
        desk.read(labels.named, "101, 109")


def test_what_a_label_says(desk: Desk, bench: int) -> None:
    genera = shelf(None).genera
    plain, apart = desk.read(labels.told, (101, 105), genera, ("keep moist",))
    assert (plain.number, plain.name.plain, plain.source, plain.isolation) == (
        101, "Phalaenopsis amabilis", "a swap", False)
    assert plain.dates == ("came 3 May 2025", "3 May 2025", "2025-05-03")
    assert plain.lines == ("keep moist",)
    assert plain.shorts == (("Phalaenopsis", "Phal."),)
    assert (apart.isolation, apart.medium, apart.dates) == (True, "bark", ()), "the day it was potted is unknown"
    desk.run(collection.repot, 101, "clay pellets")
    assert desk.read(labels.told, (101,))[0].dates[0] == "potted 18 Nov 2026"
    (left,) = desk.read(labels.told, (103,))
    assert not left.isolation
    with pytest.raises(Refused):
        desk.read(labels.told, (101, 999))


def test_every_plant_without_a_label_needs_one_and_then_only_those_that_changed(desk: Desk, bench: int,
                                                                               clock: SteppedClock) -> None:
    assert desk.read(labels.changed_since) == (101, 102, 104, 105)
    print_all(desk, ROLL, 101, 102, 103, 104, 105)
    assert desk.read(labels.changed_since) == ()
    clock.advance(86_400)
    desk.run(collection.repot, 102, "clay pellets")
    desk.run(collection.edit_plant, 104, name="Phalaenopsis aphrodite")
    desk.run(collection.move, [105], bench)
    assert desk.read(labels.changed_since) == (102, 104, 105)
    print_all(desk, ROLL, 102, 105)
    assert desk.read(labels.changed_since) == (104,)
    desk.undo()
    assert desk.read(labels.changed_since) == (102, 104, 105), "what undo takes back was never printed"


def test_only_what_the_layout_shows_can_be_out_of_date(desk: Desk, bench: int) -> None:
    print_all(desk, STAKE, 101)
    desk.run(collection.edit_plant, 101, source="another swap")
    assert 101 not in desk.read(labels.changed_since), "that stake says nothing of the source"
    print_all(desk, ROLL, 101)
    desk.run(collection.edit_plant, 101, source="a third swap")
    assert 101 in desk.read(labels.changed_since)


def test_the_journal_says_what_was_printed(desk: Desk, bench: int) -> None:
    print_all(desk, ROLL, 101)
    (entry,) = [one for one in desk.read(journal.of_plant, 101) if isinstance(one.facts, Labelled)]
    assert entry.facts == Labelled("Roll, 57 x 32", ("name", "isolation", "date", "source"), (
        "name: Phalaenopsis amabilis", "date: came 3 May 2025", "source: a swap"))
    deed = desk.next_undo()
    assert deed is not None
    assert deed.label == "Labels of 101"
    print_all(desk, ROLL, 101, 102)
    deed = desk.next_undo()
    assert deed is not None
    assert deed.label == "Labels of 2 plants"


def test_the_plants_of_the_last_bench_sessions_newest_first(desk: Desk, bench: int, clock: SteppedClock) -> None:
    assert desk.read(labels.of_sessions) == ()
    shipped = shelf(None)
    for plants in ((101,), (104, 102)):
        clock.advance(3600)
        sitting = desk.run(treatments.start, [treatments.Choice(plant, "arrival-check") for plant in plants], shipped)
        desk.run(treatments.end, sitting)
    (newer, last), (older, first) = desk.read(labels.of_sessions)
    assert (sorted(last), first) == ([102, 104], (101,))
    assert (newer - older).total_seconds() == 3600
