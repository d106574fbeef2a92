"""A sheet of the House screen: a heading, a word on what it is for, and a column to fill."""

from __future__ import annotations

from PySide6.QtWidgets import QFrame, QVBoxLayout

from greenhouse_desk.ui.messages import heading, label


def panel(title: str, told: str = "") -> tuple[QFrame, QVBoxLayout]:
    """A sheet with a heading, and its column."""
    made = QFrame()
    made.setProperty("ground", "sheet")
    made.setProperty("edge", "all")
    column = QVBoxLayout(made)
    column.setContentsMargins(16, 14, 16, 16)
    column.setSpacing(10)
    column.addWidget(heading(title, 19))
    if told:
        column.addWidget(label(told, "second"))
    return made, column
