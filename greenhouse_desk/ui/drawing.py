"""Painting shared by screens: number plates, rails, names set by the codes, text that is cut by rule."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from unicodedata import combining

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen

from greenhouse_desk.domain.names import BotanicalName
from greenhouse_desk.ui import marks
from greenhouse_desk.ui.style import Palette, hatch, sans, serif
from greenhouse_desk.ui.writing import Run as Run
from greenhouse_desk.ui.writing import placed
from greenhouse_desk.ui.writing import width_of as width_of

SMALLEST = 13.0
OUTLINE = 2.5
ELLIPSIS = "…"
JOINING = "\u200d\ufe0f"
"""Joins two signs to one, or colours the one before: never cut after or before it."""
TAILS = (" until ", " by ", " on ", " from ", ", ")
Align = Qt.AlignmentFlag
MIDDLE = Qt.TextElideMode.ElideMiddle


def plate_path(rect: QRectF, cut: float = 8.0) -> QPainterPath:
    """A plate: square at the top, its lower corners cut at 45 degrees."""
    path = QPainterPath(rect.topLeft())
    path.lineTo(rect.topRight())
    path.lineTo(rect.right(), rect.bottom() - cut)
    path.lineTo(rect.right() - cut, rect.bottom())
    path.lineTo(rect.left() + cut, rect.bottom())
    path.lineTo(rect.left(), rect.bottom() - cut)
    path.closeSubpath()
    return path


def number_plate(painter: QPainter, rect: QRectF, number: str, palette: Palette, px: float = 28,
                 cut: float = 8.0) -> None:
    """A number on its plate, hanging in `rect`."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(palette.rule2, 1))
    painter.setBrush(palette.number_plate)
    painter.drawPath(plate_path(rect.adjusted(0.5, 0.5, -0.5, -0.5), cut))
    painter.restore()
    text(painter, rect.adjusted(0, -1, 0, -1), number, serif(px, 600), palette.on_plate, Align.AlignCenter)


def rail(painter: QPainter, rect: QRectF, palette: Palette, isolation: bool) -> None:
    """A stretch of bench edge; hatched where plants stand apart."""
    painter.fillRect(rect, palette.rail)
    if isolation:
        painter.save()
        painter.setBrushOrigin(0, 0)
        painter.fillRect(rect, hatch(palette.on_rail, 5, 9))
        painter.restore()


def text(painter: QPainter, rect: QRectF, words: str, font: QFont, ink: QColor,
         align: Align = Align.AlignLeft | Align.AlignVCenter) -> None:
    """One line of text, cut with an ellipsis where `rect` ends."""
    painter.setFont(font)
    painter.setPen(ink)
    painter.drawText(rect, align | Align.AlignAbsolute, QFontMetricsF(font).elidedText(
        words, Qt.TextElideMode.ElideRight, rect.width() + 1))


def cut(words: str, font: QFont, width: float) -> str:
    """`words` cut in the middle where they are wider than `width`: what differs stands at the start and at the end."""
    return QFontMetricsF(font).elidedText(words, MIDDLE, max(width, 0.0) + 0.5)


def shortened(words: str, font: QFont, width: float) -> str:
    """`words` of a sentence, cut at the end where they are wider than `width`: it begins with what matters."""
    return QFontMetricsF(font).elidedText(words, Qt.TextElideMode.ElideRight, max(width, 0.0) + 0.5)


def wrapped(words: str, font: QFont, width: float, lines: int) -> list[str]:
    """`words` broken into at most `lines` lines of `width` pixels; the last is cut at its end when it must."""
    metrics = QFontMetricsF(font)
    rows: list[str] = []
    for word in words.split():
        longer = f"{rows[-1]} {word}" if rows else word
        if rows and (len(rows) == lines or metrics.horizontalAdvance(longer) <= width):
            rows[-1] = longer
        else:
            rows.append(word)
    return [metrics.elidedText(row, Qt.TextElideMode.ElideRight, width + 0.5) for row in rows]


def text_block(painter: QPainter, rect: QRectF, words: str, font: QFont, ink: QColor, lines: int) -> float:
    """Text in at most `lines` lines from the top of `rect`; returns the y below it."""
    step = QFontMetricsF(font).height() * 0.96
    y = rect.top()
    for row in wrapped(words, font, rect.width(), lines):
        text(painter, QRectF(rect.left(), y, rect.width(), step), row, font, ink)
        y += step
    return y


def name_lines(name: BotanicalName, px: float, width: float, lines: int, weight: int = 400) -> list[list[Run]]:
    """The name set by the naming codes in at most `lines` lines: italic genus and species, roman grex and clone.

    What does not fit is cut at the end of the last line.
    """
    rows: list[list[Run]] = [[]]
    for word in _words(name, px, weight):
        row = rows[-1]
        fits = sum(width_of(run.text, run.font) for run in [*row, word]) <= width
        if row and not fits and len(rows) < lines:
            rows.append([word])
        else:
            row.append(word)
    return [_cut(row, width) for row in rows]


