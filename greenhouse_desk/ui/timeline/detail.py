"""What was opened on the timeline, to be read: an entry with its photo, a care with its reasons, a group as a list."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from greenhouse_desk.domain.timeline_values import Item
from greenhouse_desk.services.timeline import Head
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.thumbnails import Thumbnails
from greenhouse_desk.ui.timeline import told
from greenhouse_desk.ui.timeline.lanes import Lanes
from greenhouse_desk.ui.why import Reasons

PHOTO = QSize(256, 192)
LIST_LEAST = 160
WIDE = 300


class DetailPanel(QFrame):
    """Shows what was opened. `closed()` puts it away, `nearer(first, last)` asks for that stretch (seconds)."""

    closed = Signal()
    nearer = Signal(float, float)

    def __init__(self, palette: Palette, thumbs: Thumbnails) -> None:
        super().__init__()
        self._look, self._thumbs = palette, thumbs
        self._photo, self._picture = "", QLabel()
        self._group: tuple[Head, bool, Sequence[Item], Lanes] | None = None
        self.setProperty("ground", "sheet")
        self.setProperty("edge", "all")
        self.title = heading("", 18)
        self.close_button = button("Close", "small", "Close what is opened")
        self.close_button.clicked.connect(self.closed)
        self.back = button("All of the group", "small", "Back to all entries of the group")
        self.back.clicked.connect(self._on_back)
        self.area = QScrollArea()
        self.area.setWidgetResizable(True)
        self.area.setFrameShape(QFrame.Shape.NoFrame)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.setAccessibleName("What is opened")
        head = QHBoxLayout()
        head.addWidget(self.title, 1)
        head.addWidget(self.close_button, 0, Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 10, 12)
        column.setSpacing(6)
        column.addLayout(head)
        column.addWidget(self.back, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.area, 1)
        thumbs.ready.connect(self._on_ready)
        self.hide()

    def show_items(self, head: Head, ahead: bool, items: Sequence[Item], lanes: Lanes) -> None:
        """Show one entry or care, or list several."""
        self.title.setText(f"{head.number} {head.name.plain}")
        self.back.hide()
        self._group = None
        if len(items) == 1:
            self._one(items[0], ahead, lanes)
        else:
            self._several(head, ahead, items, lanes)
        self.show()

    def _one(self, item: Item, ahead: bool, lanes: Lanes) -> None:
        inside, column = _column()
        column.addWidget(label(told.when(item, lanes, ahead), "second"))
        column.addWidget(label(item.title, bold=True, px=15))
        if item.detail:
            column.addWidget(label(item.detail))
        self._photo = item.photo
        if item.photo:
            self._picture = QLabel()
            self._picture.setFixedSize(PHOTO)
            self._picture.setAccessibleName(f"Photo of {told.when(item, lanes, ahead)}")
            column.addWidget(self._picture)
            self._on_ready(item.photo)
        if item.why:
            column.addWidget(label("Why?", bold=True))
            column.addWidget(Reasons(item.why, self._look))
        column.addStretch(1)
        self._put(inside)

    def _several(self, head: Head, ahead: bool, items: Sequence[Item], lanes: Lanes) -> None:
        inside, column = _column()
        self._photo = ""
        owed = "things owed" if ahead else "entries"
        column.addWidget(label(f"{len(items)} {owed}", bold=True, px=15))
        if items[-1].at - items[0].at >= 1.0:
            nearer = button("Zoom in on them", "small")
            nearer.clicked.connect(lambda: self.nearer.emit(items[0].at, items[-1].at))
            column.addWidget(nearer, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self._list([f"{told.when(item, lanes, ahead)}: {item.title}" for item in items]), 1)
        self._group = head, ahead, items, lanes
        self._put(inside)

    def _list(self, lines: Sequence[str]) -> QListWidget:
        made = QListWidget()
        made.addItems(lines)
        made.setWordWrap(True)
        made.setMinimumHeight(LIST_LEAST)
        made.setAccessibleName("Entries of the group: Up and Down choose one, Return opens it")
        made.itemActivated.connect(lambda _item: self.open_listed(made.currentRow()))
        made.itemClicked.connect(lambda _item: self.open_listed(made.currentRow()))
        return made

    def open_listed(self, place: int) -> None:
        """Open one of the group, with the way back to all of it."""
        if self._group is None:
            return
        _, ahead, items, lanes = self._group
        self._one(items[place], ahead, lanes)
        self.back.show()
        self.back.setFocus()

    def _on_back(self) -> None:
        if self._group is not None:
            self.show_items(*self._group)

    def _put(self, inside: QWidget) -> None:
        """`inside` in the place of what was shown, which goes later: its list may just be telling of a press."""
        before = self.area.takeWidget()
        if before is not None:
            before.hide()
            before.deleteLater()
        self.area.setWidget(inside)
        inside.show()

    def _on_ready(self, sha256: str) -> None:
        if self._photo and sha256 == self._photo:
            found = self._thumbs.pixmap(sha256, PHOTO, self.devicePixelRatioF())
            self._picture.setPixmap(found if found is not None else QPixmap())


def _column() -> tuple[QWidget, QVBoxLayout]:
    inside = QWidget()
    column = QVBoxLayout(inside)
    column.setContentsMargins(0, 0, 4, 0)
    column.setSpacing(4)
    return inside, column
