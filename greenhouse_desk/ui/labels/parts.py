"""Which parts a layout shows, which of them is in hand, and how its text stands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QGridLayout, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from greenhouse_desk.domain.labels import Align, Box, Layout, What
from greenhouse_desk.domain.labels_editing import TRADED, WORDLESS, traded
from greenhouse_desk.ui.messages import button, label
from greenhouse_desk.ui.wheel import calm

NAMED = {What.LINES: "own lines", What.ISOLATION: "isolation mark"}
PUT_ON = "Put a part on…"
MOST_WORDS = 20
"""Letters before a part, as a layout's file allows."""


def part_name(what: What, back: bool) -> str:
    """What a part is called on the screen."""
    return f"{NAMED.get(what, what.value)}{', back' if back else ''}"


class PartsBar(QWidget):
    """`in_hand(row)` another part is in hand; `put_on(what, back)`, `taken_off()` and `moved(-1 or 1)` ask for it;
    `changed()` its text stands otherwise."""

    in_hand = Signal(int)
    put_on = Signal(object, bool)
    taken_off = Signal()
    moved = Signal(int)
    changed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self._filling = False
        self.box, self.add, self.align = calm(QComboBox()), calm(QComboBox()), calm(QComboBox())
        self.off = button("Take it off", "small", "Take this part off the label")
        self.earlier = button("Up", "small", "Trade places with the text before it")
        self.later = button("Down", "small", "Trade places with the text after it")
        self.bold, self.words = QCheckBox("Bold"), QLineEdit()
        self.words.setMaxLength(MOST_WORDS)
        for part, name in ((self.box, "Part of the label"), (self.add, "Put a part on"), (self.align, "Text stands"),
                           (self.bold, "Bold letters"), (self.words, "Words before it")):
            part.setAccessibleName(name)
        for align in Align:
            self.align.addItem(align.value, align)
        self._worded = (label("Text stands"), label("Words before it"))
        self._build()
        self._listen()

    def _build(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.add)
        column.addWidget(self.box)
        deeds = QHBoxLayout()
        deeds.setSpacing(6)
        for part in (self.earlier, self.later, self.off):
            deeds.addWidget(part)
        column.addLayout(deeds)
        rows = QGridLayout()
        rows.setVerticalSpacing(4)
        for row, (words, control) in enumerate(zip(self._worded, (self.align, self.words), strict=True)):
            rows.addWidget(words, row, 0)
            rows.addWidget(control, row, 1)
        rows.addWidget(self.bold, 2, 1)
        column.addLayout(rows)

    def _listen(self) -> None:
        self.box.currentIndexChanged.connect(lambda row: None if self._filling or row < 0 else self.in_hand.emit(row))
        self.add.activated.connect(self._on_add)
        self.off.clicked.connect(self.taken_off)
        self.earlier.clicked.connect(lambda: self.moved.emit(-1))
        self.later.clicked.connect(lambda: self.moved.emit(1))
        self.align.currentIndexChanged.connect(self._on_changed)
        self.bold.toggled.connect(self._on_changed)
        self.words.textEdited.connect(self._on_changed)

    def _on_add(self, row: int) -> None:
        self.add.setCurrentIndex(0)
        if row > 0:
            self.put_on.emit(*self.add.itemData(row))

    def _on_changed(self) -> None:
        if not self._filling:
            self.changed.emit()

    @property
    def row(self) -> int:
        """Which part is in hand."""
        return max(0, self.box.currentIndex())

    def show_layout(self, layout: Layout, row: int) -> None:
        """List a layout's parts, `row` in hand, and what could be put on."""
        self._filling = True
        self._list(self.box, [(part_name(one.what, one.back), None) for one in layout.boxes])
        self.box.setCurrentIndex(min(row, len(layout.boxes) - 1))
        sides = (False, True) if layout.form.folded else (False,)
        self._list(self.add, [(PUT_ON, None)] + [(part_name(what, back), (what, back)) for back in sides
                                                 for what in What])
        self._filling = False
        self.show_part(layout)

    @staticmethod
    def _list(box: QComboBox, rows: Sequence[tuple[str, object]]) -> None:
        box.clear()
        for words, what in rows:
            box.addItem(words, what)

    def show_part(self, layout: Layout) -> None:
        """The part in hand as it stands."""
        row, there = self.row, bool(layout.boxes)
        box = layout.boxes[row] if there else None
        worded = box is not None and box.what not in WORDLESS
        self._filling = True
        self.align.setCurrentIndex(list(Align).index(box.align) if box else 0)
        self.bold.setChecked(box is not None and box.bold)
        self.words.setText(box.words if box else "")
        self._filling = False
        self.off.setEnabled(there)
        for part in (*self._worded, self.align, self.bold, self.words):
            part.setEnabled(worded)
        self.words.setEnabled(box is not None and box.what in TRADED)
        self.earlier.setEnabled(there and traded(layout, row, -1) is not None)
        self.later.setEnabled(there and traded(layout, row, 1) is not None)

    def given(self, box: Box) -> Box:
        """A part with its text as it is asked for here; a code or a mark as it is."""
        if box.what in WORDLESS:
            return box
        align = Align(self.align.currentData())  # Qt gives it back as bare text
        return replace(box, align=align, bold=self.bold.isChecked(), words=self.words.text().strip())
