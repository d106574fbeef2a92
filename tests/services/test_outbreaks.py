"""Outbreaks: opened from what was seen, whom they concern, the wash plan, and their end with the day and the reason."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.journal import Kind, Leaving, Left, Placed, Released
from greenhouse_desk.domain.outbreak import Wash, wash_plan
from greenhouse_desk.domain.pests_repeat import Interval
from greenhouse_desk.services import collection, house, outbreaks, quarantine, records, treatments
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.shelf import shelf
from greenhouse_desk.services.treatments import Choice
from greenhouse_desk.store import bench, journal
from tests.builders import NOW, ago
from tests.services.outbreak_house import BUG, CLEAN, WASH, add, furnished

EVERY_TEN = Interval(10, 14, 3, 3, False)


def test_a_wash_plan_goes_on_from_what_was_given() -> None:
    first = date(2026, 11, 20)
    assert wash_plan([], EVERY_TEN, first, False) == (
        Wash(first, first), Wash(date(2026, 11, 30), date(2026, 12, 4)), Wash(date(2026, 12, 10), date(2026, 12, 18)))
    given = wash_plan([date(2026, 11, 1)], EVERY_TEN, first, False)
    assert [wash.given for wash in given] == [True, False, False]
    assert given[1] == Wash(date(2026, 11, 11), date(2026, 11, 15))
    given = wash_plan([first] * 4, EVERY_TEN, first, False)
    assert given == (Wash(first, first, True),) * 4, "nothing more than was given"


def test_an_outbreak_needs_a_sighting_that_is_not_over(desk: Desk) -> None:
    furnished(desk)
    for number, words in ((104, "No mealybug on 104"), (999, "999 is not growing here")):
        with pytest.raises(Refused, match=words):
            desk.read(outbreaks.proposal, NOW, number, "mealybug")
    add(desk, 102, BUG, ago(days=1))
    with pytest.raises(Refused, match="No mealybug on 101"):
        desk.run(outbreaks.open_outbreak, 101, "mealybug")


def test_the_proposal_names_everyone_concerned_with_dates(desk: Desk) -> None:
    places = furnished(desk)
    add(desk, 102, BUG)
    told = desk.read(outbreaks.proposal, NOW, 102, "mealybug")
    assert [(one.plant, one.word, one.found) for one in told.concerned] == [
        (102, "infested", True), (101, "exposed", False), (103, "exposed", False)]
    assert [place.id for place in told.apart] == [places["Shelf"]]
    washes = told.concerned[0].washes
    assert [wash.opens for wash in washes] == [date(2026, 11, 20), date(2026, 11, 30)], "a drop is tried first"
    assert not any(wash.given for wash in washes)
    assert any("A wash misses: Eggs under wool" in words for words in told.advice)


def test_a_crowded_isolation_place_is_said(desk: Desk) -> None:
    places = furnished(desk)
    add(desk, 104, Placed(places["Shelf"], 1.0), ago(days=2))
    add(desk, 102, BUG)
    told = desk.read(outbreaks.proposal, NOW, 102, "mealybug")
    assert "On Shelf stand 104: what is moved there exposes them." in told.advice


def test_one_deed_isolates_and_opens_and_undo_takes_both_back(desk: Desk) -> None:
    places = furnished(desk)
    add(desk, 102, BUG)
    with pytest.raises(Refused, match="no isolation place"):
        desk.run(outbreaks.open_outbreak, 102, "mealybug", places["Ledge"])
    desk.run(outbreaks.open_outbreak, 102, "mealybug", places["Shelf"])
    assert desk.read(collection.one, 102).place == places["Shelf"]
    (one,) = desk.read(outbreaks.followed, NOW)
    assert (one.plant, one.over, one.washed, one.watched) == (102, None, (102,), (101, 103))
    with pytest.raises(Refused, match="open already"):
        desk.run(outbreaks.open_outbreak, 102, "mealybug")
    desk.undo()
    assert desk.read(outbreaks.followed, NOW) == ()
    assert desk.read(collection.one, 102).place == places["East sill"]


def test_a_sighting_taken_back_ends_what_rested_on_it(desk: Desk) -> None:
    furnished(desk)
    seen = add(desk, 102, BUG)
    desk.run(outbreaks.open_outbreak, 102, "mealybug")
    desk.run(records.withdraw, seen)
    (one,) = desk.read(outbreaks.followed, NOW)
    assert one.over is not None
    assert one.concerned == ()


def _until_clear(desk: Desk) -> None:
    """102 found sixty days ago, set apart and opened; all looked at twice clean, the last 43 days after, 9 days ago."""
    places = furnished(desk)
    add(desk, 102, BUG, ago(days=60))
    desk.clock = lambda: ago(days=60)
    desk.run(outbreaks.open_outbreak, 102, "mealybug", places["Shelf"])
    desk.clock = lambda: NOW
    add(desk, 102, WASH, ago(days=58))
    for number in (101, 102, 103):
        for days in (30, 9):
            add(desk, number, CLEAN, ago(days=days))


def test_an_outbreak_is_over_when_the_last_is_clear_and_says_when_and_why(desk: Desk) -> None:
    _until_clear(desk)
    (one,) = desk.read(outbreaks.followed, NOW)
    assert one.over == date(2026, 11, 9)
    assert one.why == "Over since 9 Nov: on that day 102, 101, 103 became clear, the last of 3 plants."
    (before,) = desk.read(outbreaks.followed, ago(days=10))
    assert before.over is None
    assert before.why.startswith("Mealybug is not over on 1 plant, 2 more exposed; ")


def test_a_new_find_opens_it_again(desk: Desk) -> None:
    _until_clear(desk)
    add(desk, 101, BUG, ago(days=1))
    (one,) = desk.read(outbreaks.followed, NOW)
    assert one.over is None
    assert 101 in one.washed


@pytest.mark.parametrize("end", [Left(Leaving.DEAD), Released("tested", "mealybug")])
def test_who_left_or_was_released_holds_nothing_open(desk: Desk, end: Left | Released) -> None:
    furnished(desk)
    add(desk, 104, BUG, ago(days=60))
    desk.clock = lambda: ago(days=60)
    desk.run(outbreaks.open_outbreak, 104, "mealybug")
    desk.clock = lambda: NOW
    assert desk.read(outbreaks.followed, NOW)[0].over is None
    add(desk, 104, end, ago(days=2))
    (one,) = desk.read(outbreaks.followed, NOW)
    assert one.over is not None


def test_one_that_died_is_not_told_to_have_become_clear(desk: Desk) -> None:
    """102 dies of it; 101 and 103 become clear weeks later."""
    _until_clear(desk)
    add(desk, 102, Left(Leaving.DEAD), ago(days=50))
    (one,) = desk.read(outbreaks.followed, NOW)
    assert one.why == "Over since 9 Nov: on that day 101, 103 became clear, the last of 3 plants."


def test_one_that_died_alone_with_it_ends_it_on_that_day(desk: Desk) -> None:
    furnished(desk)
    add(desk, 104, BUG, ago(days=60))
    desk.clock = lambda: ago(days=60)
    desk.run(outbreaks.open_outbreak, 104, "mealybug")
    desk.clock = lambda: NOW
    add(desk, 104, Left(Leaving.DEAD), ago(days=20))
    (one,) = desk.read(outbreaks.followed, NOW)
    assert one.over == ago(days=20).date()
    assert one.why == "Over since 29 Oct: on that day 104 left the collection, the last of 1 plant."


def test_washes_given_are_told_and_the_next_one_dated(desk: Desk) -> None:
    furnished(desk)
    add(desk, 104, BUG, ago(days=8))
    desk.run(outbreaks.open_outbreak, 104, "mealybug")
    add(desk, 104, WASH, ago(days=6))
    (one,) = desk.read(outbreaks.followed, NOW)
    assert one.concerned[0].washes == (Wash(date(2026, 11, 12), date(2026, 11, 12), True),
                                       Wash(date(2026, 11, 22), date(2026, 11, 26)))


def test_only_the_opening_is_kept(desk: Desk) -> None:
    furnished(desk)
    add(desk, 102, BUG)
    before = len(desk.read(journal.everything))
    desk.run(outbreaks.open_outbreak, 102, "mealybug")
    assert len(desk.read(journal.everything)) == before + 1
    assert len(desk.read(journal.of_kinds, (Kind.OUTBREAK,))) == 1
    assert desk.read(quarantine.status, NOW + timedelta(days=1))[102].word == "infested"


def test_a_plant_in_isolation_warns_at_the_bench_what_must_be_done_after_it(desk: Desk) -> None:
    places = furnished(desk)
    add(desk, 104, Placed(places["Shelf"], 1.0), ago(days=3))
    choices = [Choice(104, "pest-wash"), Choice(101, "pest-wash")]
    found = desk.read(treatments.preparation, NOW, choices, shelf(None))
    assert [note for note in found.notes if "it stands apart" in note] == [
        "104: it stands apart: after it wash your hands, soak its tools and wipe the bench before the next plant."]
    order = dict(found.order)
    assert order[104].endswith("after it wash your hands, soak its tools and wipe the bench before the next plant")
    assert "wash your hands" not in order[101]
    sitting = desk.run(treatments.start, choices, shelf(None))
    runs = {run.plant: run.standing_why for run in desk.read(bench.runs, sitting)}
    assert "it stands apart: after it wash your hands" in runs[104], "told in the queue when it is picked up"


def test_a_full_isolation_place_is_told_before_an_outbreak_is_opened(desk: Desk) -> None:
    places = furnished(desk)
    add(desk, 104, Placed(places["Shelf"], 1.0), ago(days=3))
    add(desk, 102, BUG, ago(days=1))
    assert not desk.read(outbreaks.goes_on, NOW, "mealybug")
    assert "On Shelf stand 104: what is moved there exposes them." in desk.read(
        outbreaks.proposal, NOW, 102, "mealybug").advice
    desk.run(house.save_rules, replace(desk.read(house.rules), isolation_spots=1))
    assert "exposes them. It is full: it holds 1." in desk.read(outbreaks.proposal, NOW, 102, "mealybug").advice[0]
    desk.run(outbreaks.open_outbreak, 102, "mealybug")
    assert desk.read(outbreaks.goes_on, NOW, "mealybug")
    assert not desk.read(outbreaks.goes_on, NOW, "thrips")


def test_the_last_to_become_clear_is_named(desk: Desk) -> None:
    _until_clear(desk)
    last = desk.read(journal.of_plant, 103)[-1]
    desk.run(records.correct, last.id, ago(days=4), CLEAN, "")
    (one,) = desk.read(outbreaks.followed, NOW)
    assert one.over == date(2026, 11, 14)
    assert one.why == "Over since 14 Nov: on that day 103 became clear, the last of 3 plants."


def test_a_wash_before_the_find_was_not_against_it(desk: Desk) -> None:
    furnished(desk)
    add(desk, 104, WASH, ago(days=30))
    add(desk, 104, BUG, ago(days=1))
    told = desk.read(outbreaks.proposal, NOW, 104, "mealybug")
    assert not any(wash.given for wash in told.concerned[0].washes)
