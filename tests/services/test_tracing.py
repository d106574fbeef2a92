"""The picture of a trace: who has a line, what is folded, what joined them, and the way back to the source."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from greenhouse_desk.domain.journal import Placed, Shared, Sharing
from greenhouse_desk.services import collection, tracing
from greenhouse_desk.services.collection import NewPlant
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.tracing import Picture
from greenhouse_desk.ui.quarantine.trace_page import conclusion
from tests.builders import NOW, ago
from tests.services.outbreak_house import BUG, add, furnished


@pytest.fixture
def outbreak(demo_desk: Desk) -> Picture:
    """The demo's outbreak, traced from the plant on which it was found second."""
    found = demo_desk.read(tracing.findings, NOW)
    find = next(one for one in found if (one.plant, one.what) == (112, "mealybug"))
    return demo_desk.read(tracing.picture, 112, "mealybug", find.day, NOW)


def test_wash_water_shared_is_a_way_back_and_a_join(desk: Desk) -> None:
    places = furnished(desk)
    add(desk, 102, Placed(places["Ledge"], 2.0), ago(days=50))
    add(desk, 101, Shared(Sharing.WATER, (104, 103)), ago(days=20))
    add(desk, 104, BUG, ago(days=15))
    add(desk, 101, BUG, ago(days=5))
    seen = desk.read(tracing.picture, 101, "mealybug", ago(days=5).date(), NOW)
    assert seen.source == 104
    assert [step.words.partition(",")[0] for step in seen.steps[1:]] == ["101 and 104: shared wash water"]
    assert [(join.words, join.plants, join.more) for join in seen.joins] == [("shared wash water", (101, 104), 1)]


def test_the_demos_outbreak_leads_back_to_its_source_by_the_snips(outbreak: Picture) -> None:
    assert outbreak.source == 127
    assert outbreak.traced.back[0].plant == 127, "the source stands first in the list"
    assert [step.plant for step in outbreak.steps] == [112, 127]
    assert outbreak.steps[1].words == "127 and 112: long snips, not disinfected in between, 2 Oct"
    assert outbreak.seen[127] < outbreak.found


def test_only_those_that_matter_have_a_line_the_rest_is_folded_by_place(outbreak: Picture) -> None:
    assert set(outbreak.words) == {112, 127, 149}
    folded = {band.name: band.folded for band in outbreak.bands}
    assert folded["Low shelf"] == 6
    assert sum(len(band.plants) for band in outbreak.bands) == 3


def test_contacts_of_one_evening_fold_into_one_join(outbreak: Picture) -> None:
    (join,) = outbreak.joins
    assert (join.words, join.tool, set(join.plants)) == ("long snips", True, {112, 127, 149})
    assert join.more == 0, "those cut after the soak met none of them by it"


def test_a_move_is_two_runs_and_the_way_back_goes_through_it(desk: Desk) -> None:
    places = furnished(desk)
    add(desk, 101, BUG, ago(days=40))
    add(desk, 101, Placed(places["Ledge"], 2.0), ago(days=20))
    add(desk, 104, BUG, ago(days=2))
    told = desk.read(tracing.picture, 104, "mealybug", date(2026, 11, 16), NOW)
    assert told.source == 101
    runs = [(run.place, run.start, run.end) for run in told.runs if run.plant == 101]
    assert runs == [(places["East sill"], told.start, date(2026, 10, 29)),
                    (places["Ledge"], date(2026, 10, 29), NOW.date())]
    assert told.words == {104: "infested", 101: "infested"}


def test_a_way_back_never_turns_forward_again(desk: Desk) -> None:
    furnished(desk)
    add(desk, 101, BUG, ago(days=40))
    add(desk, 104, Shared(Sharing.WATER, (103,)), ago(days=20))
    add(desk, 104, BUG, ago(days=5))
    told = desk.read(tracing.picture, 104, "mealybug", ago(days=5).date(), NOW)
    assert [(step.plant, (NOW.date() - step.day).days) for step in told.steps] == [(104, 5), (103, 20), (101, 20)]


def test_snips_carry_nothing_back_to_the_plant_they_cut_first(demo_desk: Desk) -> None:
    find = next(one for one in demo_desk.read(tracing.findings, NOW) if (one.plant, one.what) == (127, "mealybug"))
    traced = demo_desk.read(tracing.picture, 127, "mealybug", find.day, NOW).traced
    first = {one.plant: one.path[-1] for one in traced.back if one.plant in (112, 149)}
    assert not any("snips" in one.how for one in first.values()), first
    for other in (112, 149):
        day = next(one.day for one in demo_desk.read(tracing.findings, NOW)
                   if (one.plant, one.what) == (other, "mealybug"))
        assert demo_desk.read(tracing.picture, other, "mealybug", day, NOW).traced.back[0].plant == 127


def test_one_found_later_is_no_source(desk: Desk) -> None:
    furnished(desk)
    add(desk, 101, BUG, ago(days=30))
    add(desk, 102, BUG, ago(days=3))
    told = desk.read(tracing.picture, 101, "mealybug", date(2026, 10, 19), NOW)
    assert told.source is None, "102 was found after it, and nothing points to 103"
    assert len(told.traced.back) == 2


@pytest.mark.parametrize(("came", "says"), [
    (17, "105 came from plant fair 17 days before and may have brought it."), (200, "")])
def test_one_that_came_lately_may_have_brought_it(desk: Desk, came: int, says: str) -> None:
    places = furnished(desk)
    day = (NOW - timedelta(days=came)).date()
    desk.run(collection.add_plant, NewPlant("Stelis gelida", 105, place=places["East sill"], source="plant fair",
                                            acquired_on=day))
    add(desk, 105, BUG, NOW)
    told = desk.read(tracing.picture, 105, "mealybug", NOW.date(), NOW)
    assert (told.source, told.brought) == (None, says)
    assert ("nothing points to one of them" in conclusion(told)) is bool(told.traced.back)
    assert says in conclusion(told)


def test_without_anyone_it_met_there_is_no_source(desk: Desk) -> None:
    furnished(desk)
    add(desk, 104, BUG, ago(days=2))
    told = desk.read(tracing.picture, 104, "mealybug", date(2026, 11, 16), NOW)
    assert told.source is None
    assert len(told.steps) == 1


def test_findings_are_the_first_of_each_kind_within_the_window(desk: Desk) -> None:
    furnished(desk)
    for days in (50, 3):
        add(desk, 104, BUG, ago(days=days))
    assert [(one.plant, one.day) for one in desk.read(tracing.findings, NOW)] == [(104, date(2026, 9, 29))]
