"""The evening plan painted: a lane for the hands, one for each plant's soaks, one for each tool; dusk, and the end."""

from __future__ import annotations

from datetime import datetime, timedelta, tzinfo

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from greenhouse_desk.domain import names
from greenhouse_desk.ui import drawing
from greenhouse_desk.ui.bench.evening import Evening, Hands, Lane, SoakBar
from greenhouse_desk.ui.style import Palette, hatch, sans, serif

LABELS, HEAD, HANDS, LANE, ROW, TOOLS, TOOL, LEGEND, RIGHT = 206.0, 36.0, 92.0, 88.0, 60.0, 34.0, 34.0, 40.0, 14.0
GRID_MIN = 15


def lane_height(lane: Lane) -> float:
    """How high a plant's lane is: one row more for soaks that run beside each other."""
    return LANE + ROW * max(lane.rows, default=0)


def tops(plan: Evening) -> tuple[float, ...]:
    """Where each plant's lane begins, and last where they end."""
    found = [HEAD + HANDS]
    for lane in plan.lanes:
        found.append(found[-1] + lane_height(lane))
    return tuple(found)


def height(plan: Evening) -> float:
    """How high the whole chart is, legend included."""
    return tops(plan)[-1] + (TOOLS + len(plan.tools) * TOOL if plan.tools else 0.0) + LEGEND


