"""The trace painted over time: bands are places, lines are plants, joined circles are tools, dotted is a session."""

from __future__ import annotations

from itertools import pairwise

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from greenhouse_desk.services.tracing import Join, Picture
from greenhouse_desk.ui import drawing, marks
from greenhouse_desk.ui.drawing import Align
from greenhouse_desk.ui.quarantine import trace_lanes
from greenhouse_desk.ui.quarantine.status_list import mark_of
from greenhouse_desk.ui.quarantine.trace_lanes import Geometry, lay_out
from greenhouse_desk.ui.style import Palette, hatch, sans, serif
from greenhouse_desk.ui.words import day

THREAD, WAY, NOW = 2.2, 7.0, 2.5
FLAG_ROOM = 48.0
SICK = ("infested", "under treatment", "suspect")


class TraceView(QWidget):
    """Paints one picture; `chosen(plant)` tells a press on a plant's row."""

    chosen = Signal(int)

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self._look = palette
        self.picture: Picture | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.MinimumExpanding)
        self.setAccessibleName("Trace: nothing to trace")

    def show_picture(self, picture: Picture | None) -> None:
        """Paint this picture; None where nothing was found."""
        self.picture = picture
        if picture is None:
            self.setAccessibleName("Trace: nothing to trace")
        else:
            told = ". ".join(step.words for step in picture.steps)
            self.setAccessibleName(f"Trace of {picture.name} from {picture.plant}: {told}")
            self.setMinimumHeight(int(lay_out(picture, 600).height))
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """As high as the bands need."""
        return QSize(700, int(lay_out(self.picture, 700).height) if self.picture else 240)

    def geometry_now(self) -> Geometry | None:
        """The picture laid out as it is painted."""
        return lay_out(self.picture, self.width(), self.height()) if self.picture else None

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A press on a row chooses its plant."""
        laid = self.geometry_now()
        plant = laid.at(event.position()) if laid is not None else None
        if plant is not None:
            self.chosen.emit(plant)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint bands first, then lines, then what is said on them."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), self._look.sheet)
        laid = self.geometry_now()
        if laid is not None:
            _Painting(painter, laid, self._look).all()
        painter.setPen(QPen(self._look.rule2, 1))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5))
        painter.end()


class _Painting:
    """One painting of one picture."""

    def __init__(self, painter: QPainter, laid: Geometry, look: Palette) -> None:
        self.on, self.laid, self.look, self.seen = painter, laid, look, laid.picture

    def all(self) -> None:
        """Everything, from the ground up."""
        for part in (self._bands, self._axis, self._neighbours, self._lines, self._way, self._joins, self._now,
                     self._release, self._folded, self._words, self._find):
            part()

    def _bands(self) -> None:
        for lane, band in zip(self.laid.lanes, self.seen.bands, strict=True):
            rect = QRectF(0, lane.top, self.laid.width, lane.height)
            if band.isolation:
                self.on.fillRect(rect, self.look.bench)
            self.on.fillRect(QRectF(0, lane.top, self.laid.width, 1), self.look.rule2)
            if band.plants:
                drawing.text_block(self.on, QRectF(14, lane.top + 8, trace_lanes.NAME - 18, lane.height), band.name,
                                   serif(17, 600), self.look.ink, 2)

    def _folded(self) -> None:
        """How many more are exposed in a band, on the band's own ground where lines cross."""
        for lane, band in zip(self.laid.lanes, self.seen.bands, strict=True):
            if lane.folded is not None:
                words = f"{band.folded} more exposed here, no find" if band.plants else (
                    f"{band.name}: {band.folded} exposed, no find")
                left = self.laid.x(self.seen.today) + 12 if band.plants else 14
                rect = QRectF(left, lane.folded, drawing.width_of(words, sans(13)) + 2, 22)
                self.on.fillRect(rect.adjusted(-4, 2, 4, -2), self.look.bench if band.isolation else self.look.sheet)
                drawing.text(self.on, rect, words, sans(13), self.look.ink2)

    def _axis(self) -> None:
        bottom = self.laid.height - trace_lanes.FLAG
        for when in trace_lanes.dates(self.seen, self.laid.width):
            x = self.laid.x(when)
            self.on.fillRect(QRectF(x, trace_lanes.HEAD, 1, bottom - trace_lanes.HEAD), self.look.rule)
            if abs(x - self.laid.x(self.seen.today)) > FLAG_ROOM:
                drawing.text(self.on, QRectF(x - 36, 2, 72, trace_lanes.HEAD - 4), day(when, self.seen.today), sans(13),
                             self.look.ink2, Align.AlignCenter)
        self.on.fillRect(QRectF(0, bottom, self.laid.width, 1), self.look.rule2)

    def _neighbours(self) -> None:
        self.on.setPen(QPen(self.look.madder, 1))
        for rect in trace_lanes.hatched(self.laid):
            y = rect.top()
            while y <= rect.bottom():
                self.on.drawLine(QPointF(rect.left(), y), QPointF(rect.right(), y))
                y += 5

    def _ink(self, plant: int) -> QColor:
        sick = plant in self.seen.seen or self.seen.words.get(plant) in SICK
        return self.look.madder if sick else self.look.ink

    def _lines(self) -> None:
        before: dict[int, QPointF] = {}
        for run in sorted(self.seen.runs, key=lambda run: (run.plant, run.start)):
            y = self.laid.row(run)
            if y is None:
                continue
            self.on.setPen(QPen(self._ink(run.plant), THREAD))
            start, end = QPointF(self.laid.x(run.start), y), QPointF(self.laid.x(run.end), y)
            if run.plant in before:
                self.on.drawLine(before[run.plant], start)
            self.on.drawLine(start, end)
            before[run.plant] = end
        for row in self.laid.rows:
            drawing.text(self.on, QRectF(trace_lanes.NAME + 2, row.y - 14, trace_lanes.NUMBER - 8, 28), str(row.plant),
                         serif(18, 600), self.look.ink, Align.AlignRight | Align.AlignVCenter)

    def _way(self) -> None:
        points = self.laid.way()
        if len(points) < 2:
            return
        pen = QPen(self.look.madder, WAY)
        pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
        self.on.setPen(pen)
        self.on.setBrush(Qt.BrushStyle.NoBrush)
        self.on.drawPolyline(QPolygonF(points))
        for start, end in pairwise(points):
            if abs(end.x() - start.x()) > 40:
                self._arrow(QPointF((start.x() + end.x()) / 2, start.y()))

    def _arrow(self, at: QPointF) -> None:
        """A small head on the way, pointing back in time."""
        self.on.setPen(QPen(self.look.sheet, 1.8))
        self.on.drawPolyline(QPolygonF([at + QPointF(4, -4), at + QPointF(-2, 0), at + QPointF(4, 4)]))

    def _joins(self) -> None:
        for join in self.seen.joins:
            ys = sorted(y for y in (self.laid.y(plant, join.day) for plant in join.plants) if y is not None)
            if ys:
                self._join(join, self.laid.x(join.day), ys)

    def _join(self, join: Join, x: float, ys: list[float]) -> None:
        pen = QPen(self.look.ink, THREAD)
        if not join.tool:
            pen.setStyle(Qt.PenStyle.DotLine)
        self.on.setPen(pen)
        self.on.drawLine(QPointF(x, ys[0]), QPointF(x, ys[-1]))
        self.on.setPen(QPen(self.look.ink, 2))
        self.on.setBrush(self.look.sheet)
        for y in ys:
            self.on.drawEllipse(QPointF(x, y), 5.5, 5.5)
        more = f", {join.more} more" if join.more else ""
        self._said(QPointF(x + 10, (ys[-2] + ys[-1]) / 2 if len(ys) > 1 else ys[0] + 14),
                   f"{join.words}, {day(join.day, self.seen.today)}{more}")

    def _said(self, at: QPointF, words: str) -> None:
        """Words on a plate of the sheet's colour, where lines cross; kept inside the picture."""
        width = drawing.width_of(words, sans(13, 600)) + 14
        x = min(at.x(), self.laid.width - width - 6)
        rect = QRectF(x, at.y() - 11, width, 22)
        self.on.setPen(QPen(self.look.rule2, 1))
        self.on.setBrush(self.look.sheet)
        self.on.drawRect(rect)
        drawing.text(self.on, rect, words, sans(13, 600), self.look.ink, Align.AlignCenter)

    def _now(self) -> None:
        x, bottom = self.laid.x(self.seen.today), self.laid.height - trace_lanes.FLAG
        self.on.fillRect(QRectF(x - NOW / 2, trace_lanes.HEAD - 4, NOW, bottom - trace_lanes.HEAD + 4), self.look.ink)
        self._flag(x, "now", self.look.ink, top=True)

    def _release(self) -> None:
        if self.seen.release is None:
            return
        x = self.laid.x(self.seen.release)
        self.on.setPen(QPen(self.look.clean, 2, Qt.PenStyle.DashLine))
        bottom = self.laid.height - trace_lanes.FLAG
        self.on.drawLine(QPointF(x, trace_lanes.HEAD), QPointF(x, bottom))
        self._flag(x, f"{self.seen.plant} not before {day(self.seen.release, self.seen.today)}", self.look.clean,
                   top=False)

    def _flag(self, x: float, words: str, ground: QColor, top: bool) -> None:
        width = drawing.width_of(words, sans(13, 600)) + 18
        left = min(max(4.0, x - width / 2), self.laid.width - width - 4)
        y = 2.0 if top else self.laid.height - trace_lanes.FLAG + 1
        rect = QRectF(left, y, width, trace_lanes.FLAG - 2)
        self.on.fillRect(rect, ground)
        drawing.text(self.on, rect, words, sans(13, 600), self.look.sheet, Align.AlignCenter)

    def _words(self) -> None:
        """Right of now: the plant's number and how it stands, on the row where it stands."""
        x = self.laid.x(self.seen.today) + 8
        for plant, word in self.seen.words.items():
            y = self.laid.y_now(plant)
            if y is None:
                continue
            end = self.laid.width - 6
            self.on.setPen(QPen(self._ink(plant), 1.6, Qt.PenStyle.DotLine))
            self.on.drawLine(QPointF(x, y), QPointF(end, y))
            number, mark = str(plant), mark_of(word)
            wide = drawing.width_of(number, serif(19, 600)) + drawing.width_of(word, sans(14, 600)) + 34
            self.on.fillRect(QRectF(x, y - 13, wide, 26), self.look.sheet)
            drawing.text(self.on, QRectF(x + 4, y - 14, 60, 28), number, serif(19, 600), self.look.ink)
            left = x + 10 + drawing.width_of(number, serif(19, 600))
            drawing.marked(self.on, QRectF(left, y - 10, wide, 20), mark, word, self.look,
                           ink=self.look.ink if mark == "step" else marks.colour(mark, self.look))

    def _find(self) -> None:
        """Where it was found: a triangle, and the numbers of the steps back."""
        for plant, seen in self.seen.seen.items():
            y = self.laid.y(plant, seen)
            if y is not None:
                size = 26.0 if plant == self.seen.plant else 18.0
                marks.paint(self.on, "infested", QRectF(self.laid.x(seen) - size / 2, y - size / 2 - 2, size, size),
                            self.look)
        for step in self.seen.steps:
            y = self.laid.y(step.plant, step.day)
            if y is not None:
                self._numbered(QPointF(self.laid.x(step.day) - (30 if step.contact else 0), y - 24), step.nth)

    def _numbered(self, at: QPointF, nth: int) -> None:
        rect = QRectF(at.x() - 10, at.y() - 9, 20, 19)
        self.on.fillRect(rect, self.look.madder)
        drawing.text(self.on, rect, str(nth), sans(13, 700), self.look.sheet, Align.AlignCenter)


def legend_line(painter: QPainter, rect: QRectF, kind: str, look: Palette) -> None:
    """A sample of how a link is drawn: "place", "tool" or "session"."""
    y = rect.center().y()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    if kind == "place":
        painter.fillRect(QRectF(rect.left(), y - 7, rect.width(), 14), hatch(look.madder, 1, 4))
        return
    painter.setPen(QPen(look.ink, THREAD, Qt.PenStyle.SolidLine if kind == "tool" else Qt.PenStyle.DotLine))
    painter.drawLine(QPointF(rect.left(), y), QPointF(rect.right(), y))
    painter.setPen(QPen(look.ink, 2))
    painter.setBrush(look.sheet)
    painter.drawEllipse(QPointF(rect.center().x(), y), 5, 5)
