"""A logger that reads no humidity: its temperatures count, and what needs humidity is left out openly."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from greenhouse_desk.domain.air_log import Log
from greenhouse_desk.domain.air_log_look import guessed, look
from greenhouse_desk.domain.air_log_preview import NO_HUMIDITY, doubts, understood
from greenhouse_desk.domain.air_newest import newest_of, readings_of
from greenhouse_desk.domain.air_slots import by_day, slots
from greenhouse_desk.domain.airflow import estimate_reasons, fresh
from greenhouse_desk.domain.findings import Tracks
from greenhouse_desk.domain.findings_air import WetNight, air
from greenhouse_desk.domain.plants import Air
from greenhouse_desk.domain.settings import HouseRules
from tests.domain.air_files import MADRID, every, read

AT = datetime(2026, 11, 1, 12, tzinfo=UTC)
START = int(AT.timestamp())
WET = WetNight(0.9, 4)


def warm(hours: int, start: int = START) -> Log:
    """Two readings an hour without humidity."""
    return Log([start + 1800 * nth for nth in range(2 * hours)], [2000 + nth for nth in range(2 * hours)],
               [-1] * (2 * hours), [-1] * (2 * hours))


@pytest.mark.parametrize("head", ["time,temperature", "time,temperature,battery", "when,T"])
def test_no_humidity_is_guessed_where_nothing_speaks_of_it(head: str) -> None:
    rest = ",98" if head.endswith("battery") else ""
    sample = look([f"{head}\n", f"2026-11-17 12:00,20.5{rest}\n", f"2026-11-17 12:10,20.6{rest}\n"])
    columns = guessed(sample)
    assert (columns.temp, columns.rh) == (1, None)
    assert [(row.temp_c, row.rh, row.fault) for row in understood(sample, columns, UTC)] == [
        (20.5, None, ""), (20.6, None, "")]
    assert NO_HUMIDITY in doubts(sample, columns)


def test_every_line_is_taken_and_none_has_a_humidity() -> None:
    found = read(every(10, 5, datetime(2026, 11, 17, tzinfo=UTC)), rh=None)
    assert (found.refused, list(found.log.rh), found.over) == (0, [-1] * 5, 0)
    assert {one.rh for one in readings_of(found.log)} == {None}


def test_half_hours_tell_the_temperature_and_nothing_moist() -> None:
    (one, *_) = slots(warm(2))
    assert (one.mean, one.rh, one.vpd, one.vapour) == (2000, -1, -1, -1)
    ((_, day),) = by_day(slots(warm(2)), UTC)
    assert (day.mean_c, day.hours, day.humid_hours, day.dew_c) == (20.015, 2.0, 0.0, None)


def test_a_half_hour_with_both_kinds_of_readings_tells_the_moisture_of_those_that_know_it() -> None:
    (one,) = slots(Log([START, START + 60], [2000, 2200], [-1, 5000], [-1, -1]))
    assert (one.readings, one.mean, one.rh) == (2, 2100, 5000)
    (alone,) = slots(Log([START + 60], [2200], [5000], [-1]))
    assert (one.vpd, one.vapour) == (alone.vpd, alone.vapour)


def test_a_finding_of_it_draws_the_temperature_alone_and_says_why() -> None:
    found = air("sill", [], MADRID, WET, slots(warm(30)))
    assert isinstance(found.chart, Tracks)
    assert {line.words for line in found.chart.lines} == {"temperature"}
    assert "No humidity was measured: no VPD, dew point or wet night can be told." in found.summary
    assert {row[5:8] for row in found.table.rows} == {(None, None, None)}


def test_a_finding_of_both_counts_wet_nights_only_where_humidity_was_read() -> None:
    moist = Log([START + 86_400 + 1800 * nth for nth in range(48)], [1800] * 48, [9500] * 48, [-1] * 48)
    found = air("sill", [], MADRID, WET, (*slots(warm(24)), *slots(moist)))
    assert "Of 1 night read, 1 too wet" in found.summary
    assert "In 24 h only the temperature was read: they tell no VPD, dew point or wet night." in found.summary


def test_it_tells_no_drying_time_and_leaves_a_hands_humidity_standing_for_a_day() -> None:
    (logged, *_) = readings_of(warm(1))
    assert fresh(logged, AT, HouseRules()) is None
    (said, *_) = estimate_reasons(logged, None, UTC, AT)
    assert said.text.startswith("The logger there reads no humidity (20 C at 12:00 on")
    hand = Air(AT - timedelta(hours=24), 21.0, 0.5)
    assert newest_of(hand, logged) == hand
    assert newest_of(Air(AT - timedelta(hours=24, minutes=1), 21.0, 0.5), logged) == logged
