"""One card painted: photo, rail, number plate, state only when not clear, stage when it says something, care."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPixmap

from greenhouse_desk.ui import drawing, marks
from greenhouse_desk.ui.collection.layout import Sizes
from greenhouse_desk.ui.collection.model import Seat
from greenhouse_desk.ui.drawing import Align
from greenhouse_desk.ui.style import Palette, sans, serif

PAD = 10


@dataclass(frozen=True, slots=True)
class Look:
    """How a card shows: chosen, under the keyboard, found by a search or not (None: nothing is searched for)."""

    chosen: bool = False
    current: bool = False
    found: bool | None = None


def photo_size(sizes: Sizes) -> QSize:
    """The size of a card's photo in logical pixels."""
    return QSize(sizes.card, sizes.photo)


def paint(painter: QPainter, rect: QRectF, seat: Seat, look: Look, palette: Palette, sizes: Sizes,
          photo: QPixmap | None) -> None:
    """Paint the card of `seat` in `rect`."""
    painter.fillRect(rect, palette.bench if look.found is False else palette.sheet)
    ink = palette.ink2 if look.found is False else palette.ink
    if sizes.dense:
        _paint_dense(painter, rect, seat, palette, sizes, ink)
    else:
        _paint_photo(painter, QRectF(rect.left(), rect.top(), rect.width(), sizes.photo), seat, palette, photo, look)
        _paint_full(painter, rect, seat, palette, sizes, ink)
    if look.found:
        painter.fillRect(QRectF(rect.left(), rect.bottom() - 4, rect.width(), 4), palette.water)
    outline(painter, rect, look, palette)


def outline(painter: QPainter, rect: QRectF, look: Look, palette: Palette) -> None:
    """Chosen: a solid line one pixel off. Under the keyboard only: the same line dashed."""
    if look.chosen or look.current:
        drawing.outline(painter, rect.adjusted(-1.25, -1.25, 1.25, 1.25), palette, not look.chosen)


def _paint_full(painter: QPainter, rect: QRectF, seat: Seat, palette: Palette, sizes: Sizes, ink: QColor) -> None:
    card, x = seat.card, rect.left()
    base = rect.top() + sizes.photo
    drawing.rail(painter, QRectF(x - 2, base, rect.width() + 4, sizes.rail), palette, seat.isolation)
    plate = QRectF(x + 6, base - 8, max(64.0, drawing.width_of(str(seat.number), serif(28, 600)) + 16), 34)
    drawing.number_plate(painter, plate, str(seat.number), palette)
    _state(painter, rect, plate, base - 6, seat, palette)
    _stage(painter, QRectF(plate.right() + 2, base + 17, rect.right() - plate.right() - 7, 18), card.stage, palette)
    inner = rect.adjusted(PAD, 0, -PAD + 4, 0)
    name = QRectF(inner.left(), base + 35, inner.width(), 38)
    drawing.name_block(painter, name, card.name, palette, 16, 2, 18, ink)
    medium = f"in {card.plant.medium}" if card.plant.medium else "medium not told"
    drawing.text(painter, QRectF(inner.left(), base + 73, inner.width(), 18), medium, sans(13), palette.ink2)
    painter.fillRect(QRectF(inner.left(), base + 94, inner.width() - 4, 1), palette.rule)
    _care(painter, QRectF(inner.left() - 1, base + 97, inner.width() + 4, 22), seat, palette, 14)


def _paint_photo(painter: QPainter, area: QRectF, seat: Seat, palette: Palette, photo: QPixmap | None,
                 look: Look) -> None:
    if photo is None:
        painter.fillRect(area, palette.inset)
        if seat.card.plant.photo is None:
            drawing.text(painter, area.adjusted(0, 0, 0, -16), "no photo yet", sans(13), palette.ink2,
                         Align.AlignCenter)
        return
    painter.drawPixmap(area.topLeft(), photo)
    painter.fillRect(area, palette.veil)
    if look.found is False:
        veil = QColor(palette.bench)
        veil.setAlphaF(0.7)
        painter.fillRect(area, veil)


def _state(painter: QPainter, rect: QRectF, plate: QRectF, top: float, seat: Seat, palette: Palette) -> None:
    """The state plate on the rail, right of the number; above it when the words need the room."""
    word = seat.card.standing.word
    if word == "clear":
        return
    width = drawing.width_of(word, sans(13, 600)) + 30
    beside = rect.right() - 4 - plate.right() - 4
    box = QRectF(rect.right() - 4 - width, top if width <= beside else plate.top() - 28, width, 24)
    state_plate(painter, box, word, palette)


def state_plate(painter: QPainter, box: QRectF, word: str, palette: Palette) -> None:
    """A state with its mark on a small plate; plates stay light in the dark."""
    painter.fillRect(box, palette.plate)
    painter.setPen(QPen(palette.rule2, 1))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(box.adjusted(0.5, 0.5, -0.5, -0.5))
    ink = palette.on_plate_ink(marks.COLOUR[word])
    drawing.marked(painter, box.adjusted(6, 0, -2, -1), word, word, palette, 13, ink)


def _stage(painter: QPainter, area: QRectF, stage: str, palette: Palette) -> None:
    """The stage, right-aligned; where it does not fit, what comes after its comma."""
    font = sans(13)
    if drawing.width_of(stage, font) > area.width():
        stage = stage.rpartition(", ")[2]
    drawing.text(painter, area, stage, font, palette.ink2, Align.AlignRight | Align.AlignVCenter)


def _care(painter: QPainter, area: QRectF, seat: Seat, palette: Palette, px: float) -> None:
    said = seat.card.words
    if said is None:
        drawing.text(painter, area, "nothing owed", sans(px), palette.ink2)
    else:
        drawing.marked(painter, area, said.mark, said.text, palette, px)


def _paint_dense(painter: QPainter, rect: QRectF, seat: Seat, palette: Palette, sizes: Sizes, ink: QColor) -> None:
    card, x, y = seat.card, rect.left(), rect.top()
    drawing.rail(painter, QRectF(x - 2, y, rect.width() + 4, sizes.rail), palette, seat.isolation)
    number = str(seat.number)
    px = 20 if len(number) < 5 else 15
    plate = QRectF(x + 5, y + 2, max(46.0, drawing.width_of(number, serif(px, 600)) + 14), 26)
    drawing.number_plate(painter, plate, number, palette, px, 6)
    beside = QRectF(plate.right() + 6, y + sizes.rail, rect.right() - plate.right() - 10, 20)
    word = card.standing.word
    if word != "clear":
        drawing.marked(painter, beside.adjusted(0, 1, 0, 1), word, word, palette, 13)
    else:
        _stage(painter, beside, card.stage, palette)
    inner = rect.adjusted(7, 0, -4, 0)
    drawing.name_block(painter, QRectF(inner.left(), y + 28, inner.width(), 18), card.name, palette, 15, 1, 19, ink)
    _care(painter, QRectF(inner.left(), y + 47, inner.width(), 18), seat, palette, 13)
