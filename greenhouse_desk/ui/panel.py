"""A sheet on a screen: a heading, a word on what it is for, and a column to fill."""

from __future__ import annotations

from PySide6.QtWidgets import QFrame, QVBoxLayout

from greenhouse_desk.ui.messages import heading, label

ROOMY, CLOSE = 10, 6
"""Pixels between what stands in it: forms need air, rows belong together."""


def panel(title: str, told: str = "", spacing: int = ROOMY) -> tuple[QFrame, QVBoxLayout]:
    """A sheet with a heading, and its column."""
    made = QFrame()
    made.setProperty("ground", "sheet")
    made.setProperty("edge", "all")
    column = QVBoxLayout(made)
    column.setContentsMargins(16, 14, 16, 16)
    column.setSpacing(spacing)
    column.addWidget(heading(title, 19))
    if told:
        column.addWidget(label(told, "second"))
    return made, column
