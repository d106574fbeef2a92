"""What passes from plant to plant whichever has the lower number, and what a course with more looks than two says."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from greenhouse_desk.domain.contacts import Handled, Touch, contacts
from greenhouse_desk.domain.journal import Arrived, Facts, Looked, Placed, Purpose, Sighted, Treated
from greenhouse_desk.domain.quarantine import Standing, standings
from greenhouse_desk.domain.settings import HouseRules
from tests.builders import NOW, ago, history, plant

MITE, WASH, CLEAN = Sighted("flat-mite"), Treated("soap", Purpose.PEST_WASH), Looked(True, "10x")


@pytest.mark.parametrize(("sick", "other"), [(101, 102), (102, 101)])
def test_a_tool_carries_from_the_lower_number_to_the_higher_and_back(sick: int, other: int) -> None:
    handled = Handled((Touch("cutter A", sick, ago(days=5), 1), Touch("cutter A", other, ago(days=4), 1)))
    both = [history((ago(days=30), MITE), of=plant(sick, place=2)), history(of=plant(other))]
    assert standings(both, frozenset(), NOW, HouseRules(), handled=handled)[other].word == "exposed"


@pytest.mark.parametrize(("second", "what", "met"), [
    (1, "mealybug", True), (2, "mealybug", False), (1, "virus-signs", True), (2, "virus-signs", True)])
def test_between_sittings_a_tool_carries_a_virus_only(second: int, what: str, met: bool) -> None:
    uses = (Touch("cutter A", 101, ago(days=5), 1), Touch("cutter A", 102, ago(days=4), second))
    found = contacts([], Handled(uses), datetime.date, NOW, {}, what)
    assert bool(found) is met


def test_what_is_over_tells_its_last_look_and_its_day() -> None:
    looks = ((ago(days=90), MITE), (ago(days=89), WASH), (ago(days=70), CLEAN), (ago(days=60), CLEAN),
             (ago(days=40), CLEAN))
    status = standings([history(*looks)], frozenset(), NOW, HouseRules())[101].statuses[0]
    assert status.word == "clear"
    assert status.why.endswith("; 3 clean looks counted since, the last 50 days after it")
    assert status.earliest == (NOW - timedelta(days=40)).date()


def _beside(what: str, *written: tuple[datetime, Facts], apart: bool = False) -> Standing:
    """101 as written, beside 104 on which `what` was found."""
    there = [history((ago(days=90), Placed(1, 1.0)), (ago(days=4), Sighted(what)), of=plant(104)),
             history((ago(days=90), Placed(1, 1.0)), *written, of=plant(101))]
    return standings(there, frozenset({1}) if apart else frozenset(), NOW, HouseRules())[101]


def test_a_plant_is_held_back_until_the_last_of_all_that_holds_it_back_is_over() -> None:
    """Its mite can be over in three days, the thrips beside it in 42."""
    found = _beside("thrips", (ago(days=40), MITE), (ago(days=39), WASH), (ago(days=20), CLEAN), (ago(days=10), CLEAN))
    assert (found.word, [str(one.earliest - NOW.date()) for one in found.statuses if one.earliest]) == (
        "under watch", ["2 days, 0:00:00", "42 days, 0:00:00"])
    assert found.earliest == NOW.date() + timedelta(days=42)
    assert found.next.startswith("set 104 apart; a last clean look on or after")


def test_no_day_is_said_where_one_thing_that_holds_a_plant_back_has_none() -> None:
    assert _beside("thrips", (ago(days=3), MITE)).earliest is not None
    found = _beside("thrips", (ago(days=3), MITE), (ago(days=3), Sighted("virus-signs")))
    assert (found.word, found.earliest) == ("infested", None)


def test_a_newcomer_is_told_whom_to_set_apart_from_it() -> None:
    found = _beside("mealybug", (ago(days=10), Arrived()), apart=True)
    assert found.word == "newcomer"
    assert found.next.startswith("set 104 apart; look at it weekly")
    assert found.next.count("104") == 1
    assert _beside("mealybug").next.count("set 104 apart") == 1
