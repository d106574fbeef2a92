"""Questions about one plant in a larger collection: the same answers as for all, without reading all journals."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from greenhouse_desk.domain.journal import Kind, Looked, Sighted
from greenhouse_desk.services import care, collection, quarantine
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


def found_on(session: Session) -> frozenset[int]:
    """The plants on which something was found, told by reading everything."""
    return frozenset(entry.plant for entry in journal.everything(session) if entry.plant is not None and (
        entry.kind is Kind.SIGHTED or (isinstance(entry.facts, Looked) and not entry.facts.clean)))


def test_each_plant_stands_alone_as_it_stands_among_all(big: Desk) -> None:
    with big.store.transaction() as session:
        journal.add(session, NOW, Looked(False, "10x"), 118)
        journal.add(session, NOW, Sighted("virus", "positive"), 119)
    among = big.read(quarantine.status, NOW)
    every = {one.number: one for one in big.read(plants.plants, big.read(collection.zone))}
    assert {number: big.read(quarantine.standing, every[number], NOW) for number in every} == among
    assert len({standing.word for standing in among.values()}) > 3
    assert big.read(journal.found_on) == big.read(found_on) >= {118, 119}


def test_a_drawer_shows_what_the_overview_shows(big: Desk) -> None:
    shown = big.read(collection.overview, NOW)
    cards = [card for bench in shown.benches for card in bench.cards]
    assert len(cards) > PLANTS / 2
    for card in cards:
        drawn = big.read(collection.drawer, card.plant.number, NOW).card
        assert (drawn.plant, drawn.stage, drawn.standing) == (card.plant, card.stage, card.standing)


def test_a_drawer_reads_the_journals_of_its_plant_and_of_sick_ones_only(big: Desk) -> None:
    sick = big.read(found_on)
    assert QUIET not in sick
    assert 0 < len(sick) < PLANTS / 4
    big.read(collection.drawer, QUIET, NOW)
    assert read_of(big) == {QUIET, *sick}


def test_what_one_plant_is_owed_reads_its_journal_only(big: Desk) -> None:
    every = big.read(care.ahead, NOW, 10_000)
    big.store._kept.__init__()  # type: ignore[misc]
    assert big.read(care.of_plant, QUIET, NOW) == tuple(one for one in every if one.plant == QUIET)
    assert read_of(big) == {QUIET}
