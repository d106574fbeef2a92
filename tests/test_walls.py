"""The walls between the rooms stand, and each has been seen to fail: an offence is built and its contract named."""

from __future__ import annotations

import ast
import configparser
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PACKAGE = ROOT / "greenhouse_desk"
DESCRIBED = (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef)
CONTRACTS = ".importlinter"

OFFENCES: list[tuple[str, dict[str, str]]] = [
    ("layers", {"store/offence.py": "from greenhouse_desk.services import desk"}),
    ("layers", {"services/offence.py": "from greenhouse_desk.ui import words"}),
    ("layers", {"domain/offence.py": "from greenhouse_desk.store import tables"}),
    ("layers", {"domain/offence.py": "from greenhouse_desk import shipped"}),
    ("layers", {"a_room_nobody_listed.py": ""}),
    ("store-door", {"ui/offence.py": "from greenhouse_desk.store import engine"}),
    ("store-door", {"ui/house/offence.py": "def late():\n    import greenhouse_desk.store.photos"}),
    ("no-window-below", {"services/offence.py": "import PySide6.QtCore"}),
    ("no-window-below", {"domain/offence.py": "import matplotlib"}),
    ("no-window-in-cli", {"services/offence.py": "from PySide6 import QtCore",
                          "cli.py": "from greenhouse_desk.services import offence"}),
    ("no-window-in-cli", {"cli.py": "from greenhouse_desk.ui import words"}),
    ("no-window-in-cli", {"cli_import.py": "from greenhouse_desk.ui import words"}),
    ("no-window-in-cli", {"cli_labels.py": "from greenhouse_desk.ui import paper"}),
    ("sql-in-store", {"services/offence.py": "from sqlalchemy import select"}),
    ("sql-in-store", {"ui/offence.py": "import sqlite3"}),
    ("pure-domain", {"domain/offence.py": "from pathlib import Path"}),
    ("pure-domain", {"domain/offence.py": "import time"}),
    ("oracles", {"domain/offence.py": "import numpy"}),
    ("oracles", {"services/offence.py": "def late():\n    from scipy import stats"}),
    ("oracles", {"domain/offence.py": "from statsmodels.stats import proportion"}),
    ("screens", {"ui/house/offence.py": "from greenhouse_desk.ui import bench"}),
    ("screens", {"ui/between.py": "from greenhouse_desk.ui import collection",
                 "ui/protocols/offence.py": "from greenhouse_desk.ui import between"}),
    ("leaf", {"shipped.py": "from greenhouse_desk.domain import faults"}),
    ("no-cycles", {"services/one.py": "from greenhouse_desk.services import other",
                   "services/other.py": "from greenhouse_desk.services import one"}),
]

DOORS = {
    ("__main__.py", "greenhouse_desk.app"): "the window, only when it is opened",
    ("__main__.py", "greenhouse_desk.ui.first_copy"): "the call to a window that is open already, before anything else",
    ("__main__.py", "greenhouse_desk.cli"): "the command line, only when a verb is given",
    ("cli.py", "greenhouse_desk.ui.paper"): "the painter of printed pages, only when a page is written",
    ("store/engine.py", "greenhouse_desk.store.migrate"): "Alembic, only when a schema is old",
    ("services/calendar.py", "icalendar"): "the calendar library, only when a calendar is written or read back",
    ("store/photos.py", "pi_heif"): "the HEIC decoder, only when such a photo comes",
    ("ui/findings/chart_view.py", "greenhouse_desk.ui.findings.charts"): "matplotlib, only when a chart is first shown",
    ("ui/findings/saving.py", "greenhouse_desk.ui.findings.charts"): "matplotlib, only when a chart is saved",
    ("ui/alarm.py", "PySide6.QtMultimedia"): "sound, which can abort on a broken server: when an alarm first rings",
    ("ui/camera.py", "PySide6.QtMultimedia"): "the camera, which can fail on a broken system: to read a label",
    ("ui/label_reading.py", "zxingcpp"): "the reader of codes, only when there is a picture",
    ("ui/awake.py", "wakepy"): "keeping the machine awake, only at the bench",
    ("ui/desktop.py", "jeepney"): "the desktop's notifications, only when one is sent",
}
"""The imports inside functions that are allowed, by file and library: each is reached when first needed."""


