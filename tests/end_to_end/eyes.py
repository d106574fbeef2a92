"""Reads off the program's own widgets what stands on the screen, as a Seen."""

from __future__ import annotations

from PySide6.QtWidgets import QApplication

from greenhouse_desk.app import Program
from greenhouse_desk.ui.collection.care_rows import CareRow
from tests.end_to_end import grower
from tests.end_to_end.walk import KEYS, Seen


def seen(program: Program) -> Seen:
    """What stands on the screen now."""
    focused = QApplication.focusWidget()
    name = focused.accessibleName() if focused is not None else ""
    mode = program.bench.mode
    page = program.bench.pages.currentWidget()
    if mode is None:
        return Seen(name, type(page).__name__,
                    chosen=tuple(f"{plant} {row.box.currentText()}"
                                 for plant, row in program.bench.chooser.chosen.rows.items()),
                    lines=program.bench.record.lines, care=_care(program))
    move = grower.move(mode.board)
    wanted = mode.board.instruction
    return Seen(name, type(page).__name__, True, KEYS[move.key] if move.key else "", move.wait_s, move.must,
                move.typed,
                f"{mode.board.head}: {wanted.action.value} {wanted.plant} {wanted.say}")


def _care(program: Program) -> tuple[str, ...]:
    """The care strip, line by line: plant and kind of care; what is folded away is not seen."""
    return tuple(f"{row.care.plant} {row.care.kind.value}" for row in program.collection.strip.model.rows
                 if isinstance(row, CareRow))
