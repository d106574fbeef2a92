"""A label before the camera, or a picture of one, brings up its plant; where several are in sight one is chosen."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QImage, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QFileDialog,
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.services import labels
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui import drawing, label_reading
from greenhouse_desk.ui.camera import Camera
from greenhouse_desk.ui.label_reading import Seen
from greenhouse_desk.ui.labels.rows import NAME, NUMBER, PlantRow
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.style import Palette, sans
from greenhouse_desk.ui.tasks import Tasks, as_refusal
from greenhouse_desk.ui.wheel import calm
from greenhouse_desk.ui.whole_screen import screen_of

HELP = "Hold one label before the camera, sharp and so near that its code fills a third of the picture."
SEVERAL = "Several labels are in sight: choose one, or hold one alone."
OTHERS = "A code is in sight, but it is none of your labels."
NONE_THERE = "No label's code could be read in that picture. Take it nearer, sharp and in even light."
KINDS = "Pictures (*.jpg *.jpeg *.png *.webp *.tif *.tiff *.gif *.heic *.heif)"
STEADY = 3
"""Pictures one after the other that must show the same one label: of two in sight a reader may miss one once."""
GROUND = QColor(22, 26, 24)
SIZE = QSize(600, 560)
LEAST_VIEW, LEAST_LIST, MOST_LIST = 110, 68, 112


class SeenView(QWidget):
    """The last picture with the codes in it outlined, or words where there is none."""

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self._look = palette
        self._seen: Seen | None = None
        self._words = ""
        self.setMinimumHeight(LEAST_VIEW)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName("What the camera sees")

    def sizeHint(self) -> QSize:
        """Room for a camera's picture."""
        return QSize(520, 360)

    def show_seen(self, seen: Seen) -> None:
        """Show a picture and what was found in it."""
        self._seen, self._words = seen, ""
        self.update()

    def show_words(self, words: str) -> None:
        """Say why there is no picture."""
        self._seen, self._words = None, words
        self.setAccessibleDescription(words)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """The picture whole, in the middle."""
        painter = QPainter(self)
        painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.SmoothPixmapTransform)
        if self._seen is None:
            painter.fillRect(self.rect(), self._look.inset)
            room = QRectF(self.rect()).adjusted(24, max(16.0, self.height() * 0.4 - 40), -24, -8)
            drawing.text_block(painter, room, self._words, sans(15), self._look.ink, 8)
        else:
            painter.fillRect(self.rect(), GROUND)
            self._paint(painter, self._seen)
        painter.end()

    def _paint(self, painter: QPainter, seen: Seen) -> None:
        size = seen.picture.size()
        by = min(self.width() / size.width(), self.height() / size.height())
        left, top = (self.width() - size.width() * by) / 2, (self.height() - size.height() * by) / 2
        painter.drawImage(QRectF(left, top, size.width() * by, size.height() * by), seen.picture)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for code in seen.codes:
            shape = QPolygonF([QPointF(left + x * by, top + y * by) for x, y in code.corners])
            for colour, wide in ((GROUND, 7.0), (QColor("white"), 3.0)):
                painter.setPen(QPen(colour, wide))
                painter.drawPolygon(shape)
            self._tag(painter, shape.boundingRect(), str(code.number))

    def _tag(self, painter: QPainter, code: QRectF, words: str) -> None:
        font = sans(17, 600)
        wide = drawing.width_of(words, font) + 14
        left = min(max(0.0, code.left()), self.width() - wide)
        room = QRectF(left, min(max(0.0, code.bottom() + 6), self.height() - 26.0), wide, 26)
        painter.fillRect(room, GROUND)
        drawing.text(painter, room, words, font, QColor("white"), drawing.Align.AlignCenter)


class SightRow(PlantRow):
    """A plant whose label is in sight: nothing to tick."""

    ticks = 8


