"""A soak as a state with instants: its digits, its phases, and which clock is believed."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.countdown import Phase, Soak, digits_of, elapsed, spoken, view
from tests.builders import NOW


def soak(least_min: float = 10, most_min: float = 12, **fields: object) -> Soak:
    return Soak(1, "roots in peroxide", "hydrogen-peroxide", NOW, least_min * 60, most_min * 60, **fields)  # type: ignore[arg-type]


@pytest.mark.parametrize(("after_s", "phase", "digits"), [
    (0, Phase.LEAVE, "10:00"), (20, Phase.LEAVE, "9:40"), (599.2, Phase.LEAVE, "0:01"),
    (600, Phase.MAY_END, "2:00"), (689, Phase.MAY_END, "0:31"), (690, Phase.WARN, "0:30"),
    (719.9, Phase.WARN, "0:01"), (720, Phase.OVER, "+0:00"), (854, Phase.OVER, "+2:14"), (9000, Phase.OVER, "+2 h 18"),
])
def test_digits_go_down_to_least_then_to_most_then_up(after_s: float, phase: Phase, digits: str) -> None:
    shown = view(soak(), NOW + timedelta(seconds=after_s))
    assert (shown.phase, shown.digits) == (phase, digits)


def test_a_wide_window_warns_in_its_last_fifth_and_a_narrow_one_never_before_its_least() -> None:
    wide, narrow = soak(10, 60), soak(10, 10.25)
    assert view(wide, NOW + timedelta(minutes=49.9)).phase is Phase.MAY_END
    assert view(wide, NOW + timedelta(minutes=50)).phase is Phase.WARN
    assert view(narrow, NOW + timedelta(seconds=599)).phase is Phase.LEAVE
    assert view(narrow, NOW + timedelta(seconds=600)).phase is Phase.WARN


def test_a_soak_whose_least_is_its_most_is_over_at_once() -> None:
    assert view(soak(10, 10), NOW + timedelta(minutes=10)).phase is Phase.OVER


@given(st.floats(0, 1e5), st.floats(0, 5000), st.floats(0, 5000))
def test_the_parts_of_a_view_agree(after_s: float, least_s: float, window_s: float) -> None:
    item = Soak(1, "w", "", NOW, least_s, least_s + window_s)
    shown = view(item, NOW + timedelta(seconds=after_s))
    assert 0 <= shown.share <= 1
    assert 0 <= shown.least_share <= 1
    assert (shown.phase is Phase.LEAVE) == (shown.to_least_s > 0)
    assert (shown.phase is Phase.OVER) == (shown.to_least_s <= 0 and shown.to_most_s <= 0)
    assert shown.digits.startswith("+") == (shown.phase is Phase.OVER)


def test_before_its_start_it_shows_the_whole_least() -> None:
    assert view(soak(), NOW - timedelta(hours=1)).digits == "10:00"


def test_long_digits_are_in_hours() -> None:
    assert digits_of(5999) == "99:59"
    assert digits_of(6000) == "1 h 40"


@pytest.mark.parametrize(("wall_s", "steady_s", "seconds", "used"), [
    (300, 300, 300, "wall clock"), (300, 298.1, 300, "wall clock"), (300, 297.9, 297.9, "steady clock"),
    (3900, 300, 300, "steady clock"), (-3300, 300, 300, "steady clock")])
def test_the_steady_clock_is_believed_when_the_two_differ_by_more_than_two_seconds(
        wall_s: float, steady_s: float, seconds: float, used: str) -> None:
    told = elapsed(soak(boot="b", boot_s=1000.0), NOW + timedelta(seconds=wall_s), "b", 1000.0 + steady_s)
    assert told.seconds == pytest.approx(seconds)
    assert told.used == used
    assert bool(told.words) == (used == "steady clock")


def test_after_a_restart_of_the_machine_only_the_wall_clock_is_left_and_that_is_said() -> None:
    told = elapsed(soak(boot="b", boot_s=1000.0), NOW + timedelta(minutes=5), "another", 3.0)
    assert (told.seconds, told.used) == (300, "wall clock")
    assert "restarted" in told.words


def test_without_a_known_boot_nothing_is_said() -> None:
    assert elapsed(soak(), NOW + timedelta(minutes=5), "b", 3.0).words == ""


def test_a_soak_knows_the_instants_of_its_least_and_most() -> None:
    item = soak(10, 12)
    assert (item.least_at - NOW, item.most_at - NOW) == (timedelta(minutes=10), timedelta(minutes=12))


def test_a_view_tells_how_far_it_has_come() -> None:
    shown = view(soak(10, 40), NOW + timedelta(minutes=4))
    assert (shown.elapsed_s, shown.to_least_s, shown.to_most_s) == (240, 360, 2160)
    assert (shown.share, shown.least_share) == (0.1, 0.25)
    assert view(soak(10, 40), NOW + timedelta(hours=2)).share == 1


def test_a_soak_without_length_is_over_and_whole() -> None:
    shown = view(soak(0, 0), NOW)
    assert (shown.phase, shown.share, shown.least_share) == (Phase.OVER, 1, 1)


@pytest.mark.parametrize(("after_s", "hands", "tools"), [
    (0, "leave it, least in", "leave it, least in"), (600, "may end, most in", "may come out, most in"),
    (700, "end it now, most in", "take out now, most in"),
    (720, "end it now, over most by", "take out now, over most by")])
def test_what_to_do_is_said_for_hands_and_for_tools(after_s: float, hands: str, tools: str) -> None:
    at = NOW + timedelta(seconds=after_s)
    assert (view(soak(), at).sub, view(soak(tool="snips"), at).sub) == (hands, tools)


def test_what_stands_before_the_digits_says_what_they_are_the_time_to() -> None:
    told = [f"{shown.sub} {shown.digits}" for minutes in (5, 10, 124, 126)
            if (shown := view(soak(10, 125), NOW + timedelta(minutes=minutes)))]
    assert told == ["leave it, least in 5:00", "may end, most in 1 h 55", "end it now, most in 1:00",
                    "end it now, over most by +1:00"]


@pytest.mark.parametrize(("wall_s", "steady_s", "differs", "words"), [
    (302, 300, 2, ""), (298, 300, -2, ""), (303, 300, 3, "ahead by 3 s"), (300, 303, -3, "back by 3 s"),
    (419, 300, 119, "ahead by 1 min 59 s"), (420, 300, 120, "ahead by 2 min"), (300, 3900, -3600, "back by 1 h")])
def test_by_how_much_the_clocks_differ_is_told(wall_s: float, steady_s: float, differs: float, words: str) -> None:
    told = elapsed(soak(boot="b", boot_s=1000.0), NOW + timedelta(seconds=wall_s), "b", 1000.0 + steady_s)
    assert told.differs_s == pytest.approx(differs)
    assert bool(told.words) == bool(words)
    assert words in told.words


def test_the_clocks_do_not_differ_where_only_one_is_known() -> None:
    told = elapsed(soak(boot="b", boot_s=7.0), NOW + timedelta(minutes=5), "another", 3.0)
    assert told.differs_s == 0
    assert elapsed(soak(boot="b", boot_s=7.0), NOW + timedelta(minutes=5)).used == "wall clock"


@pytest.mark.parametrize(("seconds", "down", "up"), [
    (0.2, "0:01", "0:00"), (59.5, "1:00", "0:59"), (-3, "0:00", "0:00"), (65, "1:05", "1:05"),
    (3600, "60:00", "60:00"), (7265, "2 h 01", "2 h 01"), (36_000, "10 h 00", "10 h 00")])
def test_seconds_to_go_are_rounded_up_and_seconds_gone_down(seconds: float, down: str, up: str) -> None:
    assert (digits_of(seconds), digits_of(seconds, up=True)) == (down, up)


@pytest.mark.parametrize(("seconds", "words"), [
    (-3, "0 s"), (0, "0 s"), (0.9, "0 s"), (1, "1 s"), (35, "35 s"), (59.9, "59 s"), (60, "1 min"), (61, "1 min 1 s"),
    (138, "2 min 18 s"), (3599, "59 min 59 s"), (3600, "1 h"), (3659, "1 h"), (3660, "1 h 1 min"), (7500, "2 h 5 min")])
def test_a_length_of_time_as_one_says_it(seconds: float, words: str) -> None:
    assert spoken(seconds) == words
