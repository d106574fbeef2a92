"""Questions about one plant in a larger collection: the same answers as for all, without reading all journals."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from greenhouse_desk.domain.journal import Kind, Looked, Shared, Sharing, Sighted, VirusTested
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.services import care, collection, quarantine, records
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.store import journal, plants
from greenhouse_desk.store.engine import Session, open_store
from tests.benchmarks import big_collection
from tests.benchmarks.big_collection import NOW

PLANTS = 60
QUIET = 103
"""A plant on which nothing was found."""


@pytest.fixture
def big(tmp_path: Path) -> Iterator[Desk]:
    """A collection of three benches, with a few sick plants, opened anew."""
    big_collection.build(tmp_path / "big", PLANTS)
    store = open_store(tmp_path / "big")
    yield Desk(store, lambda: NOW)
    store.close()


def read_of(desk: Desk) -> set[int]:
    """The plants whose journals were read."""
    return set(desk.store._kept._told)


def telling(session: Session) -> frozenset[int]:
    """The plants whose journals tell on others, told by reading everything."""
    kinds = (Kind.SIGHTED, Kind.TESTED, Kind.SHARED)
    return frozenset(entry.plant for entry in journal.everything(session) if entry.plant is not None and (
        entry.kind in kinds or (isinstance(entry.facts, Looked) and not entry.facts.clean)))


def test_each_plant_stands_alone_as_it_stands_among_all(big: Desk) -> None:
    with big.store.transaction() as session:
        journal.add(session, NOW, Looked(False, "10x"), 118)
        journal.add(session, NOW, Sighted("virus", "positive"), 119)
        journal.add(session, NOW, VirusTested("virus-signs", True), 120)
        journal.add(session, NOW, Shared(Sharing.WATER, (119, 122)), 121)
    among = big.read(quarantine.status, NOW)
    every = {one.number: one for one in big.read(plants.plants, big.read(collection.zone))}
    assert {number: big.read(quarantine.standing, every[number], NOW) for number in every} == among
    assert len({standing.word for standing in among.values()}) > 3
    assert big.read(journal.telling) == big.read(telling) >= {118, 119, 120, 121}
    assert any("wash water" in one.how for one in among[122].statuses)


def test_a_drawer_shows_what_the_overview_shows(big: Desk) -> None:
    shown = big.read(collection.overview, NOW)
    cards = [card for bench in shown.benches for card in bench.cards]
    assert len(cards) > PLANTS / 2
    for card in cards:
        drawn = big.read(collection.drawer, card.plant.number, NOW).card
        assert (drawn.plant, drawn.stage, drawn.standing) == (card.plant, card.stage, card.standing)


def test_a_drawer_reads_no_journal_but_its_plants_those_that_tell_on_others_and_those_of_its_source(big: Desk) -> None:
    sick = big.read(telling)
    assert QUIET not in sick
    assert 0 < len(sick) < PLANTS / 4
    every = {one.number: one for one in big.read(plants.plants, big.read(collection.zone))}
    mates = {number for number, one in every.items() if one.source == every[QUIET].source}
    big.store._kept.__init__()  # type: ignore[misc]
    big.read(collection.drawer, QUIET, NOW)
    assert read_of(big) == {QUIET, *sick, *mates}
    assert len(read_of(big)) < len(every)


def test_a_newcomer_from_a_source_with_a_record_stands_alone_as_among_all(desk: Desk, clock: SteppedClock) -> None:
    shelf = desk.run(collection.save_place, Place(0, "Shelf", isolation=True))
    for number in (101, 102, 103):
        desk.run(collection.add_plant, NewPlant(f"Vanda {number}", place=shelf, source="a fair",
                                                acquired_on=clock.now().date()))
    desk.run(records.add, 101, Sighted("thrips"))
    desk.run(records.add, 102, Looked(True, "10x"))
    clock.advance(90 * 86_400)
    desk.run(collection.add_plant, NewPlant("Vanda 104", place=shelf, source="a fair",
                                            acquired_on=clock.now().date()))
    among = desk.read(quarantine.status, clock.now())
    alone = {one.number: desk.read(quarantine.standing, one, clock.now())
             for one in desk.read(plants.plants, desk.read(collection.zone))}
    assert alone == among
    usual = next(one for one in among[104].statuses if one.word == "newcomer")
    assert usual.earliest is not None
    assert (usual.earliest - clock.now().date()).days > HouseRules().isolation_days, "its source has a record"


def test_what_one_plant_is_owed_reads_its_journal_only(big: Desk) -> None:
    every = big.read(care.ahead, NOW, 10_000)
    big.store._kept.__init__()  # type: ignore[misc]
    assert big.read(care.of_plant, QUIET, NOW) == tuple(one for one in every if one.plant == QUIET)
    assert read_of(big) == {QUIET}