ONLY_SQLITE = {
    "engine.py": "pragmas, the exclusive lock and BEGIN of the one connection",
    "undo.py": "row images by triggers: no other way sees every change, whoever makes it",
    "kept.py": "which plant's entries changed, by triggers, as undo sees them",
    "backup.py": "the backup API and quick_check on the copy",
    "restore.py": "the lock that shows that nobody has the file open, and the version in its header",
    "check.py": "integrity_check and foreign_key_check",
    "migrate.py": "pragmas that SQLite's way of rebuilding a table needs, and the copy aside",
    "refusals.py": "SQLite's error codes, said so that a grower can act on them",
}
"""The store's modules that may use what only SQLite has; a store on another database would bring its own of these."""
SQLITE_WORDS = re.compile(r"\b(sqlite3?|sqlite_(?!autoincrement\b)\w+|PRAGMA|json_extract|VACUUM|MATCH|fts5"
                          r"|BEGIN (?:IMMEDIATE|EXCLUSIVE)|TEMP TRIGGER)\b")
"""Not `sqlite_autoincrement`: an option of a table that other databases pass over."""
SQLITE_DOORS = {"raw", "exec_driver_sql"}


def names() -> dict[str, str]:
    """Each contract's id and name."""
    read = configparser.ConfigParser()
    read.read(ROOT / CONTRACTS, encoding="utf-8")
    sections = {section.rpartition(":")[2]: read[section] for section in read.sections() if ":contract:" in section}
    return {key: section["name"] for key, section in sections.items()}


def broken(at: Path) -> set[str]:
    """The names of the contracts that the tree at `at` breaks."""
    lint = "from importlinter.cli import lint_imports_command as run; run()"
    told = subprocess.run(
        [sys.executable, "-c", lint, "--no-cache", "--no-logo"],
        cwd=at, capture_output=True, text=True, check=False,
        env={**os.environ, "PYTHONPATH": str(at), "COLUMNS": "200", "NO_COLOR": "1"})
    lines = [re.sub(r" \(\d+ ignored imports?\)$", "", line) for line in told.stdout.splitlines()]
    kept = [line for line in lines if line.endswith((" KEPT", " BROKEN"))]
    assert len(kept) == len(names()), told.stdout + told.stderr
    found = {line.removesuffix(" BROKEN") for line in kept if line.endswith(" BROKEN")}
    assert bool(found) == bool(told.returncode), told.stdout
    return found


@pytest.fixture
def tree(tmp_path: Path) -> Path:
    """A copy of the program's code beside its contracts."""
    shutil.copytree(PACKAGE, tmp_path / PACKAGE.name, ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / CONTRACTS, tmp_path)
    return tmp_path


def test_the_walls_stand() -> None:
    assert broken(ROOT) == set()


def test_every_wall_has_its_offence() -> None:
    assert {contract for contract, _ in OFFENCES} == set(names())


@pytest.mark.parametrize(("contract", "files"), OFFENCES, ids=[f"{name}-{n}" for n, (name, _) in enumerate(OFFENCES)])
def test_the_wall_names_its_offence(tree: Path, contract: str, files: dict[str, str]) -> None:
    for name, line in files.items():
        with (tree / PACKAGE.name / name).open("a", encoding="utf-8") as file:
            file.write(f"\n{line}\n")
    assert names()[contract] in broken(tree)


