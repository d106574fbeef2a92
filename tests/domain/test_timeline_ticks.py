"""The timeline's axis: its words never touch, and it names local days and hours rightly, summer time included."""

from __future__ import annotations

import random
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.timeline_ticks import BESIDE, stretches, ticks
from greenhouse_desk.domain.timeline_values import DAY, HOUR, spanning
from tests.builders import NOW
from tests.domain.timeline_histories import AT, a_view

ZONES = ("Europe/London", "America/St_Johns", "Pacific/Apia", "Asia/Kathmandu", "Australia/Lord_Howe", "Asia/Beirut")
LONDON = ZoneInfo("Europe/London")


def wide(words: str) -> float:
    return len(words) * 7.5


@given(st.randoms(use_true_random=False), st.sampled_from(ZONES))
def test_the_words_of_the_axis_never_touch(dice: random.Random, zone: str) -> None:
    seen = a_view(dice)
    found = ticks(seen, ZoneInfo(zone), wide)
    named = [tick for tick in found if tick.words]
    assert all(tick.x + BESIDE + wide(tick.words) < after.x for tick, after in pairwise(named)), seen
    assert all(tick.x >= 0 and tick.x + BESIDE + wide(tick.words) <= seen.width for tick in named)
    assert len(named) >= (1 if seen.width > 400 else 0), seen
    assert all(tick.x < after.x for tick, after in pairwise(found))
    over = stretches(seen, ZoneInfo(zone), wide)
    assert all(one.right == after.left for one, after in pairwise(over))
    assert all(one.x + wide(one.words) <= one.right for one in over if one.words)


@given(st.randoms(use_true_random=False), st.sampled_from(ZONES))
def test_every_tick_stands_at_the_local_time_it_names(dice: random.Random, zone: str) -> None:
    there, middle = ZoneInfo(zone), dice.uniform(1.2e9, 1.9e9)
    span = 10 ** dice.uniform(3.5, 5.0)
    seen = spanning(middle - span, middle + span, 900)
    for tick in ticks(seen, there, wide):
        local = datetime.fromtimestamp(round(seen.moment(tick.x)), UTC).astimezone(there)
        said = f"{local.hour}:{local.minute:02d}", str(local.day), f"{local:%a} {local.day}"
        assert tick.words in ("", *said)


@pytest.mark.parametrize(("days", "words", "over"), [
    (10 * 365, ["2023", "2026", "2029"], []), (400, ["Oct", "Feb"], ["2026", "2027"]),
    (250, ["October", "February"], ["2026", "2027"]),
    (30, ["9", "18", "27"], ["November 2026"]), (10, ["Mon 16", "Wed 18"], ["November 2026"]),
    (80, ["19 Oct", "23 Nov"], ["2026"]), (0.25, ["15:30", "16:00"], ["Wed 18 Nov 2026"]),
    (0.01, ["15:30", "15:31"], ["Wed 18 Nov 2026"])])
def test_the_axis_names_what_the_zoom_is_about(days: float, words: list[str], over: list[str]) -> None:
    seen = spanning(AT - days * DAY / 2, AT + days * DAY / 2, 1100)
    told = [tick.words for tick in ticks(seen, LONDON, wide)]
    assert [one for one in words if one not in told] == []
    named = [one.words for one in stretches(seen, LONDON, wide)]
    assert [one for one in over if one not in named] == []


def hours(zone: str, day: date) -> list[str]:
    begin = datetime(day.year, day.month, day.day, tzinfo=ZoneInfo(zone)).timestamp()
    return [tick.words for tick in ticks(spanning(begin, begin + 4.5 * HOUR, 400), ZoneInfo(zone), wide)]


def test_in_spring_the_hour_left_out_is_not_named() -> None:
    assert hours("Europe/London", date(2026, 3, 29)) == ["0:00", "2:00", "3:00", "4:00", "5:00"]


def test_in_autumn_the_hour_passed_twice_is_named_twice() -> None:
    assert hours("Europe/London", date(2026, 10, 25)) == ["0:00", "1:00", "1:00", "2:00", "3:00"]


def test_a_day_left_out_has_no_tick_and_one_without_midnight_begins_with_its_first_hour() -> None:
    apia, beirut = ZoneInfo("Pacific/Apia"), ZoneInfo("Asia/Beirut")
    there = datetime(2011, 12, 28, tzinfo=apia).timestamp()
    assert [tick.words for tick in ticks(spanning(there, there + 3 * DAY, 500), apia, wide)] == [
        "Wed 28", "Thu 29", "Sat 31", ""]
    spring = datetime(2026, 3, 29, 12, tzinfo=beirut).timestamp()
    seen = spanning(spring - DAY, spring + DAY, 300)
    sunday = next(tick for tick in ticks(seen, beirut, wide) if tick.words == "Sun 29")
    at = datetime.fromtimestamp(seen.moment(sunday.x), UTC)
    assert at.astimezone(beirut).hour == 1
    assert NOW - timedelta(days=400) < at < NOW
