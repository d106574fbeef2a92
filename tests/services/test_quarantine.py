"""Quarantine asked of a collection: standings over time, contacts, traces, and the release."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest

from greenhouse_desk.domain.bench import Soak, ToolUse
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import (
    Cut,
    Facts,
    Leaving,
    Left,
    Looked,
    Part,
    Placed,
    Purpose,
    Released,
    Sighted,
    Treated,
    VirusTested,
)
from greenhouse_desk.domain.plants import Place
from greenhouse_desk.services import collection, quarantine, records, treatments
from greenhouse_desk.services.clock import SteppedClock
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk, Done
from greenhouse_desk.store import bench, journal
from greenhouse_desk.store.engine import Session
from tests.builders import NOW, ago
from tests.services.sittings import CUT_ONLY, grower

BUG, VIRUS = Sighted("mealybug", "adult", "axils", 2), Sighted("virus-signs", "streaks or rings")
CLEAN, WASH = Looked(True, "10x"), Treated("mild-soap", Purpose.PEST_WASH)


def house(desk: Desk, isolation: bool = False) -> tuple[int, int]:
    """Plants 101 and 102 on one bench since a hundred days ago, 103 alone on another; returns the benches."""
    desk.clock = lambda: ago(days=100)
    sill = desk.run(collection.save_place, Place(0, "East sill"))
    shelf = desk.run(collection.save_place, Place(0, "Shelf", isolation=isolation))
    for number, place in ((101, sill), (102, sill), (103, shelf)):
        desk.run(collection.add_plant, NewPlant("Stelis gelida", number, place=place))
    desk.clock = lambda: NOW
    return sill, shelf


def add(desk: Desk, number: int, facts: Facts, at: datetime = NOW) -> int:
    return desk.run(records.add, number, facts, at)


def word(desk: Desk, number: int, now: datetime = NOW) -> str:
    return desk.read(quarantine.status, now)[number].word


def sat(session: Session, now: datetime, uses: list[ToolUse], soaks: list[Soak]) -> Done[int]:
    """A verb: a bench session in which tools were taken to plants and soaked; a cut is written for each use."""
    sitting = bench.add_session(session, now)
    for use in uses:
        bench.add_tool_use(session, sitting, use.tool, use.plant, use.at)
    for soak in soaks:
        added = bench.add_soak(session, sitting, soak)
        bench.end_soak(session, added, soak.ended_at, soak.early)
    return Done("Sit", frozenset({"bench"}), sitting)


def test_moving_a_plant_away_does_not_make_it_clear(desk: Desk) -> None:
    _, shelf = house(desk)
    add(desk, 102, BUG, ago(days=3))
    assert (word(desk, 101), word(desk, 103)) == ("exposed", "clear")
    desk.run(records.add, 101, Placed(shelf, 5.0))
    later = NOW + timedelta(days=1)
    assert (word(desk, 101, later), word(desk, 103, later)) == ("exposed", "clear"), "who meets it is only traced"
    card = next(card for row in desk.read(collection.overview, later).benches for card in row.cards
                if card.plant.number == 101)
    assert card.standing.word == "exposed"
    assert card.standing.why.startswith("shared its place with 102 while that could pass it on")
    candidate = next(one for one in desk.read(treatments.candidates, later) if one.plant == 101)
    assert candidate.standing == card.standing


def test_what_is_taken_back_exposes_nobody(desk: Desk) -> None:
    house(desk)
    seen = add(desk, 102, BUG, ago(days=3))
    assert word(desk, 101) == "exposed"
    desk.run(records.withdraw, seen)
    assert word(desk, 101) == "clear"


def test_a_plant_that_died_is_remembered(desk: Desk) -> None:
    house(desk)
    add(desk, 102, BUG, ago(days=9))
    add(desk, 102, Left(Leaving.DEAD), ago(days=5))
    standing = desk.read(quarantine.status, NOW)[101]
    assert standing.word == "exposed"
    assert "last on 13 Nov 2026" in standing.why


@pytest.mark.parametrize(("agent", "minutes", "early", "word_then"), [
    ("ethanol", 5, False, "worked on"), ("ethanol", 1, False, "cutter A"), ("ethanol", 5, True, "cutter A"),
    ("low-salt-water", 5, False, "cutter A"), ("bleach", 15, False, "worked on")])
def test_only_a_whole_soak_in_a_disinfectant_clears_a_tool(desk: Desk, agent: str, minutes: float, early: bool,
                                                          word_then: str) -> None:
    house(desk)
    add(desk, 102, BUG, ago(days=8))
    begun, then = ago(days=10), ago(days=10, minutes=-40)
    soak = Soak(0, agent, agent, ago(days=10, minutes=-10), 180.0, 7200.0, tool="cutter A",
                ended_at=ago(days=10, minutes=-10 - minutes), early=early)
    desk.run(sat, [ToolUse("cutter A", 102, begun), ToolUse("cutter A", 103, then)], [soak])
    standing = desk.read(quarantine.status, NOW)[103]
    assert standing.word == "exposed", "worked on after it, whatever the tool"
    assert standing.why.startswith(word_then)


def test_no_alcohol_but_bleach_clears_a_tool_of_viruses(desk: Desk) -> None:
    house(desk)
    add(desk, 102, VIRUS, ago(days=8))
    for agent, expected in (("ethanol", "exposed"), ("bleach", "clear")):
        other = 101 if agent == "ethanol" else 103
        soak = Soak(0, agent, agent, ago(days=9, minutes=-5), 180.0, 7200.0, tool=agent,
                    ended_at=ago(days=9, minutes=-30))
        desk.run(sat, [ToolUse(agent, 102, ago(days=9)), ToolUse(agent, other, ago(days=9, minutes=-40))], [soak])
        assert word(desk, other) == expected


def test_a_session_by_the_keys_exposes_who_came_after_and_not_who_came_before(desk: Desk, clock: SteppedClock) -> None:
    at = grower(desk, clock)
    at.begins({number: CUT_ONLY.id for number in (101, 102, 103)}, order=(101, 102, 103))
    for _ in range(60):
        if at.says[1].startswith("Dress"):
            break
        at.obeys()
    places = iter(range(3))
    clock.advance(60)
    for number in (101, 102, 103):
        there = desk.run(collection.save_place, Place(0, f"Spot {next(places)}"))
        desk.run(records.add, number, Placed(there, 1.0))
    shared = desk.read(quarantine.contacts, clock.now(), 102)
    assert "worked on in one bench session" in {one.how for one in shared}
    worked = sorted(desk.read(lambda session: quarantine.handled(session, clock.now(), NOW).worked),
                    key=lambda one: one.first)
    assert [one.plant for one in worked] == [101, 102, 103]
    assert worked[0].last <= worked[1].first, "to tidy is no deed on the plant"


def test_contacts_are_told_by_place_and_day(desk: Desk) -> None:
    _, shelf = house(desk)
    add(desk, 101, Placed(shelf, 1.0), ago(days=5))
    told = {(one.a, one.b): one for one in desk.read(quarantine.contacts, NOW)}
    assert told[101, 102].how == "stood together on East sill"
    assert (told[101, 102].start, told[101, 102].end) == (date(2026, 8, 10), date(2026, 11, 13))
    assert told[103, 101].how == "stood together on Shelf"
    assert {(one.a, one.b) for one in desk.read(quarantine.contacts, NOW, 102)} == {(101, 102)}
    assert desk.read(quarantine.contacts, NOW, None, "virus-signs") == (), "a virus needs a blade"


def test_a_trace_follows_moves_in_time_order(desk: Desk) -> None:
    _, shelf = house(desk)
    add(desk, 101, Placed(shelf, 1.0), ago(days=5))
    back = desk.read(quarantine.trace_of, 103, "mealybug", NOW.date(), NOW).back
    assert [(one.plant, one.day) for one in back] == [(101, NOW.date()), (102, date(2026, 11, 13))]
    assert back[1].words == ("101 and 102: stood together on East sill, 10 Aug to 13 Nov",
                             "103 and 101: stood together on Shelf, 13 Nov to 18 Nov")
    forward = desk.read(quarantine.trace_of, 102, "mealybug", NOW.date(), NOW).forward
    assert {one.plant: one.day for one in forward} == {101: date(2026, 8, 10), 103: date(2026, 11, 13)}
    with pytest.raises(Refused, match="no plant 999"):
        desk.read(quarantine.trace_of, 999, "mealybug", NOW.date(), NOW)


def test_where_it_was_found_comes_first_in_a_trace(desk: Desk) -> None:
    house(desk)
    add(desk, 102, Placed(desk.run(collection.save_place, Place(0, "Ledge")), 1.0), ago(days=50))
    desk.run(collection.add_plant, NewPlant("Stelis gelida", 104, place=1))
    add(desk, 102, BUG, ago(days=60))
    back = desk.read(quarantine.trace_of, 101, "mealybug", NOW.date(), NOW).back
    assert [(one.plant, one.seen) for one in back] == [(102, date(2026, 9, 19)), (104, None)]


def test_the_demos_outbreak_is_traced_to_its_source(demo_desk: Desk) -> None:
    traced = demo_desk.read(quarantine.trace_of, 112, "mealybug", date(2026, 10, 23), NOW)
    every = demo_desk.read(quarantine.status, NOW)
    first = traced.back[0]
    assert (first.plant, first.words) == (127, ("127 and 112: long snips, not disinfected in between, 2 Oct",))
    words = [one.word for one in every.values()]
    assert words.count("clear") > words.count("exposed") > 0, "not everybody is exposed"
    assert {"newcomer", "under treatment"} <= set(words)


def test_a_newcomer_is_released_when_its_day_has_come_or_for_a_reason(desk: Desk) -> None:
    house(desk, isolation=True)
    assert word(desk, 103) == "newcomer"
    with pytest.raises(Refused, match="103 would be released early"):
        desk.run(quarantine.release, 103, " ")
    for days in (20, 10, 3):
        add(desk, 103, CLEAN, ago(days=days))
    assert desk.read(quarantine.status, NOW)[103].next.startswith("release it")
    entry = desk.run(quarantine.release, 103, "")
    told = desk.read(journal.one, entry)
    assert told is not None
    assert told.facts == Released()
    assert word(desk, 103) == "clear"
    with pytest.raises(Refused, match="103 needs no release"):
        desk.run(quarantine.release, 103, "again")
    desk.undo()
    assert word(desk, 103) == "newcomer"


def test_an_early_release_keeps_its_reason(desk: Desk) -> None:
    house(desk, isolation=True)
    desk.run(quarantine.release, 103, "the tray is full")
    assert desk.read(quarantine.status, NOW)[103].why == "released on 18 Nov 2026: the tray is full"


def test_what_is_not_over_is_not_released(desk: Desk) -> None:
    house(desk)
    add(desk, 102, BUG, ago(days=3))
    with pytest.raises(Refused, match="102 cannot be released yet"):
        desk.run(quarantine.release, 102, "I want to")
    add(desk, 102, WASH, ago(days=2))
    with pytest.raises(Refused, match="Under treatment"):
        desk.run(quarantine.release, 102, "I want to")
    with pytest.raises(Refused, match="Plant 999 is not growing here"):
        desk.run(quarantine.release, 999, "who")


def test_a_virus_suspect_is_released_by_a_test_alone(desk: Desk) -> None:
    house(desk)
    add(desk, 101, VIRUS, ago(days=90))
    add(desk, 101, Cut(Part.SPIKE), ago(days=80))
    for days in (70, 40, 10):
        add(desk, 101, CLEAN, ago(days=days))
    assert word(desk, 101) == "suspect"
    for reason, what in (("looks fine", ""), ("looks fine", "virus-signs"), ("", "")):
        with pytest.raises(Refused, match="101 cannot be released yet") as refused:
            desk.run(quarantine.release, 101, reason, what)
        assert "test" in refused.value.next_step
    assert word(desk, 101) == "suspect"
    add(desk, 101, VirusTested("virus-signs", False, "a laboratory"), ago(days=1))
    assert word(desk, 101) == "clear"


def test_a_pest_is_called_by_its_name_not_by_its_key(desk: Desk) -> None:
    """Keys carry no capitals: "boisduval-scale" is Boisduval's scale."""
    house(desk)
    add(desk, 101, Sighted("boisduval-scale", "adult", "sheath", 3))
    standing = desk.read(quarantine.status, NOW)[101]
    assert standing.why.startswith("Boisduval scale seen on")
    assert standing.statuses[0].named == "Boisduval scale"