def library(module: str) -> str:
    """The library a module or name belongs to; modules of ours and parts of Qt count by themselves."""
    parts = module.split(".")
    if parts[0] == PACKAGE.name and not (ROOT / Path(*parts)).with_suffix(".py").exists():
        return ".".join(parts[:-1])
    return ".".join(parts[:{PACKAGE.name: 9, "PySide6": 2}.get(parts[0], 1)])


def late_imports(source: str) -> Iterator[str]:
    """The modules imported inside functions."""
    for function in ast.walk(ast.parse(source)):
        if isinstance(function, (ast.FunctionDef, ast.AsyncFunctionDef, ast.Lambda)):
            for node in ast.walk(function):
                if isinstance(node, ast.Import):
                    yield from (alias.name for alias in node.names)
                elif isinstance(node, ast.ImportFrom):
                    yield from (f"{node.module}.{alias.name}" for alias in node.names)


def code() -> dict[str, str]:
    return {path.relative_to(PACKAGE).as_posix(): path.read_text(encoding="utf-8") for path in PACKAGE.rglob("*.py")}


def sqlite_words(source: str) -> set[str]:
    """What a module says that only SQLite understands: in its code and texts, not in its docstrings."""
    tree = ast.parse(source)
    told = {id(part.body[0].value) for part in ast.walk(tree) if isinstance(part, DESCRIBED) and part.body
            and isinstance(part.body[0], ast.Expr)}
    found: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in told:
            found.update(word.group() for word in SQLITE_WORDS.finditer(node.value))
        elif isinstance(node, ast.Import | ast.ImportFrom):
            found.update(word.group() for word in SQLITE_WORDS.finditer(ast.unparse(node)))
        elif isinstance(node, ast.Attribute) and node.attr in SQLITE_DOORS:
            found.add(node.attr)
    return found


def test_what_only_sqlite_has_stays_in_the_listed_modules_of_the_store() -> None:
    inside = {name: sqlite_words(source) for name, source in code().items() if not name.startswith("store/migrations/")}
    assert {name for name, found in inside.items() if found} == {f"store/{name}" for name in ONLY_SQLITE}


@pytest.mark.parametrize("line", [
    "import sqlite3", "from sqlalchemy.dialects.sqlite import insert", "session.execute(text('PRAGMA foreign_keys'))",
    "rows(\"SELECT json_extract(facts, '$.x') FROM entry\")", "backup(store.raw)",
    "session.execute(text('SELECT 1 FROM f WHERE f MATCH ?'))"])
def test_a_line_only_sqlite_understands_is_found(line: str) -> None:
    assert sqlite_words(line)


def test_a_docstring_may_speak_of_it() -> None:
    assert not sqlite_words('"""SQLite has PRAGMA."""\ndef f():\n    """And sqlite3 too."""\n')


def test_every_screen_stands_in_the_contract() -> None:
    """A screen that is not listed could import another unseen."""
    read = configparser.ConfigParser()
    read.read(ROOT / CONTRACTS, encoding="utf-8")
    listed = set(read["importlinter:contract:screens"]["modules"].split())
    assert listed == {f"{PACKAGE.name}.ui.{path.parent.name}" for path in PACKAGE.glob("ui/*/__init__.py")}


def test_only_the_listed_doors_import_inside_a_function() -> None:
    found = {(name, library(module)) for name, source in code().items() for module in late_imports(source)}
    assert found == set(DOORS)
    beside = [path for room in ("demo", "packaging") for path in (ROOT / room).glob("*.py")]
    assert [path.name for path in beside if list(late_imports(path.read_text(encoding="utf-8")))] == []


def test_a_door_that_is_not_listed_is_found() -> None:
    source = "def a():\n    def b():\n        import scipy.stats\n    from matplotlib import pyplot\n"
    assert set(late_imports(source)) == {"scipy.stats", "matplotlib.pyplot"}


def test_qt_never_opens_the_store() -> None:
    """Two SQLite libraries on one file corrupt it, and Qt carries its own."""
    assert [name for name, source in code().items() if "QtSql" in source] == []
