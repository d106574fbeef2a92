"""How wide the screen really is: asked of the grower, with a line drawn to hold a ruler against."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QCheckBox, QDialog, QHBoxLayout, QSpinBox, QVBoxLayout, QWidget

from greenhouse_desk.ui import drawing
from greenhouse_desk.ui.bench.sizes import MM_PER_INCH, dpi_of, sane_dpi
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.style import Palette, sans
from greenhouse_desk.ui.wheel import calm
from greenhouse_desk.ui.whole_screen import screen_of
from greenhouse_desk.ui.window_settings import SCREEN_MM

LINE_MM = 100
TICK_MM = 10


def logical_dpi(widget: QWidget, measured_mm: int) -> float:
    """Pixels of the look per inch of its screen: by the width measured, else (0) by what the screen tells, else 96."""
    screen = screen_of(widget)
    if measured_mm:
        return dpi_of(screen.geometry().width(), measured_mm)
    ratio = screen.devicePixelRatio()
    return sane_dpi(screen.physicalDotsPerInch() * ratio) / ratio


class Ruler(QWidget):
    """A line LINE_MM long on a screen of `dpi`, with a tick every 10 mm."""

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self._look = palette
        self.dpi = 96.0
        self.setAccessibleName(f"A line that must be {LINE_MM} mm long")

    @property
    def length(self) -> float:
        """The line in pixels."""
        return LINE_MM * self.dpi / MM_PER_INCH

    def show_dpi(self, dpi: float) -> None:
        """Draw the line for a screen of so many pixels an inch."""
        self.dpi = dpi
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(round(self.length) + 32, 58)

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        left, top, pitch = 16.0, 22.0, TICK_MM * self.dpi / MM_PER_INCH
        painter.fillRect(QRectF(left, top, self.length, 2), self._look.ink)
        for n in range(LINE_MM // TICK_MM + 1):
            x, long = left + n * pitch, n % 5 == 0
            high = 14 if long else 8
            painter.fillRect(QRectF(x - (1 if n else 0), top - high, 1.5, high), self._look.ink)
            if long:
                place = QRectF(x - 14 if n else x - 2, top + 6, 28, 20)
                drawing.text(painter, place, str(n * TICK_MM), sans(14, 600), self._look.ink,
                             Qt.AlignmentFlag.AlignCenter if n else Qt.AlignmentFlag.AlignLeft)
        painter.end()


class RulerDialog(QDialog):
    """`measured_mm` is the width kept so far (0: the screen's own word); accepted when the new one should be kept."""

    def __init__(self, palette: Palette, measured_mm: int, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("Screen size")
        self._beside = parent
        told = round(screen_of(parent).geometry().width() / logical_dpi(parent, 0) * MM_PER_INCH)
        self.own = QCheckBox(f"Take the screen's own word: {told} mm")
        self.width_mm = calm(QSpinBox())
        self.width_mm.setRange(*SCREEN_MM)
        self.width_mm.setSuffix(" mm wide")
        self.width_mm.setAccessibleName("Width of this screen in millimetres")
        self.width_mm.setValue(measured_mm or told)
        self.own.setChecked(not measured_mm)
        self.ruler = Ruler(palette)
        self.own.toggled.connect(self._on_changed)
        self.width_mm.valueChanged.connect(self._on_changed)
        self._build()
        self._on_changed()

    @property
    def measured_mm(self) -> int:
        """What should be kept."""
        return 0 if self.own.isChecked() else self.width_mm.value()

    def _build(self) -> None:
        keep, drop = button("Keep", "main"), button("Cancel")
        keep.clicked.connect(self.accept)
        drop.clicked.connect(self.reject)
        row, foot = QHBoxLayout(), QHBoxLayout()
        row.addWidget(label("This screen is", px=15, wrap=False))
        row.addWidget(self.width_mm)
        row.addStretch(1)
        foot.addStretch(1)
        foot.addWidget(drop)
        foot.addWidget(keep)
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 20, 24, 20)
        column.setSpacing(12)
        column.addWidget(heading("Screen size", 23))
        column.addWidget(label("At the bench all is drawn in millimetres: digits to be read from 3 m, keys for wet "
                               "fingers. Some screens tell their size wrongly: measure the picture from edge to edge.",
                               "second"))
        column.addWidget(self.own)
        column.addLayout(row)
        column.addWidget(label(f"Hold a ruler against this line: it must be {LINE_MM} mm long.", bold=True, px=15))
        column.addWidget(self.ruler)
        column.addLayout(foot)

    def _on_changed(self) -> None:
        self.width_mm.setEnabled(not self.own.isChecked())
        self.ruler.show_dpi(logical_dpi(self._beside, self.measured_mm))
