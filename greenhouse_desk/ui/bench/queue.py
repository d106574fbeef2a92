"""The queue of plants, cleanest first, and the tool to take up now: the only amber on the screen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPaintEvent

from greenhouse_desk.domain.bench import QueueRow, ToolPanel
from greenhouse_desk.domain.bench_order import PEST_RANKS
from greenhouse_desk.ui import marks, style
from greenhouse_desk.ui.bench.lettering import Lines, draw, draw_line, fitted, sans, serif
from greenhouse_desk.ui.bench.pane import Pane


class ToolView(Pane[ToolPanel]):
    """Which tool to take up, what is in it, and what stays where it is."""

    def words(self, value: ToolPanel) -> tuple[str, str]:
        return f"{value.title}: {value.tool}", "; ".join(part for part in (value.detail, value.keep) if part)

    def paintEvent(self, event: QPaintEvent) -> None:
        tool = self.value
        if tool is None:
            return
        painter, ink = self.painter(self.look.due_fill), self.look.on_plate
        left, y = self.u(16), self.u(10)
        for lines in self.lines(tool):
            y = draw(painter, lines, left, y, ink) + self.u(2)
        painter.end()

    def lines(self, tool: ToolPanel) -> tuple[Lines, ...]:
        """All there is to say, as large as it fits: fewer lines below the tool's name let them be larger."""
        wide = self.width() - self.u(32)
        large, least = (self.px(26), self.px(20)) if not (tool.detail and tool.keep) else (self.px(20), self.px(17))
        told = tuple(fitted(text, sans(weight), wide, (large, least, self.px(16)), most)
                     for text, weight, most in ((tool.detail, 400, 1 if tool.keep else 2), (tool.keep, 600, 2)) if text)
        return (fitted(tool.title, sans(600), wide, (self.px(20),) * 3, 1),
                fitted(tool.tool, serif(600), wide, (self.px(38), self.px(26), self.px(22)), 1), *told)


CLEAR = "clear"


@dataclass(frozen=True)
class Rows:
    """The part of the queue that fits: its rows, and how many stand above and below them."""

    rows: tuple[QueueRow, ...]
    above: int
    below: int


def window(rows: tuple[QueueRow, ...], fit: int) -> Rows:
    """At most `fit` rows around the plant in hand, the one before it shown, so that one sees where one comes from."""
    current = next((n for n, row in enumerate(rows) if row.current), 0)
    first = max(0, min(current - 1, len(rows) - fit))
    shown = rows[first:first + fit]
    return Rows(shown, first, len(rows) - first - len(shown))


def in_order(rows: Sequence[QueueRow]) -> str:
    """Whether the queue goes by the rule or as the grower set it."""
    ranks = [PEST_RANKS.get(row.standing, 0) for row in rows]
    return "cleanest first" if ranks == sorted(ranks) else "in your own order"


