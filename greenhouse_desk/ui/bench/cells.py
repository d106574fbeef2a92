"""The countdown cells: a soak's plant, what acts on it, its phase in words, huge digits, the whole as a bar."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter, QPaintEvent

from greenhouse_desk.domain.bench import Cell
from greenhouse_desk.domain.countdown import Phase
from greenhouse_desk.ui import marks, style
from greenhouse_desk.ui.bench.lettering import draw, draw_line, draw_squeezed, fitted, sans, serif, width_of
from greenhouse_desk.ui.bench.pane import Pane, frame

MARKS = {Phase.LEAVE: "soak", Phase.MAY_END: "may rinse", Phase.WARN: "may rinse", Phase.OVER: "over"}


@dataclass(frozen=True)
class Tone:
    """The colours of a cell in one phase: its ground, words, phase words, bar, and outline (None for flat)."""

    ground: QColor
    ink: QColor
    state: QColor
    bar: QColor
    edge: QColor | None


class CellView(Pane[Cell]):
    """One countdown, flat while it runs, outlined once its least is reached, wholly inverted once over its most."""

    def words(self, value: Cell) -> tuple[str, str]:
        who = f"{value.plant}, {value.title}" if value.plant is not None else value.title
        return who, f"{value.view.sub} {value.view.digits}"

    def paintEvent(self, event: QPaintEvent) -> None:
        cell = self.value
        if cell is None:
            return
        tone = self._tone(cell.view.phase)
        painter = self.painter(tone.ground)
        inside = self.area().adjusted(self.u(16), self.u(10), -self.u(16), -self.u(10))
        self._paint_title(painter, cell, inside, tone)
        self._paint_state(painter, cell, inside, tone)
        self._paint_bar(painter, cell, QRectF(inside.left(), inside.bottom() - self.u(20), inside.width(), self.u(20)),
                        tone)
        above, below = inside.top() + self.u(80), inside.bottom() - self.u(22)
        draw_squeezed(painter, cell.view.digits, sans(600), self.sizes.digits, self.sizes.digits_floor, tone.ink,
                      QRectF(inside.left() - self.u(4), above, inside.width() + self.u(8), below - above))
        if tone.edge is not None:
            frame(painter, self.area(), max(self.u(4), 4), tone.edge)
        painter.end()

    def _tone(self, phase: Phase) -> Tone:
        look = self.look
        if phase is Phase.OVER:
            return Tone(look.madder, look.on_plate, look.on_plate, look.on_plate, None)
        if phase is Phase.WARN:
            return Tone(look.sheet, look.ink, look.madder, look.clean, look.madder)
        if phase is Phase.MAY_END:
            return Tone(look.sheet, look.ink, look.clean, look.clean, look.clean)
        return Tone(look.sheet, look.ink, look.water, look.water, None)

    def _paint_title(self, painter: QPainter, cell: Cell, inside: QRectF, tone: Tone) -> None:
        left, row = inside.left(), QRectF(inside.left(), inside.top(), inside.width(), self.u(46))
        if cell.plant is None:
            lines = fitted(cell.title, serif(600), inside.width(), (self.px(30), self.px(24), self.px(18)))
            draw(painter, lines, left, row.center().y() - lines.height / 2, tone.ink)
            return
        font = style.serif(self.px(46), 600)
        draw_line(painter, str(cell.plant), font, tone.ink, row)
        left += width_of(font, str(cell.plant)) + self.u(14)
        lines = fitted(cell.title, sans(600), inside.right() - left, (self.px(24), self.px(20), self.px(18)))
        draw(painter, lines, left, row.center().y() - lines.height / 2, tone.ink)

    def _paint_state(self, painter: QPainter, cell: Cell, inside: QRectF, tone: Tone) -> None:
        row = QRectF(inside.left(), inside.top() + self.u(50), inside.width(), self.u(28))
        box = QRectF(row.left(), row.top() + self.u(3), self.u(22), self.u(22))
        marks.paint(painter, MARKS[cell.view.phase], box, self.look, tone.state)
        left = box.right() + self.u(9)
        lines = fitted(cell.view.sub, sans(600), row.right() - left, (self.px(24), self.px(17), self.px(17)), 1)
        draw(painter, lines, left, row.center().y() - lines.height / 2, tone.state)

    def _paint_bar(self, painter: QPainter, cell: Cell, rect: QRectF, tone: Tone) -> None:
        track = QRectF(rect.left(), rect.center().y() - self.u(5), rect.width(), self.u(10))
        over = cell.view.phase is Phase.OVER
        painter.fillRect(track, tone.ground if over else self.look.inset)
        painter.fillRect(QRectF(track.left(), track.top(), track.width() * min(cell.view.share, 1.0), track.height()),
                         tone.bar)
        if over:
            self._paint_over(painter, cell, track, tone)
        frame(painter, track, 1, tone.ink if over else self.look.rule2)
        notch = track.left() + track.width() * cell.view.least_share
        painter.fillRect(QRectF(notch - self.u(1.5), rect.top(), self.u(3), rect.height()),
                         tone.ground if over else tone.ink)

    def _paint_over(self, painter: QPainter, cell: Cell, track: QRectF, tone: Tone) -> None:
        """The hatched end of the bar: how much of the time on the plant was too long."""
        most = cell.view.elapsed_s + cell.view.to_most_s
        end = track.left() + track.width() * min(max(most / cell.view.elapsed_s, 0.0), 0.92)
        tail = QRectF(end, track.top(), track.right() - end, track.height())
        painter.fillRect(tail, tone.ground)
        painter.fillRect(tail, style.hatch(tone.ink, 3, 4))
