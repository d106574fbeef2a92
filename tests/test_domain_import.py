"""The rules can be used alone: nothing slow or large comes in with them, and no oracle of the tests does."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

CHECKOUT = Path(__file__).parents[1]
OUTSIDE = {"psychrolib", "ephem", "segno"}
"""What the rules stand on beside Python's own library."""
KEPT_OUT = ("scipy", "numpy", "PySide6", "shiboken6", "sqlalchemy", "alembic", "PIL", "matplotlib", "pandas",
            "CoolProp", "lifelines", "networkx", "astral", "numba")


@pytest.fixture(scope="module")
def loaded() -> set[str]:
    """What a fresh interpreter holds after importing every module of the rules."""
    done = subprocess.run([sys.executable, "-m", "tests.benchmarks.domain_import"], cwd=CHECKOUT, check=True,
                          capture_output=True, text=True)
    return set(json.loads(done.stdout)["others"])


@pytest.mark.parametrize("library", KEPT_OUT)
def test_it_does_not_come_in(loaded: set[str], library: str) -> None:
    assert "greenhouse_desk" in loaded
    assert library not in loaded


def test_nothing_else_from_outside_comes_in(loaded: set[str]) -> None:
    known = {"greenhouse_desk", "tests", *OUTSIDE, *sys.stdlib_module_names, *sys.builtin_module_names}
    others = {name for name in loaded - known if not name.startswith("_")}
    assert others - {"sitecustomize", "usercustomize", "distutils"} == set()
    assert loaded >= OUTSIDE
