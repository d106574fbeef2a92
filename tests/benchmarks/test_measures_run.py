"""The measures can be taken, and come out as ratios that make sense; what they are is printed, not asserted."""

from __future__ import annotations

import math
import sys
from pathlib import Path

import pytest

from tests.benchmarks import quarantine_store, trace_growth
from tests.benchmarks.measure import large, ratios


def test_the_measures_are_taken_and_printed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    taken = []
    for ratio in ratios(tmp_path, quick=True):
        taken.append(ratio)
        with capsys.disabled():
            sys.stdout.write(f"\n{ratio}")
    assert len(taken) == 25
    assert all(math.isfinite(ratio.value) and ratio.value > 0 for ratio in taken)


def test_a_hundred_plants_with_ten_thousand_entries_always(tmp_path: Path) -> None:
    """The small sample of the next."""
    cold, warm = quarantine_store.ratios(tmp_path, quarantine_store.SAMPLE)
    assert math.isfinite(cold.value)
    assert math.isfinite(warm.value)
    assert cold.value > 0 < warm.value


@pytest.mark.long
def test_ten_thousand_plants_with_a_million_entries(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """From cold, and after one new entry; both are printed. What one entry does not touch is not read again."""
    with capsys.disabled():
        for ratio in quarantine_store.ratios(tmp_path, quarantine_store.LARGE):
            sys.stdout.write(f"\n{ratio}")
            assert math.isfinite(ratio.value)
            assert ratio.value > 0


@pytest.mark.long
def test_traces_and_standings_grow_in_step_with_the_collection() -> None:
    """From 1,000 to 10,000 plants with 200,000 stays, in the time of this process alone."""
    assert [ratio for ratio in trace_growth.ratios(quick=False) if ratio.value >= 1.2] == []


@pytest.mark.long
def test_the_measures_of_a_large_collection_are_taken_and_printed(
        tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """2,000 plants with a year and a half of journal."""
    taken = []
    for ratio in large(tmp_path, quick=False):
        taken.append(ratio)
        with capsys.disabled():
            sys.stdout.write(f"\n{ratio}")
    assert len(taken) == 6
    assert all(math.isfinite(ratio.value) and ratio.value > 0 for ratio in taken)
