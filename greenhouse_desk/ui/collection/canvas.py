"""The canvas painted: heads that stay in sight, rails that run on or end, cards, the card on the move."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from PySide6.QtCore import QPoint, QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPixmap, QPolygonF

from greenhouse_desk.services.collection import BenchRow
from greenhouse_desk.ui import drawing
from greenhouse_desk.ui.collection import bench_head, card
from greenhouse_desk.ui.collection.card import Look
from greenhouse_desk.ui.collection.layout import Plan, Strip
from greenhouse_desk.ui.collection.model import Seat
from greenhouse_desk.ui.style import Palette, sans

HEAD_ROOM = 232


@dataclass(frozen=True, slots=True)
class Ghost:
    """What is in hand: the row it was taken at, the pointer (canvas pixels), all in hand, and where it would go."""

    row: int
    at: QPoint
    numbers: frozenset[int]
    words: str


@dataclass
class Scene:
    """All the canvas paints from. `looks` gives a row's look, `photo` its picture when there is one."""

    plan: Plan
    benches: Sequence[BenchRow]
    seats: Sequence[Seat]
    now: datetime
    palette: Palette
    looks: Callable[[int], Look]
    photo: Callable[[Seat], QPixmap | None]
    moving: dict[int, QRectF] = field(default_factory=dict)
    bar: QRect | None = None
    ghost: Ghost | None = None


def paint(painter: QPainter, scene: Scene, seen: QRect) -> None:
    """Paint what of the scene lies in `seen` (canvas pixels)."""
    first = 0
    for strip in scene.plan.strips:
        if strip.area.intersects(seen.adjusted(0, -20, 0, 20)):
            _strip(painter, scene, strip, first, seen)
        first += len(strip.cards)
    rows = {seat.number: seat for seat in scene.seats}
    for number, rect in scene.moving.items():
        _card(painter, scene, rows[number], rect, Look(chosen=True))
    if scene.bar is not None:
        _insertion(painter, scene.bar, scene.palette)
    if scene.ghost is not None:
        _ghost(painter, scene, seen)


def _strip(painter: QPainter, scene: Scene, strip: Strip, first: int, seen: QRect) -> None:
    bench = scene.benches[strip.bench]
    bench_head.paint(painter, QRectF(head_rect(strip, seen.top())), bench, scene.now, scene.palette,
                     scene.plan.sizes.dense)
    chosen = []
    for offset, rect in enumerate(strip.cards):
        seat = scene.seats[first + offset]
        if not rect.adjusted(-4, -4, 4, 4).intersects(seen) or seat.number in scene.moving:
            continue
        look = scene.looks(first + offset)
        _card(painter, scene, seat, QRectF(rect), look)
        if scene.ghost is not None and seat.number in scene.ghost.numbers:
            _taken(painter, QRectF(rect), scene.palette)
        if look.chosen or look.current:
            chosen.append((QRectF(rect), look))
    _rails(painter, scene, strip, bench.place.isolation, bool(bench.place.id))
    for area, look in chosen:
        card.outline(painter, area, look, scene.palette)
    if strip.empty is not None:
        _empty(painter, scene, strip.empty, bench)


def head_rect(strip: Strip, top: int) -> QRect:
    """Where a bench's head stands: at its top, or held in sight while a long bench scrolls by."""
    head = strip.head
    room = min(HEAD_ROOM, head.height())
    y = min(max(head.y(), top + 8), head.y() + head.height() - room)
    return QRect(head.x(), y, head.width(), head.y() + head.height() - y)


def _card(painter: QPainter, scene: Scene, seat: Seat, rect: QRectF, look: Look) -> None:
    card.paint(painter, rect, seat, look, scene.palette, scene.plan.sizes, scene.photo(seat))


def _rails(painter: QPainter, scene: Scene, strip: Strip, isolation: bool, real: bool) -> None:
    """What lies beyond the cards: an arrow where the bench goes on in the next row, a post where it ends."""
    for rail in strip.rails:
        rect = QRectF(rail.rect)
        if not strip.cards and real:
            drawing.rail(painter, rect, scene.palette, isolation)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(scene.palette.rail)
        if rail.goes_on:
            x, middle = rect.right() - 1, rect.center().y()
            painter.drawPolygon(QPolygonF([QPointF(x, rect.top()), QPointF(x + 7, middle), QPointF(x, rect.bottom())]))
        elif real:
            painter.drawRect(QRectF(rect.right() - 2, rect.top() - 5, 4, rect.height() + 10))
        painter.restore()


def _empty(painter: QPainter, scene: Scene, rect: QRect, bench: BenchRow) -> None:
    words = f"No plants on {bench.place.name} yet."
    room = QRectF(rect).adjusted(4, scene.plan.sizes.rail + 2 if scene.plan.sizes.dense else 12, 0, 0)
    drawing.text_block(painter, room, words, sans(14), scene.palette.ink, 2)


def _insertion(painter: QPainter, bar: QRect, palette: Palette) -> None:
    """Where the card in hand would go: a bar between two cards with a point at each end."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(palette.sheet, 1.5))
    painter.setBrush(palette.water)
    painter.drawRect(QRectF(bar).adjusted(-1, 0, 1, 0))
    middle = QRectF(bar).center().x()
    for y, way in ((float(bar.top()), 1), (float(bar.bottom() + 1), -1)):
        painter.drawPolygon(QPolygonF([QPointF(middle - 9, y - 2 * way), QPointF(middle + 9, y - 2 * way),
                                       QPointF(middle, y + 11 * way)]))
    painter.restore()


def _taken(painter: QPainter, rect: QRectF, palette: Palette) -> None:
    """The place a card was taken from: pale, until it is let go."""
    veil = QColor(palette.bench)
    veil.setAlphaF(0.72)
    painter.fillRect(rect, veil)


def _ghost(painter: QPainter, scene: Scene, seen: QRect) -> None:
    """The card in hand: its plate and name under the pointer, and in words where it would go."""
    ghost = scene.ghost
    assert ghost is not None
    seat, colours = scene.seats[ghost.row], scene.palette
    wide = max(206.0, drawing.width_of(ghost.words, sans(14, 600)) + 20)
    box = QRectF(min(ghost.at.x() + 14, seen.right() - wide - 6), min(ghost.at.y() + 10, seen.bottom() - 70), wide, 66)
    painter.fillRect(box, colours.sheet)
    painter.setPen(QPen(colours.water, 2))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(box)
    drawing.number_plate(painter, QRectF(box.left() + 6, box.top(), 60, 32), str(seat.number), colours, 23)
    more = len(ghost.numbers) - 1
    name = QRectF(box.left() + 74, box.top() + 4, wide - 80, 36)
    if more:
        drawing.text(painter, name, f"and {more} more", sans(14), colours.ink)
    else:
        drawing.name_block(painter, name, seat.card.name, colours, 14, 2, 17)
    drawing.text(painter, QRectF(box.left() + 10, box.top() + 42, wide - 16, 20), ghost.words, sans(14, 600),
                 colours.water)
