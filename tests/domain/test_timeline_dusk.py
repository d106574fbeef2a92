"""Nights on the timeline: by the sun of the home and by lamps, only near enough, and their words never touch."""

from __future__ import annotations

from datetime import UTC, datetime, time
from itertools import combinations
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.plants import Home
from greenhouse_desk.domain.timeline_dusk import Night, lamps_off, nights, placed
from greenhouse_desk.domain.timeline_values import HOUR, View, spanning

LONDON = ZoneInfo("Europe/London")
HERE = Home(51.5, -0.12, "Europe/London")


def view(first: datetime, hours: float) -> View:
    """So many hours from `first` on, on 1000 pixels."""
    return spanning(first.timestamp(), first.timestamp() + hours * HOUR, 1000)


EVENING = view(datetime(2026, 11, 18, 12, tzinfo=UTC), 10)


def test_an_evening_has_its_dusk_at_the_home_and_ends_with_the_sun() -> None:
    (one,) = nights(EVENING, HERE, True, LONDON)
    assert one.words == "dusk 16:07"
    assert one.end - one.start == pytest.approx(15.3 * HOUR, abs=0.2 * HOUR)
    assert nights(EVENING, HERE, False, LONDON)[0].words == "assumed dusk 16:07"


def test_a_night_that_began_before_the_view_is_there_and_a_long_view_has_none() -> None:
    early = view(datetime(2026, 11, 18, 3, tzinfo=UTC), 8)
    (one,) = nights(early, HERE, True, LONDON)
    assert one.start < early.start < one.end < early.end
    assert len(nights(view(datetime(2026, 11, 18, 12, tzinfo=UTC), 59), HERE, True, LONDON)) == 3
    assert nights(view(datetime(2026, 11, 18, 12, tzinfo=UTC), 61), HERE, True, LONDON) == ()


def test_where_the_sun_does_not_set_there_is_no_night_and_lamps_make_their_own() -> None:
    summer = view(datetime(2026, 6, 21, 12, tzinfo=UTC), 20)
    assert nights(summer, Home(69.6, 18.9, "UTC"), True, UTC) == ()
    (lamps,) = lamps_off(summer, time(21, 30), UTC)
    start = datetime(2026, 6, 21, 21, 30, tzinfo=UTC).timestamp()
    assert lamps == Night(start, start + 8 * HOUR, "lights-out 21:30")
    assert [round((one.start - EVENING.start) / HOUR, 1) for one in lamps_off(EVENING, time(7), UTC)] == [-5.0]


def test_words_stand_right_of_their_line_else_left_else_behind_what_is_in_the_way() -> None:
    assert placed([(100, 60)], [], 1000) == (104,)
    assert placed([(980, 60)], [], 1000) == (916,)
    assert placed([(100, 60)], [(110, 150)], 1000) == (36,)
    assert placed([(40, 60)], [(30, 150)], 1000) == (154,)
    assert placed([(40, 60)], [(0, 150)], 180) == (None,)


@given(st.lists(st.tuples(st.floats(0, 800), st.floats(20, 200)), max_size=8), st.floats(0, 700))
def test_no_two_words_ever_touch(wanted: list[tuple[float, float]], flag: float) -> None:
    wanted.sort()
    spots = placed(wanted, [(flag, flag + 110)], 800)
    full = [(flag, flag + 110), *((at, at + wide) for (_, wide), at in zip(wanted, spots, strict=True)
                                  if at is not None)]
    assert all(one[1] <= other[0] or other[1] <= one[0] for one, other in combinations(full, 2))
    assert all(left >= 0 and right <= 811 for left, right in full)