class QueueView(Pane[tuple[QueueRow, ...]]):
    """The queue: number, status by shape and word, what comes next; the plant in hand on a plate pointing left."""

    def words(self, value: tuple[QueueRow, ...]) -> tuple[str, str]:
        said = [f"{row.plant} {row.standing}{', ' if row.still else ''}{row.still}"
                f"{', now' if row.current else ', done' if row.done else ''}: {row.words}" for row in value]
        return f"Queue, {in_order(value)}", "; ".join(said)

    def paintEvent(self, event: QPaintEvent) -> None:
        rows = self.value
        if rows is None:
            return
        painter = self.painter()
        notch = self.u(8)
        head = QRectF(notch, 0, self.width() - notch, self.u(34))
        wide = draw_line(painter, "Queue", style.serif(self.px(27), 600), self.look.ink, head)
        draw_line(painter, in_order(rows), style.sans(self.px(20)), self.look.ink2,
                  head.adjusted(wide + self.u(12), 0, 0, 0), right=True)
        self._paint_rows(painter, rows, head.bottom() + self.u(2))
        painter.end()

    def _paint_rows(self, painter: QPainter, rows: tuple[QueueRow, ...], top: float) -> None:
        shown = self._shown(rows, self.height() - top)
        if shown.above:
            top = self._paint_more(painter, f"{shown.above} before", top)
        for row in shown.rows:
            high = self._height(row)
            self._paint_row(painter, row, QRectF(0, top, self.width(), high))
            top += high
        if shown.below:
            self._paint_more(painter, f"{shown.below} more after these", top)

    def _height(self, row: QueueRow) -> float:
        return self.sizes.row_with_words if row.current and self.sizes.sub_lines else self.sizes.row

    def _shown(self, rows: tuple[QueueRow, ...], room: float) -> Rows:
        extra = sum(self._height(row) - self.sizes.row for row in rows)
        fit = max(1, int((room - extra) // self.sizes.row))
        if fit >= len(rows):
            return Rows(rows, 0, 0)
        for counted in (1, 2):  # lines that count what is not shown: one where it all stands on one side
            shown = window(rows, max(1, int((room - extra - counted * self.u(28)) // self.sizes.row)))
            if not (shown.above and shown.below):
                break
        return shown

    def _paint_more(self, painter: QPainter, text: str, top: float) -> float:
        row = QRectF(self.u(16), top, self.width() - self.u(16), self.u(28))
        draw_line(painter, text, style.sans(self.px(20)), self.look.ink2, row)
        return row.bottom()

    def _paint_row(self, painter: QPainter, row: QueueRow, rect: QRectF) -> None:
        ink, state = self.look.ink, "due" if open_only(row) else marks.COLOUR.get(row.standing, "ink")
        tone = self.look.named(state)
        if row.current:
            painter.fillPath(pointer(rect.adjusted(0, 1, 0, -1), self.u(8)), self.look.plate)
            ink, tone = self.look.on_plate, self.look.on_plate_ink(state)
        elif row.done:
            ink = tone = self.look.ink2
        line = QRectF(rect.left() + self.u(18), rect.top(), rect.width() - self.u(24), self.sizes.row)
        draw_line(painter, str(row.plant), style.serif(self.sizes.row_number, 600), ink, line)
        self._paint_standing(painter, row, line, tone)
        if row.current and self.sizes.sub_lines:
            sub = QRectF(line.left(), line.bottom() - self.u(3), line.width(), rect.bottom() - line.bottom())
            lines = fitted(row.words, sans(600), sub.width(), (self.px(23), self.px(18), self.px(18)), 1)
            draw(painter, lines, sub.left(), sub.top(), ink)
        if not row.current:
            painter.fillRect(QRectF(rect.left() + self.u(8), rect.bottom() - 1, rect.width(), 1), self.look.rule)

    def _paint_standing(self, painter: QPainter, row: QueueRow, line: QRectF, tone: QColor) -> None:
        left = line.left() + self.u(104)
        size = self.u(24)
        name = "look again" if open_only(row) else "answer" if row.done else row.standing
        if name in marks.COLOUR:
            marks.paint(painter, name, QRectF(left, line.center().y() - size / 2, size, size), self.look, tone)
        left += size + self.u(12)
        words = fitted(standing_words(row), sans(600), line.right() - left, (self.px(27), self.px(20), self.px(20)),
                       2 if row.still else 1)
        draw(painter, words, left, line.center().y() - words.height / 2, tone)


def open_only(row: QueueRow) -> bool:
    """Whether something stands open on a clear plant; one that may carry something keeps its own mark and colour."""
    return bool(row.still) and row.standing == CLEAR


def standing_words(row: QueueRow) -> str:
    """The word beside the number: what stands open on the plant, behind what it may carry; done; or its standing."""
    if row.still:
        return row.still if open_only(row) else f"{row.standing}, {row.still}"
    return "done" if row.done else row.standing


def pointer(rect: QRectF, depth: float) -> QPainterPath:
    """The plate of the plant in hand: its left edge folded outwards, pointing at the work."""
    path = QPainterPath(QPointF(rect.left(), rect.top()))
    for point in (rect.topRight(), rect.bottomRight(), rect.bottomLeft(),
                  QPointF(rect.left() + depth, rect.center().y())):
        path.lineTo(point)
    path.closeSubpath()
    return path
