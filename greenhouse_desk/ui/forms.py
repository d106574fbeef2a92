"""Forms described as data: a form is a tuple of fields, its answer a dictionary of values by field name."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from greenhouse_desk.domain.faults import OutOfRange, Refused
from greenhouse_desk.ui.controls import CONTROLS, Control
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.whole_screen import screen_of


class Input(StrEnum):
    """How a value is given."""

    TEXT = "text"
    LONG = "long"
    NUMBER = "number"
    DECIMAL = "decimal"
    DATE = "date"
    TIME = "time"
    CHOICE = "choice"
    PICK = "pick"
    CHECK = "check"


@dataclass(frozen=True, slots=True)
class Field:
    """One field: how it is asked, its label, help, unit and range.

    `choices` are (words, value) for CHOICE and words to pick from for PICK; `optional` lets a number, date or time be
    left unknown (None); `shown` is where a day that is unknown starts from once it is known.
    """

    name: str
    input: Input
    label: str
    help: str = ""
    unit: str = ""
    low: float = 0
    high: float = 999_999
    decimals: int = 1
    choices: tuple[tuple[str, Any], ...] = ()
    optional: bool = False
    start: Any = None
    shown: Any = None


Values = dict[str, Any]
WIDTH = 460


class FormRows(QWidget):
    """The fields of a form under each other, each with its label, help and unit."""

    def __init__(self, fields: Sequence[Field], values: Mapping[str, Any] | None = None) -> None:
        super().__init__()
        self.controls: dict[str, Control] = {}
        self._labels = {field.name: field.label for field in fields}
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 14, 0)
        column.setSpacing(12)
        for field in fields:
            given = (values or {}).get(field.name, field.start)
            column.addLayout(self._row(field, given))

    def _row(self, field: Field, given: Any) -> QVBoxLayout:
        control = CONTROLS[field.input.value](field, given)
        self.controls[field.name] = control
        control.widget.setAccessibleName(f"{field.label}{', ' + field.unit if field.unit else ''}")
        control.widget.setAccessibleDescription(field.help)
        row = QVBoxLayout()
        row.setSpacing(3)
        if field.input is not Input.CHECK:
            words = label(field.label, bold=True)
            words.setBuddy(control.focus)
            row.addWidget(words)
        line = QHBoxLayout()
        line.setSpacing(8)
        line.addWidget(control.widget, 1 if control.wide else 0)
        if field.unit:
            line.addWidget(label(field.unit, "second", wrap=False))
        if not control.wide:
            line.addStretch(1)
        row.addLayout(line)
        if field.help:
            row.addWidget(label(field.help, "second", px=13))
        return row

    def named(self, words: str) -> Control | None:
        """The field that `words` name, by what stands above it."""
        said = f" {words.casefold()} "
        return next((self.controls[name] for name, above in self._labels.items() if f" {above.casefold()} " in said),
                    None)

    def begin_with(self, told: QWidget) -> None:
        """Put what is told above the fields; it scrolls with them, so that a low screen keeps the buttons."""
        told.setMinimumHeight(told.heightForWidth(WIDTH - 80))
        column = self.layout()
        assert isinstance(column, QVBoxLayout)
        column.insertWidget(0, told)

    def values(self) -> Values:
        """What is filled in, by field name."""
        return {name: control.value() for name, control in self.controls.items()}


class Against(QFrame):
    """What stands against a deed, a line each under `title`; it hinders nobody."""

    def __init__(self, title: str, lines: Sequence[str]) -> None:
        super().__init__()
        self.setProperty("edge", "urgent")
        self.setAccessibleName(f"{title}: {' '.join(lines)}")
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 8, 12, 8)
        column.setSpacing(6)
        column.addWidget(label(title, ink="madder", bold=True))
        for line in lines:
            column.addWidget(label(line))


class Form(QDialog):
    """A form in a window of its own. `deed(values)` is done when it is accepted; a refusal is said in the form.

    `against` is said above the fields: what the grower should know before the deed.

    What was typed stays until the deed is done or the form is closed.
    """

    def __init__(self, title: str, fields: Sequence[Field], deed: Callable[[Values], object], parent: QWidget,
                 values: Mapping[str, Any] | None = None, accept: str = "Save", words: str = "",
                 against: Against | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self._deed, self._accept = deed, accept
        self._warning: Against | None = None
        self.rows = FormRows(fields, values)
        if against is not None:
            self.rows.begin_with(against)
        self._fault = label(ink="madder", bold=True)
        self._fault.hide()
        self.accept_button = button(accept, "main")
        self.accept_button.setDefault(True)
        self.accept_button.clicked.connect(self._on_accepted)
        cancel = button("Cancel")
        cancel.clicked.connect(self.reject)
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 20, 24, 20)
        column.setSpacing(12)
        said = [heading(title, 23), *([label(words, "second")] if words else [])]
        for told in said:
            told.setMinimumHeight(told.heightForWidth(WIDTH - 48))
            column.addWidget(told)
        self._area = _scroller(self.rows)
        column.addWidget(self._area, 1)
        column.addWidget(self._fault)
        column.addLayout(_foot(cancel, self.accept_button))
        if self.rows.controls:
            next(iter(self.rows.controls.values())).focus.setFocus()
        self._fit(sum(told.minimumHeight() for told in said))

    def _fit(self, said: int) -> None:
        """As tall as what is said above and its fields, but never taller than the screen."""
        room = screen_of(self).availableGeometry().height() - 60
        self.resize(WIDTH, min(self.rows.sizeHint().height() + said + 160, room))

    def set(self, name: str, value: Any) -> None:
        """Fill one field in."""
        self.rows.controls[name].put(value)

    def warn(self, lines: Sequence[str]) -> None:
        """Say by the button what stands against what is filled in now; with none nothing does. It hinders nobody."""
        column = self.layout()
        assert isinstance(column, QVBoxLayout)
        if self._warning is not None:
            self._warning.hide()
            self._warning.deleteLater()
        self._warning = Against("What stands against it", lines) if lines else None
        if self._warning is not None:
            self._warning.setMinimumHeight(self._warning.heightForWidth(WIDTH - 48))
            column.insertWidget(column.indexOf(self._fault), self._warning)
            self._warning.show()
        self.accept_button.setText(f"{self._accept} all the same" if lines else self._accept)

    def _on_accepted(self) -> None:
        try:
            self._deed(self.rows.values())
        except Refused as refusal:
            self._say(" ".join(filter(None, (f"{refusal.title}.", refusal.detail, refusal.next_step))))
            self._lead_to(self.rows.named(refusal.title))
        except OutOfRange as fault:
            self._say(f"{fault}.")
        else:
            self.accept()

    def _lead_to(self, wrong: Control | None) -> None:
        """Put the keyboard on the field that has to be mended."""
        if wrong is not None:
            wrong.focus.setFocus()
            self._area.ensureWidgetVisible(wrong.widget)

    def _say(self, words: str) -> None:
        self._fault.setText(words)
        self._fault.show()


def _scroller(rows: QWidget) -> QScrollArea:
    area = QScrollArea()
    area.setWidget(rows)
    area.setAccessibleName("What is asked")
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    return area


def _foot(cancel: QWidget, accept: QWidget) -> QHBoxLayout:
    foot = QHBoxLayout()
    foot.setSpacing(8)
    foot.addStretch(1)
    foot.addWidget(cancel)
    foot.addWidget(accept)
    return foot

