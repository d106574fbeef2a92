"""Times of a logger's file: orders of the date, clocks, and the two nights of the year on which clocks change."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from greenhouse_desk.domain.air_log import Clock, DateOrder
from tests.domain.air_files import MADRID, instants, read


@pytest.mark.parametrize(("text", "order", "utc"), [
    ("2026-07-01 12:00", DateOrder.YEAR, "2026-07-01 10:00"),
    ("2026-01-15T12:00:59", DateOrder.YEAR, "2026-01-15 11:00"),
    ("3.2.2026 07:05", DateOrder.DAY, "2026-02-03 06:05"), ("3/2/26 07:05", DateOrder.MONTH, "2026-03-02 06:05"),
    ("02/03/2026 12:05 AM", DateOrder.MONTH, "2026-02-02 23:05"),
    ("02/03/2026 1:05:00 pm", DateOrder.MONTH, "2026-02-03 12:05"),
    ("2026-07-01T12:00:00Z", DateOrder.YEAR, "2026-07-01 12:00"),
    ("2026-07-01 12:00-05:00", DateOrder.YEAR, "2026-07-01 17:00"),
    ("1767225600", DateOrder.SECONDS, "2026-01-01 00:00"), ("2026/07/01 12:00", DateOrder.YEAR, "2026-07-01 10:00"),
])
def test_a_time_is_read_in_the_order_chosen_by_the_homes_clock(text: str, order: DateOrder, utc: str) -> None:
    assert instants(read([f"{text},20,60"], order=order)) == [utc]


@pytest.mark.parametrize(("clock", "minutes", "utc"), [
    (Clock.UTC, 0, "2026-07-01 12:00"), (Clock.FIXED, 60, "2026-07-01 11:00"), (Clock.FIXED, -330, "2026-07-01 17:30"),
    (Clock.HOME, 60, "2026-07-01 10:00")])
def test_a_fixed_clock_keeps_its_offset_all_year(clock: Clock, minutes: int, utc: str) -> None:
    assert instants(read(["2026-07-01 12:00,20,60"], clock=clock, offset_minutes=minutes)) == [utc]


@pytest.mark.parametrize("text", ["", "noon", "2026-13-01 12:00", "2026-02-30 12:00", "2026-02-03 24:00", "2026-02-03",
                                  "2026-02-03 12:60", "2026-02-03 13:00 PM", "9999-12-31 00:00", "0001-01-01 00:00",
                                  "1999-12-31 12:00", "2100-01-01 00:00"])
def test_what_is_no_time_is_refused_with_its_line(text: str) -> None:
    found = read(["2026-02-03 12:00,20,60", f"{text},20,60"])
    assert (found.refused, [fault.line for fault in found.faults]) == (1, [3])


def autumn(*clocks: str) -> list[str]:
    return [f"2026-10-25 {clock},20,60" for clock in clocks]


def test_the_hour_that_comes_twice_is_told_apart_by_the_order_of_the_lines() -> None:
    found = read(autumn("01:30", "02:00", "02:30", "02:00", "02:30", "03:00"))
    assert [told[-5:] for told in instants(found)] == ["23:30", "00:00", "00:30", "01:00", "01:30", "02:00"]
    assert found.doubled == 0
    assert "went back on 25 Oct 2026: the hour that came twice was told apart" in found.notes[0]


def test_it_is_told_apart_in_a_file_that_runs_from_new_to_old() -> None:
    found = read(autumn("04:00", "03:00", "02:30", "02:00", "02:30", "02:00", "01:30"))
    assert [told[-5:] for told in instants(found)] == ["23:30", "00:00", "00:30", "01:00", "01:30", "02:00", "03:00"]
    assert "told apart" in found.notes[0]


def test_a_line_written_twice_in_that_hour_is_no_turn_of_the_clock() -> None:
    found = read(autumn("01:30", "02:00", "02:00", "02:30", "03:00"))
    assert [told[-5:] for told in instants(found)] == ["23:30", "00:00", "00:30", "02:00"]
    assert found.doubled == 1
    assert "but the file did not" in found.notes[0]


@pytest.mark.parametrize("way", [1, -1])
def test_a_logger_that_writes_by_the_hour_shows_the_same_time_twice(way: int) -> None:
    found = read(autumn("00:00", "01:00", "02:00", "02:00", "03:00", "04:00")[::way])
    assert [told[-5:] for told in instants(found)] == ["22:00", "23:00", "00:00", "01:00", "02:00", "03:00"]
    assert (found.doubled, found.gaps) == (0, ())


def test_a_file_whose_clock_did_not_go_back_is_told_to_be_unsure() -> None:
    found = read(autumn("01:30", "02:00", "02:30", "03:00"))
    assert [told[-5:] for told in instants(found)] == ["23:30", "00:00", "00:30", "02:00"]
    assert "2 readings of the hour that came twice may be an hour off" in found.notes[0]
    assert "keeps one time all year" in found.notes[0]


def test_the_hour_the_clock_leaps_over_is_refused_and_told() -> None:
    found = read([f"2026-03-29 {clock},20,60" for clock in ("01:59", "02:00", "02:59", "03:00")])
    assert [told[-5:] for told in instants(found)] == ["00:59", "01:00"]
    assert [fault.line for fault in found.faults] == [3, 4]
    assert "29 Mar 2026, 02:00 was never on the home's clock" in found.faults[0].words
    assert "went forward on 29 Mar 2026" in found.notes[0]


@pytest.mark.parametrize("start", [datetime(2026, 3, 28, 12, tzinfo=UTC), datetime(2026, 10, 24, 12, tzinfo=UTC)])
@pytest.mark.parametrize("way", [1, -1])
def test_what_the_homes_clock_showed_on_both_sides_of_a_change_comes_back_whole(start: datetime, way: int) -> None:
    """Every 20 minutes for two days, in order of time and from new to old."""
    walked = [start + timedelta(minutes=20 * nth) for nth in range(144)]
    shown = [f"{at.astimezone(MADRID):%Y-%m-%d %H:%M},20,60" for at in walked[::way]]
    found = read(shown)
    assert instants(found) == [f"{at:%Y-%m-%d %H:%M}" for at in walked]
    assert (found.refused, found.doubled, found.gaps) == (0, 0, ())
