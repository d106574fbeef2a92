"""A painted part of bench mode: holds one value, says it in words, and repaints only when it changed."""

from __future__ import annotations

from typing import Generic, TypeVar

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath
from PySide6.QtWidgets import QWidget

from greenhouse_desk.ui.bench.sizes import Sizes
from greenhouse_desk.ui.style import Palette

T = TypeVar("T")
NO_SIZES = Sizes(1366, 768, 96)


class Pane(QWidget, Generic[T]):
    """Shows one value of type T; `words` gives the accessible name and description."""

    def __init__(self, palette: Palette, parent: QWidget) -> None:
        super().__init__(parent)
        self.look = palette
        self.sizes = NO_SIZES
        self.value: T | None = None
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def resized(self, sizes: Sizes) -> None:
        """Take the sizes of the screen it is on."""
        self.sizes = sizes
        self.update()

    def show_value(self, value: T | None) -> None:
        """Show `value`; nothing is painted anew when it is what stands there already."""
        if value == self.value:
            return
        self.value = value
        name, description = ("", "") if value is None else self.words(value)
        self.setAccessibleName(name)
        self.setAccessibleDescription(description)
        self.update()

    def words(self, value: T) -> tuple[str, str]:
        """What a screen reader says: the short name and the whole."""
        raise NotImplementedError

    def u(self, pixels: float) -> float:
        return self.sizes.u(pixels)

    def px(self, pixels: float) -> int:
        """Font pixels given in pixels of the base screen."""
        return self.sizes.letters(pixels)

    def painter(self, ground: QColor | None = None) -> QPainter:
        """A painter on this widget, smooth, on its ground."""
        painter = QPainter(self)
        painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
        if ground is not None:
            painter.fillRect(self.rect(), ground)
        return painter

    def area(self) -> QRectF:
        return QRectF(self.rect())


def plate(rect: QRectF, cut: float) -> QPainterPath:
    """A number plate: square above, the lower corners cut at 45 degrees."""
    path = QPainterPath(rect.topLeft())
    for x, y in ((rect.right(), rect.top()), (rect.right(), rect.bottom() - cut), (rect.right() - cut, rect.bottom()),
                 (rect.left() + cut, rect.bottom()), (rect.left(), rect.bottom() - cut)):
        path.lineTo(QPointF(x, y))
    path.closeSubpath()
    return path


def frame(painter: QPainter, rect: QRectF, width: float, colour: QColor) -> None:
    """An outline of `width` pixels inside `rect`, square cornered."""
    for side in (QRectF(rect.left(), rect.top(), rect.width(), width),
                 QRectF(rect.left(), rect.bottom() - width, rect.width(), width),
                 QRectF(rect.left(), rect.top(), width, rect.height()),
                 QRectF(rect.right() - width, rect.top(), width, rect.height())):
        painter.fillRect(side, colour)
