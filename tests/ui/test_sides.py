"""A page with its side, made narrow and wide: it fits at once, also where it is looked at before anything else."""

from __future__ import annotations

from PySide6.QtWidgets import QListView, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from greenhouse_desk.ui.messages import label
from greenhouse_desk.ui.sides import Sides


def test_a_page_first_laid_out_narrow_fits_at_once_when_it_is_made_wide(qtbot: QtBot) -> None:
    """As in a window's stack, which gives a page a small size before it gives it its own."""
    side, foot = QWidget(), label("A foot note that must stay in sight.")
    column = QVBoxLayout(side)
    column.addWidget(QListView(), 1)
    column.addWidget(foot)
    sides = Sides(QWidget(), side, 300, 700, first=False)
    qtbot.addWidget(sides)
    sides.resize(640, 480)
    sides.show()
    assert sides.verticalScrollBar().maximum() > 0, "under each other they are taller than the window"
    sides.resize(1214, 768)
    assert sides.verticalScrollBar().maximum() == 0
    assert foot.mapTo(sides, foot.rect().bottomLeft()).y() <= 768
