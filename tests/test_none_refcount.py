"""Some builds of Qt for Python drop a reference to None at each call that returns nothing, and abort in the end."""

from __future__ import annotations

import sys

from PySide6.QtGui import QColor, QGuiApplication, QImage, QPainter
from pytestqt.qtbot import QtBot

CALLS = 2000


def _paint(painter: QPainter) -> None:
    for step in range(CALLS):
        painter.fillRect(0, 0, 4, 4, QColor("black"))
        painter.drawLine(0, 0, step % 8, 4)
        painter.save()
        painter.translate(1, 1)
        painter.restore()


def test_painter_calls_leave_the_count_of_none_alone(qtbot: QtBot) -> None:
    assert QGuiApplication.instance() is not None
    image = QImage(8, 8, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    _paint(painter)
    before = sys.getrefcount(None)
    _paint(painter)
    after = sys.getrefcount(None)
    painter.end()
    assert abs(after - before) < CALLS / 10, f"None lost {before - after} references over {5 * CALLS} calls"
