"""A label is lost: the plant is found by its place, its genus and its picture, and chosen for a new one."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QComboBox, QDialog, QHBoxLayout, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from greenhouse_desk.services import collection
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.services.labels_lost import Candidate, candidates
from greenhouse_desk.services.shelf import Shelf
from greenhouse_desk.ui import drawing
from greenhouse_desk.ui.labels.rows import Index, WordRow
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.style import Palette, sans, serif
from greenhouse_desk.ui.thumbnails import Thumbnails
from greenhouse_desk.ui.wheel import calm
from greenhouse_desk.ui.whole_screen import screen_of
from greenhouse_desk.ui.words import counted

ROW = 104
PHOTO = QSize(128, 96)
SIZE = QSize(560, 620)
WHO = Qt.ItemDataRole.UserRole
HELP = "Say where the pot stands and what genus it is, then look for its picture. A number is never given anew."


class CandidateRow(WordRow):
    """A plant: its picture, number, name, and where it is written to stand."""

    high = ROW

    def __init__(self, palette: Palette, thumbs: Thumbnails, list_: QListWidget) -> None:
        super().__init__(palette)
        self._thumbs, self._list = thumbs, list_

    def _words(self, painter: QPainter, room: QRectF, index: Index) -> None:
        who: Candidate = index.data(WHO)
        picture = QRectF(room.left() + 4, room.top() + 4, PHOTO.width(), PHOTO.height())
        ratio = self._list.devicePixelRatioF()
        photo = self._thumbs.pixmap(who.photo, PHOTO, ratio) if who.photo else None
        if photo is None:
            painter.fillRect(picture, self._look.inset)
            drawing.text(painter, picture, "" if who.photo else "no picture", sans(13), self._look.ink2,
                         drawing.Align.AlignCenter)
        else:
            painter.drawPixmap(picture.topLeft(), photo)
        text = room.adjusted(PHOTO.width() + 18, 10, -8, 0)
        drawing.text(painter, QRectF(text.left(), text.top(), text.width(), 28), str(who.number), serif(22, 600),
                     self._look.ink)
        drawing.name_block(painter, text.adjusted(0, 30, 0, 0), who.name, self._look, 16, 1, 20)
        drawing.text(painter, QRectF(text.left(), text.top() + 54, text.width(), 20),
                     ", ".join(filter(None, (who.where or "stands nowhere", who.medium))), sans(13), self._look.ink)


class LostBox(QDialog):
    """`found(number)` tells the plant it is."""

    found = Signal(int)

    def __init__(self, desk: Desk, palette: Palette, thumbs: Thumbnails, shelves: Callable[[], Shelf],
                 parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("A label is lost")
        self._desk, self._shelves = desk, shelves
        self.place, self.genus, self.list = calm(QComboBox()), calm(QComboBox()), QListWidget()
        for part, name in ((self.place, "Where it stands"), (self.genus, "Genus"), (self.list, "Who it may be")):
            part.setAccessibleName(name)
        self._rows = CandidateRow(palette, thumbs, self.list)
        self.list.setItemDelegate(self._rows)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        thumbs.ready.connect(self.list.viewport().update)
        self._count = label(ink="second")
        self.take = button("A label for this one", "main")
        self._close = button("Close", name="Close without choosing")
        self._build()
        self._offer()
        self.place.currentIndexChanged.connect(self._show)
        self.genus.currentIndexChanged.connect(self._show)
        self.list.currentRowChanged.connect(lambda row: self.take.setEnabled(row >= 0))
        self.take.clicked.connect(self._on_taken)
        self.list.itemActivated.connect(self._on_taken)
        self._close.clicked.connect(self.reject)
        self._show()
        self.resize(SIZE.boundedTo(screen_of(self).availableGeometry().size() - QSize(20, 40)))

    def _build(self) -> None:
        asked = QHBoxLayout()
        asked.setSpacing(8)
        asked.addWidget(self.place, 1)
        asked.addWidget(self.genus, 1)
        foot = QHBoxLayout()
        foot.setSpacing(8)
        foot.addWidget(self._count, 1)
        foot.addWidget(self._close)
        foot.addWidget(self.take)
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 20, 24, 20)
        column.setSpacing(10)
        column.addWidget(heading("A label is lost", 23))
        column.addWidget(label(HELP, "second"))
        column.addLayout(asked)
        column.addWidget(self.list, 1)
        column.addLayout(foot)

    def _offer(self) -> None:
        self.place.addItem("Anywhere", None)
        for place in self._desk.read(collection.places_of):
            self.place.addItem(place.name, place.id)
        self.genus.addItem("Any genus", "")
        every = self._desk.read(candidates, None, "", self._shelves().genera)
        for genus in sorted({one.genus for one in every if one.genus}):
            self.genus.addItem(genus, genus)

    def _show(self) -> None:
        found: Sequence[Candidate] = self._desk.read(candidates, self.place.currentData(), self.genus.currentData(),
                                                     self._shelves().genera)
        self.list.clear()
        for one in found:
            item = QListWidgetItem()
            item.setData(WHO, one)
            item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{one.number}, {one.name.plain}, {one.where}")
            self.list.addItem(item)
        self._count.setText(f"It may be one of {counted(len(found), 'plant')}." if found else
                            "No plant of that genus is written to stand there: look among those beside it.")
        self.take.setEnabled(self.list.currentRow() >= 0)

    def _on_taken(self) -> None:
        item = self.list.currentItem()
        if item is not None:
            self.found.emit(item.data(WHO).number)
            self.accept()
