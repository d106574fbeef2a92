"""Run as a child process: the program's window with the demo, painted, its pictures in place."""

from __future__ import annotations

import sys
import time
from pathlib import Path

from PySide6.QtCore import QThreadPool

from tests.benchmarks import probing
from tests.benchmarks.opened import opened_program

if __name__ == "__main__":
    program = opened_program(Path(sys.argv[1]))
    probing.painted(program.window)
    first = time.monotonic() - probing.started()
    for pool in program.thumbs.findChildren(QThreadPool):
        pool.waitForDone()
    probing.painted(program.window)
    probing.tell(opened_s=time.monotonic() - probing.started(), first_s=first)
    program.window.close()
    program.close()
