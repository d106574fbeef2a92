"""The bar at the foot of the House page: which rules are changed and not kept, with Keep and the way back."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QFrame, QHBoxLayout

from greenhouse_desk.ui.messages import button, label

NAMED = 2


class UnkeptBar(QFrame):
    """In sight as long as something is changed and not kept. Its two buttons are for the screen to connect."""

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("edge", "due")
        self._words = label("", bold=True, px=15)
        self.keep = button("Keep these rules", "main")
        self.back = button("Back to what is kept")
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 8, 14, 8)
        row.setSpacing(8)
        row.addWidget(self._words, 1)
        row.addWidget(self.back)
        row.addWidget(self.keep)
        self.hide()

    def show_changes(self, changes: Sequence[str]) -> None:
        """Name these changes, a few in words each; hidden when there are none."""
        more = f"; and {len(changes) - NAMED} more" if len(changes) > NAMED else ""
        self._words.setText(f"Not kept yet: {'; '.join(changes[:NAMED])}{more}.")
        self.setAccessibleName(self._words.text())
        self.setVisible(bool(changes))
