"""The page as it will be printed, by the painter that prints it, between rulers in millimetres."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from greenhouse_desk.domain.paper import Page
from greenhouse_desk.ui import drawing, paper
from greenhouse_desk.ui.drawing import Align
from greenhouse_desk.ui.style import Palette, sans

RULER = 26.0
EDGE = 10.0
MOST_SCALE = 12.0  # pixels for a mm
LEAST_TICK = 4.0  # pixels from one tick to the next
STEPS = (1, 2, 5, 10, 20, 50, 100)
LEAST_FIGURE = 34.0  # pixels from one figure to the next
WHITE = QColor("white")


def step(scale: float, least: float) -> int:
    """The smallest of STEPS, in mm, that is at least `least` pixels at `scale` pixels for a mm."""
    return next((one for one in STEPS if one * scale >= least), STEPS[-1])


class Preview(QWidget):
    """Paper is white in the dark look too. `cells` are the labels' edges and `boxes` what is being edited: both are
    shown, never printed."""

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self._look = palette
        self._page: Page | None = None
        self._cells: tuple[QRectF, ...] = ()
        self._boxes: tuple[tuple[QRectF, bool], ...] = ()
        self._empty = ""
        self.setMinimumSize(260, 240)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName("Preview")

    def sizeHint(self) -> QSize:
        """Room for a sheet."""
        return QSize(460, 520)

    def show_page(self, page: Page, told: str, cells: Sequence[QRectF] = (),
                  boxes: Sequence[tuple[QRectF, bool]] = ()) -> None:
        """Show a page; `told` says it to those who hear the screen. A box with True is the one in hand."""
        self._page, self._cells, self._boxes, self._empty = page, tuple(cells), tuple(boxes), ""
        self.setAccessibleName(f"Preview: {told}")
        self.update()

    def show_nothing(self, why: str) -> None:
        """No page, and why."""
        self._page, self._empty = None, why
        self.setAccessibleName(f"Preview: {why}")
        self.update()

    @property
    def scale(self) -> float:
        """Pixels for a mm."""
        if self._page is None:
            return 1.0
        return min((self.width() - RULER - EDGE) / self._page.width, (self.height() - RULER - EDGE) / self._page.height,
                   MOST_SCALE)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint paper, page and rulers."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self._page is None:
            drawing.text_block(painter, QRectF(self.rect()).adjusted(24, 24, -24, 0), self._empty, sans(15),
                               self._look.ink2, 4)
        else:
            self._paper(painter, self._page)
        painter.end()

    def _paper(self, painter: QPainter, page: Page) -> None:
        scale = self.scale
        left = RULER + max(0.0, (self.width() - RULER - EDGE - page.width * scale) / 2)
        sheet = QRectF(left, RULER, page.width * scale, page.height * scale)
        painter.save()
        painter.translate(left - RULER, 0)
        self._rulers(painter, page, scale)
        painter.restore()
        painter.setPen(QPen(self._look.rule2, 1))
        painter.setBrush(WHITE)
        painter.drawRect(sheet)
        painter.save()
        painter.setClipRect(sheet)
        painter.translate(sheet.topLeft())
        painter.scale(scale, scale)
        pen = QPen(QColor("#B5C1B9"), 1, Qt.PenStyle.DashLine)
        pen.setCosmetic(True)
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for cell in self._cells:
            painter.drawRect(cell)
        paper.paint(page, painter)
        self._edited(painter)
        painter.restore()

    def _edited(self, painter: QPainter) -> None:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for box, in_hand in self._boxes:
            pen = QPen(self._look.on_plate_ink("water"), 2.5 if in_hand else 1)
            pen.setCosmetic(True)
            painter.setPen(pen)
            painter.drawRect(box)

    def _rulers(self, painter: QPainter, page: Page, scale: float) -> None:
        tick, figure = step(scale, LEAST_TICK), step(scale, LEAST_FIGURE)
        painter.setPen(QPen(self._look.rule2, 1))
        for length, across in ((page.width, True), (page.height, False)):
            for mm in range(0, int(length) + 1, tick):
                at = RULER + mm * scale
                long = 9.0 if mm % figure == 0 else 4.0
                ends = (QPointF(at, RULER - long), QPointF(at, RULER - 1))
                painter.drawLine(*(ends if across else tuple(QPointF(end.y(), end.x()) for end in ends)))
        for mm in range(0, int(page.width) + 1, figure):
            self._figure(painter, QRectF(RULER + mm * scale - 20, 0, 40, RULER - 9), mm)
        for mm in range(figure, int(page.height) + 1, figure):
            painter.save()
            painter.translate(0, RULER + mm * scale)
            painter.rotate(-90)
            self._figure(painter, QRectF(-20, 0, 40, RULER - 9), mm)
            painter.restore()
            painter.setPen(QPen(self._look.rule2, 1))

    def _figure(self, painter: QPainter, room: QRectF, mm: int) -> None:
        drawing.text(painter, room, str(mm) if mm else "mm", sans(13), self._look.ink2, Align.AlignCenter)
