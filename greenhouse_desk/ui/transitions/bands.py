"""A course painted as a band: potting, what looks confirmed, what runs, what went off; looks, and the forecast."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from math import isfinite

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPainterPath, QPen

from greenhouse_desk.domain.courses_forecast import NoOutlook, Outlook
from greenhouse_desk.domain.courses_moving import due_together, shown_on
from greenhouse_desk.domain.courses_values import Course, End, Verdict
from greenhouse_desk.services.transitions import Row
from greenhouse_desk.ui import drawing, words
from greenhouse_desk.ui.drawing import Align
from greenhouse_desk.ui.style import Palette, hatch, sans
from greenhouse_desk.ui.transitions import told
from greenhouse_desk.ui.transitions.space import BAND, DOWN, ROW, Space, due_day

RING = 8.0
CROWDED = 1.3
BEHIND = 3.0
"""How far to the right a second look that is due on the same day shows behind the first."""
TAG_LINE = 20.0


class BandPainter:
    """Paints courses of one chart."""

    def __init__(self, painter: QPainter, look: Palette, space: Space, today: date) -> None:
        self._painter, self._look, self._space, self._today = painter, look, space, today

    @property
    def ring(self) -> float:
        """The radius of a look's mark: smaller where days are crowded."""
        return RING if self._space.per_day > CROWDED else 5.0

    def course(self, row: Row, top: float) -> None:
        """The band of a course from its potting to now or its end, then its forecast."""
        course, middle = row.course, top + DOWN
        start, end = self._space.x(course.start), self._space.x(course.last)
        seen = self._space.x(course.looks[-1].look.day) if course.looks else start
        off = self._off(course)
        confirmed = QRectF(start, middle, max(0.0, min(seen, off) - start), BAND)
        self._painter.fillRect(confirmed, self._look.water)
        if end > max(seen, start):
            running = QRectF(max(seen, start), middle, end - max(seen, start), BAND)
            _boxed(self._painter, running, self._look, "running")
        if off < end:
            _boxed(self._painter, QRectF(max(off, start), middle, end - max(off, start), BAND), self._look, "off")
        if course.start >= self._space.first:
            self._painter.fillRect(QRectF(start - 1.5, middle - 4, 3, BAND + 8), self._look.clay)
        if course.end is End.RUNNING:
            self._forecast(row, middle)
        else:
            self._ended(row, end, middle)

    def _off(self, course: Course) -> float:
        """From where the band is off its course: the first of the looks running that say step in."""
        if course.end is not End.RUNNING or course.verdict is not Verdict.STEP_IN:
            return float("inf")
        first = course.looks[-1]
        for judged in reversed(course.looks):
            if judged.verdict is not Verdict.STEP_IN:
                break
            first = judged
        return self._space.x(first.look.day)

    def _forecast(self, row: Row, middle: float) -> None:
        now = self._space.x(self._today)
        line = QRectF(now, middle + BAND / 2 - 1.5, 0, 3)
        if isinstance(row.outlook, NoOutlook):
            after = [self._space.x(due_day(care)) for care in row.looks[:1]]
            left = max([now, *after]) + self.ring + 8
            width = min(drawing.width_of(told.TOO_FEW, sans(13)) + 4, self._space.verdicts - left - 4)
            plate = QRectF(left, middle, width, BAND)
            self._painter.fillRect(plate, self._look.sheet)
            drawing.text(self._painter, plate, told.TOO_FEW, sans(13), self._look.ink2)
        if not isinstance(row.outlook, Outlook):
            return
        early, quarter, likely, three, late = (self._at(row, days) for days in (
            row.outlook.early, row.outlook.quarter, row.outlook.likely, row.outlook.three_quarters, row.outlook.late))
        early, quarter = max(early, now), max(quarter, now)
        line.setRight(early)
        self._painter.fillRect(line, self._look.rule2)
        box = QRectF(early, middle, max(2.0, late - early), BAND)
        _boxed(self._painter, box, self._look, "forecast", open_end=not isfinite(row.outlook.late))
        dense = QRectF(quarter, middle + 1, max(0.0, three - quarter), BAND - 2)
        self._painter.fillRect(dense, hatch(self._look.ink, 1, 3))
        if isfinite(row.outlook.likely):
            self._painter.fillRect(QRectF(likely - 1.5, middle - 2, 3, BAND + 4), self._look.ink)

    def _at(self, row: Row, days: float) -> float:
        return self._space.x(row.course.start + timedelta(days=days)) if isfinite(days) else self._space.verdicts - 1

    def words(self, row: Row, top: float) -> None:
        """The likely day under a forecast, on a plate of the sheet's colour: lines run behind it."""
        if row.course.end is not End.RUNNING or not isinstance(row.outlook, Outlook):
            return
        x, middle = self._at(row, row.outlook.likely), top + DOWN
        said = told.likely(row, self._today)
        width = drawing.width_of(said, sans(13, 600)) + 6
        left = min(max(x - width / 2, self._space.labels + 2), self._space.verdicts - width - 2)
        plate = QRectF(left, middle + BAND + 3, width, 17)
        self._painter.fillRect(plate, self._look.sheet)
        drawing.text(self._painter, plate, said, sans(13, 600), self._look.ink, Align.AlignCenter)

    def _ended(self, row: Row, end: float, middle: float) -> None:
        said = f"{row.course.end.value} {words.day(row.course.last, self._today)}"
        font = sans(13, 600)
        width = drawing.width_of(said, font) + 8
        left = min(end + self.ring + 6, self._space.verdicts - width - 2)
        plate = QRectF(left, middle, width, BAND)
        self._painter.fillRect(plate, self._look.sheet)
        ink = self._look.clean if row.course.end is End.SETTLED else self._look.ink2
        drawing.text(self._painter, plate, said, font, ink, Align.AlignCenter)

    def looks(self, row: Row, top: float, moved: date | None) -> None:
        """The looks that were taken, with their verdict, and the next one; `moved` is where it would go."""
        middle = top + DOWN + BAND / 2
        last = self._space.labels - RING
        for judged in row.course.looks:
            x = self._space.x(judged.look.day)
            if judged.look.day >= self._space.first and x - last > self.ring:
                self._taken(judged.verdict, QPointF(x, middle))
                last = x
        together = due_together(row.looks, self._today)
        if not together:
            return
        day = moved or shown_on(together[0], self._today)
        for place in reversed(range(len(together))):
            self._due(QPointF(self._space.x(day) + BEHIND * place, middle), moved is not None)
        if moved is not None:
            self._moving(told.moving(row, moved, self._today), day, top)

    def _taken(self, verdict: Verdict, at: QPointF) -> None:
        painter, r = self._painter, self.ring
        painter.setPen(QPen(self._look.ink, 1.2))
        painter.setBrush(self._look.sheet)
        painter.drawEllipse(at, r, r)
        ink = self._look.madder if verdict is Verdict.STEP_IN else self._look.ink
        painter.strokePath(_sign(verdict, at, r), QPen(ink, 1.9, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))

    def _due(self, at: QPointF, moving: bool) -> None:
        pen = QPen(self._look.water if moving else self._look.ink, 2.2 if moving else 1.5)
        pen.setDashPattern([2, 1.6])
        self._painter.setPen(pen)
        self._painter.setBrush(self._look.sheet)
        self._painter.drawEllipse(at, self.ring, self.ring)

    def _moving(self, said: Sequence[str], day: date, top: float) -> None:
        """The tag beside a ring on its way; left of it where there is no room on the right."""
        font = sans(13, 600)
        width = max(drawing.width_of(line, font) for line in said) + 12
        away = self.ring + 4 + BEHIND
        left = self._space.x(day) + away
        if left + width > self._space.verdicts:
            left = max(self._space.labels + 2, self._space.x(day) - away - width)
        high = TAG_LINE * len(said)
        plate = QRectF(left, top + (ROW - high) / 2, min(width, self._space.verdicts - left), high)
        self._painter.fillRect(plate, self._look.water)
        for place, line in enumerate(said):
            row = QRectF(plate.left() + 6, plate.top() + TAG_LINE * place, plate.width() - 8, TAG_LINE)
            drawing.text(self._painter, row, line, font, self._look.sheet)

    @staticmethod
    def sample(painter: QPainter, look: Palette, kind: str, rect: QRectF) -> None:
        """A sample of one kind of mark, filling `rect`."""
        if kind == "potting":
            painter.fillRect(QRectF(rect.center().x() - 1.5, rect.top() - 2, 3, rect.height() + 4), look.clay)
        elif kind == "solid":
            painter.fillRect(rect, look.water)
        elif kind == "due":
            pen = QPen(look.ink, 1.5)
            pen.setDashPattern([2, 1.6])
            painter.setPen(pen)
            painter.setBrush(look.sheet)
            painter.drawEllipse(rect.center(), 7.5, 7.5)
        else:
            _boxed(painter, rect, look, kind)
            if kind == "forecast":
                painter.fillRect(rect.adjusted(10, 1, -10, -1), hatch(look.ink, 1, 3))
                painter.fillRect(QRectF(rect.center().x() - 1.5, rect.top() - 2, 3, rect.height() + 4), look.ink)


