"""A real window on a virtual screen, real keys: a whole session, its aftercare there, and there after a restart."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from tests.end_to_end import walk
from tests.end_to_end.screen import CHECKOUT, Window, xvfb

NOW = datetime(2026, 11, 18, 14, 0, tzinfo=UTC)
LATER = NOW + timedelta(hours=2)
PACE = 60.0
PLANTS = {101: "Root trim and repot", 104: "Pest wash", 107: "Root trim and repot"}
OWED = {"101 plain water", "101 cut check", "101 root check", "104 crown check", "107 plain water", "107 cut check",
        "107 root check"}
SEEN = {"101 cut check", "104 crown check", "107 cut check"}
"""Of it, what stands on the care strip: what is later and what is held is folded away there."""


def command(folder: Path, now: datetime, *words: str) -> str:
    """Run a verb of the command line on the collection; returns what it printed."""
    return subprocess.run([sys.executable, "-m", "greenhouse_desk", "--store", str(folder), "--now", now.isoformat(),
                           *words], cwd=CHECKOUT, check=True, capture_output=True, text=True, timeout=300).stdout


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("window") / "demo"
    command(folder, NOW, "demo")
    return folder


@pytest.fixture(scope="module")
def display() -> Iterator[str]:
    with xvfb() as name:
        yield name


@pytest.mark.xvfb
def test_a_whole_session_by_real_keys_leaves_its_aftercare_and_a_restart_keeps_it(demo: Path, display: str) -> None:
    window = Window(display, demo, NOW, PACE)
    try:
        window.focus()
        walk.choose(window, tuple(PLANTS))
        for plant, title in PLANTS.items():
            walk.pick(window, plant, title)
        walk.plan(window)
        walk.begin(window)
        presses = walk.work(window)
        assert presses > 20 * len(PLANTS)
        record = window.see().lines
        assert all(any(line.startswith(str(plant)) for line in record) for plant in PLANTS), record
        window.press("ctrl+1")
        assert SEEN - set(window.see().care) == set()
        window.close()
    finally:
        window.kill()
    owed = {f"{care['plant']} {care['kind']}" for care in json.loads(command(demo, LATER, "due", "--json"))}
    assert OWED - owed == set()
    assert json.loads(command(demo, LATER, "check", "--json")) == {"ok": True, "faults": []}
    again = Window(display, demo, LATER, 1.0)
    try:
        assert SEEN - set(again.see().care) == set()
        again.close()
    finally:
        again.kill()
