"""Run as a child process: bench mode on three plants: a press to the repainted screen, the second after, idleness."""

from __future__ import annotations

import sys
import time
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from greenhouse_desk.app import Program
from greenhouse_desk.domain.bench import Key
from greenhouse_desk.services import shelf, treatments
from greenhouse_desk.ui.bench.mode import BenchMode
from tests.benchmarks import probing
from tests.benchmarks.opened import opened_program
from tests.end_to_end import grower

CHOICES = ((101, "root-trim-and-repot"), (104, "pest-wash"), (107, "root-trim-and-repot"))
KEYS = {Key.NEXT: Qt.Key.Key_Space, Key.SOAK: Qt.Key.Key_S}
PRESSES = 20


def begun(program: Program) -> BenchMode:
    """Bench mode on a new session, with the bench screen behind it as always."""
    program.window.show_titled("Bench")
    choices = tuple(treatments.Choice(plant, protocol) for plant, protocol in CHOICES)
    program.bench.open_session(program.desk.run(treatments.start, choices, shelf.shelf(None)))
    mode = program.bench.mode
    assert mode is not None
    QApplication.processEvents()
    return mode


def confirmed_s(mode: BenchMode) -> float:
    """One press of what the bench asks for, until it is committed and painted."""
    move = grower.move(mode.board)
    QTest.keyClicks(mode, move.typed)
    return probing.press_s(mode, KEYS[move.key or Key.NEXT])


def second_s(program: Program, mode: BenchMode) -> float:
    """The second after such a press: the bell reads what the press changed."""
    confirmed_s(mode)
    now = program.desk.clock()
    start = time.perf_counter()
    program.tick(now)
    return time.perf_counter() - start


if __name__ == "__main__":
    program = opened_program(Path(sys.argv[1]))
    program.tick(program.desk.clock())
    mode = begun(program)
    program.tick(program.desk.clock())
    key = probing.middle(lambda: confirmed_s(mode), PRESSES)
    second = probing.middle(lambda: second_s(program, mode), PRESSES)
    program.ticker.start()
    share = probing.idle_share(float(sys.argv[2]))
    probing.tell(key_s=key, second_s=second, idle=share, cells=len(mode.board.cells))
    program.window.close()
    program.close()