def _words(name: BotanicalName, px: float, weight: int) -> list[Run]:
    runs = []
    for piece in name.pieces:
        font = serif(px, weight, piece.italic)
        parts = [_quoted(piece.text.strip())] if piece.clone else piece.text.split()
        runs += [Run(part.strip() + " ", font) for part in parts if part.strip()]
    return runs


def name_html(name: BotanicalName) -> str:
    """The name set by the naming codes for a label of rich text."""
    pieces = ((escape(_quoted(piece.text) if piece.clone else piece.text, quote=False), piece.italic)
              for piece in name.pieces)
    return "".join(f"<i>{words}</i>" if italic else words for words, italic in pieces)


def _quoted(clone: str) -> str:
    """A clone's name as the codes set it: in single quotes, opening and closing."""
    plain = len(clone) > 2 and clone[0] in "'‘" and clone[-1] in "'’"
    return f"‘{clone[1:-1]}’" if plain else clone


def _cut(row: Sequence[Run], width: float) -> list[Run]:
    """The words of a line as far as they go; what is left out is always told by an ellipsis, which the word before
    makes room for where none is left."""
    starts = [width + 4.0]
    for run in row:
        starts.append(starts[-1] - width_of(run.text, run.font))
    over = next((at for at, run in enumerate(row) if width_of(run.text.rstrip(), run.font) > starts[at]), None)
    if over is None:
        return list(row)
    for at in range(over, -1, -1):
        piece = _begun(row[at], starts[at])
        if piece:
            return [*row[:at], Run(piece, row[at].font)]
    return [Run(ELLIPSIS, row[0].font)]


def _begun(run: Run, room: float) -> str:
    """As much of a word as goes before an ellipsis, "" when not even a letter does; Qt's own elision leaves the
    ellipsis off where another writing needs another face."""
    word = run.text.rstrip()
    for end in range(len(word), 0, -1):
        if end < len(word) and (word[end] in JOINING or combining(word[end])):
            continue
        piece = f"{word[:end].rstrip(JOINING)}{ELLIPSIS}"
        if width_of(piece, run.font) <= room:
            return piece
    return ""


def name_block(painter: QPainter, rect: QRectF, name: BotanicalName, palette: Palette, px: float, lines: int,
               leading: float, ink: QColor | None = None) -> float:
    """Paint a name from the top of `rect` in lines `leading` apart; returns the y below it."""
    y = rect.top()
    painter.setPen(ink or palette.ink)
    for row in name_lines(name, px, rect.width(), lines):
        base = y + leading * 0.78
        for x, run in placed(row, rect.left()):
            painter.setFont(run.font)
            painter.drawText(QPointF(x, base), run.text)
        y += leading
    return y


def outline(painter: QPainter, rect: QRectF, palette: Palette, dashed: bool) -> None:
    """The line round what is chosen; dashed 4 and 2 round what the keyboard is on."""
    pen = QPen(palette.water, OUTLINE)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    if dashed:
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        pen.setDashPattern([4 / OUTLINE, 2 / OUTLINE])
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(rect)


def fitted(words: str, font: QFont, width: float) -> str:
    """`words` made to fit: what comes before the date is shortened, never the date."""
    if width_of(words, font) <= width:
        return words
    cut = max((words.rfind(tail) for tail in TAILS), default=-1)
    head, tail = (words[:cut], words[cut:]) if cut > 0 else words.rpartition(" ")[::2]
    tail = tail if cut > 0 else f" {tail}"
    room = width - width_of(tail, font)
    if room < 24:
        return QFontMetricsF(font).elidedText(tail.strip(" ,"), Qt.TextElideMode.ElideRight, width)
    return QFontMetricsF(font).elidedText(head, Qt.TextElideMode.ElideRight, room) + tail


def marked(painter: QPainter, rect: QRectF, mark: str, words: str, palette: Palette, px: float = 14,
           ink: QColor | None = None) -> None:
    """A mark with its words beside it, both in the mark's ink (or `ink`), made to fit `rect`.

    Words too long are set in the smallest size first, then cut before their date.
    """
    tone = ink or marks.colour(mark, palette)
    marks.paint(painter, mark, QRectF(rect.left(), rect.top(), px, rect.height()), palette, tone)
    room = rect.adjusted(px + 5, 0, 0, 0)
    font = sans(px if width_of(words, sans(px, 600)) <= room.width() else min(px, SMALLEST), 600)
    text(painter, room, fitted(words, font, room.width()), font, tone)
