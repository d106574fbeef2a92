"""How plants stand from recorded sightings, looks, treatments and places."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from greenhouse_desk.domain.journal import Arrived, Facts, Leaving, Looked, Placed, Purpose, Sighted, Treated
from greenhouse_desk.domain.plants import Plant
from greenhouse_desk.domain.quarantine import Standing, standings
from greenhouse_desk.domain.settings import HouseRules
from tests.builders import NOW, PLANT, ago, history, plant

MITE, WASH, CLEAN = Sighted("flat-mite"), Treated("soap", Purpose.PEST_WASH), Looked(True, "10x")
ISOLATION = frozenset({9})


def stand(*written: tuple[datetime, Facts], of: Plant = PLANT, rules: HouseRules | None = None) -> Standing:
    return standings([history(*written, of=of)], ISOLATION, NOW, rules or HouseRules())[of.number]


def test_nothing_recorded_is_clear_and_says_it_was_never_looked_at() -> None:
    assert (stand().word, "not yet looked at" in stand().why) == ("clear", True)
    looked = stand((ago(days=3), CLEAN))
    assert (looked.word, looked.why) == ("clear", "nothing found in 1 look")
    assert looked.rank < stand().rank


def test_a_sighting_is_infested_a_wash_is_under_treatment() -> None:
    found = stand((ago(days=3), MITE))
    assert (found.word, found.why) == ("infested", "flat mite seen on 15 Nov 2026, not treated since")
    assert stand((ago(days=3), MITE), (ago(days=1), WASH)).word == "under treatment"
    assert stand((ago(days=3), WASH), (ago(days=1), MITE)).word == "infested"


def test_two_clean_looks_apart_and_unmasked_lead_to_watch_and_later_to_clear() -> None:
    course = ((ago(days=60), MITE), (ago(days=50), WASH))
    assert stand(*course, (ago(days=40), CLEAN)).word == "under treatment"
    assert stand(*course, (ago(days=40), CLEAN), (ago(days=34), CLEAN)).word == "under watch"
    assert stand(*course, (ago(days=40), CLEAN), (ago(days=34), CLEAN), (ago(days=20), WASH)).word == "under treatment"
    assert stand(*course, (ago(days=40), CLEAN), (ago(days=37), CLEAN)).word == "under treatment"
    assert stand(*course, (ago(days=45), CLEAN), (ago(days=40), CLEAN)).word == "under treatment"
    assert stand(*course, (ago(days=40), CLEAN), (ago(days=17), CLEAN)).word == "clear"
    assert stand(*course, (ago(days=40), CLEAN), (ago(days=17), CLEAN), (ago(days=1), MITE)).word == "infested"


def test_the_house_rules_decide_what_counts() -> None:
    course = ((ago(days=60), MITE), (ago(days=50), WASH), (ago(days=40), CLEAN), (ago(days=37), CLEAN))
    assert stand(*course, rules=HouseRules(looks_apart_days=3)).word == "under watch"
    assert stand(*course, rules=HouseRules(looks_apart_days=3, isolation_days=20)).word == "clear"
    assert stand(*course, rules=HouseRules(clean_looks=1)).word == "under watch"


def test_a_look_that_was_not_clean_makes_a_suspect_unless_something_was_named() -> None:
    assert stand((ago(days=3), Looked(False))).word == "suspect"
    assert stand((ago(days=3), Looked(False)), (ago(days=3), MITE)).word == "infested"
    assert stand((ago(days=3), MITE), (ago(days=3), Looked(False))).word == "infested"


def test_an_earlier_find_is_not_forgotten_by_a_look_that_names_nothing() -> None:
    assert stand((ago(days=9), MITE), (ago(days=3), Looked(False))).word == "infested"
    cleared: list[tuple[datetime, Facts]] = [(ago(days=90), MITE), (ago(days=80), CLEAN), (ago(days=40), CLEAN)]
    assert stand(*cleared).word == "clear"
    assert stand(*cleared, (ago(days=3), Looked(False))).word == "suspect"


@pytest.mark.parametrize(("of", "written", "word"), [
    (plant(place=9), [], "newcomer"),
    (plant(place=9), [(ago(days=300), CLEAN)], "newcomer"),
    (PLANT, [(ago(days=5), Arrived())], "newcomer"),
    (PLANT, [(ago(days=60), Arrived())], "clear"),
    (PLANT, [(ago(days=5), Arrived(day_known=False))], "clear"),
    (PLANT, [(ago(days=30), Arrived()), (ago(days=30), Placed(9, 1.0)), (ago(days=2), Placed(1, 1.0))], "newcomer"),
    (PLANT, [(ago(days=50), Arrived()), (ago(days=50), Placed(9, 1.0)), (ago(days=8), Placed(1, 1.0))], "clear"),
    (plant(place=9), [(ago(days=5), MITE)], "infested")])
def test_newcomers(of: Plant, written: list[tuple[datetime, Facts]], word: str) -> None:
    assert stand(*written, of=of).word == word


def test_sharing_a_place_with_an_infested_plant_exposes() -> None:
    sick = history((ago(days=3), MITE), of=plant(102))
    here, elsewhere = history((ago(days=1), CLEAN), of=PLANT), history(of=plant(103, place=2))
    found = standings([here, sick, elsewhere], ISOLATION, NOW, HouseRules())
    assert (found[101].word, found[101].why) == ("exposed", "shares its place with 102: flat mite")
    assert found[103].word == "clear"
    gone = replace(sick, plant=replace(sick.plant, left=Leaving.DEAD))
    assert standings([here, gone], ISOLATION, NOW, HouseRules())[101].word == "exposed", "it was there before it died"


def test_the_order_at_the_bench() -> None:
    beside = standings([history(), history((ago(days=1), MITE), of=plant(102))], ISOLATION, NOW, HouseRules())[101]
    ranks = [stand((ago(days=3), CLEAN)).rank, stand().rank, beside.rank,
             stand((ago(days=3), Looked(False))).rank, stand((ago(days=3), MITE), (ago(days=1), WASH)).rank,
             stand((ago(days=3), MITE)).rank]
    assert ranks == sorted(ranks)
    assert len(set(ranks)) == len(ranks)


def test_what_is_to_come_has_not_happened() -> None:
    assert stand((ago(hours=-1), MITE)).word == "clear"


def test_a_find_about_midnight_is_told_by_the_local_day() -> None:
    late = history((datetime(2026, 11, 15, 23, 30, tzinfo=UTC), Sighted("mealybug")))
    found = standings([late], frozenset(), NOW, HouseRules(), ZoneInfo("Asia/Tokyo"))[PLANT.number]
    assert found.why.startswith("mealybug seen on 16 Nov 2026")


def test_a_look_after_midnight_is_one_of_the_evening_before() -> None:
    """1 o'clock on the 9th belongs to the 8th: five care days before the 13th, though four dates."""
    def told(hour: int) -> str:
        found, washed, first, second = (datetime(2026, 11, *at, tzinfo=UTC) for at in (
            (1, 20), (1, 21), (9, hour), (13, 20)))
        return stand((found, MITE), (washed, WASH), (first, CLEAN), (second, CLEAN)).word

    assert (told(1), told(9)) == ("under watch", "under treatment")


def test_washing_a_plant_that_is_clear_again_exposes_nobody() -> None:
    course = ((ago(days=120), MITE), (ago(days=110), WASH), (ago(days=90), CLEAN), (ago(days=70), CLEAN))
    assert stand(*course).word == "clear"
    assert stand(*course, (ago(days=1), WASH)).word == "clear"
    assert stand(*course, (ago(days=1), MITE)).word == "infested"
    assert stand(*course[:3], (ago(days=80), WASH), (ago(days=70), CLEAN)).word == "under treatment"