class LabelSheet(QDialog):
    """`found(number)` tells the plant; then the sheet closes."""

    found = Signal(int)

    def __init__(self, desk: Desk, palette: Palette, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Read a label")
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._desk = desk
        self._asked, self._steady = 0, (0, 0)
        self.camera = Camera(self)
        self.view = SeenView(palette)
        self.words = label(HELP, "second")
        self.which = calm(QComboBox())
        self.which.setAccessibleName("Which camera")
        self.list = QListWidget()
        self.list.setAccessibleName("Labels in sight")
        self.list.setMinimumHeight(LEAST_LIST)
        self.list.setMaximumHeight(MOST_LIST)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._rows = SightRow(palette)
        self.list.setItemDelegate(self._rows)
        self.again = button("Look again", name="Look through the camera again")
        self.file_button = button("Read a picture file…")
        self.take = button("Show this plant", "main")
        self.close_button = button("Close", name="Close without a plant")
        self._tasks = Tasks(self, 1)
        self._build()
        self._listen()
        self.resize(SIZE.boundedTo(screen_of(self).availableGeometry().size() - QSize(20, 40)))

    def _build(self) -> None:
        foot = QHBoxLayout()
        foot.setSpacing(8)
        foot.addWidget(self.file_button)
        foot.addWidget(self.again)
        foot.addStretch(1)
        foot.addWidget(self.close_button)
        foot.addWidget(self.take)
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 20, 24, 20)
        column.setSpacing(10)
        column.addWidget(heading("Read a label", 23))
        column.addWidget(self.words)
        column.addWidget(self.which)
        column.addWidget(self.view, 1)
        column.addWidget(self.list)
        column.addLayout(foot)
        self.which.hide()
        self._begin_anew()

    def _listen(self) -> None:
        self._tasks.done.connect(lambda key, seen: self._on_seen(key == "file", seen))
        self._tasks.failed.connect(self._on_failed)
        self.camera.pictured.connect(self._on_pictured)
        self.camera.told.connect(self._on_told)
        self.again.clicked.connect(self.look)
        self.which.activated.connect(self.look)
        self.file_button.clicked.connect(self._ask_file)
        self.take.clicked.connect(self._on_taken)
        self.list.itemActivated.connect(self._on_taken)
        self.list.currentRowChanged.connect(lambda row: self.take.setEnabled(row >= 0))
        self.close_button.clicked.connect(self.reject)
        self.finished.connect(self._let_go)

    def look(self) -> None:
        """Look through the camera."""
        self._tasks.drop("file")
        self._begin_anew()
        self.camera.look(max(0, self.which.currentIndex()))
        names = self.camera.names
        if names != [self.which.itemText(row) for row in range(self.which.count())]:
            self.which.clear()
            self.which.addItems(names)
        self.which.setVisible(len(names) > 1)
        self.camera.want()

    def read_file(self, path: Path) -> None:
        """Read a picture of a label; the camera rests."""
        self.camera.stop()
        self._tasks.drop(self._asked)
        self._begin_anew()
        self.words.setText("Reading the picture…")
        self.again.show()
        self._tasks.ask("file", lambda: label_reading.look_at_file(path))

    def _begin_anew(self) -> None:
        self._steady = (0, 0)
        self.words.setText(HELP)
        self.list.hide()
        self.take.hide()
        self.list.clear()

    def _ask_file(self) -> None:
        dialog = QFileDialog(self, "A picture of a label", "", KINDS)
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.fileSelected.connect(lambda name: self.read_file(Path(name)))
        dialog.open()

    def _on_told(self, words: str) -> None:
        self.again.setVisible(not self.camera.looking)
        if words:
            self.view.show_words(words)

    def _on_pictured(self, picture: QImage) -> None:
        self._asked += 1
        self._tasks.ask(self._asked, lambda: label_reading.look_at(picture))

    def _on_failed(self, key: object, error: BaseException) -> None:
        refusal = as_refusal("The picture cannot be read", error)
        self.camera.stop()
        self.again.show()
        self.words.setText(HELP)
        self.view.show_words(" ".join(filter(None, (f"{refusal.title}.", refusal.detail, refusal.next_step))))

    def _on_seen(self, filed: bool, seen: Seen) -> None:
        self.view.show_seen(seen)
        numbers = seen.numbers
        if len(numbers) == 1 and (filed or self._is_steady(numbers[0])):
            self._tell(numbers[0])
            return
        if len(numbers) > 1:
            self._steady = (0, 0)
            self._offer(numbers)
        elif not self.list.isVisibleTo(self):
            self.words.setText(OTHERS if seen.others and not numbers else NONE_THERE if filed else HELP)
        if not filed:
            self.camera.want()

    def _is_steady(self, number: int) -> bool:
        had, times = self._steady
        self._steady = (number, times + 1 if number == had else 1)
        return self._steady[1] >= STEADY

    def _offer(self, numbers: tuple[int, ...]) -> None:
        """Several in sight: the one in hand stays in hand."""
        self.words.setText(SEVERAL)
        if numbers == tuple(self.list.item(row).data(NUMBER) for row in range(self.list.count())):
            return
        had = self.list.currentItem().data(NUMBER) if self.list.currentItem() else numbers[0]
        first = not self.list.isVisibleTo(self)
        self.list.clear()
        for number in numbers:
            name = self._name_of(number)
            item = QListWidgetItem(f"{number}  {name}")
            item.setData(NUMBER, number)
            item.setData(NAME, name)
            self.list.addItem(item)
        self.list.setCurrentRow(numbers.index(had) if had in numbers else 0)
        self.list.show()
        self.take.show()
        if first:
            self.list.setFocus()

    def _name_of(self, number: int) -> str:
        try:
            return self._desk.read(labels.told, (number,))[0].name.plain
        except Refused:
            return "no plant of yours"

    def _on_taken(self) -> None:
        item = self.list.currentItem()
        if item is not None:
            self._tell(item.data(NUMBER))

    def _tell(self, number: int) -> None:
        self.accept()
        self.found.emit(number)

    def _let_go(self) -> None:
        self.camera.stop()
        self._tasks.close()
