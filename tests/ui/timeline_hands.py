"""Hands on the timeline: keys, the wheel, and what lies where."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from greenhouse_desk.domain.timeline_values import Box
from greenhouse_desk.ui.timeline.screen import TimelineScreen


def press(screen: TimelineScreen, *keys: Qt.Key) -> None:
    for key in keys:
        QTest.keyClick(screen.chart, key)


def boxes(screen: TimelineScreen) -> tuple[Box, ...]:
    return screen.chart.row(0).boxes


def said(screen: TimelineScreen) -> str:
    return screen.chart.accessibleName()


def group(screen: TimelineScreen) -> Box:
    return max((box for box in boxes(screen) if not box.ahead), key=lambda box: box.count)


def where(screen: TimelineScreen, box: Box) -> QPoint:
    space = screen.chart.space
    return QPoint(round(space.left + box.left + 8), round(space.top(0, 0) + space.middle))


def wheel(screen: TimelineScreen, x: float, turned: int, held: Qt.KeyboardModifier) -> None:
    at = QPointF(x, 150)
    QApplication.sendEvent(screen.chart, QWheelEvent(
        at, QPointF(screen.chart.mapToGlobal(at.toPoint())), QPoint(), QPoint(0, turned), Qt.MouseButton.NoButton, held,
        Qt.ScrollPhase.NoScrollPhase, False))
