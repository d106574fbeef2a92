"""One copy of the checkout in which single changes are made to a module and its tests are run: by cosmic-ray."""

from __future__ import annotations

import ast
import os
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from time import sleep

CHECKOUT = Path(__file__).parents[1]
COPIED = ("greenhouse_desk", "resources", "demo", "tests", "packaging", "pyproject.toml", ".importlinter", "README.md",
          "DEVELOPERS.md")
CHUNK = 25
SESSION, SOCKET = "session.sqlite", "tests.sock"
ANSWERS = {"passed", "noticed", "too long"}
CONFIG = """[cosmic-ray]
module-path = "{module}"
timeout = {timeout}
excluded-modules = []
test-command = "{python} -I -S packaging/show_change.py ask {topic} {module}"

[cosmic-ray.distributor]
name = "local"
"""
TIMEOUT_S = 3600.0
"""The testbed ends tests that take too long by what they use of a core; this only ends a testbed that hangs."""
SAME = ("_Eq_Is", "_Is_Eq", "_NotEq_IsNot", "_IsNot_NotEq")
"""Equal against the same: for the words of an enum, None and small numbers both answer alike."""
Place = tuple[int, int]


@dataclass(frozen=True, slots=True, order=True)
class Mutant:
    """One change: the module, the line it is on, what is done there and to which of several, and its job's id."""

    module: str
    line: int
    operator: str
    occurrence: int
    job: str


@dataclass(frozen=True, slots=True)
class Answer:
    """What the tests said to a change: whether they passed all the same, or took too long, and the changed lines."""

    mutant: Mutant
    survived: bool
    too_long: bool
    diff: str


class Copy:
    """A copy of the checkout. Give each worker its own."""

    def __init__(self, at: Path) -> None:
        self.at = at

    @classmethod
    @contextmanager
    def made(cls, folder: str, nth: int) -> Iterator[Copy]:
        """Copy what the tests need into `folder`, and set up a testbed there for as long as it is wanted."""
        at = Path(folder, str(nth))
        at.mkdir()
        for name in COPIED:
            source = CHECKOUT / name
            if source.is_dir():
                shutil.copytree(source, at / name, ignore=shutil.ignore_patterns("__pycache__", "*.pyc"))
            else:
                shutil.copy(source, at / name)
        with cls(at).testbed() as copy:
            yield copy

    @contextmanager
    def testbed(self) -> Iterator[Copy]:
        """A process in this copy that runs tests when asked by `show`, for as long as it is wanted."""
        own = {"TMPDIR": str(self.at / "tmp"), "PYTHONDONTWRITEBYTECODE": "1", "QT_QPA_PLATFORM": "offscreen"}
        with subprocess.Popen([sys.executable, "packaging/testbed.py"], cwd=self.at, env=os.environ | own) as bed:
            try:
                while not (self.at / SOCKET).exists():
                    if bed.poll() is not None:
                        raise SystemExit("no testbed")
                    sleep(0.1)
                yield self
                self.show("end")
            finally:
                bed.kill()

    def show(self, *words: str) -> str:
        """Ask the testbed; returns what it says of the tests, one of `ANSWERS`."""
        asker = [sys.executable, "-I", "-S", "packaging/show_change.py", *words]
        return subprocess.run(asker, cwd=self.at, check=False, capture_output=True, text=True).stdout.strip()

    def must_pass(self, topic: str, tests: Sequence[str]) -> None:
        """Run a topic's tests on the unchanged rules, and learn what each calls; SystemExit unless they pass."""
        if self.show("learn", topic, *tests) != "passed":
            raise SystemExit(f"{topic}: the tests fail before anything is changed")

    def mutants(self, module: str) -> tuple[list[Mutant], int]:
        """The changes there are to make in `module`, and how many were left out because they change no answer."""
        self._configure(module, "")
        self._run("init", "mutate.toml", str(self._changes(module)))
        idle = list(unanswering((self.at / module).read_text("utf-8")))
        with closing(sqlite3.connect(self._changes(module))) as session:
            rows = session.execute("SELECT start_pos_row, start_pos_col, operator_name, occurrence, job_id "
                                   "FROM mutation_specs").fetchall()
        kept = [Mutant(module, line, operator.removeprefix("core/"), occurrence, job)
                for line, column, operator, occurrence, job in rows
                if not operator.endswith(SAME) and not any(start <= (line, column) < end for start, end in idle)]
        return kept, len(rows) - len(kept)

    def ask(self, topic: str, module: str, group: Sequence[Mutant]) -> list[Answer]:
        """Make each change of the group in turn and show it to the topic's tests. Any copy knows the changes that one
        has found."""
        self._configure(module, topic)
        shutil.copy(self._changes(module), self.at / SESSION)
        jobs = {one.job: one for one in group}
        with closing(sqlite3.connect(self.at / SESSION)) as session:
            for table in ("mutation_specs", "work_items"):
                marks = ", ".join("?" * len(jobs))
                session.execute(f"DELETE FROM {table} WHERE job_id NOT IN ({marks})", tuple(jobs))
            session.commit()
        self._run("exec", "mutate.toml", SESSION)
        with closing(sqlite3.connect(self.at / SESSION)) as session:
            told = session.execute("SELECT job_id, worker_outcome, test_outcome, output, diff "
                                   "FROM work_results").fetchall()
        assert len(told) == len(jobs), f"{module}: {len(told)} answers to {len(jobs)} changes"
        if lost := {(output or "").strip() for *_, output, _ in told} - ANSWERS:
            raise SystemExit(f"{module}: the testbed gave no answer: {lost}")
        return [Answer(jobs[job], outcome == "SURVIVED", output.strip() == "too long", changed_lines(diff or ""))
                for job, worker, outcome, output, diff in told if worker == "NORMAL"]

    def _changes(self, module: str) -> Path:
        """The changes there are to make in a module, found once for all copies."""
        return self.at.parent / f"{module.replace('/', '-')}.sqlite"

    def _configure(self, module: str, topic: str) -> None:
        words = CONFIG.format(module=module, topic=topic, python=sys.executable, timeout=TIMEOUT_S)
        (self.at / "mutate.toml").write_text(words, "utf-8")

    def _run(self, *words: str) -> None:
        command = [str(Path(sys.executable).with_name("cosmic-ray")), *words]
        done = subprocess.run(command, cwd=self.at, check=False, capture_output=True, text=True)
        if done.returncode:
            raise SystemExit(f"{' '.join(words)}:\n{done.stdout}{done.stderr}")


def changed_lines(diff: str) -> str:
    """The lines of a diff that differ."""
    return "\n".join(line for line in diff.splitlines() if line[:1] in "+-" and line[:3] not in ("+++", "---"))


def unanswering(source: str) -> Iterator[tuple[Place, Place]]:
    """Stretches of a module in which a change changes no answer: annotations, which are never evaluated here, and the
    arguments of `@dataclass`, which say how a value is kept."""
    for node in ast.walk(ast.parse(source)):
        parts: list[ast.expr | None] = []
        if isinstance(node, ast.arg | ast.AnnAssign):
            parts.append(node.annotation)
        elif isinstance(node, ast.FunctionDef):
            parts.append(node.returns)
        elif isinstance(node, ast.ClassDef):
            parts += [part for part in node.decorator_list if ast.unparse(part).startswith("dataclass(")]
        for part in parts:
            if part is not None and part.end_lineno is not None and part.end_col_offset is not None:
                yield (part.lineno, part.col_offset), (part.end_lineno, part.end_col_offset)
