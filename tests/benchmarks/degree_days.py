"""Degree-days over ten years of hourly readings by the rules, against the same worked out by hand with numpy."""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from statistics import median

import numpy as np
import numpy.typing as npt

from greenhouse_desk.domain.pests import degree_days
from greenhouse_desk.domain.pests_climate import climate
from tests.benchmarks.ratio import Ratio

START, YEARS = datetime(2016, 1, 1, tzinfo=UTC), 10
LOWER_C, UPPER_C = 12.87, 30.0
Readings = list[tuple[datetime, float]]
Numbers = npt.NDArray[np.float64]


def readings() -> Readings:
    """An hourly record that swings with the day and the year, some days across both thresholds."""
    hours = range(int(365.25 * 24) * YEARS)
    return [(START + timedelta(hours=hour), 19 + 9 * math.sin(hour / 24 / 365.25 * math.tau)
             + (3 + hour % 7) * math.sin(hour / 24 * math.tau)) for hour in hours]


def by_rules(record: Readings) -> float:
    """The sum over all days as the program works it out: readings to days, days to degree-days."""
    found = climate(record, record[-1][0].date(), UTC, "bench")
    assert found is not None
    return sum(degree_days(day.low_c, day.high_c, LOWER_C, UPPER_C) for day in found.days.values())


def arrays(record: Readings) -> tuple[Numbers, Numbers]:
    """The record as numpy has it: the day of each reading, and its temperature."""
    return (np.fromiter((at.timestamp() // 86400 for at, _ in record), float, len(record)),
            np.fromiter((temp for _, temp in record), float, len(record)))


def by_hand(days: Numbers, temps: Numbers) -> float:
    """The same sum: lows and highs by array, the sine's area by one formula for all days."""
    starts = np.flatnonzero(np.concatenate(([True], np.diff(days) > 0)))
    low, high = np.minimum.reduceat(temps, starts), np.maximum.reduceat(temps, starts)
    mean, swing = (low + high) / 2, np.maximum((high - low) / 2, 1e-12)

    def above(threshold: float) -> Numbers:
        rising = np.arcsin(np.clip((threshold - mean) / swing, -1, 1))
        area: Numbers = ((mean - threshold) * (np.pi / 2 - rising) + swing * np.cos(rising)) / np.pi
        return area

    return float((above(LOWER_C) - above(UPPER_C)).sum())


def timed(work: Callable[[], float], times: int) -> float:
    """The median seconds of some runs."""
    seconds = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        seconds.append(time.perf_counter() - start)
    return median(seconds)


def ratio(times: int) -> Ratio:
    """Both ways from the same list of readings; they must come to the same sum."""
    record = readings()
    ready = arrays(record)
    if not math.isclose(by_rules(record), by_hand(*ready), rel_tol=1e-9):
        raise RuntimeError(f"{by_rules(record)} by the rules, {by_hand(*ready)} by hand")
    rules = timed(lambda: by_rules(record), times)
    hand = timed(lambda: by_hand(*arrays(record)), times)
    bare = timed(lambda: by_hand(*ready), times)
    return Ratio("degree-days over 10 years of hourly readings / the same with numpy by hand", rules / hand,
                 f"{rules * 1000:.0f} ms / {hand * 1000:.0f} ms from the same list of readings; with the arrays made "
                 f"already numpy needs {bare * 1000:.1f} ms, {rules / bare:.0f} times less")
