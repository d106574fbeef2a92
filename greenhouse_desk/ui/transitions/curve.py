"""The settling curve painted: a step line with its band over weeks, half settled, and where the chosen plant stands."""

from __future__ import annotations

from math import ceil, isfinite

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from greenhouse_desk.services.transitions import Curve, Row
from greenhouse_desk.ui import drawing
from greenhouse_desk.ui.drawing import Align
from greenhouse_desk.ui.style import Palette, sans, serif

LEFT, RIGHT, TOP, FOOT = 52.0, 14.0, 24.0, 22.0
LEAST_PLANTS = 5
LEAST_WEEKS = 16


class CurveView(QWidget):
    """Shows a Curve; with fewer than five settled plants it draws no line and says so."""

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self._look = palette
        self._curve: Curve | None = None
        self._row: Row | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(260, 150)
        self.setAccessibleName("Settling curve")

    def show_curve(self, curve: Curve, row: Row | None) -> None:
        """Show this curve, and the course of `row` on it."""
        self._curve, self._row = curve, row
        self.setAccessibleDescription(self.words())
        self.update()

    def words(self) -> str:
        """The curve in words: the share settled at each fourth week, with its band."""
        curve = self._curve
        if curve is None or curve.settled < LEAST_PLANTS:
            return self._too_few()
        said = [f"{curve.words}."]
        for week in range(4, self._weeks() + 1, 4):
            step = next((one for one in reversed(curve.steps) if one.day <= 7 * week), None)
            if step is not None:
                low, high = round(100 * (1 - step.high)), round(100 * (1 - step.low))
                said.append(f"By week {week} {100 * (1 - step.share):.0f} % had settled, {low} to {high}.")
        return " ".join(said)

    def sizeHint(self) -> QSize:
        return QSize(380, 190)

    def _too_few(self) -> str:
        settled = self._curve.settled if self._curve else 0
        return f"{settled} of your plants settled so far; a curve is drawn from {LEAST_PLANTS} on."

    def _weeks(self) -> int:
        last = self._curve.steps[-1].day / 7 if self._curve and self._curve.steps else 0
        return max(LEAST_WEEKS, 4 * ceil(last / 4))

    def _x(self, days: float) -> float:
        return LEFT + (self.width() - LEFT - RIGHT) * min(days / 7, self._weeks()) / self._weeks()

    def _y(self, settled: float) -> float:
        return TOP + (self.height() - TOP - FOOT) * (1 - settled)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._axes(painter)
        if self._curve is None or self._curve.settled < LEAST_PLANTS:
            room = QRectF(LEFT + 8, TOP, self.width() - LEFT - RIGHT - 16, self.height() - TOP - FOOT)
            drawing.text_block(painter, room.adjusted(0, 10, 0, 0), self._too_few(), sans(14), self._look.ink, 3)
        else:
            self._band(painter, self._curve)
        self._plant(painter)
        if self._curve is not None and self._curve.settled >= LEAST_PLANTS:
            self._half(painter, self._curve)
        painter.end()

    def _axes(self, painter: QPainter) -> None:
        for share in (0.0, 0.25, 0.5, 0.75, 1.0):
            y = self._y(share)
            painter.fillRect(QRectF(LEFT, y, self.width() - LEFT - RIGHT, 1), self._look.rule)
            drawing.text(painter, QRectF(0, y - 9, LEFT - 6, 18), f"{share * 100:.0f} %", sans(13), self._look.ink2,
                         Align.AlignRight | Align.AlignVCenter)
        apart = 4 if self.width() / self._weeks() > 9 else 8
        for week in range(0, self._weeks() + 1, apart):
            said = f"week {week}" if week == 0 else str(week)
            x = self._x(7 * week)
            painter.fillRect(QRectF(x, self._y(0), 1, 4), self._look.rule2)
            drawing.text(painter, QRectF(x - 34, self.height() - FOOT + 3, 68, 18), said, sans(13), self._look.ink2,
                         Align.AlignCenter)

    def _band(self, painter: QPainter, curve: Curve) -> None:
        line = QPainterPath(QPointF(self._x(0), self._y(0)))
        ends = [*(step.day for step in curve.steps[1:]), 7.0 * self._weeks()]
        high: list[QPointF] = []
        low: list[QPointF] = []
        line.lineTo(QPointF(self._x(curve.steps[0].day), self._y(0)))
        for step, end in zip(curve.steps, ends, strict=True):
            left, right = self._x(step.day), self._x(end)
            line.lineTo(left, self._y(1 - step.share))
            line.lineTo(right, self._y(1 - step.share))
            high += [QPointF(left, self._y(1 - step.low)), QPointF(right, self._y(1 - step.low))]
            low += [QPointF(left, self._y(1 - step.high)), QPointF(right, self._y(1 - step.high))]
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(self._look.water_fill)
        painter.drawPolygon(QPolygonF([*high, *reversed(low)]))
        pen = QPen(self._look.water, 2.4)
        pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
        painter.strokePath(line, pen)

    def _half(self, painter: QPainter, curve: Curve) -> None:
        if not isfinite(curve.half.day):
            return
        x, y = self._x(curve.half.day), self._y(0.5)
        pen = QPen(self._look.ink, 1.4)
        pen.setDashPattern([3, 2])
        painter.setPen(pen)
        painter.drawPolyline([QPointF(LEFT, y), QPointF(x, y), QPointF(x, self._y(0))])
        said = f"half settled by week {ceil(curve.half.day / 7)}"
        width = drawing.width_of(said, sans(13, 600)) + 10
        left = LEFT + 6 if x - LEFT > width + 12 else x + 6  # above the dashed line, where the curve has not come yet
        plate = QRectF(left, y - 21, width, 18)
        painter.fillRect(plate, self._look.sheet)
        drawing.text(painter, plate, said, sans(13, 600), self._look.ink, Align.AlignCenter)

    def _plant(self, painter: QPainter) -> None:
        """The chosen plant's number over the days it has been under way."""
        if self._row is None:
            return
        x, top = self._x(self._row.course.days), TOP - 4
        painter.setPen(QPen(self._look.ink, 1))
        painter.drawLine(QPointF(x, top), QPointF(x, self._y(0)))
        painter.setBrush(self._look.ink)
        painter.drawPolygon(QPolygonF([QPointF(x - 5, top - 1), QPointF(x + 5, top - 1), QPointF(x, top + 6)]))
        said = str(self._row.course.plant)
        width = drawing.width_of(said, serif(16, 600)) + 8
        left = min(max(x - width / 2, LEFT), self.width() - RIGHT - width)
        drawing.text(painter, QRectF(left, 0, width, top - 1), said, serif(16, 600), self._look.ink, Align.AlignCenter)
