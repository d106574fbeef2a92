"""README.md tells of every verb and screen, DEVELOPERS.md of every door; what they name is there."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from greenhouse_desk import cli, cli_arguments
from tests.test_walls import DOORS, ONLY_SQLITE

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text("utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")
CODE = {"greenhouse_desk.ui.findings.charts": "matplotlib",
        "greenhouse_desk.app": "the window", "greenhouse_desk.cli": "the command line",
        "greenhouse_desk.ui.paper": "ui/paper.py", "greenhouse_desk.store.migrate": "alembic", "pi_heif": "pi-heif",
        "greenhouse_desk.ui.first_copy": "ui/first_copy.py", "zxingcpp": "zxing-cpp"}
"""What DEVELOPERS.md calls what stands behind a door, where that is not its name in an import."""
ROWS = re.findall(r"^\| `(\w+)` \| `([^`]+)` \|", README, re.MULTILINE)


def test_every_verb_has_its_row() -> None:
    assert [verb for verb, _ in ROWS] == list(dict.fromkeys(verb for verb, _ in ROWS))
    assert {verb for verb, _ in ROWS} == set(cli.DOERS)


@pytest.mark.parametrize(("verb", "example"), ROWS)
def test_each_example_is_understood(verb: str, example: str) -> None:
    assert cli_arguments.parser().parse_args(["--store", "FOLDER", *example.split()]).verb == verb


def test_every_screen_has_its_row() -> None:
    """In the order of the window's navigation."""
    window = re.findall(r"\bScreen\(\"(\w+)\"", (ROOT / "greenhouse_desk" / "program.py").read_text("utf-8"))
    table = README.partition("| screen | what it is for |\n|---|---|\n")[2].partition("\n\n")[0]
    assert re.findall(r"^\| (\w+) \|", table, re.MULTILINE) == window
    assert len(window) >= 6


def test_every_door_has_its_row() -> None:
    rows = [line for line in DEVELOPERS.splitlines() if line.startswith("|")]
    absent = [(file, library) for file, library in DOORS
              if not any(f"`{file}`" in row and CODE.get(library, library) in row for row in rows)]
    assert absent == []


def test_every_module_that_needs_sqlite_has_its_row() -> None:
    told = {name for row in re.findall(r"^\| ((?:`\w+\.py`(?:, )?)+) \|", DEVELOPERS, re.MULTILINE)
            for name in re.findall(r"`(\w+\.py)`", row)}
    assert told == set(ONLY_SQLITE)


def test_every_file_developers_are_told_of_is_there() -> None:
    """Written as a path, in back quotes, below the checkout or the package."""
    named = {name for name in re.findall(r"`([\w.]+(?:/[\w.]+)+)`", DEVELOPERS) if not name.startswith("build/")}
    assert len(named) > 20
    places = (ROOT, ROOT / "greenhouse_desk")
    assert [name for name in sorted(named) if not any((place / name).exists() for place in places)] == []


def test_every_picture_and_page_it_names_is_there() -> None:
    named = re.findall(r"\]\(([^)]+)\)", README)
    assert named
    assert [name for name in named if not (ROOT / name).exists()] == []
