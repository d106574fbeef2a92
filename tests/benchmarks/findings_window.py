"""Run as a child process: Findings first shown in the demo's window, and, with "bare", a bare chart of matplotlib."""

from __future__ import annotations

import sys
import time
from io import BytesIO
from pathlib import Path

from greenhouse_desk.services.findings import Topic
from greenhouse_desk.ui.findings.screen import FindingsScreen
from tests.benchmarks import probing
from tests.benchmarks.opened import opened_program


def bare() -> float:
    """Seconds to load matplotlib and draw one line by it."""
    begun = time.perf_counter()
    from matplotlib.figure import Figure

    made = Figure(figsize=(1366 / 96, 768 / 96), dpi=96)
    made.add_subplot().plot([0, 1, 2], [1, 0, 1])
    made.savefig(BytesIO(), format="raw")
    return time.perf_counter() - begun


def shown(folder: Path) -> tuple[float, float]:
    """Seconds until Findings is painted with its first chart, and until the air of a place is after that."""
    program = opened_program(folder)
    probing.painted(program.window)
    begun = time.perf_counter()
    program.window.show_titled("Findings")
    probing.painted(program.window)
    first = time.perf_counter() - begun
    screen = program.window.findChild(FindingsScreen)
    assert isinstance(screen, FindingsScreen)
    begun = time.perf_counter()
    screen.open_topic(Topic.AIR)
    probing.painted(program.window)
    air = time.perf_counter() - begun
    assert screen.chart.picture is not None
    program.close()
    return first, air


if __name__ == "__main__":
    if sys.argv[1] == "bare":
        probing.tell(first_s=bare())
    else:
        opened_s, air_s = shown(Path(sys.argv[1]))
        probing.tell(first_s=opened_s, air_s=air_s)
