"""How long a newcomer stands apart by its source's record: the others from it, never the plant itself."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.chances import carrying
from greenhouse_desk.domain.journal import Arrived, Facts, Looked, Placed, Released, Sighted
from greenhouse_desk.domain.origins import Origin, days_apart, of_source, origins
from greenhouse_desk.domain.plants import History
from greenhouse_desk.domain.quarantine import NEWCOMER, Standing, Status, standings
from greenhouse_desk.domain.quarantine_finds import life
from greenhouse_desk.domain.quarantine_looks import Counting
from greenhouse_desk.domain.settings import HouseRules
from tests.builders import NOW, ago, history, plant

RULES = HouseRules()
BY = Counting(RULES, UTC)
APART, FAIR = 9, 3
FAR, BOTH = 8, frozenset({8, 9})
CLEAN, BUG = Looked(True, "10x"), Sighted("mealybug")
Written = tuple[datetime, Facts]


def one(number: int, *written: Written, days: float = 100, place: int = 1, source: int | None = FAIR,
        apart: int = APART) -> History:
    """A plant that came so many days ago into isolation."""
    came = ((ago(days=days), Arrived(source)), (ago(days=days, minutes=-1), Placed(apart, float(number))))
    return history(*came, *written, of=plant(number, place=place, source=source))


def proven(number: int) -> History:
    return one(number, (ago(days=60), CLEAN), (ago(days=50), Released("clean")))


def newcomer(*written: Written, days: float = 50) -> History:
    return one(101, *written, days=days, place=APART)


def told(*every: History, rules: HouseRules = RULES) -> Standing:
    return standings(every, BOTH, NOW, rules)[101]


LOOKED = tuple((ago(days=days), CLEAN) for days in (40, 30, 20, 10, 2))


def test_a_source_that_sent_pests_has_its_newcomers_stand_apart_longer() -> None:
    sent = one(102, (ago(days=90), BUG), place=FAR, apart=FAR)
    held = told(newcomer(*LOOKED), sent)
    assert held.why == ("stands in an isolation place, not released yet: day 50 of 56 by its source's record, "
                        "5 clean looks")
    assert held.earliest == (ago(days=50) + timedelta(days=56)).date()
    assert held.statuses[0].apart is not None
    assert held.statuses[0].apart.why == "1 of 1 others from its source showed something while they stood apart"
    elsewhere = one(102, (ago(days=90), BUG), source=4, place=FAR, apart=FAR)
    assert "clean throughout" in told(newcomer(*LOOKED), elsewhere).why
    assert told(newcomer(*LOOKED), sent, rules=HouseRules(isolation_days_found=48)).why.endswith(
        "clean throughout, not released yet: day 50 of 48 by its source's record")


def test_a_clean_record_long_enough_may_shorten_them_where_the_house_says_so() -> None:
    rules = HouseRules(isolation_days_clean=21, clean_source_plants=3)
    three, two = [proven(number) for number in (102, 103, 104)], [proven(number) for number in (102, 103)]
    short = newcomer((ago(days=15), CLEAN), (ago(days=8), CLEAN), (ago(days=1), CLEAN), days=22)
    assert told(short, *three, rules=rules).next.startswith("release it")
    assert told(short, *two, rules=rules).next == (
        "look at it weekly, the next counts from 22 Nov; release on 8 Dec at the earliest")
    assert told(short, *three).earliest == (ago(days=22) + timedelta(days=42)).date(), "as it starts, 42 days"


def test_its_own_find_makes_no_record_and_a_look_too_early_neither() -> None:
    own = told(newcomer((ago(days=45), BUG), (ago(days=44), Released("dust", "mealybug")), *LOOKED))
    assert "source" not in own.why
    fresh = [one(number, (ago(days=3), CLEAN), days=5) for number in range(110, 130)]
    lives = [life(history, NOW, BY) for history in fresh]
    assert of_source(lives, BOTH, NOW, BY) == Origin(0, 0, 20), "their days apart are not over"


def test_an_exit_before_its_sources_days_were_over_is_too_early() -> None:
    out = one(101, (ago(days=5), Placed(1, 1.0)), days=50)
    assert told(out).word == "clear", "45 days apart"
    early = told(out, one(102, (ago(days=90), BUG), place=FAR, apart=FAR))
    assert early.why == "taken out of isolation on day 45 of 56, not released"


def test_the_plant_itself_is_left_out_of_its_record() -> None:
    every = [one(101, (ago(days=90), BUG)), one(102, (ago(days=60), CLEAN)), one(103, source=None), one(104)]
    found = origins([life(history, NOW, BY) for history in every], BOTH, NOW, BY)
    assert found == {101: Origin(0, 1), 102: Origin(1, 1), 104: Origin(1, 2)}
    assert days_apart(found[101], RULES).rule == "isolation_days"


@given(st.lists(st.booleans(), max_size=12), st.integers(1, 6))
def test_clean_plants_more_from_a_source_raise_no_newcomers_chance(showed: list[bool], more: int) -> None:
    def chance(*others: History) -> float:
        every = [life(history, NOW, BY) for history in (newcomer(), *others)]
        came = origins(every, BOTH, NOW, BY)[101]
        return carrying([Status("", "newcomer", "new", NEWCOMER)], 0, RULES, came).value

    sent = [one(200 + nth, (ago(days=90), BUG)) if bad else proven(200 + nth) for nth, bad in enumerate(showed)]
    assert chance(*sent, *(proven(300 + nth) for nth in range(more))) <= chance(*sent)
