"""The wheel: everything shipped is in it, nothing else, and it runs by itself, away from the checkout."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

CHECKOUT = Path(__file__).parents[2]
NOISE = {"__pycache__", ".mypy_cache", ".ruff_cache"}


def run(*command: str, **environment: str) -> str:
    """Run Python with these arguments; returns what it printed."""
    done = subprocess.run([sys.executable, *command], cwd=environment.pop("cwd", str(CHECKOUT)), timeout=300,
                          env=os.environ | environment, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    run("-m", "hatchling", "build", "-t", "wheel", "-d", str(folder))
    return next(folder.glob("*.whl"))


def shipped() -> set[str]:
    """What must be in the wheel, by the names it has there."""
    rooms = {"greenhouse_desk": "greenhouse_desk", "resources": "greenhouse_desk/resources",
             "demo": "greenhouse_desk/demo"}
    return {f"{there}/{path.relative_to(CHECKOUT / room).as_posix()}"
            for room, there in rooms.items() for path in (CHECKOUT / room).rglob("*")
            if path.is_file() and not NOISE & set(path.parts)}


def test_it_holds_all_that_is_shipped_and_nothing_else(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        held = {name for name in archive.namelist() if ".dist-info/" not in name}
    assert held == shipped()


def test_it_builds_the_demo_and_says_what_is_due_away_from_the_checkout(wheel: Path, tmp_path: Path) -> None:
    there = tmp_path / "installed"
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(there)
    away = {"PYTHONPATH": str(there), "cwd": str(tmp_path)}
    where = run("-P", "-c", "import greenhouse_desk; print(greenhouse_desk.__file__)", **away)
    assert where.startswith(str(there))
    common = ("-P", "-m", "greenhouse_desk", "--store", str(tmp_path / "demo"), "--now", "2026-11-18T16:00:00+00:00")
    run(*common, "demo", **away)
    owed = json.loads(run(*common, "due", "--json", **away))
    assert len(owed) >= 10
