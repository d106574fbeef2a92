"""Findings read from a furnished store: each topic answers from what was written down, and the figures can be saved."""

from __future__ import annotations

from pathlib import Path

import pytest

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.findings import Curves, Finding, Shares, Tracks
from greenhouse_desk.domain.findings_settling import By
from greenhouse_desk.domain.journal import Dry, Left, Looked, Potted, Roots, Settled, Sighted, Wetted
from greenhouse_desk.domain.journal_words import Leaving, Part
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services import collection, findings, records
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.findings import Question, Topic

SIX = range(101, 107)
DAY = 86_400.0


@pytest.fixture
def kept(desk: Desk, clock: SteppedClock) -> Desk:
    """Six plants from one source, moved to pellets and settled on six different days, each with a past of its own."""
    sill = desk.run(collection.save_place, Place(0, "North sill", isolation=True))
    for number in SIX:
        desk.run(collection.add_plant, NewPlant(f"Vanda tricolor '{number}'", place=sill, medium="bark",
                                                source="Autumn fair", acquired_on=desk.clock().date()))
    clock.advance(2 * DAY)
    for number in SIX:
        desk.run(records.add, number, Potted("clay pellets", "12 cm", transition=True))
        desk.run(records.add, number, Roots(6, 2, 1))
        desk.run(records.add, number, Wetted((Part.CROWN,)))
    clock.advance(5 * 3600)
    for number in SIX:
        desk.run(records.add, number, Dry())
    desk.run(records.add, 101, Sighted("thrips"))
    desk.run(collection.record_air, sill, 20.0, 0.5)
    for number in SIX:
        clock.advance(14 * DAY)
        desk.run(records.add, number, Settled("tips"))
        desk.run(records.add, number, Roots(9, 0, 4))
    desk.run(collection.record_air, sill, 22.0, 0.95)
    return desk


def ask(desk: Desk, question: Question) -> Finding:
    """The finding now."""
    return desk.read(findings.answer, desk.clock(), question)


def test_settling_is_read_from_the_courses(kept: Desk) -> None:
    found = ask(kept, Question(Topic.SETTLING, by=By.SOURCE))
    assert isinstance(found.chart, Curves)
    (group,) = found.chart.groups
    assert (group.words, group.plants, group.settled) == ("Autumn fair", 6, 6)
    assert [step.day for step in group.steps] == [14, 28, 42, 56, 70, 84]


def test_taking_back_an_entry_takes_its_share_of_the_finding(kept: Desk) -> None:
    last = max(row.entry.id for row in kept.read(collection.drawer, 106, kept.clock()).lines
               if isinstance(row.entry.facts, Settled))
    kept.run(records.withdraw, last)
    found = ask(kept, Question(Topic.SETTLING))
    assert found.rests_on == "6 plants moved to another medium, of which 5 settled"


def test_roots_and_air_are_asked_of_what_there_is_a_record_of(kept: Desk) -> None:
    kept.run(collection.add_plant, NewPlant("Stelis pusilla"))
    choices = kept.read(findings.choices)
    assert [plant.number for plant in choices.plants] == list(SIX)
    assert [place.name for place in choices.places] == ["North sill"]
    found = ask(kept, Question(Topic.ROOTS, plant=103))
    assert isinstance(found.chart, Tracks)
    assert [line.points[-1][1] for line in found.chart.lines] == [9, 0, 4]
    air = ask(kept, Question(Topic.AIR, place=choices.places[0].id))
    assert [row[1] for row in air.table.rows] == [20.0, 22.0]


def test_a_pest_is_called_by_its_name_and_a_source_by_its_own(kept: Desk) -> None:
    month = ask(kept, Question(Topic.BY_MONTH))
    assert [row[1:] for row in month.table.rows] == [("thrips", 1)]
    unlooked = ask(kept, Question(Topic.BY_SOURCE))
    assert [row[:3] for row in unlooked.table.rows] == [("Autumn fair", 1, 1)], "nobody looked at the other five"
    for number in SIX:
        kept.run(records.add, number, Looked(True, "10x"))
    source = ask(kept, Question(Topic.BY_SOURCE))
    assert isinstance(source.chart, Shares)
    assert [(row.words, row.hits, row.of) for row in source.chart.rows] == [("Autumn fair", 1, 6)]


def test_wet_crowns_and_losses_are_counted_over_plants_that_left_too(kept: Desk, clock: SteppedClock) -> None:
    kept.run(records.add, 102, Left(Leaving.DEAD, "black rot"))
    wet = ask(kept, Question(Topic.WET_CROWNS))
    assert [row[:3] for row in wet.table.rows] == [("4 to 8 hours", 0, 6)]
    lost = ask(kept, Question(Topic.LOSSES))
    assert [row[0] for row in lost.table.rows] == [102]
    assert lost.chart is None


def test_an_unknown_plant_or_place_is_refused(kept: Desk) -> None:
    for question in (Question(Topic.ROOTS, plant=999), Question(Topic.AIR, place=999), Question(Topic.ROOTS)):
        with pytest.raises(Refused):
            ask(kept, question)


def test_the_figures_are_written_as_a_table(kept: Desk, tmp_path: Path) -> None:
    found = ask(kept, Question(Topic.ROOTS, plant=101))
    findings.write_table(found, tmp_path / "roots.csv")
    lines = (tmp_path / "roots.csv").read_text("utf-8").splitlines()
    assert lines[0] == "counted (UTC),living,dead,new tips"
    assert [line.split(",")[1:] for line in lines[1:]] == [["6", "2", "1"], ["9", "0", "4"]]
    with pytest.raises(Refused):
        findings.write_table(found, tmp_path / "roots.csv" / "roots.csv")
