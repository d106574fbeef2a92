"""What the code holds itself to: short functions and files, a first line that says the job, imports at the top."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

CHECKOUT = Path(__file__).parents[1]
ROOMS = ("greenhouse_desk", "demo", "packaging")
LONGEST_FUNCTION, LONGEST_FILE = 40, 300
NO_ROOMS = {"utils", "util", "common", "helpers", "misc", "manager", "shared"}

DOORS = {
    "greenhouse_desk/__main__.py": {"greenhouse_desk.app", "greenhouse_desk.cli"},
    "greenhouse_desk/store/engine.py": {"greenhouse_desk.store"},
    "greenhouse_desk/store/photos.py": {"pi_heif"},
    "greenhouse_desk/ui/alarm.py": {"PySide6.QtMultimedia"},
    "greenhouse_desk/ui/awake.py": {"wakepy"},
    "greenhouse_desk/ui/desktop.py": {"jeepney", "jeepney.io.blocking", "jeepney.wrappers"},
}
"""The only imports inside functions: slow or fragile libraries, loaded when first needed (engine's is Alembic)."""

FILES = [path for room in ROOMS for path in sorted((CHECKOUT / room).rglob("*.py"))]


def _name(path: Path) -> str:
    return path.relative_to(CHECKOUT).as_posix()


def long_functions(tree: ast.Module) -> list[str]:
    """Functions longer than the measure, with their lines."""
    return [f"{node.name}: {node.end_lineno - node.lineno + 1} lines" for node in ast.walk(tree)
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) and node.end_lineno is not None
            and node.end_lineno - node.lineno + 1 > LONGEST_FUNCTION]


def hidden_imports(tree: ast.Module) -> Iterator[str]:
    """Modules imported inside functions."""
    for function in ast.walk(tree):
        if isinstance(function, ast.FunctionDef | ast.AsyncFunctionDef):
            for node in ast.walk(function):
                if isinstance(node, ast.Import):
                    yield from (alias.name for alias in node.names)
                if isinstance(node, ast.ImportFrom):
                    yield node.module or ""


def test_the_checks_see_an_offence() -> None:
    long = "def f():\n" + "    x = 1\n" * LONGEST_FUNCTION
    assert long_functions(ast.parse(long)) == ["f: 41 lines"]
    assert list(hidden_imports(ast.parse("def f():\n    import a\n    from b.c import d"))) == ["a", "b.c"]


@pytest.mark.parametrize("path", FILES, ids=_name)
def test_a_file_keeps_the_measures(path: Path) -> None:
    text = path.read_text("utf-8")
    tree = ast.parse(text)
    assert text.count("\n") <= LONGEST_FILE
    assert long_functions(tree) == []
    assert set(hidden_imports(tree)) <= DOORS.get(_name(path), set())
    assert ast.get_docstring(tree), "the first line says the module's job"
    assert not NO_ROOMS & {part.removesuffix(".py") for part in path.relative_to(CHECKOUT).parts}
