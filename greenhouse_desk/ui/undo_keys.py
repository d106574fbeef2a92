"""Undo and redo by key while a field has the keyboard: the field's own typing first, else the last deed."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QAbstractSpinBox, QApplication, QComboBox, QLineEdit, QPlainTextEdit, QWidget

FIELDS = (QLineEdit, QPlainTextEdit, QAbstractSpinBox, QComboBox)


class UndoKeys(QObject):
    """Fields take the keys of undo and redo for themselves, always; here they let them go when they have no use for
    them, and the window's shortcuts come to bear."""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self._window = window
        application = QApplication.instance()
        assert isinstance(application, QApplication)
        application.focusChanged.connect(self._on_focus)

    def _on_focus(self, _old: QWidget | None, now: QWidget | None) -> None:
        if isinstance(now, FIELDS) and self._window.isAncestorOf(now):
            now.installEventFilter(self)  # once only: Qt drops an earlier one of the same object

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Leave the key to the window's shortcuts where the field has nothing to take back or do again."""
        if event.type() != QEvent.Type.ShortcutOverride or not isinstance(event, QKeyEvent):
            return False
        undoes, redoes = event.matches(QKeySequence.StandardKey.Undo), event.matches(QKeySequence.StandardKey.Redo)
        if not (undoes or redoes) or _own(watched, undoes):
            return False
        event.ignore()
        return True


def _own(field: QObject, undoes: bool) -> bool:
    """Whether the field has typing of its own to take back, or to do again."""
    if isinstance(field, QPlainTextEdit):
        return field.document().isUndoAvailable() if undoes else field.document().isRedoAvailable()
    line = field.lineEdit() if isinstance(field, QAbstractSpinBox | QComboBox) else field
    if not isinstance(line, QLineEdit):
        return False
    return line.isUndoAvailable() if undoes else line.isRedoAvailable()
