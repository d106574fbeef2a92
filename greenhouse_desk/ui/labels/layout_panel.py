"""In which layout, from which label of a used sheet on, how many copies, and the grower's own lines."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QPlainTextEdit,
    QSpinBox,
    QVBoxLayout,
)

from greenhouse_desk.domain.labels import Layout, What
from greenhouse_desk.domain.labels_sheets import MOST_COPIES
from greenhouse_desk.services.labels_shelf import FIRST
from greenhouse_desk.ui.controls import INDENT
from greenhouse_desk.ui.labels.cells import SheetCells
from greenhouse_desk.ui.labels.rows import SIZE, LayoutRow
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.wheel import calm

MOST_LINES = 6


def size_words(layout: Layout) -> str:
    """A layout's size, and how many lie on a page."""
    grid = layout.grid
    on = f"{layout.per_page} on {grid.width:g} x {grid.height:g}" if grid else "from a roll"
    return f"{layout.width:g} x {layout.height:g} mm, {on}{', yours' if layout.own else ''}"


class LayoutPanel(QFrame):
    """`changed()` tells that something else is to be printed, `edit_wanted()` that it is to be edited."""

    changed = Signal()
    edit_wanted = Signal()

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self.setProperty("ground", "sheet")
        self.setProperty("edge", "all")
        self._layouts: tuple[Layout, ...] = ()
        self._labels = 0
        self.list = QListWidget()
        self.list.setAccessibleName("Layout")
        self.list.setMinimumHeight(150)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._rows = LayoutRow(palette)
        self.list.setItemDelegate(self._rows)
        self.cells = SheetCells(palette)
        self.copies = calm(QSpinBox())
        self.copies.setRange(1, MOST_COPIES)
        self.copies.lineEdit().setTextMargins(INDENT, 0, 0, 0)
        self.copies.setAccessibleName("Copies of each label")
        self.lines = QPlainTextEdit()
        self.lines.setTabChangesFocus(True)
        self.lines.setFixedHeight(60)
        self.lines.setAccessibleName("Your own lines on every label")
        self.edit = button("Edit…", "small", "Edit the parts and sizes of this layout")
        self._start_words = label(ink="second", px=13)
        self._lines_words = label("Your own lines", bold=True)
        self._build()
        self.list.currentRowChanged.connect(self._on_layout)
        self.cells.chosen.connect(self._on_start)
        self.copies.valueChanged.connect(self.changed)
        self.lines.textChanged.connect(self.changed)
        self.edit.clicked.connect(self.edit_wanted)

    def _build(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 12)
        column.setSpacing(8)
        head = QHBoxLayout()
        head.addWidget(heading("Layout"), 1)
        head.addWidget(self.edit)
        column.addLayout(head)
        column.addWidget(self.list, 1)
        column.addWidget(self._start_words)
        column.addWidget(self.cells)
        copies = QHBoxLayout()
        copies.addWidget(label("Copies of each", bold=True), 1)
        copies.addWidget(self.copies)
        column.addLayout(copies)
        column.addWidget(self._lines_words)
        column.addWidget(self.lines)

    @property
    def layout_chosen(self) -> Layout:
        """The layout in hand."""
        return self._layouts[max(0, self.list.currentRow())]

    @property
    def titles(self) -> list[str]:
        """The titles of all layouts."""
        return [layout.title for layout in self._layouts]

    @property
    def own_lines(self) -> tuple[str, ...]:
        """The grower's own lines, empty ones left out."""
        lines = (line.strip() for line in self.lines.toPlainText().splitlines())
        return tuple(line for line in lines if line)[:MOST_LINES]

    def show_layouts(self, layouts: Sequence[Layout], take: str = "") -> None:
        """List the layouts; the one called `take` is chosen, else the one that was, else the first to offer."""
        row = self.list.currentRow()
        had = take or (self._layouts[row].id if 0 <= row < len(self._layouts) else FIRST)
        self._layouts = tuple(layouts)
        self.list.blockSignals(True)
        self.list.clear()
        for layout in layouts:
            item = QListWidgetItem(layout.title)
            item.setData(SIZE, size_words(layout))
            item.setToolTip(layout.title)
            item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{layout.title}, {size_words(layout)}")
            self.list.addItem(item)
        ids = [layout.id for layout in layouts]
        self.list.setCurrentRow(ids.index(had if had in ids else FIRST))
        self.list.blockSignals(False)
        self._on_layout()

    def show_count(self, labels: int) -> None:
        """How many labels are to come, for the small sheet."""
        self._labels = labels
        self._show_start()

    def _on_layout(self, _row: int = 0) -> None:
        layout = self.layout_chosen
        self.cells.start = min(self.cells.start, layout.per_page)
        has_lines = any(box.what is What.LINES for box in layout.boxes)
        self._lines_words.setText("Your own lines" if has_lines else "Your own lines: this layout has no room for them")
        self.lines.setEnabled(has_lines)
        self._show_start()
        self.changed.emit()

    def _on_start(self, number: int) -> None:
        self.cells.start = number
        self._show_start()
        self.changed.emit()

    def _show_start(self) -> None:
        layout = self.layout_chosen
        sheet = layout.per_page > 1
        self.cells.setVisible(sheet)
        self._start_words.setText(f"Start at label {self.cells.start} of {layout.per_page}: click the first free one."
                                  if sheet else "A roll: each label is a page of its own.")
        self.cells.show_sheet(layout, self.cells.start, self._labels)
