"""Bench mode fills a real screen, also one without a window manager to make it do so."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from tests.end_to_end.screen import CHECKOUT, PATIENCE_S, xvfb


def test_it_fills_the_screen_without_a_window_manager(tmp_path: Path) -> None:
    with xvfb("1366x768x24") as display:
        assert _shown(display, tmp_path) == ["0", "0", "1366", "768"]


def _shown(display: str, folder: Path) -> list[str]:
    """Where the child's bench mode stands: x, y, width, height."""
    environment = os.environ | {"DISPLAY": display, "QT_QPA_PLATFORM": "xcb"}
    ran = subprocess.run([sys.executable, "-m", "tests.ui.full_screen_app", str(folder / "desk")], cwd=CHECKOUT,
                         env=environment, stdout=subprocess.PIPE, text=True, timeout=PATIENCE_S, check=True)
    return ran.stdout.split()
