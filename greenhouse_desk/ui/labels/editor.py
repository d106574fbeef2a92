"""Editing a layout's sizes beside its live picture; it is kept as the grower's own."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QDoubleSpinBox,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLineEdit,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from greenhouse_desk.domain.labels import LEAST_LETTER, Layout, What
from greenhouse_desk.domain.labels_reading import LARGEST_LETTER, LONGEST_MM, faults_of
from greenhouse_desk.ui.controls import INDENT
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.wheel import calm

OF_LABEL = (("width", "Width"), ("height", "Height"), ("buried_mm", "End in the pot"))
OF_SHEET = (("left", "First from the left"), ("top", "First from the top"), ("across", "Labels across"),
            ("down", "Labels down"), ("step_x", "Next across"), ("step_y", "Next down"))
OF_BOX = (("x", "From the left"), ("y", "From the top"), ("width", "Width"), ("height", "Height"),
          ("letter_mm", "Letter height"))
WIDE = 116
COUNTS = ("across", "down")
LONGEST_TITLE = 60
WORDLESS = (What.CODE, What.ISOLATION)


class SizesEditor(QFrame):
    """`tried(layout, box)` after every change, with the number of the box in hand; `kept(layout)`, `removed(layout)`
    and `closed()` when a button says so."""

    tried = Signal(object, int)
    kept = Signal(object)
    removed = Signal(object)
    closed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("ground", "sheet")
        self.setProperty("edge", "all")
        self._filling = False
        self._layout: Layout | None = None
        self.title = QLineEdit()
        self.title.setAccessibleName("Title of the layout")
        self.title.setMaxLength(LONGEST_TITLE)
        self.box = calm(QComboBox())
        self.box.setAccessibleName("Part of the label")
        self.sizes = {**self._spins("label", OF_LABEL), **self._spins("sheet", OF_SHEET), **self._spins("box", OF_BOX)}
        self.faults = label(ink="madder", bold=True)
        self.keep = button("Keep as mine", "main", "Keep these sizes as a layout of your own")
        self.remove = button("Remove", name="Remove this layout of your own")
        self.close_button = button("Close", name="Close without keeping the sizes")
        self._build()
        self.title.textEdited.connect(self._on_changed)
        self.box.currentIndexChanged.connect(self._on_box)
        self.keep.clicked.connect(lambda: self.kept.emit(self.layout_tried()))
        self.remove.clicked.connect(lambda: self.removed.emit(self._layout))
        self.close_button.clicked.connect(self.closed)

    def _spins(self, of: str, rows: tuple[tuple[str, str], ...]) -> dict[tuple[str, str], QDoubleSpinBox]:
        made = {}
        for name, words in rows:
            spin = calm(QDoubleSpinBox())
            spin.setRange(LEAST_LETTER if name == "letter_mm" else 0,
                          LARGEST_LETTER if name == "letter_mm" else LONGEST_MM)
            spin.setDecimals(0 if name in COUNTS else 1 if name != "letter_mm" else 2)
            spin.setSingleStep(1 if name in COUNTS else 0.5 if name != "letter_mm" else 0.1)
            spin.setSuffix("" if name in COUNTS else " mm")
            spin.setKeyboardTracking(False)
            spin.setMaximumWidth(WIDE)
            spin.lineEdit().setTextMargins(INDENT, 0, 0, 0)
            spin.setAccessibleName(f"{words}, {of}")
            spin.valueChanged.connect(self._on_changed)
            made[of, name] = spin
        return made

    def _build(self) -> None:
        page = QWidget()
        inside = QVBoxLayout(page)
        inside.setContentsMargins(0, 0, 12, 0)
        inside.setSpacing(6)
        inside.addWidget(self.title)
        inside.addLayout(self._rows("label", OF_LABEL))
        self._sheet_words = heading("Sheet", 16)
        inside.addWidget(self._sheet_words)
        self._sheet = QWidget()
        self._sheet.setLayout(self._rows("sheet", OF_SHEET))
        inside.addWidget(self._sheet)
        inside.addWidget(heading("Part of the label", 16))
        inside.addWidget(self.box)
        inside.addLayout(self._rows("box", OF_BOX))
        inside.addStretch(1)
        area = QScrollArea()
        area.setWidget(page)
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setAccessibleName("Sizes")
        area.setMinimumHeight(220)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 12)
        column.setSpacing(8)
        column.addWidget(heading("Sizes"))
        column.addWidget(area, 1)
        column.addWidget(self.faults)
        foot = QHBoxLayout()
        for part in (self.keep, self.remove, self.close_button):
            foot.addWidget(part)
        column.addLayout(foot)

    def _rows(self, of: str, rows: tuple[tuple[str, str], ...]) -> QGridLayout:
        made = QGridLayout()
        made.setVerticalSpacing(4)
        made.setContentsMargins(0, 0, 0, 0)
        for row, (name, words) in enumerate(rows):
            made.addWidget(label(words), row, 0)
            made.addWidget(self.sizes[of, name], row, 1)
        made.setColumnStretch(0, 1)
        return made

    def begin(self, layout: Layout) -> None:
        """Take a layout in hand."""
        self._filling = True
        self._layout = layout
        self.title.setText(layout.title if layout.own else f"My {layout.title}"[:LONGEST_TITLE])
        self.box.clear()
        sides = {True: ", back", False: ""}
        self.box.addItems([f"{one.what.value}{sides[one.back]}" for one in layout.boxes])
        self._sheet.setVisible(layout.grid is not None)
        self._sheet_words.setVisible(layout.grid is not None)
        self.remove.setVisible(layout.own)
        self._fill("label", layout)
        if layout.grid is not None:
            self._fill("sheet", layout.grid)
        self._fill("box", layout.boxes[0])
        self._filling = False
        self._on_changed()

    def _fill(self, of: str, values: Any) -> None:
        for (whose, name), spin in self.sizes.items():
            if whose == of:
                spin.setValue(getattr(values, name))

    def _on_box(self, row: int) -> None:
        if self._filling or self._layout is None or row < 0:
            return
        self._filling = True
        self._fill("box", self._layout.boxes[row])
        self.sizes["box", "letter_mm"].setEnabled(self._layout.boxes[row].what not in WORDLESS)
        self._filling = False
        self.tried.emit(self.layout_tried(), row)

    def layout_tried(self) -> Layout:
        """The layout with the sizes as they stand in the fields."""
        assert self._layout is not None
        boxes = list(self._layout.boxes)
        row = max(0, self.box.currentIndex())
        box = replace(boxes[row], **self._given("box", float))
        boxes[row] = replace(box, least_mm=min(boxes[row].least_mm, box.letter_mm))
        grid = self._layout.grid
        if grid is not None:
            sheet = self._given("sheet", float)
            grid = replace(grid, **{name: int(size) if name in COUNTS else size for name, size in sheet.items()})
        return replace(self._layout, title=self.title.text().strip(), boxes=tuple(boxes), grid=grid,
                       **self._given("label", float))

    def _given(self, of: str, kind: Callable[[float], float]) -> dict[str, Any]:
        return {name: kind(round(spin.value(), 2)) for (whose, name), spin in self.sizes.items() if whose == of}

    def _on_changed(self) -> None:
        if self._filling or self._layout is None:
            return
        tried = self.layout_tried()
        self._layout = replace(tried, title=self._layout.title)
        faults = faults_of(tried)
        words = [f"{self._named(one.path)}: {one.message}." for one in faults[:2]]
        self.faults.setText("\n".join(words if tried.title else ["Give it a title.", *words]))
        self.faults.setVisible(bool(self.faults.text()))
        self.keep.setEnabled(not self.faults.text())
        self.tried.emit(tried, max(0, self.box.currentIndex()))

    def _named(self, path: str) -> str:
        """A fault's path as the fields call it: "box[3]" is the third part."""
        if path.startswith("box["):
            number = int(path[4:path.index("]")])
            return self.box.itemText(number - 1)
        return path
