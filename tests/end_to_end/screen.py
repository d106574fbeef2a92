"""A virtual screen with a real keyboard: Xvfb, the program's window on it, and keys pressed by xdotool."""

from __future__ import annotations

import json
import os
import queue
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import Any

from tests.end_to_end.walk import Seen

CHECKOUT = Path(__file__).parents[2]
PATIENCE_S = 60.0
LISTS = ("chosen", "lines", "care")


@contextmanager
def xvfb(size: str = "1366x768x24") -> Iterator[str]:
    """A screen of its own; gives the display's name. Xvfb picks a free number and says it when it is ready."""
    read, write = os.pipe()
    server = subprocess.Popen(["Xvfb", "-displayfd", str(write), "-screen", "0", size, "-nolisten", "tcp", "-r"],
                              pass_fds=(write,), stderr=subprocess.DEVNULL)
    os.close(write)
    try:
        with os.fdopen(read) as told:
            yield f":{told.readline().strip()}"
    finally:
        server.terminate()
        server.wait(timeout=30)


class Window:
    """The program's window as a person before it has it: sees, presses real keys, waits."""

    def __init__(self, display: str, folder: Path, now: datetime, pace: float) -> None:
        self._environment = os.environ | {"DISPLAY": display, "QT_QPA_PLATFORM": "xcb"}
        command = [sys.executable, "-m", "tests.end_to_end.window_app", str(folder), now.isoformat(), str(pace)]
        self._program = subprocess.Popen(command, cwd=CHECKOUT, env=self._environment, stdin=subprocess.PIPE,
                                         stdout=subprocess.PIPE, text=True, bufsize=1)
        self._lines: queue.Queue[str] = queue.Queue()
        self._reader = threading.Thread(target=self._read)
        self._reader.start()
        self._last = self._next()

    def see(self) -> Seen:
        """What stands on the screen now, as far as it has been told."""
        while not self._lines.empty():
            self._last = self._next()
        told: dict[str, Any] = {name: tuple(value) if name in LISTS else value for name, value in self._last.items()}
        del told["keys"]
        return Seen(**told)

    def press(self, keys: str) -> None:
        """Press a real key, and wait until the window has taken it and shows what came of it."""
        self.see()
        before = self._last["keys"]
        subprocess.run(["xdotool", "key", keys], env=self._environment, check=True, timeout=PATIENCE_S)
        while self._last["keys"] == before:
            self._last = self._next()

    def wait(self, seconds: float, must: bool) -> None:
        """Wait for the clock where nothing goes on before; hands are quick here."""
        if must:
            before = self._last
            while self._last == before:
                self._last = self._next()

    def focus(self) -> None:
        """Give the keyboard to the window, as a click on it does; there is no window manager to do it."""
        subprocess.run(["xdotool", "search", "--sync", "--onlyvisible", "--name", "Greenhouse Desk", "windowfocus",
                        "--sync"], env=self._environment, check=True, capture_output=True, timeout=PATIENCE_S)

    def close(self) -> None:
        """Close the window as a person does, and see the program end well."""
        self._end("close\n")
        assert self._program.returncode == 0

    def kill(self) -> None:
        """End it for good, whatever it does."""
        if self._program.poll() is None:
            self._program.kill()
            self._end("")

    def _end(self, last_words: str) -> None:
        assert self._program.stdin is not None
        if last_words:
            self._program.stdin.write(last_words)
            self._program.stdin.flush()
        self._program.wait(timeout=PATIENCE_S)
        self._program.stdin.close()
        self._reader.join(timeout=PATIENCE_S)

    def _read(self) -> None:
        assert self._program.stdout is not None
        for line in self._program.stdout:
            self._lines.put(line)
        self._program.stdout.close()

    def _next(self) -> dict[str, Any]:
        told: dict[str, Any] = json.loads(self._lines.get(timeout=PATIENCE_S))
        return told
