"""Half hours, days and nights of a logger's record: means of each reading's own VPD, and nights by the house rule."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from greenhouse_desk.domain.air_dark import by_rule
from greenhouse_desk.domain.air_log import Log
from greenhouse_desk.domain.air_newest import newest_of, readings_of, thinned
from greenhouse_desk.domain.air_slots import by_day, by_hour, nights, slots
from greenhouse_desk.domain.findings import Tracks
from greenhouse_desk.domain.findings_air import WetNight, air
from greenhouse_desk.domain.journal_words import Moving
from greenhouse_desk.domain.pests_climate import climate
from greenhouse_desk.domain.plants import Air
from tests.domain.air_files import MADRID

START = int(datetime(2026, 11, 1, tzinfo=UTC).timestamp())
WET = WetNight(0.9, 4)
DARK = by_rule(MADRID)


def log(minutes: int, temps: list[float], moist: list[float], start: int = START) -> Log:
    """Readings at even steps: deg C and % RH."""
    return Log([start + 60 * minutes * nth for nth in range(len(temps))], [round(100 * temp) for temp in temps],
               [round(100 * rh) for rh in moist], [-1] * len(temps))


def test_half_hours_have_lowest_mean_and_highest() -> None:
    one, other = slots(log(10, [20, 21, 25, 18], [60, 60, 60, 60]))
    assert (one.start, one.readings, one.low, one.mean, one.high, one.rh) == (START, 3, 2000, 2200, 2500, 6000)
    assert (other.start, other.readings, other.low) == (START + 1800, 1, 1800)


def test_an_hour_and_a_local_day_weigh_each_reading_alike() -> None:
    found = slots(log(10, [20, 20, 20, 26], [50, 50, 50, 90]))
    (hour,) = by_hour(found)
    assert (hour.readings, hour.mean_c, hour.hours) == (4, 21.5, 1.0)
    assert hour.rh == pytest.approx(0.6)
    days = by_day(slots(log(30, [20.0] * 96, [60.0] * 96)), MADRID)
    assert [(day, one.hours) for day, one in days] == [
        (date(2026, 11, 1), 23.0), (date(2026, 11, 2), 24.0), (date(2026, 11, 3), 1.0)]


def test_the_dew_point_is_that_of_the_vapour_there_is() -> None:
    (hour,) = by_hour(slots(log(10, [25.0] * 6, [60.0] * 6)))
    assert hour.dew_c == pytest.approx(16.7, abs=0.05)
    (dry,) = by_hour(slots(log(10, [25.0], [0.0])))
    assert dry.dew_c is None


def test_a_night_is_counted_by_its_hours_from_evening_to_morning() -> None:
    moist = [95.0 if 38 <= nth < 47 else 60.0 for nth in range(96)]  # 19:00 to 23:30 UTC is 20:00 to 0:30 in Madrid
    (first, second, third) = nights(slots(log(30, [18.0] * 96, moist)), DARK, 0.9)
    assert (first.began, first.hours, first.wet_hours) == (date(2026, 10, 31), 7.0, 0.0)
    assert (second.began, second.hours, second.wet_hours, second.rh) == (date(2026, 11, 1), 12.0, 4.5, 0.95)
    assert (third.began, third.wet_hours) == (date(2026, 11, 2), 0.0)
    assert [nights(slots(log(30, [18.0] * 96, moist)), DARK, rh)[1].wet_hours for rh in (0.95, 0.951)] == [4.5, 0.0]


def test_a_finding_of_a_logger_marks_the_nights_too_wet_and_breaks_where_nothing_was_read() -> None:
    moist = [95.0 if 38 <= nth < 47 else 60.0 for nth in range(96)]
    known = [*slots(log(30, [18.0] * 96, moist)), *slots(log(30, [18.0] * 4, [60.0] * 4, START + 5 * 86_400))]
    found = air("sill", [], MADRID, WET, known)
    assert isinstance(found.chart, Tracks)
    by_words = {line.words: line for line in found.chart.lines}
    (mark,) = by_words["night too wet"].points
    assert mark[0] == datetime(2026, 11, 2, tzinfo=UTC)
    assert mark[1] == pytest.approx(95.0)
    assert sum(value != value for _, value in by_words["humidity"].points) == 1
    assert ("Of 4 nights read, 1 too wet (4 h or more at 90 % RH or more; night is 20 to 8 o'clock by the house rule), "
            "the last on 1 Nov 2026.") in found.summary
    assert [row[-1] for row in found.table.rows] == ["too wet", "", "", ""]
    for hours, marked in ((4.5, True), (5, False)):
        told = air("sill", [], MADRID, WetNight(0.9, hours), known)
        assert isinstance(told.chart, Tracks)
        assert ("night too wet" in {line.words for line in told.chart.lines}) is marked


def test_a_reading_by_hand_counts_where_the_logger_knows_nothing() -> None:
    known = slots(log(30, [18.0] * 4, [60.0] * 4))
    beside = [Air(datetime(2026, 11, 1, 1, 5, tzinfo=UTC), 30.0, 0.5),
              Air(datetime(2026, 11, 1, 9, tzinfo=UTC), 25.0, 0.5)]
    found = air("sill", beside, UTC, WET, known)
    assert found.rests_on == "4 readings of a logger and 1 by hand on 1 day"
    assert "18.0 to 25.0 C" in found.summary


def test_a_year_is_drawn_day_by_day_with_lowest_and_highest() -> None:
    known = slots(log(30, [18.0, 20.0] * 24 * 40, [60.0] * 48 * 40))
    chart = air("sill", [], UTC, WET, known).chart
    assert isinstance(chart, Tracks)
    assert {line.words: len(line.points) for line in chart.lines}["highest"] == 40


def test_the_newest_reading_is_the_newer_and_a_word_on_the_fan_stands_for_a_day() -> None:
    at = datetime(2026, 11, 1, 12, tzinfo=UTC)
    hand = Air(at, 20.0, 0.6, None, Moving.FAN)
    logger = Air(at + timedelta(hours=24), 21.0, 0.7, logged=True)
    both = newest_of(hand, logger)
    assert (both.temp_c, both.moving, both.logged) == (21.0, Moving.FAN, True)
    later = Air(at + timedelta(hours=24, minutes=1), 21.0, 0.7, logged=True)
    assert newest_of(hand, later).moving is None
    measured = Air(at + timedelta(hours=1), 21.0, 0.7, 0.1, logged=True)
    assert newest_of(hand, measured) == measured
    assert newest_of(hand, Air(at, 21.0, 0.7, logged=True)) == hand
    assert newest_of(None, logger) == logger


def test_thinned_readings_lie_apart() -> None:
    told = readings_of(thinned(log(3, [20.0] * 10, [60.0] * 10), 600))
    assert [one.at.minute for one in told] == [0, 12, 24]
    assert all(one.logged for one in told)


def test_a_climate_takes_the_lowest_and_highest_of_a_loggers_day() -> None:
    known = slots(log(10, [12.0, 28.0, 20.0, 19.0], [60.0] * 4))
    hand = [(datetime(2026, 11, 1, 20, tzinfo=UTC), 30.0)]
    found = climate(hand, date(2026, 11, 2), UTC, "sill", "", known)
    assert found is not None
    day = found.on(date(2026, 11, 1))
    assert (day.low_c, day.high_c, day.readings, found.readings) == (12.0, 30.0, 5, 5)
    assert found.newest == hand[0][0]
