"""The screen outlives every widget that asked for it: in a process of its own, for it ends where the screen is gone."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
CIRCLE = """
import gc
from PySide6.QtWidgets import QApplication, QWidget
from greenhouse_desk.ui.whole_screen import screen_of
gc.disable()
app = QApplication([])
class Sheet(QWidget):
    pass
first, second = Sheet(), Sheet()
width = screen_of(first).geometry().width()
second.me = second
assert screen_of(second).geometry().width() == width
del first, second
gc.collect()
assert screen_of(Sheet()).geometry().width() == width
print("stands")
"""


def test_collecting_a_sheet_that_asked_for_its_screen_leaves_the_screen() -> None:
    told = subprocess.run([sys.executable, "-c", CIRCLE], cwd=ROOT, capture_output=True, text=True, check=False)
    assert (told.returncode, told.stdout, told.stderr) == (0, "stands\n", "")


def test_nobody_asks_for_the_screen_in_another_way() -> None:
    asked = re.compile(r"\.(screen|windowHandle)\(\)")
    files = [path for path in (ROOT / "greenhouse_desk").rglob("*.py") if asked.search(path.read_text("utf-8"))]
    assert [path.name for path in files] == ["whole_screen.py"]


def test_nobody_walks_the_chain_of_the_keyboard() -> None:
    """PySide makes each widget met on it the child of the one before, and takes them down together, in no order."""
    asked = re.compile(r"\.(next|previous)InFocusChain\(\)")
    files = [path for path in (ROOT / "greenhouse_desk").rglob("*.py") if asked.search(path.read_text("utf-8"))]
    assert files == []
