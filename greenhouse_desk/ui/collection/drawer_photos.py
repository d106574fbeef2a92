"""The photos of a plant in its drawer: the newest first, older ones by a button, one shown large, new ones added."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QDialog, QFrame, QHBoxLayout, QVBoxLayout, QWidget

from greenhouse_desk.domain.journal import Photo
from greenhouse_desk.services.records import Line
from greenhouse_desk.ui.messages import button, label
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.thumbnails import Thumbnails
from greenhouse_desk.ui.whole_screen import screen_of

WIDEST = 400
LARGE = QSize(960, 720)


class PhotoView(QWidget):
    """One photo, four to three, as wide as it may be. A press does `pressed`, where there is one."""

    def __init__(self, thumbs: Thumbnails, palette: Palette, pressed: Callable[[], object] | None = None,
                 widest: int = WIDEST) -> None:
        super().__init__()
        self._sha256 = ""
        self._thumbs, self._palette, self._pressed = thumbs, palette, pressed
        self.setMaximumWidth(widest)
        if pressed is not None:
            self.setCursor(Qt.CursorShape.PointingHandCursor)
        thumbs.ready.connect(self.update)

    def show_photo(self, sha256: str, told: str) -> None:
        """Show this photo; `told` says which it is."""
        self._sha256 = sha256
        self.setAccessibleName(told)
        self.update()

    def hasHeightForWidth(self) -> bool:
        """Four to three."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Four to three."""
        return width * 3 // 4

    def sizeHint(self) -> QSize:
        """At the present width."""
        return QSize(256, self.heightForWidth(max(self.width(), 240)))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Show it large."""
        if self._pressed is not None:
            self._pressed()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint it, or its empty place until it has come in."""
        painter = QPainter(self)
        size = QSize(self.width(), self.heightForWidth(self.width()))
        photo = self._thumbs.pixmap(self._sha256, size, self.devicePixelRatioF()) if self._sha256 else None
        if photo is None:
            painter.fillRect(self.rect(), self._palette.inset)
        else:
            painter.drawPixmap(0, 0, photo)
            painter.fillRect(0, 0, size.width(), size.height(), self._palette.veil)
        painter.end()


class PhotoPanel(QFrame):
    """The photos told of in `lines` (newest first). `add` opens the choice of new ones. `at` keeps its place."""

    def __init__(self, plant: int, lines: Sequence[Line], add: Callable[[], object], thumbs: Thumbnails,
                 palette: Palette, at: str = "") -> None:
        super().__init__()
        self._plant, self._thumbs, self._palette = plant, thumbs, palette
        self._photos = [(line.entry.facts.sha256, line.day_words) for line in lines
                        if isinstance(line.entry.facts, Photo)]
        known = [sha256 for sha256, _ in self._photos]
        self._at = known.index(at) if at in known else 0
        self.view = PhotoView(thumbs, palette, self.enlarge)
        self._told = label("", "second", px=13, wrap=False)
        self.older = button("‹", "small", f"Older photo of {plant}")
        self.newer = button("›", "small", f"Newer photo of {plant}")
        for made, told in ((self.older, "Older photo"), (self.newer, "Newer photo")):
            made.setToolTip(told)
            made.setFixedWidth(34)
        self.add_button = button("Add photos…", "small", f"Add photos of {plant}")
        self.older.clicked.connect(lambda: self._go(1))
        self.newer.clicked.connect(lambda: self._go(-1))
        self.add_button.clicked.connect(lambda: add())
        self._build()
        self._show()

    @property
    def kept(self) -> str:
        """The photo to stay with when the page is made anew; empty for the newest, so that a new one shows itself."""
        return self.shown if self._at else ""

    @property
    def shown(self) -> str:
        """The photo shown, by its SHA-256; empty where there is none."""
        return self._photos[self._at][0] if self._photos else ""

    def enlarge(self) -> QDialog:
        """Show the photo in a window of its own."""
        box = QDialog(self.window())
        box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        box.setWindowTitle(f"{self._plant}, {self._photos[self._at][1]}")
        view = PhotoView(self._thumbs, self._palette, box.accept, LARGE.width())
        view.show_photo(self.shown, self._words())
        column = QVBoxLayout(box)
        column.setContentsMargins(8, 8, 8, 8)
        column.addWidget(view)
        box.resize(LARGE.boundedTo(screen_of(self).availableGeometry().size()))
        box.open()
        return box

    def _build(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.view)
        row = QHBoxLayout()
        row.setSpacing(6)
        row.addWidget(self._told, 1)
        for made in (self.older, self.newer, self.add_button):
            row.addWidget(made)
        column.addLayout(row)

    def _words(self) -> str:
        if not self._photos:
            return f"No photo of {self._plant} yet."
        return f"{self._photos[self._at][1]}, {len(self._photos) - self._at} of {len(self._photos)}"

    def _show(self) -> None:
        self.view.setVisible(bool(self._photos))
        self.view.show_photo(self.shown, f"Photo of {self._plant}, {self._words()}")
        self._told.setText(self._words())
        for made, there in ((self.older, self._at + 1 < len(self._photos)), (self.newer, self._at > 0)):
            made.setVisible(len(self._photos) > 1)
            made.setEnabled(there)

    def _go(self, way: int) -> None:
        self._at = min(max(self._at + way, 0), len(self._photos) - 1)
        self._show()
