"""The controls a form is made of: one class for each way of giving a value."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, time
from typing import Any, Protocol

from PySide6.QtCore import QDate, QTime
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDateEdit,
    QDoubleSpinBox,
    QHBoxLayout,
    QLineEdit,
    QPlainTextEdit,
    QSpinBox,
    QTimeEdit,
    QWidget,
)

from greenhouse_desk.ui.wheel import calm

INDENT = 6


class Asked(Protocol):
    """What a control needs to know of its field (ui/forms.Field)."""

    @property
    def label(self) -> str: ...
    @property
    def low(self) -> float: ...
    @property
    def high(self) -> float: ...
    @property
    def decimals(self) -> int: ...
    @property
    def choices(self) -> tuple[tuple[str, Any], ...]: ...
    @property
    def optional(self) -> bool: ...
    @property
    def shown(self) -> Any: ...


class Control:
    """A widget with the value it holds. `focus` takes the keyboard; `wide` fills the row."""

    wide = False

    def __init__(self, widget: QWidget, focus: QWidget | None = None) -> None:
        self.widget = widget
        self.focus = focus or widget

    def value(self) -> Any:
        """What is given."""
        raise NotImplementedError

    def put(self, value: Any) -> None:
        """Show this value."""
        raise NotImplementedError


class Text(Control):
    """One line."""

    wide = True

    def __init__(self, field: Asked, given: Any) -> None:
        self._line = QLineEdit()
        super().__init__(self._line)
        self.put(given)

    def value(self) -> str:
        """The line as typed."""
        return self._line.text()

    def put(self, value: Any) -> None:
        """Show this line."""
        self._line.setText("" if value is None else str(value))


class Long(Control):
    """Several lines."""

    wide = True

    def __init__(self, field: Asked, given: Any) -> None:
        self._text = QPlainTextEdit()
        self._text.setTabChangesFocus(True)
        self._text.setFixedHeight(84)
        super().__init__(self._text)
        self.put(given)

    def value(self) -> str:
        """The text as typed."""
        return self._text.toPlainText()

    def put(self, value: Any) -> None:
        """Show this text."""
        self._text.setPlainText("" if value is None else str(value))


class Pick(Control):
    """One line, with known words to pick from."""

    wide = True

    def __init__(self, field: Asked, given: Any) -> None:
        self._box = calm(QComboBox())
        self._box.setEditable(True)
        self._box.addItems([words for words, _ in field.choices])
        super().__init__(self._box)
        self.put(given)

    def value(self) -> str:
        """The line as typed or picked."""
        return self._box.currentText()

    def put(self, value: Any) -> None:
        """Show this line."""
        self._box.setCurrentText("" if value is None else str(value))


class Choice(Control):
    """One of a few."""

    wide = True

    def __init__(self, field: Asked, given: Any) -> None:
        self._box = calm(QComboBox())
        self._values = [value for _, value in field.choices]
        self._box.addItems([words for words, _ in field.choices])
        super().__init__(self._box)
        self.put(given)

    def value(self) -> Any:
        """The value behind the words chosen; None when there is nothing to choose from."""
        row = self._box.currentIndex()
        return self._values[row] if row >= 0 else None

    def put(self, value: Any) -> None:
        """Choose this value; the first where it is not offered."""
        self._box.setCurrentIndex(self._values.index(value) if value in self._values else min(0, len(self._values) - 1))


class Check(Control):
    """Yes or no."""

    wide = True

    def __init__(self, field: Asked, given: Any) -> None:
        self._box = QCheckBox(field.label)
        super().__init__(self._box)
        self.put(given)

    def value(self) -> bool:
        """Whether it is ticked."""
        return self._box.isChecked()

    def put(self, value: Any) -> None:
        """Tick or clear it."""
        self._box.setChecked(bool(value))


class Optional(Control):
    """A value that may be unknown: a tick box in front of the control proper."""

    def __init__(self, field: Asked, inner: QWidget, known: str) -> None:
        self.known = QCheckBox(known)
        self.inner = inner
        if not field.optional:
            super().__init__(inner)
            self.known.setChecked(True)
            return
        box = QWidget()
        row = QHBoxLayout(box)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.known)
        row.addWidget(inner)
        self.known.toggled.connect(inner.setEnabled)
        self.known.setAccessibleName(f"{field.label}, {known}")
        inner.setAccessibleName(field.label)
        super().__init__(box, inner)

    def _know(self, value: Any) -> None:
        self.known.setChecked(value is not None)
        self.inner.setEnabled(value is not None)


class Number(Optional):
    """A whole number."""

    def __init__(self, field: Asked, given: Any) -> None:
        self._box = calm(QSpinBox())
        self._box.setRange(int(field.low), int(field.high))
        self._box.lineEdit().setTextMargins(INDENT, 0, 0, 0)
        super().__init__(field, self._box, "measured")
        self._optional = field.optional
        self.put(given)

    def value(self) -> int | None:
        """The number, None when unknown."""
        return self._box.value() if self.known.isChecked() else None

    def put(self, value: Any) -> None:
        """Show this number."""
        if self._optional:
            self._know(value)
        if value is not None:
            self._box.setValue(int(value))


class Decimal(Optional):
    """A number with decimals."""

    def __init__(self, field: Asked, given: Any) -> None:
        self._box = calm(QDoubleSpinBox())
        self._box.setDecimals(field.decimals)
        self._box.setRange(field.low, field.high)
        self._box.lineEdit().setTextMargins(INDENT, 0, 0, 0)
        self._box.setSingleStep(10.0 ** -min(field.decimals, 2) * (5 if field.decimals > 1 else 1))
        super().__init__(field, self._box, "measured")
        self._optional = field.optional
        self.put(given)

    def value(self) -> float | None:
        """The number, None when unknown."""
        return self._box.value() if self.known.isChecked() else None

    def put(self, value: Any) -> None:
        """Show this number."""
        if self._optional:
            self._know(value)
        if value is not None:
            self._box.setValue(float(value))


class Day(Optional):
    """A day, with a calendar."""

    def __init__(self, field: Asked, given: Any) -> None:
        self._edit = calm(QDateEdit())
        self._edit.setCalendarPopup(True)
        self._edit.setDisplayFormat("d MMM yyyy")
        self._edit.setMinimumWidth(150)
        super().__init__(field, self._edit, "known")
        self._optional = field.optional
        self.put(field.shown)
        self.put(given)

    def value(self) -> date | None:
        """The day, None when unknown."""
        shown = self._edit.date()
        return date(shown.year(), shown.month(), shown.day()) if self.known.isChecked() else None

    def put(self, value: Any) -> None:
        """Show this day."""
        if self._optional:
            self._know(value)
        if value is not None:
            self._edit.setDate(QDate(value.year, value.month, value.day))


class Hour(Optional):
    """A time of day."""

    def __init__(self, field: Asked, given: Any) -> None:
        self._edit = calm(QTimeEdit())
        self._edit.setDisplayFormat("HH:mm")
        self._edit.setMinimumWidth(90)
        super().__init__(field, self._edit, "set")
        self._optional = field.optional
        self.put(given)

    def value(self) -> time | None:
        """The time, None when unset."""
        shown = self._edit.time()
        return time(shown.hour(), shown.minute()) if self.known.isChecked() else None

    def put(self, value: Any) -> None:
        """Show this time."""
        if self._optional:
            self._know(value)
        if value is not None:
            self._edit.setTime(QTime(value.hour, value.minute))


CONTROLS: dict[str, Callable[[Asked, Any], Control]] = {
    "text": Text, "long": Long, "number": Number, "decimal": Decimal, "date": Day, "time": Hour, "choice": Choice,
    "pick": Pick, "check": Check,
}
