"""On arrival at the timeline the keyboard is at its chart: plus, minus and arrows work without a click."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from greenhouse_desk import app


def test_plus_and_arrows_work_on_arrival(running: app.Program) -> None:
    running.window.navigation.plates[1].setFocus()
    QTest.keyClick(running.window.navigation.plates[1], Qt.Key.Key_Space)
    assert running.window.current_title() == "Timeline"
    at, chart = running.window.focusWidget(), running.timeline.chart
    assert at is not None
    before = chart.room.view
    QTest.keyClick(at, Qt.Key.Key_Plus)
    assert chart.room.view.per_px < before.per_px
    QTest.keyClick(at, Qt.Key.Key_Plus)
    QTest.keyClick(at, Qt.Key.Key_Plus)
    nearer = chart.room.view
    QTest.keyClick(at, Qt.Key.Key_Left)
    assert chart.room.view != nearer
