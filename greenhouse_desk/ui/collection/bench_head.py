"""The head of a bench painted: its name, how many stand there, its air, how fast it moves, the last 24 hours."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen, QPolygonF

from greenhouse_desk.domain.plants import Air
from greenhouse_desk.services.collection import BenchRow
from greenhouse_desk.ui import drawing, words
from greenhouse_desk.ui.style import Palette, sans, serif

DAY = timedelta(hours=24)
TICKS = 11
FASTEST = 1.0
STILL = 0.05
TO_AIR = 24
BELOW_NONE, BELOW_OLD = 40, 120


def wants_air(bench: BenchRow) -> bool:
    """Whether a reading is to be entered here: there is none, or it is too old to tell of the air."""
    return bool(bench.place.id) and (bench.air is None or not bench.holds)


def air_words(bench: BenchRow, now: datetime) -> str:
    """How long ago the air was read, "read 3 days ago"; "" where it never was."""
    return f"read {words.stretch(now - bench.air.at)} ago" if bench.air is not None else ""


def button_below(bench: BenchRow, width: float) -> int:
    """How far below the head's top the button stands that enters air, `width` the head's."""
    return round(_air_from(bench, width) + (BELOW_NONE if bench.air is None else BELOW_OLD))


def paint(painter: QPainter, rect: QRectF, bench: BenchRow, now: datetime, palette: Palette, dense: bool) -> None:
    """Paint the head of `bench` from the top of `rect`; what does not fit below is left out from the end."""
    count = words.counted(len(bench.cards), "plant")
    if dense:
        _paint_dense(painter, rect, bench, count, now, palette)
        return
    y = drawing.text_block(painter, QRectF(rect.left(), rect.top() - 2, rect.width(), 52), bench.place.name,
                           serif(21, 600), palette.ink, 2)
    drawing.text(painter, QRectF(rect.left(), y, rect.width(), 20), count, sans(13), palette.ink2)
    top = rect.top() + _air_from(bench, rect.width())
    _air(painter, QRectF(rect.left(), top, rect.width(), rect.bottom() - top), bench, now, palette)


def _air_from(bench: BenchRow, width: float) -> float:
    """How far below the head's top its air begins: under the name, on one line or two, and the count."""
    font = serif(21, 600)
    lines = len(drawing.wrapped(bench.place.name, font, width, 2))
    return lines * QFontMetricsF(font).height() * 0.96 - 2 + TO_AIR


def _paint_dense(painter: QPainter, rect: QRectF, bench: BenchRow, count: str, now: datetime, palette: Palette) -> None:
    """As much as stands in a low row: of air too old to tell anything only how old it is."""
    drawing.text(painter, QRectF(rect.left(), rect.top() - 2, rect.width(), 24), bench.place.name, serif(17, 600),
                 palette.ink)
    drawing.text(painter, QRectF(rect.left(), rect.top() + 22, rect.width(), 18), count, sans(13), palette.ink2)
    air = bench.air
    told = f"{air.temp_c:.1f} C  {_percent(air)} % RH" if air else ""
    if air is not None and air.rh is None:
        told = f"{air.temp_c:.1f} C, humidity unknown"
    if air is not None and not bench.holds:
        told = f"air {words.stretch(now - air.at)} old"
    drawing.text(painter, QRectF(rect.left(), rect.top() + 42, rect.width(), 18), told, sans(13, 600), palette.ink)


def _air(painter: QPainter, rect: QRectF, bench: BenchRow, now: datetime, palette: Palette) -> None:
    air, x, y = bench.air, rect.left(), rect.top()
    if air is None:
        if bench.place.id:
            drawing.text_block(painter, rect, "No air reading yet.", sans(13), palette.ink2, 2)
        return
    ink = palette.ink if bench.holds else palette.ink2
    _figure(painter, QRectF(x, y, rect.width(), 28), f"{air.temp_c:.1f}", "C", ink, palette)
    if air.rh is None:
        drawing.text(painter, QRectF(x, y + 30, rect.width(), 20), "humidity unknown", sans(13), palette.ink2)
    else:
        _figure(painter, QRectF(x, y + 28, rect.width(), 28), _percent(air), "% RH", ink, palette)
    drawing.text(painter, QRectF(x, y + 55, rect.width(), 18), air_words(bench, now), sans(13),
                 palette.ink2 if bench.holds else palette.due)
    if rect.height() >= 122:
        _speed(painter, QRectF(x, y + 78, rect.width() - 10, 40), air, palette)
    if rect.height() >= 178 and bench.holds:
        _trace(painter, QRectF(x, y + 122, rect.width() - 10, 36), bench.trace, now, palette)


def _percent(air: Air) -> str:
    return "" if air.rh is None else f"{100 * air.rh:.0f}"


def _figure(painter: QPainter, rect: QRectF, figure: str, unit: str, ink: QColor, palette: Palette) -> None:
    font = sans(25, 600)
    drawing.text(painter, rect, figure, font, ink)
    after = rect.adjusted(drawing.width_of(figure, font) + 5, 4, 0, 4)
    drawing.text(painter, after, unit, sans(14), palette.ink2)


def _speed(painter: QPainter, rect: QRectF, air: Air, palette: Palette) -> None:
    """Eleven ticks from 0 to 1 m/s, those reached drawn heavy and tall, with the figure in words."""
    speed = air.air_speed_m_s
    lit = -1 if speed is None else round(min(speed, FASTEST) / FASTEST * (TICKS - 1))
    step = rect.width() / (TICKS - 1)
    for tick in range(TICKS):
        reached = tick <= lit
        height = 9 if tick % 5 == 0 or reached else 5
        pen = QPen(palette.ink if reached else palette.rule2, 2.4 if reached else 1)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        painter.setPen(pen)
        x = rect.left() + 1 + tick * step
        painter.drawLine(QPointF(x, rect.top() + 10), QPointF(x, rect.top() + 10 - height))
    told = "air not measured" if speed is None else f"air {speed:.1f} m/s{', still' if speed < STILL else ''}"
    if speed is None and air.moving is not None:
        told = f"air {air.moving.value}"
    drawing.text(painter, QRectF(rect.left(), rect.top() + 15, rect.width() + 10, 18), told, sans(13), palette.ink2)


def _trace(painter: QPainter, rect: QRectF, trace: Sequence[Air], now: datetime, palette: Palette) -> None:
    """Temperature over the last 24 hours, drawn where there are at least three readings."""
    told = [air for air in trace if now - DAY <= air.at <= now]
    if len(told) < 3:
        return
    low, high = min(air.temp_c for air in told), max(air.temp_c for air in told)
    span = max(high - low, 1.0)
    points = QPolygonF([QPointF(rect.right() - (now - air.at) / DAY * rect.width(),
                                rect.bottom() - 3 - (air.temp_c - low) / span * (rect.height() - 8)) for air in told])
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(palette.rule2, 1))
    painter.drawLine(QPointF(rect.left(), rect.bottom() + 0.5), QPointF(rect.right(), rect.bottom() + 0.5))
    painter.setPen(QPen(palette.ink, 1.6))
    painter.drawPolyline(points)
    painter.setBrush(palette.ink)
    painter.drawEllipse(points.last(), 2.4, 2.4)
    painter.restore()
    drawing.text(painter, QRectF(rect.left(), rect.bottom() + 2, rect.width() + 10, 18),
                 f"{low:.0f} to {high:.0f} C, last 24 h", sans(13), palette.ink2)
