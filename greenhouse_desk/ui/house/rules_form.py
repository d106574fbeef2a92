"""The form of the house rules: one loop over their own metadata; each with help, unit, range and source."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.ui.controls import CONTROLS, Control
from greenhouse_desk.ui.forms import Field, Input
from greenhouse_desk.ui.messages import label
from greenhouse_desk.ui.style import sans


class RulesForm(QWidget):
    """Every rule in a row: what it is, its figure, its unit."""

    def __init__(self) -> None:
        super().__init__()
        self.controls: dict[str, Control] = {}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(12)
        grid.setVerticalSpacing(12)
        grid.setColumnStretch(0, 1)
        for row, item in enumerate(fields(HouseRules)):
            meta = dict(item.metadata)
            whole = isinstance(item.default, int)
            field = Field(item.name, Input.NUMBER if whole else Input.DECIMAL, meta["label"], meta["help"],
                          meta["unit"], meta["low"], meta["high"], 1 if whole else 2, start=item.default)
            control = CONTROLS[field.input.value](field, item.default)
            control.widget.setAccessibleName(f"{field.label}, {field.unit}")
            control.widget.setAccessibleDescription(f"{field.help} {meta['low']:g} to {meta['high']:g}.")
            control.widget.setFixedWidth(92)
            self.controls[item.name] = control
            grid.addLayout(_told(meta), row, 0)
            grid.addWidget(control.widget, row, 1, Qt.AlignmentFlag.AlignTop)
            unit = label(field.unit, "second", wrap=False)
            unit.setContentsMargins(0, 6, 0, 0)
            grid.addWidget(unit, row, 2, Qt.AlignmentFlag.AlignTop)

    def show_rules(self, rules: HouseRules) -> None:
        """Show these figures."""
        for name, control in self.controls.items():
            control.put(getattr(rules, name))

    def rules(self) -> HouseRules:
        """The figures given; the fields keep them inside their ranges."""
        return HouseRules(**{name: control.value() for name, control in self.controls.items()})


def _told(meta: dict[str, Any]) -> QVBoxLayout:
    column = QVBoxLayout()
    column.setSpacing(1)
    column.addWidget(label(meta["label"], bold=True))
    column.addWidget(label(meta["help"], "second"))
    source = label(f"{meta['source']}; {meta['low']:g} to {meta['high']:g} {meta['unit']}", "second", px=13)
    source.setFont(sans(13, 400, True))
    column.addWidget(source)
    return column