class PlanPainter:
    """Paints one Evening, `width` pixels wide, `scale` pixels a minute."""

    def __init__(self, painter: QPainter, look: Palette, zone: tzinfo, plan: Evening, width: float, scale: float,
                 scrolled: QPointF) -> None:
        self._painter, self._look, self._zone, self._plan = painter, look, zone, plan
        self._width, self._scale, self._scrolled = width, scale, scrolled
        self._floor = height(plan) - LEGEND

    def paint(self, picked: int | None, focused: bool) -> None:
        """Paint everything; the lane of plant `picked` is outlined, dashed with the keyboard's focus.

        Times at the top and plants at the left stay in sight however far the chart is scrolled.
        """
        self._paint_grid()
        self._paint_lines()
        self._paint_bars()
        lanes = list(zip(self._plan.lanes, tops(self._plan), strict=False))
        for lane, top in lanes:
            for soak, row in zip(lane.soaks, lane.rows, strict=True):
                self._paint_lead(self._x(soak.start), top + row * ROW)
        for lane, top in lanes:
            self._paint_soaks(lane, top)
        self._paint_tools()
        self._paint_legend()
        self._painter.save()
        self._painter.translate(0, self._scrolled.y())
        self._paint_head()
        self._painter.restore()
        self._painter.translate(self._scrolled.x(), 0)
        self._paint_labels(picked, focused)

    def _x(self, minute: float) -> float:
        return LABELS + minute * self._scale

    def _time(self, moment: datetime) -> str:
        return f"{moment.astimezone(self._zone):%H:%M}"

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
            if any(rect.left() < self._x(minute) + 46 and self._x(minute) < rect.right() for rect in taken):
                continue
            if full or self._scale * (30 if mark.minute == 30 else GRID_MIN) > 46:
                font = sans(14, 600 if full else 400)
                drawing.text(self._painter, QRectF(self._x(minute) + 5, 0, 60, HEAD), f"{mark:%H:%M}", font, look.ink)
        self._paint_flags()

    def _paint_labels(self, picked: int | None, focused: bool) -> None:
        """What each lane is, at the left."""
        look = self._look
        self._painter.fillRect(QRectF(0, HEAD, LABELS, self._floor - HEAD), look.sheet)
        self._painter.fillRect(QRectF(0, self._scrolled.y(), LABELS, HEAD), look.sheet)
        for y in (self._scrolled.y(), self._scrolled.y() + HEAD - 1, *tops(self._plan), self._floor):
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
                drawing.text(self._painter, row, name, sans(14, 600), look.ink)

    def _paint_bars(self) -> None:
        look = self._look
        for bar in self._plan.hands:
            self._paint_bar(bar)
        for start, end in self._plan.free:
            rect = QRectF(self._x(start), HEAD + HANDS - 23, self._x(end) - self._x(start), 18)
            words = f"{end - start:.0f} min free"
            if drawing.width_of(words, sans(13)) < rect.width():
                self._painter.fillRect(QRectF(rect.left() + 2, rect.top() - 2, rect.width() - 4, 2), look.rule2)
                drawing.text(self._painter, rect.adjusted(3, 2, 0, 2), words, sans(13), look.ink)

    def _paint_bar(self, bar: Hands) -> None:
        """A stretch of work: its plant's number where it fits, below it as many of its deeds as fit."""
        rect = QRectF(self._x(bar.start), HEAD + 10, max(self._x(bar.end) - self._x(bar.start) - 1.5, 1.5), 54)
        self._painter.fillRect(rect, self._look.rail)
        who, room = str(bar.plant) if bar.plant is not None else "bench", rect.width() - 10
        font = serif(17, 600) if bar.plant is not None else sans(14, 600)
        if drawing.width_of(who, font) <= room + 4:
            drawing.text(self._painter, rect.adjusted(6, 4, 0, -26), who, font, self._look.on_rail)
        words = [", ".join(bar.deeds[:n]) for n in range(len(bar.deeds), 0, -1)]
        fits = next((text for text in words if drawing.width_of(text, sans(13)) <= room), "")
        if fits:
            drawing.text(self._painter, rect.adjusted(6, 28, 0, -4), fits, sans(13), self._look.on_rail)

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
        name = QRectF(16, top + 36, LABELS - 24, 20)
        drawing.name_block(self._painter, name, names.parse(lane.name), look, 15, 1, 20)
        rows = 1 + 3 * max(lane.rows, default=0)
        drawing.text_block(self._painter, QRectF(16, top + 58, LABELS - 24, 20), lane.why, sans(13), look.ink2, rows)

    def _paint_soaks(self, lane: Lane, top: float) -> None:
        for soak, row in zip(lane.soaks, lane.rows, strict=True):
            self._paint_soak(soak, top + row * ROW)
        if not lane.soaks:
            empty = QRectF(LABELS + 14, top, 300, LANE)
            drawing.text(self._painter, empty, "no soak on this plant", sans(13), self._look.ink2)

    def _paint_soak(self, soak: SoakBar, top: float) -> None:
        look, start, least, most = self._look, self._x(soak.start), self._x(soak.least), self._x(soak.most)
        bar = QRectF(start, top + 16, most - start, 30)
        self._painter.fillRect(bar, look.sheet)
        done = QRectF(start, bar.top(), least - start, bar.height())
        self._painter.fillRect(done, look.water_fill)
        self._painter.fillRect(done, hatch(look.water, 1, 6))
        self._painter.setPen(QPen(look.water, 1.2))
        self._painter.setBrush(Qt.BrushStyle.NoBrush)
        self._painter.drawRect(bar)
        self._painter.fillRect(QRectF(least - 1.2, bar.top() - 5, 2.4, bar.height() + 10), look.water)
        self._painter.fillRect(QRectF(most - 2.5, bar.top() - 3, 5, bar.height() + 6), look.madder)
        free, font = most - least - 8, sans(13, 600)
        if drawing.width_of("may end", font) <= free:
            drawing.text(self._painter, QRectF(least + 6, bar.top(), free, bar.height()), "may end", font, look.water)
        self._paint_plated(soak.words, start, top + 54)

    def _paint_plated(self, words: str, left: float, top: float) -> None:
        font = sans(13)
        wide = drawing.width_of(words, font) + 8
        left = min(left, self._width - wide - 4)
        self._painter.fillRect(QRectF(left, top, wide, 20), self._look.sheet)
        drawing.text(self._painter, QRectF(left + 4, top, wide, 20), words, font, self._look.ink)

    def _paint_lead(self, x: float, top: float) -> None:
        """From the hands that start a soak down to it."""
        self._painter.setPen(QPen(self._look.ink2, 1.2, Qt.PenStyle.DotLine))
        self._painter.drawLine(QPointF(x, HEAD + 66), QPointF(x, top + 10))
        self._painter.setPen(Qt.PenStyle.NoPen)
        self._painter.setBrush(self._look.ink2)
        self._painter.drawPolygon(QPolygonF([QPointF(x - 4, top + 9), QPointF(x + 4, top + 9), QPointF(x, top + 16)]))

    def _paint_tools(self) -> None:
        look, top = self._look, tops(self._plan)[-1]
        for n, (_name, bars) in enumerate(self._plan.tools):
            for bar in bars:
                rect = QRectF(self._x(bar.start), top + TOOLS - 2 + n * TOOL,
                              max(self._x(bar.end) - self._x(bar.start), 2), 26)
                self._painter.fillRect(rect, look.water_fill if bar.soaking else look.rail)
                if bar.soaking:
                    self._painter.fillRect(rect, hatch(look.water, 1, 6))
                word, ink = ("soaking", look.ink) if bar.soaking else ("in use", look.on_rail)
                if drawing.width_of(word, sans(13, 600)) + 12 < rect.width():
                    self._paint_word(word, rect, ink, look.water_fill if bar.soaking else None)

    def _paint_word(self, word: str, rect: QRectF, ink: QColor, ground: QColor | None) -> None:
        if ground is not None:
            wide = drawing.width_of(word, sans(13, 600)) + 8
            self._painter.fillRect(QRectF(rect.left() + 4, rect.top() + 3, wide, 20), ground)
        drawing.text(self._painter, rect.adjusted(8, 0, 0, 0), word, sans(13, 600), ink)

    def _marks(self) -> list[tuple[float, str, QColor, QColor]]:
        """The end and dusk: minute, words, ground and ink of the flag."""
        look, plan = self._look, self._plan
        found = [(plan.minute_of(plan.ends_at), f"end {self._time(plan.ends_at)}", look.ink, look.sheet)]
        if plan.limit is not None and 0 <= plan.minute_of(plan.limit) <= plan.minutes:
            ink = look.on_plate if look.dark else look.on_rail
            found.append((plan.minute_of(plan.limit), f"{plan.limit_name} {self._time(plan.limit)}", look.duskink, ink))
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
            found.append((rect, words, ground, ink))
        return found

    def _paint_flags(self) -> None:
        for rect, words, ground, ink in self._flags():
            self._painter.fillRect(rect, ground)
            drawing.text(self._painter, rect.adjusted(8, 0, 0, 0), words, sans(14, 600), ink)

    def _paint_legend(self) -> None:
        look, x, y = self._look, LABELS, self._floor + 12
        for kind, words in (("least", "soak to its least"), ("may", "may end"), ("most", "end by now at the latest"),
                            ("hands", "hands busy")):
            box = QRectF(x, y, 26, 16) if kind != "most" else QRectF(x + 8, y, 5, 16)
            ground = {"least": look.water_fill, "may": look.sheet, "most": look.madder}.get(kind, look.rail)
            self._painter.fillRect(box, ground)
            if kind == "least":
                self._painter.fillRect(box, hatch(look.water, 1, 6))
            if kind in ("least", "may"):
                self._painter.setPen(QPen(look.water, 1.2))
                self._painter.setBrush(Qt.BrushStyle.NoBrush)
                self._painter.drawRect(box)
            drawing.text(self._painter, QRectF(x + 34, y - 3, 200, 22), words, sans(13), look.ink)
            x += 34 + drawing.width_of(words, sans(13)) + 26
