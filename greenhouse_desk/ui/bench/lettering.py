"""Setting words by rule: shrink to a floor, then two lines, then elide; nothing is ever cut or laid over another."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter

from greenhouse_desk.ui import style

Face = Callable[[int], QFont]


def serif(weight: int = 600) -> Face:
    """The serif face at any pixel size."""
    return lambda px: style.serif(px, weight)


def sans(weight: int = 400) -> Face:
    """The sans face at any pixel size."""
    return lambda px: style.sans(px, weight)


@dataclass(frozen=True)
class Lines:
    """Words broken into lines, in the font they fit with. `step` is the distance of two baselines."""

    font: QFont
    lines: tuple[str, ...]
    step: float

    @property
    def height(self) -> float:
        return self.step * len(self.lines)


def width_of(font: QFont, text: str) -> float:
    """Advance of `text` in pixels."""
    return QFontMetricsF(font).horizontalAdvance(text)


def elided(font: QFont, text: str, width: float) -> str:
    """`text`, shortened at its end with an ellipsis when it is wider than `width` pixels."""
    return QFontMetricsF(font).elidedText(text, Qt.TextElideMode.ElideRight, max(width, 0.0))


def broken(font: QFont, text: str, width: float) -> list[str]:
    """`text` broken between words into lines no wider than `width`, a single long word excepted."""
    lines: list[str] = []
    for word in text.split():
        tried = f"{lines[-1]} {word}" if lines else word
        if lines and width_of(font, tried) <= width:
            lines[-1] = tried
        else:
            lines.append(word)
    return lines or [""]


def fitted(text: str, face: Face, width: float, sizes: tuple[int, int, int], most_lines: int = 2) -> Lines:
    """`text` on one line at sizes[0] down to sizes[1] pixels, else on more lines down to sizes[2], else elided."""
    largest, single, floor = sizes
    for px in range(largest, single - 1, -1):
        if width_of(face(px), text) <= width:
            return Lines(face(px), (text,), px * 1.12)
    for px in range(single, floor - 1, -1):
        lines = broken(face(px), text, width)
        if len(lines) <= most_lines and all(width_of(face(px), line) <= width for line in lines):
            return Lines(face(px), tuple(_balanced(face(px), lines, width)), px * 1.12)
    return wrapped(text, face(floor), width, most_lines)


def _balanced(font: QFont, lines: list[str], width: float) -> list[str]:
    """Two lines set as evenly as the words allow."""
    if len(lines) != 2:
        return lines
    words = " ".join(lines).split()
    ways = [(" ".join(words[:n]), " ".join(words[n:])) for n in range(1, len(words))]
    fits = [way for way in ways if all(width_of(font, line) <= width for line in way)]
    return list(min(fits, key=lambda way: max(width_of(font, line) for line in way))) if fits else lines


def wrapped(text: str, font: QFont, width: float, most_lines: int) -> Lines:
    """`text` in this font on at most `most_lines` lines, the last one elided."""
    lines = broken(font, text, width)
    if len(lines) > most_lines:
        lines = [*lines[: most_lines - 1], " ".join(lines[most_lines - 1:])]
    return Lines(font, tuple(elided(font, line, width) for line in lines), font.pixelSize() * 1.22)


def draw(painter: QPainter, lines: Lines, left: float, top: float, colour: QColor) -> float:
    """Paint the lines from `top` down; returns the y below them."""
    painter.setFont(lines.font)
    painter.setPen(colour)
    ascent = QFontMetricsF(lines.font).capHeight()
    lead = (lines.step - ascent) / 2
    for n, line in enumerate(lines.lines):
        painter.drawText(QPointF(left, top + n * lines.step + lead + ascent), line)
    return top + lines.height


def draw_line(painter: QPainter, text: str, font: QFont, colour: QColor, rect: QRectF, right: bool = False) -> float:
    """One line, elided to `rect`, its capitals centred in the height; returns its width."""
    text = elided(font, text, rect.width())
    painter.setFont(font)
    painter.setPen(colour)
    wide = width_of(font, text)
    base = rect.center().y() + QFontMetricsF(font).capHeight() / 2
    painter.drawText(QPointF(rect.right() - wide if right else rect.left(), base), text)
    return wide


def draw_squeezed(painter: QPainter, text: str, face: Face, px: int, floor: int, colour: QColor, rect: QRectF) -> None:
    """Digits in the middle of `rect`: smaller down to `floor` pixels, then narrower, never lower than the floor."""
    while px > floor and width_of(face(px), text) > rect.width():
        px -= 1
    font = face(px)
    wide = width_of(font, text)
    painter.save()
    painter.setFont(font)
    painter.setPen(colour)
    painter.translate(rect.center().x(), rect.center().y() + QFontMetricsF(font).capHeight() / 2)
    painter.scale(min(1.0, rect.width() / wide) if wide else 1.0, 1.0)
    painter.drawText(QPointF(-wide / 2, 0), text)
    painter.restore()
