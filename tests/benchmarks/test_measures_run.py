"""The measures can be taken, and come out as ratios that make sense; what they are is printed, not asserted."""

from __future__ import annotations

import math
import sys
from pathlib import Path

import pytest

from tests.benchmarks.measure import ratios


def test_the_measures_are_taken_and_printed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    taken = []
    for ratio in ratios(tmp_path, quick=True):
        taken.append(ratio)
        with capsys.disabled():
            sys.stdout.write(f"\n{ratio}")
    assert len(taken) == 7
    assert all(math.isfinite(ratio.value) and ratio.value > 0 for ratio in taken)
