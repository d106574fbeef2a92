"""The mutation run: where it leaves changes out, and that every rule of the domain and its tests stand in it."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

PACKAGING = Path(__file__).parents[1] / "packaging"
sys.path.insert(0, str(PACKAGING))

import mutants  # noqa: E402
import mutate  # noqa: E402
import notice  # noqa: E402


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


SOURCE = """A = 1


@cache
def f(a: int = 2) -> int:
    b = [one for one in range(a)]

    def g() -> int:
        return 3
    return g() + len(b)


class C:
    x: int = 4

    def m(self) -> int:
        return self.x
"""


@pytest.mark.parametrize(("old", "new", "function"), [
    ("A = 1", "A = 2", None), ("@cache\n", "", None), ("a: int = 2", "a: int = 3", None),
    ("x: int = 4", "x: int = 5", None), ("range(a)", "range(-a)", 4),
    ("return 3", "return 4", 8), ("g() +", "g() -", 4), ("self.x", "-self.x", 16)])
def test_a_change_is_put_to_the_function_it_is_in(old: str, new: str, function: int | None) -> None:
    assert notice.around(SOURCE, *notice.changed(SOURCE, SOURCE.replace(old, new))) == function


def test_the_lines_that_differ_are_found_also_where_lines_repeat() -> None:
    assert notice.changed("a\nb\nb\nc", "a\nb\nd\nc") == (3, 3)
    assert notice.changed("a\nb\nb\nc", "a\nb\nc") == (3, 3)
    assert notice.changed("a\nb\nc", "x\ny\nz") == (1, 3)


def test_only_tests_that_call_a_function_are_shown_a_change_in_it_the_shortest_first() -> None:
    name = "greenhouse_desk/domain/made_up.py"
    calls = {"": [f"{name}:16"], "t/a.py::long": [f"{name}:4"], "t/b.py::short": [f"{name}:4", f"{name}:8"],
             "t/b.py::other": ["greenhouse_desk/domain/air.py:4"]}
    notes = [notice.Note(test=test, seconds=float(len(test)), calls=told) for test, told in calls.items()]

    def shown(old: str, new: str) -> list[str]:
        files, wanted, seconds = notice.noticing(notes, name, SOURCE, SOURCE.replace(old, new))
        assert seconds == sum(map(len, wanted.order))
        assert set(files) == {test.split("::")[0] for test in wanted.order}
        return list(wanted.order)

    assert shown("range(a)", "range(-a)") == ["t/a.py::long", "t/b.py::short"]
    assert shown("return 3", "return 4") == ["t/b.py::short"]
    everyone = ["t/a.py::long", "t/b.py::short", "t/b.py::other"]
    assert shown("A = 1", "A = 2") == everyone, "those that call anything of it come first"
    assert shown("self.x", "-self.x") == everyone, "it was called while all was loaded"


RULE = """from functools import cache

LIMIT = 3


@cache
def twice(n: int) -> int:
    return 2 * n


def half(n: int) -> int:
    return n // 2
"""
TESTS = """from greenhouse_desk.rule import LIMIT, half, twice


def test_twice() -> None:
    assert twice(LIMIT) == 6


def test_half() -> None:
    assert half(7) > 0
"""


def test_a_testbed_says_what_the_tests_say(tmp_path: Path) -> None:
    parts = {f"packaging/{one}.py": (PACKAGING / f"{one}.py").read_text("utf-8")
             for one in ("testbed", "notice", "show_change")}
    made = {"greenhouse_desk/__init__.py": "", "greenhouse_desk/rule.py": RULE, "tests/test_rule.py": TESTS}
    for name, text in (parts | made).items():
        (tmp_path / "made" / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "made" / name).write_text(text, "utf-8")
    rule = tmp_path / "made" / "greenhouse_desk" / "rule.py"
    with mutants.Copy(tmp_path / "made").testbed() as copy:
        copy.must_pass("topic", ["tests/test_rule.py"])
        for old, new, said in (("2 * n", "3 * n", "noticed"), ("= 3", "= 4", "noticed"), ("n // 2", "n // 3", "passed"),
                               ("def half", "def hal", "noticed"), ("return n // 2", "while n: pass", "too long"),
                               ("", "", "passed")):
            rule.write_text(RULE.replace(old, new, 1), "utf-8")
            assert copy.show("ask", "topic", "greenhouse_desk/rule.py") == said, new
    assert copy.show("ask", "topic", "greenhouse_desk/rule.py") not in mutants.ANSWERS, "no answer is no 'noticed'"
