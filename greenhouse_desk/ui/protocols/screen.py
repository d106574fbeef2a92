"""The shelf of protocols: shipped ones and the grower's own beside each other, one open to read, faults explained."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtWidgets import QFrame, QListView, QScrollArea, QVBoxLayout, QWidget

from greenhouse_desk.domain.faults import Fault
from greenhouse_desk.domain.protocols import Protocol
from greenhouse_desk.services.shelf import Shelf
from greenhouse_desk.ui.messages import heading, label
from greenhouse_desk.ui.protocols.list import ShelfDelegate, ShelfModel, ShelfRow
from greenhouse_desk.ui.protocols.page import ProtocolPage
from greenhouse_desk.ui.rows import ROW
from greenhouse_desk.ui.sides import Sides, filled
from greenhouse_desk.ui.style import Palette

SIDE = 300
OWN_WORDS = ("Your own protocols are files in the folder “protocols” of the collection, written like the shipped ones. "
             "A file that cannot be used is set aside and named here; nothing else stops.")


class ProtocolsScreen(QWidget):
    """`shelf` gives the shelf as it now stands."""

    def __init__(self, shelf: Callable[[], Shelf], palette: Palette) -> None:
        super().__init__()
        self._shelf, self._look = shelf, palette
        self.rows = ShelfModel(self)
        self.list = QListView()
        self.list.setModel(self.rows)
        self.list.setItemDelegate(ShelfDelegate(palette, self.list))
        self.list.setUniformItemSizes(True)
        self.list.setAccessibleName("Protocols")
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.selectionModel().currentChanged.connect(self._on_current_changed)
        self._area = QScrollArea()
        self._area.setWidgetResizable(True)
        self._area.setFrameShape(QFrame.Shape.NoFrame)
        self.page: ProtocolPage | None = None
        self._build()

    def _build(self) -> None:
        side = QWidget()
        column = QVBoxLayout(side)
        column.setContentsMargins(0, 18, 0, 16)
        column.setSpacing(10)
        title, own = heading("Protocols", 26), label(OWN_WORDS, "second", px=13)
        title.setContentsMargins(24, 0, 0, 0)
        own.setContentsMargins(24, 0, 16, 0)
        column.addWidget(title)
        column.addWidget(self.list, 1)
        column.addWidget(own)
        sheet = QFrame()
        sheet.setProperty("ground", "sheet")
        sheet.setProperty("edge", "left")
        inner = QVBoxLayout(sheet)
        inner.setContentsMargins(0, 0, 0, 0)
        inner.addWidget(self._area)
        filled(self, Sides(sheet, side, SIDE, 700, first=False))

    def show_now(self) -> None:
        """Read the shelf anew; the protocol that is open stays open."""
        current, before = self.list.currentIndex().row(), self.rows.rows
        self.rows.show(rows_of(self._shelf()))
        if self.rows.rows != before:
            at = self.rows.index(min(max(current, 0), self.rows.rowCount() - 1))
            self.list.setCurrentIndex(at)
            self._on_current_changed(at, at)  # where the row stayed, what is told of it may be another

    def _on_current_changed(self, index: QModelIndex, _before: QModelIndex) -> None:
        row = index.data(ROW)
        if isinstance(row, ShelfRow):
            self.page = ProtocolPage(row, self._shelf().agents, self._look)
            self._area.setWidget(self.page)


def rows_of(shelf: Shelf) -> tuple[ShelfRow, ...]:
    """Shipped protocols, the grower's own, then the files set aside."""
    used = sorted(shelf.protocols, key=lambda one: (one.own, one.title))
    rows = [ShelfRow(one.title, "your own" if one.own else "shipped", one.file or one.id, one, _faults(shelf, one))
            for one in used]
    rows += [ShelfRow(aside.file, "set aside", aside.file, None, aside.faults) for aside in shelf.set_aside]
    return tuple(rows)


def _faults(shelf: Shelf, protocol: Protocol) -> tuple[Fault, ...]:
    """What was found on reading and what is found now, each once."""
    read = [fault for fault in shelf.faults if protocol.file and fault.file == protocol.file]
    return tuple(dict.fromkeys([*shelf.faults_of(protocol), *read]))
