"""One card painted: photo, rail, number plate, state only when not clear, stage when it says something, care."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPen, QPixmap

from greenhouse_desk.ui import drawing, marks
from greenhouse_desk.ui.collection.layout import Sizes
from greenhouse_desk.ui.collection.model import Seat
from greenhouse_desk.ui.drawing import Align
from greenhouse_desk.ui.style import Palette, sans, serif

PAD = 10


@dataclass(frozen=True, slots=True)
class Look:
    """How a card shows: chosen, under the keyboard, dimmed because a search does not find it."""

    chosen: bool = False
    current: bool = False
    dimmed: bool = False


def photo_size(sizes: Sizes) -> QSize:
    """The size of a card's photo in logical pixels."""
    return QSize(sizes.card, sizes.photo)


def paint(painter: QPainter, rect: QRectF, seat: Seat, look: Look, palette: Palette, sizes: Sizes,
          photo: QPixmap | None) -> None:
    """Paint the card of `seat` in `rect`."""
    painter.save()
    if look.dimmed:
        painter.setOpacity(0.35)
    if sizes.dense:
        _paint_dense(painter, rect, seat, palette, sizes)
    else:
        _paint_full(painter, rect, seat, palette, sizes, photo)
    painter.restore()
    outline(painter, rect, look, palette)


def outline(painter: QPainter, rect: QRectF, look: Look, palette: Palette) -> None:
    """Chosen: a solid line one pixel off. Under the keyboard only: the same line dashed."""
    if look.chosen or look.current:
        drawing.outline(painter, rect.adjusted(-1.25, -1.25, 1.25, 1.25), palette, not look.chosen)


def _paint_full(painter: QPainter, rect: QRectF, seat: Seat, palette: Palette, sizes: Sizes,
                photo: QPixmap | None) -> None:
    card, x, y = seat.card, rect.left(), rect.top()
    base = y + sizes.photo
    painter.fillRect(rect, palette.sheet)
    _photo(painter, QRectF(x, y, rect.width(), sizes.photo), card.plant.photo, palette, photo)
    drawing.rail(painter, QRectF(x - 2, base, rect.width() + 4, sizes.rail), palette, seat.isolation)
    plate = QRectF(x + 6, base - 8, max(64.0, drawing.width_of(str(seat.number), serif(28, 600)) + 16), 34)
    drawing.number_plate(painter, plate, str(seat.number), palette)
    _state(painter, rect, plate, base - 6, seat, palette)
    _stage(painter, QRectF(plate.right() + 2, base + 17, rect.right() - plate.right() - 7, 18), card.stage, palette)
    inner = rect.adjusted(PAD, 0, -PAD + 4, 0)
    name = QRectF(inner.left(), base + 35, inner.width(), 38)
    drawing.name_block(painter, name, card.name, palette, 16, 2, 18)
    medium = f"in {card.plant.medium}" if card.plant.medium else "medium not told"
    drawing.text(painter, QRectF(inner.left(), base + 73, inner.width(), 18), medium, sans(13), palette.ink2)
    painter.fillRect(QRectF(inner.left(), base + 94, inner.width() - 4, 1), palette.rule)
    _care(painter, QRectF(inner.left() - 1, base + 97, inner.width() + 4, 22), seat, palette, 14)


def _photo(painter: QPainter, area: QRectF, sha256: str | None, palette: Palette, photo: QPixmap | None) -> None:
    if photo is not None:
        painter.drawPixmap(area.topLeft(), photo)
        painter.fillRect(area, palette.veil)
        return
    painter.fillRect(area, palette.inset)
    if sha256 is None:
        drawing.text(painter, area.adjusted(0, 0, 0, -16), "no photo yet", sans(13), palette.ink2, Align.AlignCenter)


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


def _paint_dense(painter: QPainter, rect: QRectF, seat: Seat, palette: Palette, sizes: Sizes) -> None:
    card, x, y = seat.card, rect.left(), rect.top()
    painter.fillRect(rect, palette.sheet)
    drawing.rail(painter, QRectF(x - 2, y, rect.width() + 4, sizes.rail), palette, seat.isolation)
    number = str(seat.number)
    plate = QRectF(x + 5, y + 2, max(46.0, drawing.width_of(number, serif(20, 600)) + 14), 26)
    drawing.number_plate(painter, plate, number, palette, 20, 6)
    beside = QRectF(plate.right() + 6, y + sizes.rail, rect.right() - plate.right() - 10, 20)
    word = card.standing.word
    if word != "clear":
        drawing.marked(painter, beside.adjusted(0, 1, 0, 1), word, word, palette, 13)
    else:
        _stage(painter, beside, card.stage, palette)
    inner = rect.adjusted(7, 0, -4, 0)
    drawing.name_block(painter, QRectF(inner.left(), y + 28, inner.width(), 18), card.name, palette, 15, 1, 19)
    _care(painter, QRectF(inner.left(), y + 47, inner.width(), 18), seat, palette, 13)
