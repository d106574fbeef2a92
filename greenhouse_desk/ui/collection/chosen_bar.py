"""What can be done with the chosen plants, in a bar under the benches."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout

from greenhouse_desk.ui.messages import button, label

NAMED = 8


class ChosenBar(QFrame):
    """Shown while plants are chosen. `bench()`, `timeline()`, `moving()` and `clear()` ask for it."""

    bench = Signal()
    timeline = Signal()
    moving = Signal()
    clear = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("ground", "sheet")
        self.setProperty("edge", "top")
        self._words = label(bold=True, px=15, wrap=False)
        self.bench_button = button("Take to the bench", "main")
        self.timeline_button = button("On the timeline", name="See the chosen plants on the timeline")
        self.move_button = button("Move to…", name="Move the chosen plants")
        self.clear_button = button("Let go", name="Choose none")
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 8, 14, 8)
        row.setSpacing(8)
        row.addWidget(self._words, 1)
        for made, signal in ((self.clear_button, self.clear), (self.move_button, self.moving),
                             (self.timeline_button, self.timeline), (self.bench_button, self.bench)):
            made.clicked.connect(signal)
            row.addWidget(made)
        self.hide()

    def show_numbers(self, numbers: Sequence[int]) -> None:
        """These are chosen; hidden when there are none."""
        named = ", ".join(str(number) for number in numbers[:NAMED])
        more = f" and {len(numbers) - NAMED} more" if len(numbers) > NAMED else ""
        self._words.setText(f"{named}{more} chosen")
        self.setVisible(bool(numbers))
