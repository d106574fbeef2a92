"""What the code holds itself to: short functions and files, a first line with the job, no room for odds and ends."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

CHECKOUT = Path(__file__).parents[1]
ROOMS = ("greenhouse_desk", "demo", "packaging")
LONGEST_FUNCTION, LONGEST_FILE = 40, 300
NO_ROOMS = {"utils", "util", "common", "helpers", "helper", "misc", "manager", "shared", "tools"}

FILES = [path for room in ROOMS for path in sorted((CHECKOUT / room).rglob("*.py"))]


def _name(path: Path) -> str:
    return path.relative_to(CHECKOUT).as_posix()


def long_functions(tree: ast.Module) -> list[str]:
    """Functions longer than the measure, with their lines."""
    return [f"{node.name}: {node.end_lineno - node.lineno + 1} lines" for node in ast.walk(tree)
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) and node.end_lineno is not None
            and node.end_lineno - node.lineno + 1 > LONGEST_FUNCTION]


def test_the_checks_see_an_offence() -> None:
    long = "def f():\n" + "    x = 1\n" * LONGEST_FUNCTION
    assert long_functions(ast.parse(long)) == ["f: 41 lines"]


@pytest.mark.parametrize("path", FILES, ids=_name)
def test_a_file_keeps_the_measures(path: Path) -> None:
    text = path.read_text("utf-8")
    tree = ast.parse(text)
    assert text.count("\n") <= LONGEST_FILE
    assert long_functions(tree) == []
    assert ast.get_docstring(tree), "the first line says the module's job"
    assert not NO_ROOMS & {part.removesuffix(".py") for part in path.relative_to(CHECKOUT).parts}