def _boxed(painter: QPainter, rect: QRectF, look: Palette, kind: str, open_end: bool = False) -> None:
    """A band with an edge: water tint, madder tint with a hatch, or the sheet with a wide hatch."""
    ground = {"running": look.water_fill, "off": look.madder_fill, "forecast": look.sheet}[kind]
    edge = {"running": look.water, "off": look.madder, "forecast": look.rule2}[kind]
    painter.fillRect(rect, ground)
    if kind != "running":
        painter.fillRect(rect, hatch(look.madder if kind == "off" else look.rule2, 1, 5 if kind == "off" else 8))
    painter.setPen(QPen(edge, 1))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    inner = rect.adjusted(0.5, 0.5, -0.5, -0.5)
    if open_end:
        painter.drawPolyline([inner.topRight(), inner.topLeft(), inner.bottomLeft(), inner.bottomRight()])
    else:
        painter.drawRect(inner)


def _sign(verdict: Verdict, at: QPointF, r: float) -> QPainterPath:
    """A tick, a question mark or a cross inside a ring."""
    path = QPainterPath()
    for row in _strokes(verdict):
        points = [QPointF(at.x() + x * r, at.y() + y * r) for x, y in row]
        path.moveTo(points[0])
        for point in points[1:]:
            path.lineTo(point)
    return path


def _strokes(verdict: Verdict) -> Iterator[tuple[tuple[float, float], ...]]:
    if verdict is Verdict.STEP_IN:
        yield (-0.36, -0.36), (0.36, 0.36)
        yield (-0.36, 0.36), (0.36, -0.36)
    elif verdict is Verdict.AGAIN:
        yield (-0.28, -0.26), (-0.16, -0.48), (0.16, -0.48), (0.28, -0.24), (0.02, 0.0), (0.0, 0.16)
        yield (0.0, 0.44), (0.0, 0.5)
    else:
        yield (-0.42, 0.02), (-0.12, 0.34), (0.42, -0.32)
