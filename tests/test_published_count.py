"""Enough published values are really checked: counted by the rows that tests are parametrized with, of those that were
read in the work or on a page that quotes it."""

from __future__ import annotations

import ast
from collections import Counter
from collections.abc import Iterable
from pathlib import Path
from types import ModuleType

import pytest

from tests.outside.published import How, Published, checked, everywhere

VALUES, SOURCES = 120, 25
ROWS = everywhere()


def counted(rows: Iterable[Published]) -> tuple[int, int]:
    """How many values that were read, and from how many works."""
    read = {row for row in rows if row.how is How.READ}
    return len(read), len({row.source.casefold().strip() for row in read})


def test_enough_values_from_enough_sources() -> None:
    values, works = counted(ROWS)
    assert values >= VALUES
    assert works >= SOURCES


def test_what_was_remembered_or_worked_out_does_not_count() -> None:
    rows = [Published("a", 1.0, "a work"), Published("b", 2.0, "A work"),
            Published("c", 3.0, "one", how=How.FROM_MEMORY), Published("d", 4.0, "two", how=How.WORKED_OUT)]
    assert counted(rows) == (2, 1)
    assert {how for how in How if any(row.how is how for row in ROWS)} == set(How)


def test_no_row_says_in_words_that_it_was_not_read_and_counts() -> None:
    told = [row for row in ROWS if any(word in f"{row.source} {row.where}" for word in ("memory", "worked out"))]
    assert [row for row in told if row.how is How.READ] == []


def test_developers_are_told_the_count() -> None:
    values, works = counted(ROWS)
    told = " ".join((Path(__file__).parents[1] / "DEVELOPERS.md").read_text("utf-8").split())
    assert f"{values} values read in {works} works" in told
    others = Counter(row.how for row in ROWS)
    assert f"{others[How.WORKED_OUT]} worked out by us and {others[How.FROM_MEMORY]} from memory" in told


def values_reckoned(source: str) -> list[int]:
    """Lines on which a row's value is reckoned where it stands, and the row does not say so."""
    calls = [node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Call)
             and ast.unparse(node.func) == "Published" and len(node.args) > 1]
    silent = [call for call in calls if not any(word.arg == "how" for word in call.keywords)]
    return [call.lineno for call in silent
            if any(isinstance(part, ast.BinOp | ast.Call) for part in ast.walk(call.args[1]))]


OUTSIDE = sorted(Path(__file__).with_name("outside").glob("test_*.py"))


@pytest.mark.parametrize("module", OUTSIDE, ids=lambda path: path.stem)
def test_a_value_that_is_reckoned_says_so(module: Path) -> None:
    assert values_reckoned(module.read_text("utf-8")) == []


def test_a_reckoned_value_is_found() -> None:
    rows = ["A = Published('a', 1.5 / 2, W)", "B = Published('b', exp(1), W, how=H)", "C = Published('c', 2, W)"]
    assert values_reckoned("\n".join(rows)) == [1]


def test_every_row_tells_what_it_is_and_where_it_comes_from() -> None:
    assert [row for row in ROWS if not row.what.strip() or len(row.source.strip()) < 8] == []


def test_a_row_that_no_test_is_given_does_not_count() -> None:
    given, spare = Published("a", 1.0, "a work"), Published("b", 2.0, "a work")

    @pytest.mark.parametrize(("row", "more"), [(given, 0), pytest.param(given, 1)])
    def test_something(row: Published, more: int) -> None:
        raise AssertionError("never run")

    module = ModuleType("a_module")
    module.__dict__.update(test_something=test_something, SPARE=(spare,))
    assert set(checked(module)) == {given}


def test_a_value_agrees_only_within_its_tolerance() -> None:
    row = Published("a", 10.0, "a work", within=0.5)
    assert row.agrees(10.4)
    assert not row.agrees(10.6)
    assert not row.agrees(float("nan"))
    assert Published("never", float("inf"), "a work").agrees(float("inf"))
    assert not Published("never", float("inf"), "a work", within=9.0).agrees(1e9)
