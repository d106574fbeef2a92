"""A form standing on the House page: what is typed and not kept stays when the page is read anew, and is said."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QDoubleSpinBox, QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from greenhouse_desk.ui.forms import Field, FormRows, Input
from greenhouse_desk.ui.messages import button, label


class KeptRows(FormRows):
    """Fields with what is kept of each. `changed()` tells that a field, or what is kept, is another now."""

    changed = Signal()

    def __init__(self, fields: Sequence[Field], values: Mapping[str, Any] | None = None) -> None:
        super().__init__(fields, values)
        self._fields = {field.name: field for field in fields}
        self._kept: dict[str, Any] = {}
        self.word = "kept"
        for control in self.controls.values():
            self._hear(control.widget)

    def _hear(self, widget: QWidget) -> None:
        if isinstance(widget, QDoubleSpinBox | QLineEdit):
            widget.textChanged.connect(self.changed)
        elif isinstance(widget, QComboBox):
            widget.currentIndexChanged.connect(self.changed)

    def show_kept(self, values: Mapping[str, Any], word: str = "kept") -> None:
        """These values are kept, or `word` ("assumed"): show them, but leave what was typed and not kept."""
        self.word = word
        for name, value in values.items():
            was_typed, self._kept[name] = self._is_typed(name), self._whole(name, value)
            if not was_typed and self.controls[name].value() != self._kept[name]:
                self.controls[name].put(value)
        self.changed.emit()

    def take_back(self) -> None:
        """Show what is kept everywhere."""
        for name, value in self._kept.items():
            self.controls[name].put(value)

    def unkept(self) -> tuple[str, ...]:
        """What is typed and not kept: "Latitude 48.2 degrees (kept: 51.5 degrees)"."""
        return tuple(f"{field.label}{':' if field.input is Input.CHOICE else ''} "
                     f"{_said(field, self.controls[name].value())} ({self.word}: {_said(field, self._kept[name])})"
                     for name, field in self._fields.items() if self._is_typed(name))

    def _is_typed(self, name: str) -> bool:
        return name in self._kept and self.controls[name].value() != self._kept[name]

    def _whole(self, name: str, value: Any) -> Any:
        """A value as its field can show it."""
        return round(value, self._fields[name].decimals) if isinstance(value, float) else value


class KeptFoot(QWidget):
    """The foot of such a form: what is not kept yet, the way back as long as there is any, and its main button."""

    def __init__(self, rows: KeptRows, keep: QPushButton) -> None:
        super().__init__()
        self._rows = rows
        self._words = label("", "due", bold=True)
        self.back = button("Back to what is kept")
        self.back.clicked.connect(rows.take_back)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._words)
        foot = QHBoxLayout()
        foot.setSpacing(8)
        foot.addStretch(1)
        foot.addWidget(self.back)
        foot.addWidget(keep)
        column.addLayout(foot)
        rows.changed.connect(self._show)
        self._show()

    def _show(self) -> None:
        changes = self._rows.unkept()
        self._words.setText(f"Not kept yet: {'; '.join(changes)}.")
        self._words.setVisible(bool(changes))
        self.back.setText(f"Back to what is {self._rows.word}")
        self.back.setAccessibleName(self.back.text())
        self.back.setVisible(bool(changes))


def _said(field: Field, value: Any) -> str:
    if field.input is Input.CHOICE:
        return next(words for words, choice in field.choices if choice == value)
    return f"{value:g} {field.unit}".strip() if isinstance(value, float) else value or "nothing"
