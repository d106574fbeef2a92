"""The evening plan painted: its time axis, lanes with whose they are, dusk and the end; bars by ui/bench/plan_bars."""

from __future__ import annotations

import re
from datetime import datetime, timedelta, tzinfo

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from greenhouse_desk.domain import names
from greenhouse_desk.domain.care_day import clock_words
from greenhouse_desk.ui import drawing
from greenhouse_desk.ui.bench.evening import Evening, Lane
from greenhouse_desk.ui.bench.plan_bars import BarPainter
from greenhouse_desk.ui.bench.plan_space import HEAD, LABELS, LEGEND, TOOL, TOOLS, height, lane_height, tops, x_of
from greenhouse_desk.ui.style import Palette, sans, serif

GRID_MIN = 15
WHY_LINES = 2
PART = re.compile(r"(?<=[;:,]) ")


class PlanPainter:
    """Paints one Evening, `width` pixels wide, `scale` pixels a minute, of which `seen` is in sight."""

    def __init__(self, painter: QPainter, look: Palette, zone: tzinfo, plan: Evening, width: float, scale: float,
                 seen: QRectF) -> None:
        self._painter, self._look, self._zone, self._plan = painter, look, zone, plan
        self._width, self._scale, self._scrolled = width, scale, seen.topLeft()
        self._edge = min(width, seen.right()) if seen.width() > 0 else width
        self._floor = height(plan) - LEGEND

    def paint(self, picked: int | None, focused: bool) -> None:
        """Paint everything; the lane of plant `picked` is outlined, dashed with the keyboard's focus.

        Times at the top and plants at the left stay in sight however far the chart is scrolled.
        """
        self._paint_grid()
        self._paint_lines()
        walls = [self._x(minute) for minute, *_rest in self._marks()]
        BarPainter(self._painter, self._look, self._plan, self._width, self._scale, walls).paint()
        self._painter.save()
        self._painter.translate(0, self._scrolled.y())
        self._paint_head()
        self._painter.restore()
        self._painter.translate(self._scrolled.x(), 0)
        self._paint_labels(picked, focused)

    def _x(self, minute: float) -> float:
        return x_of(minute, self._scale)

    def _paint_grid(self) -> None:
        look = self._look
        if self._plan.limit is not None and self._x(self._plan.minute_of(self._plan.limit)) < self._width:
            left = max(self._x(self._plan.minute_of(self._plan.limit)), LABELS)
            self._painter.setOpacity(0.5)
            self._painter.fillRect(QRectF(left, HEAD, self._width - left, self._floor - HEAD), look.dusk_fill)
            self._painter.setOpacity(1.0)
        for mark, minute in self._quarters():
            colour = look.rule2 if mark.minute == 0 else look.rule
            self._painter.fillRect(QRectF(self._x(minute), HEAD, 1, self._floor - HEAD), colour)
        for y in (*tops(self._plan), self._floor):
            self._painter.fillRect(QRectF(0, y, self._width, 1), look.rule2)

    def _quarters(self) -> list[tuple[datetime, float]]:
        """Every quarter of an hour on the axis, with its minute from the start."""
        local = self._plan.starts_at.astimezone(self._zone)
        first = local.replace(minute=local.minute // GRID_MIN * GRID_MIN, second=0, microsecond=0)
        count = int(self._plan.minutes // GRID_MIN) + 2
        marks = [first + timedelta(minutes=GRID_MIN * n) for n in range(count)]
        return [(mark, minute) for mark in marks if 0 <= (minute := self._plan.minute_of(mark)) < self._plan.minutes]

    def _paint_head(self) -> None:
        look = self._look
        self._painter.fillRect(QRectF(0, 0, self._width, HEAD), look.sheet)
        for y in (0.0, HEAD - 1):
            self._painter.fillRect(QRectF(0, y, self._width, 1), look.rule2)
        taken = [rect.adjusted(-4, 0, 4, 0) for rect, _words, _ground, _ink in self._flags()]
        for mark, minute in self._quarters():
            full = mark.minute == 0
            crossed = any(rect.left() < self._x(minute) + 46 and self._x(minute) < rect.right() for rect in taken)
            if crossed or self._x(minute) + 46 > self._edge:  # none is cut: scrolled on, it stands there whole
                continue
            if full or self._scale * (30 if mark.minute == 30 else GRID_MIN) > 46:
                font = sans(14, 600 if full else 400)
                drawing.text(self._painter, QRectF(self._x(minute) + 5, 0, 60, HEAD), f"{mark:%H:%M}", font, look.ink)
        self._paint_flags()

    def _paint_labels(self, picked: int | None, focused: bool) -> None:
        """What each lane is, at the left."""
        look = self._look
        self._painter.fillRect(QRectF(0, HEAD, LABELS, self._floor - HEAD), look.sheet)
        for y in (*tops(self._plan), self._floor):
            self._painter.fillRect(QRectF(0, y, LABELS, 1), look.rule2)
        self._painter.fillRect(QRectF(LABELS, 0, 1, self._floor), look.rule2)
        drawing.text(self._painter, QRectF(16, HEAD + 12, LABELS - 24, 26), "Hands", serif(19, 600), look.ink)
        drawing.text(self._painter, QRectF(16, HEAD + 38, LABELS - 24, 18), "one job at a time", sans(14), look.ink2)
        for lane, top in zip(self._plan.lanes, tops(self._plan), strict=False):
            self._paint_label(lane, top, lane.plant == picked, focused)
        if self._plan.tools:
            top = tops(self._plan)[-1]
            drawing.text(self._painter, QRectF(16, top + 6, LABELS, 24), "Tools", serif(19, 600), look.ink)
            for n, (name, _bars) in enumerate(self._plan.tools):
                row = QRectF(16, top + TOOLS - 2 + n * TOOL, LABELS - 24, 26)
                drawing.text(self._painter, row, drawing.cut(name, sans(14, 600), row.width()), sans(14, 600), look.ink)
        top = self._scrolled.y()  # what is scrolled off goes below the corner beside the times
        self._painter.fillRect(QRectF(0, top, LABELS, HEAD), look.sheet)
        for y in (top, top + HEAD - 1):
            self._painter.fillRect(QRectF(0, y, LABELS, 1), look.rule2)

    def _paint_label(self, lane: Lane, top: float, picked: bool, focused: bool) -> None:
        look = self._look
        if picked:
            self._painter.setPen(QPen(look.water, 2.5, Qt.PenStyle.DashLine if focused else Qt.PenStyle.SolidLine))
            self._painter.setBrush(Qt.BrushStyle.NoBrush)
            self._painter.drawRect(QRectF(1.5, top + 2, LABELS - 3, lane_height(lane) - 3))
        number = serif(23, 600)
        drawing.text(self._painter, QRectF(16, top + 6, 70, 28), str(lane.plant), number, look.ink)
        left = 16 + drawing.width_of(str(lane.plant), number) + 10
        drawing.marked(self._painter, QRectF(left, top + 9, LABELS - left - 6, 22), lane.standing, lane.standing, look)
        name = names.parse(lane.name)
        lines = len(drawing.name_lines(name, 15, LABELS - 24, 2))
        below = top + 38 + 18 * lines
        drawing.name_block(self._painter, QRectF(16, top + 34, LABELS - 24, 20), name, look, 15, 2, 18)
        for n, line in enumerate(reason_lines(lane.why, LABELS - 24)):
            drawing.text(self._painter, QRectF(16, below + 16 * n, LABELS - 20, 18), line, sans(13), look.ink2)

    def _marks(self) -> list[tuple[float, str, QColor, QColor]]:
        """The end and dusk: minute, words, ground and ink of the flag."""
        look, plan = self._look, self._plan
        found = [(plan.minute_of(plan.ends_at), f"end {clock_words(plan.ends_at, self._zone)}", look.ink, look.sheet)]
        if plan.limit is not None and 0 <= plan.minute_of(plan.limit) <= plan.minutes:
            ink = look.on_plate if look.dark else look.on_rail
            told = f"{plan.limit_name} {clock_words(plan.limit, self._zone)}"
            found.append((plan.minute_of(plan.limit), told, look.duskink, ink))
        return sorted(found, key=lambda mark: mark[0], reverse=True)

    def _paint_lines(self) -> None:
        """Dusk and the end run through all lanes, under the bars and words."""
        for minute, _words, ground, _ink in self._marks():
            self._painter.fillRect(QRectF(self._x(minute) - 1.2, 2, 2.4, self._floor - 2), ground)

    def _flags(self) -> list[tuple[QRectF, str, QColor, QColor]]:
        """The flags of end and dusk, kept apart and inside: place, words, ground and ink."""
        found: list[tuple[QRectF, str, QColor, QColor]] = []
        for minute, words, ground, ink in self._marks():
            x, wide = self._x(minute), drawing.width_of(words, sans(14, 600)) + 16
            rect = QRectF(x, 3, wide, 24)
            if rect.right() > self._width - 2 or any(rect.intersects(flag[0]) for flag in found):
                rect.moveRight(x)
            over = [flag[0].left() for flag in found if rect.intersects(flag[0])]
            if over:
                rect.moveRight(min(over) - 2)
            found.append((rect, words, ground, ink))
        return found

    def _paint_flags(self) -> None:
        for rect, words, ground, ink in self._flags():
            self._painter.fillRect(rect, ground)
            drawing.text(self._painter, rect.adjusted(8, 0, 0, 0), words, sans(14, 600), ink)


def reason_lines(why: str, width: float) -> list[str]:
    """Why a plant stands where it does, on two lines: the last of its parts are left off rather than cut; a press on
    the lane and the list of plants tell all of it."""
    parts = PART.split(why)
    for count in range(len(parts), 0, -1):
        told = " ".join(parts[:count]).rstrip(" ;:,")
        lines = drawing.wrapped(told, sans(13), width, WHY_LINES)
        if " ".join(lines) == told:
            break
    return lines
