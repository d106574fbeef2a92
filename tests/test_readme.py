"""README.md tells of every verb, and its examples are understood."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from greenhouse_desk import cli

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text("utf-8")
ROWS = re.findall(r"^\| `(\w+)` \| `([^`]+)` \|", README, re.MULTILINE)


def test_every_verb_has_its_row() -> None:
    assert [verb for verb, _ in ROWS] == list(dict.fromkeys(verb for verb, _ in ROWS))
    assert {verb for verb, _ in ROWS} == set(cli.DOERS)


@pytest.mark.parametrize(("verb", "example"), ROWS)
def test_each_example_is_understood(verb: str, example: str) -> None:
    assert cli.parser().parse_args(["--store", "FOLDER", *example.split()]).verb == verb


def test_every_picture_and_page_it_names_is_there() -> None:
    named = re.findall(r"\]\(([^)]+)\)", README)
    assert named
    assert [name for name in named if not (ROOT / name).exists()] == []
