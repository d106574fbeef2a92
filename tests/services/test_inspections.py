"""Looks: whom to look at next, where to search, and what is said at once when a look does not count."""

from __future__ import annotations

from datetime import timedelta

import pytest

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.hiding import HIDES, USUAL, Spot, searched
from greenhouse_desk.domain.journal import Leaving, Left, Looked, Placed, Sighted
from greenhouse_desk.services import collection, inspections, quarantine
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.store import journal
from tests.builders import NOW, ago
from tests.services.outbreak_house import BUG, CLEAN, WASH, add, furnished


def test_every_known_pest_has_its_spots() -> None:
    assert set(HIDES) == set(shelf(None).pests)


def test_what_is_expected_is_searched_first_then_the_usual_spots() -> None:
    found = searched(["aphid", "mealybug", "aphid"])
    assert [one.spot for one in found][:3] == [Spot.BUDS, Spot.NEW_GROWTH, Spot.AXILS]
    assert found[0].pests == ("aphid",)
    assert len({one.spot for one in found}) == len(found)
    assert {one.spot for one in found} >= set(USUAL)
    assert tuple(one.spot for one in searched(["a word of mine"])) == USUAL


def test_a_masked_look_is_said_at_once_and_written_all_the_same(desk: Desk) -> None:
    furnished(desk)
    add(desk, 104, BUG, ago(days=10))
    add(desk, 104, WASH, ago(days=3))
    why = desk.run(inspections.look_clean, 104, "10x")
    assert why == ("the clean look of 18 Nov 2026 does not count: 3 days after the spray of 15 Nov 2026, which masks "
                   "signs for 7 days")
    assert desk.read(journal.of_plant, 104)[-1].facts == Looked(True, "10x")


def test_a_second_look_too_soon_is_said(desk: Desk) -> None:
    furnished(desk)
    assert desk.run(inspections.look_clean, 104, "10x") == ""
    later = NOW + timedelta(days=2)
    assert "2 days after the one before, 5 days apart are needed" in desk.read(inspections.counts, later, 104)
    assert desk.read(inspections.counts, NOW + timedelta(days=5), 104) == ""
    with pytest.raises(Refused, match="999 is not growing here"):
        desk.read(inspections.counts, NOW, 999)


def test_a_sighting_is_one_deed_with_its_look(desk: Desk) -> None:
    furnished(desk)
    seen = Sighted("thrips", "adult", Spot.BUDS.value, 4)
    entry = desk.run(inspections.sight, 104, seen, "20x")
    told = desk.read(journal.of_plant, 104)[-2:]
    assert [one.facts for one in told] == [Looked(False, "20x"), seen]
    assert told[-1].id == entry
    assert desk.read(quarantine.status, NOW)[104].word == "infested"
    desk.undo()
    assert desk.read(quarantine.status, NOW)[104].word == "clear"


def test_the_likeliest_come_first_and_what_is_seen_last(desk: Desk) -> None:
    furnished(desk)
    add(desk, 102, BUG, ago(days=1))
    add(desk, 101, CLEAN, ago(days=30))
    turns = desk.read(inspections.turns, NOW)
    assert [turn.plant for turn in turns] == [101, 103, 104, 102]
    by = {turn.plant: turn.chance for turn in turns}
    assert by[101].words == by[103].words == "25 %", "what was clean before the bench had it says nothing"
    assert by[104].words == "2 %"
    assert by[102].words == "more than 99 %"
    assert by[103].why[-1].text.startswith("So the chance that it carries something is 25 %.")


def test_a_look_is_due_where_a_plant_is_held_back_for_a_week_and_the_look_would_count(desk: Desk) -> None:
    furnished(desk)

    def due() -> list[int]:
        return [turn.plant for turn in inspections.due(desk.read(inspections.turns, NOW), NOW.date())]

    assert due() == []
    add(desk, 102, BUG, ago(days=20))
    assert due() == [101, 103], "102 wants a wash, not a look; 104 met nobody"
    add(desk, 103, CLEAN, ago(days=6))
    assert due() == [101]
    add(desk, 102, WASH, ago(days=6))
    assert due() == [101], "the wash masks what a look could see"
    add(desk, 102, CLEAN, ago(days=19))
    add(desk, 101, Left(Leaving.DEAD), ago(days=1))
    assert due() == []


