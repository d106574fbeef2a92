"""Editing a layout's parts and sizes beside its live picture; it is kept as the grower's own."""

from __future__ import annotations

from collections.abc import Callable, Collection
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
from greenhouse_desk.domain.labels_editing import (
    WORDLESS,
    added,
    advice,
    code_on_left,
    fresh_title,
    mirrored,
    traded,
    without,
)
from greenhouse_desk.domain.labels_reading import LARGEST_LETTER, LEAST_LABEL, LONGEST_MM, faults_of
from greenhouse_desk.domain.paper import SIZES
from greenhouse_desk.ui.controls import INDENT
from greenhouse_desk.ui.labels.parts import PartsBar
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.wheel import calm

OF_LABEL = (("width", "Width"), ("height", "Height"), ("buried_mm", "End in the pot"))
OF_SHEET = (("left", "First from the left"), ("top", "First from the top"), ("across", "Labels across"),
            ("down", "Labels down"), ("step_x", "Next across"), ("step_y", "Next down"))
OF_BOX = (("x", "From the left"), ("y", "From the top"), ("width", "Width"), ("height", "Height"),
          ("letter_mm", "Letter height"))
WIDE = 116
COUNTS = ("across", "down")
LEAST = {("label", "width"): LEAST_LABEL, ("label", "height"): LEAST_LABEL, ("box", "width"): 1, ("box", "height"): 1,
         ("box", "letter_mm"): LEAST_LETTER, ("sheet", "across"): 1, ("sheet", "down"): 1}
