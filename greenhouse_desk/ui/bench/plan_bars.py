"""What lies on the plan's time axis, painted: the hands' work, plants' soaks with their words, tools, the key below."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen, QPolygonF

from greenhouse_desk.ui import drawing
from greenhouse_desk.ui.bench.evening import Evening, Hands, Lane, SoakBar
from greenhouse_desk.ui.bench.plan_space import (
    BAR,
    FIRST,
    HEAD,
    LABELS,
    LANE,
    LEGEND,
    ROW,
    TOOL,
    TOOLS,
    height,
    tops,
    x_of,
)
from greenhouse_desk.ui.bench.plan_words import beside, spread
from greenhouse_desk.ui.style import Palette, hatch, sans, serif

WORDS = 13


class BarPainter:
    """Paints the bars of one Evening, `width` pixels wide, `scale` pixels a minute; words keep clear of `walls` (x)."""

    def __init__(self, painter: QPainter, look: Palette, plan: Evening, width: float, scale: float,
                 walls: Sequence[float]) -> None:
        self._painter, self._look, self._plan = painter, look, plan
        self._width, self._scale, self._walls = width, scale, walls

    def x(self, minute: float) -> float:
        """Where a minute lies."""
        return x_of(minute, self._scale)

    def paint(self) -> None:
        """Everything, the hands first and what they start under its lead."""
        narrow = [bar for bar in self._plan.hands if not self._paint_work(bar) and bar.plant is not None]
        lanes = list(zip(self._plan.lanes, tops(self._plan), strict=False))
        for lane, top in lanes:
            for soak, row in zip(lane.soaks, lane.rows, strict=True):
                self._paint_lead(self.x(soak.start), top + FIRST + row * ROW)
        self._paint_numbers(narrow)
        self._paint_free()
        for lane, top in lanes:
            self._paint_soaks(lane, top + FIRST)
        self._paint_tools()
        self._paint_key()

    def _paint_free(self) -> None:
        for start, end in self._plan.free:
            rect = QRectF(self.x(start), HEAD + 30, self.x(end) - self.x(start), 18)
            words = f"{end - start:.0f} min free"
            if drawing.width_of(words, sans(WORDS)) + 6 < rect.width():
                drawing.text(self._painter, rect, words, sans(WORDS), self._look.ink, Qt.AlignmentFlag.AlignCenter)

    def _paint_work(self, bar: Hands) -> bool:
        """A stretch of work: its plant's number, below it as many deeds as fit; False where no number fitted."""
        rect = QRectF(self.x(bar.start), HEAD + 10, max(self.x(bar.end) - self.x(bar.start) - 1.5, 1.5), 54)
        self._painter.fillRect(rect, self._look.rail)
        who, room = str(bar.plant) if bar.plant is not None else "bench", rect.width() - 10
        font = serif(17, 600) if bar.plant is not None else sans(14, 600)
        words = [", ".join(bar.deeds[:n]) for n in range(len(bar.deeds), 0, -1)]
        fits = next((text for text in words if drawing.width_of(text, sans(WORDS)) <= room), "")
        if fits:
            drawing.text(self._painter, rect.adjusted(6, 28, 0, -4), fits, sans(WORDS), self._look.on_rail)
        if drawing.width_of(who, font) > room + 4:
            return False
        drawing.text(self._painter, rect.adjusted(6, 4, 0, -26), who, font, self._look.on_rail)
        return True

    def _paint_numbers(self, bars: Sequence[Hands]) -> None:
        """The plants of work too short to hold a number, below it, as many as stand clear of each other."""
        font = serif(14, 600)
        middles = [self.x((bar.start + bar.end) / 2) for bar in bars]
        widths = [drawing.width_of(str(bar.plant), font) for bar in bars]
        for bar, middle, wide, fits in zip(bars, middles, widths, spread(middles, widths), strict=True):
            if fits:
                rect = QRectF(middle - wide / 2, HEAD + 68, wide + 2, 18)
                self._painter.fillRect(rect, self._look.sheet)
                self._painter.fillRect(QRectF(middle - 0.75, HEAD + 64, 1.5, 6), self._look.ink2)
                drawing.text(self._painter, rect, str(bar.plant), font, self._look.ink)

    def _paint_lead(self, x: float, top: float) -> None:
        """From the hands that start a soak down to it."""
        self._painter.setPen(QPen(self._look.ink2, 1.2, Qt.PenStyle.DotLine))
        self._painter.drawLine(QPointF(x, HEAD + 66), QPointF(x, top - 4))
        self._painter.setPen(Qt.PenStyle.NoPen)
        self._painter.setBrush(self._look.ink2)
        self._painter.drawPolygon(QPolygonF([QPointF(x - 4, top - 6), QPointF(x + 4, top - 6), QPointF(x, top)]))

    def _paint_soaks(self, lane: Lane, top: float) -> None:
        taken: dict[int, float] = {}
        for n, (soak, row) in enumerate(zip(lane.soaks, lane.rows, strict=True)):
            after = [self.x(other.start) for other, its in zip(lane.soaks[n + 1:], lane.rows[n + 1:], strict=True)
                     if its == row]
            room = (taken.get(row, LABELS + 4), min(after, default=self._width - 4))
            taken[row] = self._paint_soak(soak, top + row * ROW, room)
        if not lane.soaks:
            empty = QRectF(LABELS + 14, top - FIRST, 300, LANE)
            drawing.text(self._painter, empty, "no soak on this plant", sans(WORDS), self._look.ink2)

    def _paint_soak(self, soak: SoakBar, top: float, room: tuple[float, float]) -> float:
        """A soak with its words; returns the x from which the row is free again."""
        look, start, least, most = self._look, self.x(soak.start), self.x(soak.least), self.x(soak.most)
        bar = QRectF(start, top, most - start, BAR)
        self._painter.fillRect(bar, look.sheet)
        self._paint_hatched(QRectF(start, top, least - start, BAR))
        self._painter.setPen(QPen(look.water, 1.2))
        self._painter.setBrush(Qt.BrushStyle.NoBrush)
        self._painter.drawRect(bar)
        self._painter.fillRect(QRectF(least - 1.2, top - 4, 2.4, BAR + 8), look.water)
        self._painter.fillRect(QRectF(most - 2.5, top - 3, 5, BAR + 6), look.madder)
        free, font = most - least - 8, sans(WORDS, 600)
        if drawing.width_of("may end", font) <= free:
            drawing.text(self._painter, QRectF(least + 6, top, free, BAR), "may end", font, look.water)
        return max(most, self._paint_words(soak, top, (start, most), room)) + 4

    def _paint_words(self, soak: SoakBar, top: float, bar: tuple[float, float], room: tuple[float, float]) -> float:
        """As much of a soak's words as stands whole beside its bar, across a line only where none would otherwise;
        returns where they end."""
        for words, walls in ((words, walls) for walls in (self._walls, ()) for words in soak.ways):
            wide = drawing.width_of(words, sans(WORDS)) + 8
            spot = beside(*bar, wide, walls, room)
            if spot.width >= wide:
                place = QRectF(spot.left, top + 3, spot.width, BAR - 6)
                self._painter.fillRect(place, self._look.sheet)
                drawing.text(self._painter, place.adjusted(4, 0, 0, 0), words, sans(WORDS), self._look.ink)
                return place.right()
        return bar[1]

    def _paint_hatched(self, rect: QRectF) -> None:
        self._painter.fillRect(rect, self._look.water_fill)
        self._painter.fillRect(rect, hatch(self._look.water, 1, 6))

    def _paint_tools(self) -> None:
        look, top = self._look, tops(self._plan)[-1] + TOOLS - 2
        for n, (_name, bars) in enumerate(self._plan.tools):
            for bar in bars:
                rect = QRectF(self.x(bar.start), top + n * TOOL, max(self.x(bar.end) - self.x(bar.start), 2), BAR)
                if bar.soaking:
                    self._paint_hatched(rect)
                else:
                    self._painter.fillRect(rect, look.rail)
                word, ink = ("soaking", look.ink) if bar.soaking else ("in use", look.on_rail)
                if drawing.width_of(word, sans(WORDS, 600)) + 12 < rect.width():
                    self._paint_word(word, rect, ink, look.water_fill if bar.soaking else None)

    def _paint_word(self, word: str, rect: QRectF, ink: QColor, ground: QColor | None) -> None:
        if ground is not None:
            wide = drawing.width_of(word, sans(WORDS, 600)) + 8
            self._painter.fillRect(QRectF(rect.left() + 4, rect.top() + 3, wide, 20), ground)
        drawing.text(self._painter, rect.adjusted(8, 0, 0, 0), word, sans(WORDS, 600), ink)

    def _paint_key(self) -> None:
        """What the bars mean, once, below them."""
        look, x, y = self._look, LABELS, height(self._plan) - LEGEND + 12
        for kind, words in (("least", "soak to its least"), ("may", "may end"), ("most", "end by now at the latest"),
                            ("hands", "hands busy")):
            box = QRectF(x, y, 26, 16) if kind != "most" else QRectF(x + 8, y, 5, 16)
            if kind == "least":
                self._paint_hatched(box)
            else:
                self._painter.fillRect(box, {"may": look.sheet, "most": look.madder}.get(kind, look.rail))
            if kind in ("least", "may"):
                self._painter.setPen(QPen(look.water, 1.2))
                self._painter.setBrush(Qt.BrushStyle.NoBrush)
                self._painter.drawRect(box)
            drawing.text(self._painter, QRectF(x + 34, y - 3, 200, 22), words, sans(WORDS), look.ink)
            x += 34 + drawing.width_of(words, sans(WORDS)) + 26
