"""The entry: a verb loads no window, the window needs a screen, and the list of verbs leaves none out."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from greenhouse_desk import cli
from greenhouse_desk.__main__ import SCREENS, arguments, no_screen
from greenhouse_desk.__main__ import main as entry
from greenhouse_desk.store.engine import open_store
from greenhouse_desk.ui.first_copy import FirstCopy
from tests.builders import NOW


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """An empty collection, closed."""
    open_store(tmp_path / "plants", create=True).close()
    return tmp_path / "plants"


def test_the_program_answers_a_verb_without_loading_a_window(folder: Path) -> None:
    script = ("import sys; from greenhouse_desk.__main__ import main; code = main(sys.argv[1:]); "
              "sys.exit(9 if any(name.startswith('PySide6') for name in sys.modules) else code)")
    asked = ("--store", str(folder), "--now", NOW.isoformat(), "due", "--json")
    done = subprocess.run([sys.executable, "-c", script, *asked], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout) == []


@pytest.mark.parametrize(("environment", "platform", "without"), [
    ({}, "linux", True), ({"DISPLAY": ""}, "linux", True), ({"DISPLAY": ":0"}, "linux", False),
    ({"WAYLAND_DISPLAY": "wayland-0"}, "linux", False), ({"QT_QPA_PLATFORM": "offscreen"}, "linux", False),
    ({}, "darwin", False), ({}, "win32", False)])
def test_where_there_is_no_screen_is_told(environment: dict[str, str], platform: str, without: bool) -> None:
    assert no_screen(environment, platform) is without


def test_the_window_without_a_screen_is_refused_in_plain_words(folder: Path) -> None:
    """Left to itself Qt aborts, and speaks of installing the application again."""
    bare = {name: value for name, value in os.environ.items() if name not in SCREENS}
    done = subprocess.run([sys.executable, "-m", "greenhouse_desk", "--store", str(folder)], env=bare,
                          capture_output=True, text=True, check=False, timeout=60)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("There is no screen here")
    assert "greenhouse-desk --store FOLDER due" in done.stderr


def test_a_second_start_only_calls_the_first_and_loads_no_program(qapp: object, folder: Path) -> None:
    """It is told at once, however long the program takes to load."""
    first = FirstCopy(folder)
    script = ("import sys; from greenhouse_desk.__main__ import main; code = main(sys.argv[1:]); "
              "sys.exit(9 if {'sqlalchemy', 'PySide6.QtWidgets'} & set(sys.modules) else code)")
    done = subprocess.run([sys.executable, "-c", script, "--store", str(folder)], capture_output=True, text=True,
                          check=False, env={**os.environ, "QT_QPA_PLATFORM": "offscreen"}, timeout=60)
    first.close()
    assert (done.returncode, done.stderr) == (
        0, "This collection is already open: its window was brought forward.\n")


def test_the_entry_names_every_verb(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        arguments(["--help"])
    told = capsys.readouterr().out
    assert [verb for verb in cli.DOERS if not re.search(rf"\b{verb}\b", told.partition("VERB")[2])] == []


def test_the_entry_takes_json_before_the_verb_too(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert entry(["--json", "--store", str(folder), "--now", "2026-11-25T17:00:00+00:00", "due"]) == 0
    assert isinstance(json.loads(capsys.readouterr().out), list)
    assert entry(["--json"]) == 2
