"""One date: what a plant's words say must happen, and the day before which nothing ends, are the same day."""

from __future__ import annotations

import re
from datetime import date, timedelta

import pytest

from greenhouse_desk.domain.care_day import day_words
from greenhouse_desk.domain.contacts import NOTHING_HANDLED
from tests.domain.quarantine_stories import STORIES
from tests.domain.test_quarantine_scenarios import (
    APART,
    CAME,
    FIRST,
    MADRID,
    MITE,
    NEWCOMER,
    SCENARIOS,
    Scenario,
    Told,
    at,
    placed,
    told,
    weekly,
)

BESIDE: list[Told] = [*NEWCOMER, *weekly(101, 7, 42), (102, 0, CAME), (102, 0.1, placed(APART)), (102, 30, MITE)]


def today(day: float) -> date:
    return at(day).astimezone(MADRID).date()


def test_a_newcomer_exposed_beside_its_days_is_not_told_the_earlier_date() -> None:
    gone = [*BESIDE, (102, 31, placed(1))]
    found = told(gone, 42, NOTHING_HANDLED)[101]
    over = FIRST.date() + timedelta(days=31 + 42)
    assert (found.word, found.earliest) == ("newcomer", over)
    assert found.next.endswith(f"release on {day_words(over, today(42))} at the earliest")
    assert "release it" not in found.next


def test_one_that_may_go_is_told_so() -> None:
    assert told([*NEWCOMER, *weekly(101, 7, 42)], 43, NOTHING_HANDLED)[101].next.startswith("release it: it may be")


@pytest.mark.parametrize("scenario", [*SCENARIOS, *STORIES], ids=str)
def test_the_worst_s_own_words_name_no_day_before_its_own(scenario: Scenario) -> None:
    for day in scenario.expected:
        for standing in told(scenario.story, day, scenario.handled).values():
            for status in standing.statuses:
                named = re.search(r"on (\d+ \w{3}(?: \d{4})?) at the earliest", status.next)
                if named is not None and status.earliest is not None:
                    assert named.group(1) == day_words(status.earliest, today(day)), status
