"""Labels set for the screen: each once while nothing of it changes, and a few at a time, so that keys are heard."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QObject, QTimer, Signal

from greenhouse_desk.domain.labels import Layout, Told
from greenhouse_desk.domain.labels_set import Label, label
from greenhouse_desk.ui import paper
from greenhouse_desk.ui.words import counted

MOST_KEPT = 4000
AT_ONCE = 24
"""Labels set between two looks at the keyboard: a few hundredths of a second."""


class SetLabels(QObject):
    """`ready()` once all labels begun with are set; until then `told(words)` how far it is, where there are many."""

    ready = Signal()
    told = Signal(str)

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._kept: dict[tuple[Layout, Told], Label] = {}
        self._waiting: list[tuple[Layout, Told]] = []
        self._next = QTimer(self)
        self._next.setInterval(0)
        self._next.timeout.connect(self._on_next)

    @property
    def busy(self) -> bool:
        """Whether labels are still to be set, or just were."""
        return self._next.isActive()

    def one(self, layout: Layout, told: Told) -> Label:
        """A plant's label, from memory where it was set before."""
        if len(self._kept) > MOST_KEPT:
            self._kept.clear()
        key = (layout, told)
        if key not in self._kept:
            self._kept[key] = label(layout, told, paper.measure)
        return self._kept[key]

    def begin(self, layout: Layout, tolds: Sequence[Told]) -> None:
        """Set these labels, a few at a time; what was begun before is let be."""
        self._waiting = [key for told in tolds if (key := (layout, told)) not in self._kept]
        self._next.start()

    def stop(self) -> None:
        """Set no more."""
        self._waiting = []
        self._next.stop()

    def _on_next(self) -> None:
        now, self._waiting = self._waiting[:AT_ONCE], self._waiting[AT_ONCE:]
        for key in now:
            self.one(*key)
        if self._waiting:
            self.told.emit(f"{counted(len(self._waiting), 'label')} still to be set.")
        else:
            self._next.stop()
            self.ready.emit()
