"""The few words screens hear from outside: the store changed, a deed was refused, go to the bench."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from greenhouse_desk.domain.faults import Refused


class Signals(QObject):
    """`changed` carries a services.desk.Changed, `refused` a domain.faults.Refused, `noted` a short calm sentence.

    `settled` tells that what was refused is past: a valid answer was given, though nothing was written by it.
    `to_bench` carries the plant numbers (a tuple) a grower wants to take to the bench, `to_wash` those to be washed
    there, each with why in words (a dict), `to_timeline` those whose lanes are wanted, and `to_screen` the title of a
    screen to be brought to the front. `to_printer` carries a ui.printer.Print.
    """

    changed = Signal(object)
    refused = Signal(object)
    noted = Signal(str)
    settled = Signal()
    to_bench = Signal(object)
    to_wash = Signal(object)
    to_timeline = Signal(object)
    to_screen = Signal(str)
    to_printer = Signal(object)

    def attempt(self, deed: Callable[[], object]) -> bool:
        """Do `deed`; a refusal is told by `refused` and gives False. Anything else going wrong is a bug, and rises."""
        try:
            deed()
        except Refused as refusal:
            self.refused.emit(refusal)
            return False
        return True
