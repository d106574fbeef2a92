"""A process that has the tests' libraries loaded and forks a child for each change of a module to run its tests in.

It stands in a copy of the checkout and answers at `SOCKET` there, one line each way; what is ours each child loads
afresh. The tests of a topic are run once unchanged: that tells how long each takes and which functions of ours it
calls. After that a change is shown to the tests that call the function it is in, the shortest first, until one fails;
the others cannot tell. A change outside functions (a constant, a default, a class) is shown to all tests of its topic.
"""

from __future__ import annotations

import gc
import importlib
import json
import os
import resource
import shutil
import signal
import socket
import sys
import warnings
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from notice import Called, noticing, run

SOCKET = "tests.sock"
LEARNING_S, LOADING_S, SLOWER = 900, 10, 3
"""Seconds of a core: for a topic's tests unchanged, and for a child to load what is ours; and how much slower than
unchanged the tests may be before a change counts as noticed by that."""
TOO_LONG = 124
LIBRARIES = ("pytest", "pytestqt.plugin", "hypothesis", "numpy", "scipy.stats", "scipy.integrate", "networkx",
             "lifelines", "lifelines.datasets", "CoolProp.CoolProp", "astral.sun", "sqlalchemy.orm", "PIL.Image",
             "PySide6.QtWidgets", "psychrolib", "ephem", "pypdf", "icalendar")
"""Loaded before a child is forked; no change is made in them. One that is not there is left to the tests."""


def serve() -> None:
    """Answer "learn TOPIC FILE..." and "ask TOPIC MODULE" with the tests' exit code, until "end"."""
    sources = {path.as_posix(): path.read_text("utf-8") for path in Path("greenhouse_desk").rglob("*.py")}
    with socket.socket(socket.AF_UNIX) as door:
        door.bind(SOCKET)
        door.listen()
        _load()
        while True:
            with door.accept()[0] as asker:
                verb, *words = asker.makefile().readline().split()
                if verb == "end":
                    return
                code = _learn(*words) if verb == "learn" else _ask(sources, *words)
                asker.sendall(f"{code}\n".encode())


def _load() -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        for name in LIBRARIES:
            with suppress(ImportError):
                importlib.import_module(name)
    gc.freeze()  # else each child would go through all of it again


def _learn(topic: str, *tests: str) -> int:
    """Byte code is kept this once: that of a changed module is told by its file's time."""
    def learn() -> int:
        sys.dont_write_bytecode = False
        return run(tests, Called(_notes(topic)))

    return _in_child(learn, LEARNING_S)


def _ask(sources: dict[str, str], topic: str, module: str) -> int:
    notes = json.loads(_notes(topic).read_text("utf-8"))
    files, wanted, seconds = noticing(notes, module, sources[module], Path(module).read_text("utf-8"))
    return _in_child(lambda: run(files, wanted), LOADING_S + SLOWER * int(seconds + 1)) if files else 0


def _notes(topic: str) -> Path:
    """What was learnt of a topic, kept beside the copies for all of them."""
    return Path("..", f"called-{topic}.json").resolve()


def _in_child(work: Callable[[], int], seconds: int) -> int:
    """What `work` returns in a process of its own, which may use so many seconds of a core."""
    shutil.rmtree(os.environ["TMPDIR"], ignore_errors=True)
    os.mkdir(os.environ["TMPDIR"])
    child = os.fork()
    if not child:
        os.setsid()
        resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, 1)
        os.dup2(nowhere, 2)
        os._exit(work())
    _, status = os.waitpid(child, 0)
    with suppress(ProcessLookupError):
        os.killpg(child, signal.SIGKILL)
    return TOO_LONG if os.WIFSIGNALED(status) else os.waitstatus_to_exitcode(status)


if __name__ == "__main__":
    sys.path.insert(0, os.getcwd())
    serve()
