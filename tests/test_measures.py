"""What the code holds itself to: short functions and files, a first line with the job, no room for odds and ends."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

CHECKOUT = Path(__file__).parents[1]
ROOMS = ("greenhouse_desk", "demo", "packaging", "tests")
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


def offences(path: Path) -> list[str]:
    """What a file does not keep of the measures."""
    text = path.read_text("utf-8")
    tree = ast.parse(text)
    lines, rooms = text.count("\n"), {part.removesuffix(".py") for part in path.relative_to(CHECKOUT).parts}
    return [*([f"{lines} lines, at most {LONGEST_FILE}"] if lines > LONGEST_FILE else []), *long_functions(tree),
            *([] if ast.get_docstring(tree) else ["the first line does not say the module's job"]),
            *(f"a room called {name}" for name in sorted(NO_ROOMS & rooms))]


def test_the_checks_see_an_offence(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(f"{__name__}.CHECKOUT", tmp_path)
    file = tmp_path / "helpers.py"
    file.write_text("def f():\n" + "    x = 1\n" * LONGEST_FILE, "utf-8")
    assert offences(file) == ["301 lines, at most 300", "f: 301 lines", "the first line does not say the module's job",
                              "a room called helpers"]
    just = tmp_path / "just.py"
    just.write_text('"""Fits."""\ndef f():\n' + "    x = 1\n" * (LONGEST_FUNCTION - 1) + "\n" * 259, "utf-8")
    assert offences(just) == []


def test_every_room_of_the_checkout_is_measured() -> None:
    """A folder with code that nobody lists would keep no measure."""
    known = {*ROOMS, "build", "dist"}
    beside = [folder.name for folder in CHECKOUT.iterdir() if folder.is_dir() and not folder.name.startswith(".")]
    assert [name for name in beside if name not in known and any((CHECKOUT / name).rglob("*.py"))] == []
    assert len(FILES) > 500


@pytest.mark.parametrize("path", FILES, ids=_name)
def test_a_file_keeps_the_measures(path: Path) -> None:
    assert offences(path) == []
