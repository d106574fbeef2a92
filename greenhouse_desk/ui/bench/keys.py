"""The five giant keys and the target that leaves: drawn as what they are, pressed by hand, finger or mouse."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QWidget

from greenhouse_desk.ui import style
from greenhouse_desk.ui.bench.lettering import Lines, draw, draw_line, fitted, sans, width_of
from greenhouse_desk.ui.bench.pane import NO_SIZES
from greenhouse_desk.ui.bench.sizes import Sizes
from greenhouse_desk.ui.style import Palette


@dataclass(frozen=True)
class Face:
    """What a key shows: the cap of the real key, its word, a line below, whether it does anything now."""

    cap: str
    word: str
    sub: str = ""
    live: bool = True
    main: bool = False


class KeyView(QAbstractButton):
    """One giant key. It never takes the focus: the keyboard belongs to the whole screen."""

    def __init__(self, palette: Palette, parent: QWidget) -> None:
        super().__init__(parent)
        self.look = palette
        self.sizes: Sizes = NO_SIZES
        self.face = Face("", "")
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def resized(self, sizes: Sizes) -> None:
        """Take the sizes of the screen it is on."""
        self.sizes = sizes
        self.update()

    def show_face(self, face: Face) -> None:
        """Show `face`; repaints only when it changed."""
        if face == self.face:
            return
        self.face = face
        self.setAccessibleName(f"{face.word}, key {face.cap}")
        self.setAccessibleDescription(face.sub if face.live else f"not now: {face.sub}" if face.sub else "not now")
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.TextAntialiasing)
        filled = self.face.main and self.face.live
        ink = self.look.on_plate if filled else self.look.ink if self.face.live else self.look.ink2
        self._paint_body(painter, filled)
        inside = self._inside()
        if self.width() < self._u(150):
            self._paint_upright(painter, inside, ink)
        else:
            self._paint_across(painter, inside, ink)
        painter.end()

    def _inside(self) -> QRectF:
        return QRectF(self.rect()).adjusted(self._u(13), self._u(8), -self._u(10), -self._u(8))

    def _u(self, pixels: float) -> float:
        return self.sizes.u(pixels)

    def _px(self, pixels: float) -> int:
        return self.sizes.letters(pixels)

    def _paint_body(self, painter: QPainter, filled: bool) -> None:
        body = QRectF(self.rect()).adjusted(1, 1, -1, -1)
        ground = self.look.plate if filled else self.look.sheet
        pen = QPen(self.look.water if self.isDown() else self.look.rule2, self._u(4) if self.isDown() else 1.5)
        if not self.face.live:
            pen.setStyle(Qt.PenStyle.DashLine)
        painter.setPen(pen)
        painter.setBrush(ground)
        painter.drawRoundedRect(body, 3, 3)

    def _paint_across(self, painter: QPainter, inside: QRectF, ink: QColor) -> None:
        cap, word, below = self._across(inside)
        self._paint_cap(painter, cap, ink)
        left = cap.right() + self._u(14)
        high = below.height + (word.height if self.face.word else 0)
        top = inside.center().y() - high / 2
        draw(painter, below, left, draw(painter, word, left, top, ink) if self.face.word else top, ink)

    def _across(self, inside: QRectF) -> tuple[QRectF, Lines, Lines]:
        """Where the key cap stands, and beside it the word with the line below it."""
        wide = width_of(style.sans(self._px(21), 600), self.face.cap) + self._u(30)
        cap = QRectF(inside.left(), inside.center().y() - self._u(26), wide, self._u(50))
        room = inside.right() - cap.right() - self._u(14)
        sub = self.face.sub if self.face.live else self.face.sub or "not now"
        below = fitted(sub, sans(400), room, (self._px(20), self._px(18), self._px(17)), 2)
        large = self._px(36 if len(below.lines) == 1 else 31)
        return cap, fitted(self.face.word, sans(600), room, (large, self._px(24), self._px(20)), 1), below

    def shown_word(self) -> str:
        """The word as it is painted, cut where it must be."""
        inside = self._inside()
        if self.width() < self._u(150):
            return self._upright_word(inside.width()).lines[0]
        return self._across(inside)[1].lines[0]

    def _upright_word(self, wide: float) -> Lines:
        return fitted(self.face.word, sans(600), wide, (self._px(24), self._px(15), self._px(15)), 1)

    def _paint_upright(self, painter: QPainter, inside: QRectF, ink: QColor) -> None:
        font = style.sans(self._px(19), 600)
        wide = width_of(font, self.face.cap) + self._u(22)
        cap = QRectF(inside.center().x() - wide / 2, inside.top(), wide, self._u(34))
        self._paint_cap(painter, cap, ink)
        word = self._upright_word(inside.width())
        left = inside.center().x() - width_of(word.font, word.lines[0]) / 2
        draw(painter, word, left, cap.bottom() + self._u(6), ink)

    def _paint_cap(self, painter: QPainter, cap: QRectF, ink: QColor) -> None:
        """The key as it lies on the keyboard: a rounded cap with its front edge."""
        painter.setPen(QPen(ink, max(self._u(2), 1.5)))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(cap, self._u(5), self._u(5))
        front = cap.bottom() - self._u(5)
        painter.drawLine(round(cap.left() + self._u(3)), round(front), round(cap.right() - self._u(3)), round(front))
        font = style.sans(self._px(21 if cap.height() > self._u(40) else 18), 600)
        wide = width_of(font, self.face.cap)
        draw_line(painter, self.face.cap, font, ink,
                  QRectF(cap.center().x() - wide / 2, cap.top(), wide + 2, cap.height() - self._u(5)))
