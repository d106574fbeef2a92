"""Fields that leave the mouse wheel to the page, so that scrolling past them never changes what they hold."""

from __future__ import annotations

from typing import TypeVar

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QAbstractSpinBox, QComboBox

Field = TypeVar("Field", bound=QAbstractSpinBox | QComboBox)


class _Leave(QObject):
    """Passes the wheel on to what stands around a field that does not have the keyboard."""

    def __init__(self, field: QAbstractSpinBox | QComboBox) -> None:
        super().__init__(field)
        self._field = field

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Hold the wheel back, not taken: Qt then offers it to the parent."""
        if event.type() != QEvent.Type.Wheel or self._field.hasFocus():
            return False
        event.ignore()
        return True


def calm(field: Field) -> Field:
    """The same field; it takes the wheel only after a click or Tab has given it the keyboard."""
    field.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    field.installEventFilter(_Leave(field))
    return field
