"""Which tests can notice a change: those that call the function it is made in."""

from __future__ import annotations

import ast
import functools
import json
import sys
import threading
import time
from collections.abc import Iterator, Sequence
from itertools import takewhile
from pathlib import Path
from types import FrameType
from typing import Any, TypedDict

import pytest

OURS = "greenhouse_desk/"
BEFORE_TESTS = ""


class Note(TypedDict):
    """One test: its name (empty for what runs before any test), seconds of a core, and the functions of ours that it
    calls, as "file:first line"."""

    test: str
    seconds: float
    calls: list[str]


class Called:
    """Writes a note of each test, and of what is called while all is loaded."""

    def __init__(self, notes: Path) -> None:
        self.written, self.notes = notes, list[Note]()
        self.seen, self.caches = set[tuple[str, int]](), list[Any]()
        self.here = f"{Path.cwd()}/"
        self._trace(True)

    def pytest_collection_finish(self) -> None:
        """All is loaded now: from here on notes are of tests. What ours keeps between calls must hide no call."""
        self._trace(False)
        self._note(BEFORE_TESTS, 0.0)
        ours = [module for name, module in list(sys.modules.items()) if name.startswith(("greenhouse_desk", "tests"))]
        self.caches = [value for module in ours for value in vars(module).values()
                       if isinstance(value, functools._lru_cache_wrapper)]

    @pytest.hookimpl(hookwrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        for kept in self.caches:
            kept.cache_clear()
        begun = time.process_time()
        self._trace(True)
        yield
        self._trace(False)
        self._note(item.nodeid, time.process_time() - begun)

    def pytest_sessionfinish(self) -> None:
        self.written.write_text(json.dumps(self.notes), "utf-8")

    def _trace(self, on: bool) -> None:
        if on:
            threading.settrace(self._on_call)
            sys.settrace(self._on_call)
        else:
            sys.settrace(None)
            threading.settrace(None)

    def _on_call(self, frame: FrameType, event: str, argument: Any) -> None:
        code = frame.f_code
        if code.co_filename.startswith(self.here):
            self.seen.add((code.co_filename, code.co_firstlineno))

    def _note(self, test: str, seconds: float) -> None:
        calls = sorted(f"{name.removeprefix(self.here)}:{line}" for name, line in self.seen)
        self.notes.append(Note(test=test, seconds=seconds, calls=[call for call in calls if call.startswith(OURS)]))
        self.seen.clear()


class Wanted:
    """Keeps the named tests only, in the order of their names."""

    def __init__(self, names: Sequence[str]) -> None:
        self.order = {name: nth for nth, name in enumerate(names)}

    @pytest.hookimpl(trylast=True)
    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        items[:] = sorted((item for item in items if item.nodeid in self.order),
                          key=lambda item: self.order[item.nodeid])


def run(tests: Sequence[str], plugin: object) -> int:
    """Run tests in this process until one fails; returns their exit code. That libraries were loaded before is no
    fault."""
    loaded = "ignore::pytest.PytestAssertRewriteWarning"
    ways = ("-x", "-q", "-p", "no:randomly", "-p", "no:cacheprovider", "-W", loaded)
    return int(pytest.main([*ways, *tests], [plugin]))


def noticing(notes: Sequence[Note], module: str, before: str, after: str) -> tuple[list[str], Wanted, float]:
    """The files and the tests that can notice that `module` reads `after` and no longer `before`, those that call
    anything of it first, then the shortest; and how many seconds of a core they take unchanged."""
    function = around(before, *changed(before, after))
    call = f"{module}:{function}"
    everyone = function is None or any(call in note["calls"] for note in notes if note["test"] == BEFORE_TESTS)
    found = [note for note in notes if note["test"] != BEFORE_TESTS and (everyone or call in note["calls"])]
    found.sort(key=lambda note: (not any(one.startswith(f"{module}:") for one in note["calls"]), note["seconds"]))
    names = [note["test"] for note in found]
    files = list(dict.fromkeys(name.split("::")[0] for name in names))
    return files, Wanted(names), sum(note["seconds"] for note in found)


def changed(before: str, after: str) -> tuple[int, int]:
    """The first and the last line of `before` that differ in `after`."""
    old, new = before.splitlines(), after.splitlines()
    above = _alike(old, new)
    below = min(_alike(old[::-1], new[::-1]), len(old) - above, len(new) - above)
    return above + 1, max(len(old) - below, above + 1)


def _alike(one: Sequence[str], other: Sequence[str]) -> int:
    return sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(one, other, strict=False)))


def around(source: str, first: int, last: int) -> int | None:
    """The line at which the innermost function begins (with its decorators) whose body holds these lines; None where
    they run as the module is loaded."""
    found = [(node.body[0].lineno, min([node.lineno, *(one.lineno for one in node.decorator_list)]))
             for node in ast.walk(ast.parse(source)) if isinstance(node, ast.FunctionDef)
             and node.body[0].lineno <= first and last <= (node.end_lineno or 0)]
    return max(found)[1] if found else None
