"""A logger's file read: units, what cannot be, lines twice, pauses and sensors that stand still."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

from greenhouse_desk.domain.air_log import MoistUnit, SpeedUnit, TempUnit
from greenhouse_desk.domain.air_log_read import heard
from tests.domain.air_files import MADRID, NOW, PLAIN, every, instants, read

START = datetime(2026, 11, 1, tzinfo=UTC)


@pytest.mark.parametrize(("row", "changes", "temp", "rh"), [
    ("20.25,61.5", {}, 2025, 6150), ("68,50", {"temp_unit": TempUnit.F}, 2000, 5000),
    ("-4,50", {"temp_unit": TempUnit.F}, -2000, 5000), ("293.15,0.5", {"temp_unit": TempUnit.K,
                                                                     "rh_unit": MoistUnit.FRACTION}, 2000, 5000)])
def test_units_are_turned_into_ours(row: str, changes: dict[str, Any], temp: int, rh: int) -> None:
    log = read([f"2026-11-01 12:00,{row}"], **changes).log
    assert (log.temp, log.rh, log.speed) == ([temp], [rh], [-1])


def test_a_decimal_comma_and_a_speed_in_km_an_hour() -> None:
    found = read(["time;temp;rh;wind", "2026-11-01 12:00;20,5;61,5;3,6", "2026-11-01 12:10;20,5;61,5; "],
                 delimiter=";", decimal_comma=True, speed=3, speed_unit=SpeedUnit.KM_H, head=2)
    assert (found.log.temp, found.log.rh, found.log.speed) == ([2050, 2050], [6150, 6150], [100, -1])


def test_the_day_may_stand_in_a_column_of_its_own() -> None:
    found = read(["2026-11-01,12:00,20,60"], day=0, time=1, temp=2, rh=3)
    assert instants(found) == ["2026-11-01 11:00"]


@pytest.mark.parametrize(("row", "said"), [
    ("2026-11-01 12:00,60.01,60", "60.01 C would be 60.0 C"), ("2026-11-01 12:00,-30.01,60", "that cannot be"),
    ("2026-11-01 12:00,20,105.1", "105.1 % RH, and that cannot be"), ("2026-11-01 12:00,20,-0.1", "that cannot be"),
    ("2026-11-01 12:00,nan,60", "“nan” cannot be"), ("2026-11-01 12:00,,60", "Temperature: The cell is empty"),
    ("2026-11-01 12:00,20,--", "Humidity: “--” is no number"), ("2026-11-01 12:00,20", "It has only 2 cells."),
    ("2026-11-01 12:00", "It has only 1 cell."),
    ("2026-11-18 16:31,20,60", "18 Nov 2026, 15:31 UTC is still to come")])
def test_what_cannot_be_is_refused_with_its_line_and_why(row: str, said: str) -> None:
    found = read(["2026-11-01 11:00,20,60", row, "2026-11-01 13:00,20,60"])
    assert (found.refused, len(found.log.at)) == (1, 2)
    assert found.faults[0].line == 3
    assert said in found.faults[0].words


def test_the_ends_of_what_can_be_are_taken() -> None:
    found = read(["2026-11-01 11:00,60,0", "2026-11-01 12:00,-30,105", "2026-11-18 16:30,20,100"])
    assert (found.log.temp, found.log.rh, found.refused, found.over) == ([6000, -3000, 2000], [0, 10_000, 10_000], 0, 1)


def test_a_wrong_file_refuses_every_line_but_tells_only_the_first() -> None:
    found = read(every(10, 300, START, "none"))
    assert (found.refused, len(found.faults), found.log.at) == (300, 200, [])


def test_lines_out_of_order_are_sorted_and_of_two_at_one_instant_the_later_line_holds() -> None:
    found = read(["2026-11-01 12:10,21,60", "2026-11-01 12:00,20,60", "2026-11-01 12:10,22,61"])
    assert (found.log.temp, found.log.rh, found.doubled) == ([2000, 2200], [6000, 6100], 1)


def test_a_pause_counts_as_a_gap_when_longer_than_three_usual_steps() -> None:
    rows = every(10, 20, START)
    assert read([*rows[:5], *rows[7:]]).gaps == ()  # 30 minutes: three steps
    (gap,) = read([*rows[:5], *rows[8:]]).gaps
    assert (gap.end - gap.start) == timedelta(minutes=40)
    assert read(rows).step_s == 600


def test_a_sensor_that_stands_still_for_twelve_hours_is_told() -> None:
    moving = [row.replace("20.0", f"2{nth % 2}.0") for nth, row in enumerate(every(60, 6, START))]
    still = every(60, 13, START + timedelta(hours=6))
    (found,) = read([*moving, *still]).stuck
    assert found.end - found.start == timedelta(hours=12)
    assert read([*moving, *still[:-1]]).stuck == ()
    assert read([*moving, *still[:6], still[6].replace(",60", ",61"), *still[7:]]).stuck == ()


def test_lines_swallowed_by_a_quote_that_stays_open_are_counted_and_told() -> None:
    rows = every(10, 6, START)
    found = read([rows[0], '"' + rows[1], rows[2], rows[3].replace(",60", '",60'), rows[4], rows[5]])
    assert (len(found.log.at), found.refused) == (3, 3)
    assert found.faults[0].line == 3
    assert "closes only on line 5" in found.faults[0].words


def test_reading_can_be_stopped_and_says_how_far_it_is() -> None:
    told: list[int] = []

    def stop(line: int) -> None:
        told.append(line)
        if len(told) == 2:
            raise RuntimeError("stopped")

    lines = [f"{row}\n" for row in ["time,temp,rh", *every(1, 12_000, START)]]
    with pytest.raises(RuntimeError, match="stopped"):
        heard(lines, PLAIN, MADRID, NOW, stop)
    assert told == [5_000, 10_000]
