"""The screen a widget stands on, asked so that Python can never take it down.

In PySide `QWidget.screen()` makes Python's object of the screen a child of the widget's. Where both are then collected
as part of a circle, Python may take the screen itself down, which is Qt's: the next widget made ends the process. So it
is made at once the child of a window that is never shown and stays.
"""

from __future__ import annotations

from functools import cache

from PySide6.QtGui import QScreen, QWindow
from PySide6.QtWidgets import QWidget


def screen_of(widget: QWidget) -> QScreen:
    """The screen of `widget`."""
    keeper = _keeper()
    keeper.setScreen(widget.screen())
    return keeper.screen()


@cache
def _keeper() -> QWindow:
    return QWindow()
