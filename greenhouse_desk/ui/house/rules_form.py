"""The form of the house rules: one loop over their own metadata; each with help, unit, range and source."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QCheckBox, QDoubleSpinBox, QGridLayout, QSpinBox, QVBoxLayout, QWidget

from greenhouse_desk.domain.settings import TOPICS, HouseRules, said
from greenhouse_desk.ui.controls import CONTROLS, Control
from greenhouse_desk.ui.forms import Field, Input
from greenhouse_desk.ui.messages import heading, label
from greenhouse_desk.ui.style import sans


class RulesForm(QWidget):
    """Every rule in a row: what it is, its figure, its unit. `changed()` tells that a figure is another now."""

    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.controls: dict[str, Control] = {}
        self._kept: dict[str, Any] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(12)
        grid.setVerticalSpacing(12)
        grid.setColumnStretch(0, 1)
        for item in fields(HouseRules):
            if item.name in TOPICS:
                grid.addWidget(_topic(TOPICS[item.name], grid.count() > 0), grid.rowCount(), 0, 1, 3)
            self._add(grid, item.name, item.default, dict(item.metadata))

    def _add(self, grid: QGridLayout, name: str, default: Any, meta: dict[str, Any]) -> None:
        field, row = _field(name, default, meta), grid.rowCount()
        control = CONTROLS[field.input.value](field, default)
        control.widget.setAccessibleName(", ".join(filter(None, (meta["label"], field.unit))))
        control.widget.setAccessibleDescription(f"{field.help} {_range(default, meta)}.")
        control.widget.setFixedWidth(92)
        self.controls[name] = control
        self._hear(control.widget)
        grid.addLayout(_told(default, meta), row, 0)
        grid.addWidget(control.widget, row, 1, Qt.AlignmentFlag.AlignTop)
        unit = label(field.unit, "second", wrap=False)
        unit.setContentsMargins(0, 6, 0, 0)
        grid.addWidget(unit, row, 2, Qt.AlignmentFlag.AlignTop)

    def _hear(self, widget: QWidget) -> None:
        if isinstance(widget, QSpinBox | QDoubleSpinBox):
            widget.valueChanged.connect(self.changed)
        elif isinstance(widget, QCheckBox):
            widget.toggled.connect(self.changed)

    def show_rules(self, rules: HouseRules) -> None:
        """These figures are kept: show them, but leave what the grower has changed and not kept."""
        open_ones = {item.name for item in fields(HouseRules) if self._is_changed(item.name)}
        given = {name: self.controls[name].value() for name in open_ones}
        for name, control in self.controls.items():
            control.put(getattr(rules, name))
            self._kept[name] = control.value()
            control.put(given.get(name, self._kept[name]))
        self.changed.emit()

    def take_back(self) -> None:
        """Show what is kept everywhere."""
        for name, control in self.controls.items():
            control.put(self._kept[name])

    def unkept(self, word: str = "kept") -> tuple[str, ...]:
        """What is changed and not kept: "Look ahead 20 days (kept: 14 days)"; `word` stands before the old figure."""
        return tuple(f"{item.metadata['label']} {said(self.controls[item.name].value(), item.metadata['unit'])} "
                     f"({word}: {said(self._kept[item.name], item.metadata['unit'])})"
                     for item in fields(HouseRules) if self._is_changed(item.name))

    def _is_changed(self, name: str) -> bool:
        return name in self._kept and self.controls[name].value() != self._kept[name]

    def rules(self) -> HouseRules:
        """The figures given; the fields keep them inside their ranges."""
        return HouseRules(**{name: control.value() for name, control in self.controls.items()})


def _field(name: str, default: Any, meta: dict[str, Any]) -> Field:
    """What asks for a rule: a tick where it is on or off, else a figure."""
    if isinstance(default, bool):
        return Field(name, Input.CHECK, "on", meta["help"], start=default)
    whole = isinstance(default, int)
    return Field(name, Input.NUMBER if whole else Input.DECIMAL, meta["label"], meta["help"], meta["unit"],
                 meta["low"], meta["high"], 1 if whole else 2, start=default)


def _range(default: Any, meta: dict[str, Any]) -> str:
    return "on or off" if isinstance(default, bool) else f"{meta['low']:g} to {meta['high']:g} {meta['unit']}"


def _topic(words: str, is_below: bool) -> QWidget:
    """What the rules under it are about, with some air above it."""
    made = heading(words, 17)
    made.setContentsMargins(0, 14 if is_below else 0, 0, 0)
    return made


def _told(default: Any, meta: dict[str, Any]) -> QVBoxLayout:
    column = QVBoxLayout()
    column.setSpacing(1)
    column.addWidget(label(meta["label"], bold=True))
    column.addWidget(label(meta["help"], "second"))
    source = label(f"{meta['source']}; {_range(default, meta)}", "second", px=13)
    source.setFont(sans(13, 400, True))
    column.addWidget(source)
    return column
