"""The mutation run: where it leaves changes out, and that every rule of the domain and its tests stand in it."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

PACKAGING = Path(__file__).parents[1] / "packaging"
sys.path.insert(0, str(PACKAGING))

import mutants  # noqa: E402
import mutate  # noqa: E402


def test_annotations_and_the_ways_of_a_dataclass_are_left_out_and_no_more() -> None:
    source = ("@dataclass(frozen=True)\nclass A:\n    x: int | None = 3\n\n\n"
              "@rounded(2)\ndef f(a: int | str = 1) -> int | str:\n    return a | 1\n")
    lines = source.splitlines()
    texts = {lines[row - 1][column:end] for (row, column), (last, end) in mutants.unanswering(source) if row == last}
    assert texts == {"dataclass(frozen=True)", "int | None", "int | str"}


def test_a_diff_is_told_by_the_lines_that_differ() -> None:
    assert mutants.changed_lines("--- a\n+++ b\n@@ -1 +1 @@\n same\n-x < 1\n+x <= 1\n") == "-x < 1\n+x <= 1"


@pytest.mark.parametrize("topic", mutate.SUBJECTS)
def test_each_topic_has_modules_and_tests(topic: str) -> None:
    for patterns in mutate.SUBJECTS[topic]:
        assert mutate.files(patterns)


def test_every_module_of_a_topic_is_changed() -> None:
    """A rule that was split into several modules must not slip out of the run."""
    names = {path.removeprefix("greenhouse_desk/domain/") for modules, _ in mutate.RULES.values()
             for path in mutate.files(modules)}
    there = {path.name for path in (PACKAGING.parent / "greenhouse_desk" / "domain").glob("*.py")
             if path.stem.split("_")[0] in mutate.RULES}
    assert there <= names


@pytest.mark.parametrize("topic", mutate.SUBJECTS)
def test_no_topic_names_tests_that_are_not_there(topic: str) -> None:
    named = {pattern.split("/")[-1] for pattern in mutate.SUBJECTS[topic][1]}
    found = {pattern.split("/")[-1] for pattern in mutate.SUBJECTS[topic][1] if mutate.files([pattern])}
    assert found == named