def test_a_large_collection_is_told_from_a_small_one(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    furnished(desk)
    assert desk.read(inspections.is_small)
    monkeypatch.setattr(inspections, "SMALL", 3)
    assert not desk.read(inspections.is_small)


def test_counted_looks_thin_a_chance_by_bayes(desk: Desk) -> None:
    furnished(desk)
    for days in (60, 30, 9):
        add(desk, 104, CLEAN, ago(days=days))
    (turn,) = [turn for turn in desk.read(inspections.turns, NOW) if turn.plant == 104]
    assert turn.chance.value == pytest.approx(0.02 * 0.4**3 / (0.02 * 0.4**3 + 0.98))
    assert turn.chance.words == "less than 1 %", "never 0 %"


def test_a_round_goes_from_the_cleanest_on_and_leaves_out_what_is_masked(desk: Desk) -> None:
    furnished(desk)
    add(desk, 102, BUG, ago(days=9))
    add(desk, 102, WASH, ago(days=2))
    turns = desk.read(inspections.turns, NOW)
    assert [turn.plant for turn in inspections.round_of(turns)] == [104, 101, 103]
    assert len(inspections.round_of(turns, 2)) == 2


def test_the_guide_names_why_each_pest_is_expected(desk: Desk) -> None:
    furnished(desk)
    add(desk, 102, BUG, ago(days=1))
    add(desk, 101, Sighted("thrips"), ago(days=99))
    (turn,) = [turn for turn in desk.read(inspections.turns, NOW) if turn.plant == 101]
    told = desk.read(inspections.guide, NOW, turn)
    assert {what for what, _ in told.expected} == {"mealybug", "thrips"}
    assert dict(told.expected)["mealybug"] == "shares its place with 102: mealybug"
    assert told.names["mealybug"] == "mealybug"
    assert desk.read(inspections.active, NOW)[0] in ("mealybug", "thrips")


def test_an_older_look_that_did_not_count_says_nothing_about_one_now(desk: Desk) -> None:
    furnished(desk)
    for days in (20, 18):
        add(desk, 104, CLEAN, ago(days=days))
    assert desk.read(inspections.counts, NOW, 104) == ""


def test_what_left_with_its_plant_is_not_active_though_others_were_exposed(desk: Desk) -> None:
    furnished(desk)
    add(desk, 102, BUG, ago(days=5))
    add(desk, 102, Left(Leaving.DEAD), ago(days=2))
    assert desk.read(quarantine.status, NOW)[101].word == "exposed"
    assert desk.read(inspections.active, NOW) == ()


def test_a_look_counts_over_the_days_a_newcomer_stands_apart_by_its_sources_record(desk: Desk) -> None:
    places = furnished(desk)
    for number, days in ((201, 95), (202, 50)):
        desk.run(collection.add_plant, NewPlant("Stelis gelida", number, place=places["Shelf"], source="autumn fair",
                                                acquired_on=(NOW - timedelta(days=days)).date()))
        add(desk, number, Placed(places["Shelf"], 1.0), ago(days=days))
    add(desk, 201, BUG, ago(days=90))
    add(desk, 201, Left(Leaving.DEAD), ago(days=80))
    for days in (40, 30, 7, 1):
        add(desk, 202, CLEAN, ago(days=days))
    status = next(one for one in desk.read(quarantine.status, NOW)[202].statuses if one.word == "newcomer")
    assert "day 50 of 56 by its source's record" in status.why
    assert "the next counts from 22 Nov" in status.next
    (turn,) = [one for one in desk.read(inspections.turns, NOW) if one.plant == 202]
    too_soon = "1 day after the one before, 5 days apart are needed"
    assert too_soon in turn.not_now
    assert too_soon in desk.run(inspections.look_clean, 202, "10x")
