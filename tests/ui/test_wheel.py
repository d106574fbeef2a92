"""The mouse wheel scrolls the page; it changes a field only when that field was given the keyboard."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractSpinBox,
    QCalendarWidget,
    QComboBox,
    QDateEdit,
    QScrollArea,
    QSpinBox,
    QTimeEdit,
    QVBoxLayout,
    QWidget,
)
from pytestqt.qtbot import QtBot

from greenhouse_desk import app
from greenhouse_desk.ui.wheel import calm


def rolled(over: QWidget) -> None:
    """One notch of the wheel towards the hand, over the middle of a widget."""
    window = over.window()
    at = over.mapTo(window, over.rect().center())
    QTest.wheelEvent(window.windowHandle(), QPointF(at), QPoint(0, -120))


def page(field: QWidget, qtbot: QtBot) -> QScrollArea:
    """A field at the top of a page that is longer than its window; the keyboard is elsewhere."""
    inner = QWidget()
    column = QVBoxLayout(inner)
    column.addWidget(field)
    column.addStretch(1)
    inner.setMinimumHeight(2_000)
    area = QScrollArea()
    area.setWidget(inner)
    area.setWidgetResizable(True)
    area.resize(400, 300)
    qtbot.addWidget(area)
    with qtbot.waitExposed(area):
        area.show()
    area.activateWindow()
    area.setFocus()
    return area


@pytest.mark.parametrize("kind", [QSpinBox, QComboBox, QDateEdit, QTimeEdit])
def test_the_wheel_over_a_field_scrolls_the_page_and_leaves_the_field(kind: type[QWidget], qtbot: QtBot) -> None:
    field = kind()
    assert isinstance(field, QAbstractSpinBox | QComboBox)
    calm(field)
    if isinstance(field, QComboBox):
        field.addItems(["one", "two", "three"])

    def held() -> str:
        return field.currentText() if isinstance(field, QComboBox) else field.text()

    if isinstance(field, QSpinBox):
        field.setValue(5)
    area, before = page(field, qtbot), held()
    rolled(field)
    assert held() == before
    assert area.verticalScrollBar().value() > 0
    assert not field.hasFocus()


def test_the_wheel_changes_a_field_that_was_clicked(qtbot: QtBot) -> None:
    field = calm(QSpinBox())
    field.setValue(5)
    area = page(field, qtbot)
    QTest.mouseClick(field.lineEdit(), Qt.MouseButton.LeftButton)
    qtbot.waitUntil(field.hasFocus)
    rolled(field)
    assert field.value() == 4
    assert area.verticalScrollBar().value() == 0


def test_every_field_of_every_screen_is_calm(running: app.Program) -> None:
    window = running.window
    for number in range(len(window.navigation.plates)):
        window.show_screen(number)
    fields = [one for kind in (QAbstractSpinBox, QComboBox) for one in window.findChildren(kind)
              if not isinstance(one.parent(), QCalendarWidget)]
    assert len(fields) > 20
    wheeled = [one.accessibleName() for one in fields if one.focusPolicy() == Qt.FocusPolicy.WheelFocus]
    assert not wheeled
