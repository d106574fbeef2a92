"""The canvas painted: heads that stay in sight, rails that run on or end, cards, the card on the move."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from PySide6.QtCore import QPoint, QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QPainter, QPen, QPixmap, QPolygonF

from greenhouse_desk.services.collection import BenchRow
from greenhouse_desk.ui import drawing
from greenhouse_desk.ui.collection import bench_head, card
from greenhouse_desk.ui.collection.card import Look
from greenhouse_desk.ui.collection.layout import Plan, Strip
from greenhouse_desk.ui.collection.model import Seat
from greenhouse_desk.ui.style import Palette, sans

HEAD_ROOM = 232


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
    ghost: tuple[int, QPoint] | None = None


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
        painter.fillRect(scene.bar, scene.palette.water)
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


def _ghost(painter: QPainter, scene: Scene, seen: QRect) -> None:
    """The card in hand: its plate and name under the pointer."""
    assert scene.ghost is not None
    row, at = scene.ghost
    seat = scene.seats[row]
    box = QRectF(min(at.x() + 12, seen.right() - 196), min(at.y() + 8, seen.bottom() - 46), 190, 42)
    painter.fillRect(box, scene.palette.sheet)
    painter.setPen(QPen(scene.palette.water, 2))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(box)
    drawing.number_plate(painter, QRectF(box.left() + 6, box.top(), 60, 32), str(seat.number), scene.palette, 23)
    drawing.name_block(painter, QRectF(box.left() + 74, box.top() + 4, 112, 36), seat.card.name, scene.palette, 14, 2,
                       17)