"""What a layout's file allows, where that is not 0."""
LONGEST_TITLE = 60
OWN_SIZE = "a size of its own"


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
        self._titles: Collection[str] = ()
        self._had = ""
        self.title = QLineEdit()
        self.title.setAccessibleName("Title of the layout")
        self.title.setMaxLength(LONGEST_TITLE)
        self.parts = PartsBar()
        self.box = self.parts.box
        self.side, self.paper = calm(QComboBox()), calm(QComboBox())
        self.side.setAccessibleName("Side of the code")
        self.side.addItems(["Code at the right", "Code at the left"])
        self.paper.setAccessibleName("Paper of the sheet")
        self.paper.addItems([*SIZES, OWN_SIZE])
        self.sizes = {**self._spins("label", OF_LABEL), **self._spins("sheet", OF_SHEET), **self._spins("box", OF_BOX)}
        self.faults = label(ink="madder", bold=True)
        self.advice = label(ink="second", px=13)
        self.keep = button("Keep as mine", "main", "Keep this as a layout of your own")
        self.another = button("Keep as another", name="Keep this as another layout of your own")
        self.remove = button("Remove…", name="Remove this layout of your own")
        self.close_button = button("Close", name="Close without keeping anything")
        self._build()
        self._listen()

    def _listen(self) -> None:
        self.title.textEdited.connect(self._on_changed)
        self.parts.changed.connect(self._on_changed)
        self.parts.in_hand.connect(self._on_box)
        self.parts.put_on.connect(lambda what, back: self._put(added(self.layout_tried(), what, back), -1))
        self.parts.taken_off.connect(lambda: self._put(without(self.layout_tried(), self.parts.row), self.parts.row))
        self.parts.moved.connect(lambda step: self._put(traded(self.layout_tried(), self.parts.row, step),
                                                        self.parts.row))
        self.side.activated.connect(self._on_side)
        self.paper.activated.connect(self._on_paper)
        self.keep.clicked.connect(lambda: self.kept.emit(self.layout_tried()))
        self.another.clicked.connect(lambda: self.kept.emit(replace(self.layout_tried(), own=False)))
        self.remove.clicked.connect(lambda: self.removed.emit(self._layout))
        self.close_button.clicked.connect(self.closed)

    def _spins(self, of: str, rows: tuple[tuple[str, str], ...]) -> dict[tuple[str, str], QDoubleSpinBox]:
        made = {}
        for name, words in rows:
            spin = calm(QDoubleSpinBox())
            least, most = LEAST.get((of, name), 0), LARGEST_LETTER if name == "letter_mm" else LONGEST_MM
            spin.setRange(least, most)
            spin.setToolTip(f"{least:g} to {most:g}{'' if name in COUNTS else ' mm'}")
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
        inside.addWidget(heading("Parts", 16))
        inside.addWidget(self.side)
        inside.addWidget(self.parts)
        inside.addLayout(self._rows("box", OF_BOX))
        inside.addWidget(heading("The label", 16))
        inside.addLayout(self._rows("label", OF_LABEL))
        self._sheet_words = heading("Its sheet", 16)
        self._sheet = QWidget()
        self._sheet.setLayout(self._rows("sheet", OF_SHEET))
        inside.addWidget(self._sheet_words)
        inside.addWidget(self.paper)
        inside.addWidget(self._sheet)
        inside.addStretch(1)
        area = QScrollArea()
        area.setWidget(page)
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setAccessibleName("Parts and sizes")
        area.setMinimumHeight(220)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 12)
        column.setSpacing(8)
        column.addWidget(heading("Edit a layout"))
        column.addWidget(area, 1)
        column.addWidget(self.faults)
        column.addWidget(self.advice)
        for row in ((self.keep, self.another), (self.remove, self.close_button)):
            foot = QHBoxLayout()
            for part in row:
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

    def begin(self, layout: Layout, titles: Collection[str] = ()) -> None:
        """Take a layout in hand; no other one has one of `titles`."""
        self._had = layout.title
        self._titles = [title for title in titles if not layout.own or title != layout.title]
        self.title.setText(layout.title if layout.own else fresh_title(f"My {layout.title}", titles, LONGEST_TITLE))
        for part in (self._sheet, self._sheet_words, self.paper):
            part.setVisible(layout.grid is not None)
        for part in (self.remove, self.another):
            part.setVisible(layout.own)
        self.keep.setText("Keep" if layout.own else "Keep as mine")
        self._put(layout, 0)

    def _put(self, layout: Layout | None, row: int) -> None:
        """Go on with this layout (None: as it is), its part `row` in hand (-1: the last)."""
        if layout is None:
            return
        self._filling = True
        self._layout = layout
        self.parts.show_layout(layout, row % max(1, len(layout.boxes)) if row < 0 else row)
        self.side.setVisible(any(box.what is What.CODE for box in layout.boxes))
        self.side.setCurrentIndex(int(code_on_left(layout)))
        self._fill("label", layout)
        if layout.grid is not None:
            self._fill("sheet", layout.grid)
            named = {size: name for name, size in SIZES.items()}
            self.paper.setCurrentText(named.get((layout.grid.width, layout.grid.height), OWN_SIZE))
        self._fill_box(layout)
        self._filling = False
        self._on_changed()

    def _fill_box(self, layout: Layout) -> None:
        there = bool(layout.boxes)
        for (whose, name), spin in self.sizes.items():
            if whose == "box":
                spin.setEnabled(there and (name != "letter_mm" or layout.boxes[self.parts.row].what not in WORDLESS))
        if there:
            self._fill("box", layout.boxes[self.parts.row])

    def _on_side(self, row: int) -> None:
        tried = self.layout_tried()
        if code_on_left(tried) != bool(row):
            self._put(mirrored(tried), self.parts.row)

    def _on_paper(self) -> None:
        size = SIZES.get(self.paper.currentText())
        tried = self.layout_tried()
        if size is not None and tried.grid is not None:
            self._put(replace(tried, grid=replace(tried.grid, width=size[0], height=size[1])), self.parts.row)

    def _fill(self, of: str, values: Any) -> None:
        for (whose, name), spin in self.sizes.items():
            if whose == of:
                spin.setValue(getattr(values, name))

    def _on_box(self, row: int) -> None:
        if self._filling or self._layout is None:
            return
        self._filling = True
        self.parts.show_part(self._layout)
        self._fill_box(self._layout)
        self._filling = False
        self.tried.emit(self.layout_tried(), row)

    def layout_tried(self) -> Layout:
        """The layout with the sizes as they stand in the fields."""
        assert self._layout is not None
        boxes, row = list(self._layout.boxes), self.parts.row
        if boxes:
            box = replace(self.parts.given(boxes[row]), **self._given("box", float))
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
        self.parts.show_part(self._layout)
        words = [f"{self._named(one.path)}: {one.message}." for one in faults_of(tried)[:2]]
        if not tried.title or tried.title in self._titles:
            words.insert(0, "Another layout has this title." if tried.title else "Give it a title.")
        self.faults.setText("\n".join(words))
        self.faults.setVisible(bool(words))
        self.advice.setText(advice(tried))
        self.advice.setVisible(bool(self.advice.text()))
        self.keep.setEnabled(not words)
        renamed = tried.title != self._had
        self.another.setEnabled(not words and renamed)
        self.another.setToolTip("" if renamed else "Not now: give it another title first.")
        self.tried.emit(tried, self.parts.row)

    def _named(self, path: str) -> str:
        """A fault's path as the fields call it: "box[3]" is the third part."""
        if path.startswith("box["):
            return self.box.itemText(int(path[4:path.index("]")]) - 1)
        return path
