"""The one instruction in huge type: whose turn it is, what the hands do, below it a caution, answer or alarm."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter, QPaintEvent

from greenhouse_desk.ui import style
from greenhouse_desk.ui.bench.lettering import Lines, draw, draw_line, fitted, sans, serif, width_of
from greenhouse_desk.ui.bench.pane import Pane, plate

ASIDE, LEAST = 196.0, 20
"""The width of the column at the right, and the least size of its words, in pixels of the base screen."""


class Tone(StrEnum):
    """What the line under the instruction is."""

    CAUTION = "caution"
    REFUSED = "not done"
    ALARM = "alarm"


@dataclass(frozen=True)
class Call:
    """What stands at the top. `plant` hangs on a plate; `under` is the line below, of the kind `tone`.

    `head` and `clock` stand at the right, `done` of `count` steps as ticks. `loud` inverts the whole band.
    """

    say: str
    plant: int | None = None
    under: str = ""
    tone: Tone = Tone.CAUTION
    head: str = ""
    clock: str = ""
    done: int = 0
    count: int = 0
    loud: bool = False


class InstructionView(Pane[Call]):
    """Paints the call; it is the lightest and largest thing on the screen, an alarm included."""

    def words(self, value: Call) -> tuple[str, str]:
        who = f"{value.plant}: " if value.plant is not None else ""
        return who + value.say, "; ".join(part for part in (value.under, value.head, value.clock) if part)

    def paintEvent(self, event: QPaintEvent) -> None:
        call = self.value
        if call is None:
            return
        ink = self.look.on_plate if call.loud else self.look.ink
        painter = self.painter(self.look.madder if call.loud else None)
        margin, aside = self.sizes.margin, self.aside(call)
        left = self._paint_plate(painter, call, margin)
        room = self.width() - margin - aside - self.u(20) - left
        lines = self.lines(call.say, room)
        draw(painter, lines, left, self.u(62) - lines.height / 2, ink)
        self._paint_under(painter, call, ink)
        self._paint_aside(painter, call, QRectF(self.width() - margin - aside, self.u(12), aside, self.u(106)), ink)
        painter.end()

    def aside(self, call: Call) -> float:
        """How wide the column at the right is: what it says stands there whole, at its least size where it is long."""
        rest = call.clock.partition(", ")[2]
        needs = max(width_of(style.sans(self.px(LEAST), 400), rest), width_of(style.sans(self.px(22), 600), call.head))
        return max(self.u(ASIDE), needs + 2)

    def lines(self, text: str, room: float) -> Lines:
        """One line down to four fifths; two lines stand tighter, so that they keep their size and miss the caution."""
        single = round(self.sizes.step * 0.8)
        found = fitted(text, serif(600), room, (self.sizes.step, single, single), 1)
        if found.lines == (text,):
            return found
        two = max(min(single, round(self.u(57))), self.sizes.step_floor)
        return replace(fitted(text, serif(600), room, (two, two, self.sizes.step_floor)), step=two * 1.02)

    def _paint_plate(self, painter: QPainter, call: Call, left: float) -> float:
        """The number on its plate; returns where the words begin."""
        if call.plant is None:
            return left
        font = style.serif(self.px(66), 600)
        wide = width_of(font, str(call.plant)) + self.u(36)
        rect = QRectF(left, self.u(18), wide, self.u(88))
        painter.fillPath(plate(rect, self.u(14)), self.look.on_plate if call.loud else self.look.plate)
        draw_line(painter, str(call.plant), font, self.look.plate if call.loud else self.look.on_plate,
                  rect.adjusted(self.u(18), 0, 0, -self.u(2)))
        return rect.right() + self.u(24)

    def _paint_under(self, painter: QPainter, call: Call, ink: QColor) -> None:
        if not call.under:
            return
        rect = QRectF(self.sizes.margin, self.u(122), self.width() - 2 * self.sizes.margin, self.u(34))
        if call.tone is Tone.REFUSED:
            painter.fillRect(rect.adjusted(-self.u(8), 0, self.u(8), 0), self.look.plate)
            ink = self.look.on_plate
        large = 30 if call.tone is Tone.ALARM else 25
        weight = 400 if call.tone is Tone.CAUTION else 600
        lines = fitted(call.under, sans(weight), rect.width(), (self.px(large), self.px(18), self.px(18)), 1)
        draw(painter, lines, rect.left(), rect.center().y() - lines.height / 2, ink)

    def _paint_aside(self, painter: QPainter, call: Call, rect: QRectF, ink: QColor) -> None:
        time, _, rest = call.clock.partition(", ")
        dusk = ink if call.loud else self.look.duskink
        rows = ((time, 38, 600, ink, 38.0), (rest, 22, 400, dusk, 27.0), (call.head, 22, 600, ink, 28.0))
        top = rect.top()
        for text, size, weight, colour, high in rows:
            row = QRectF(rect.left(), top, rect.width(), self.u(high))
            font = fitted(text, sans(weight), rect.width(), (self.px(size), self.px(LEAST), self.px(LEAST)), 1).font
            draw_line(painter, text, font, colour, row, right=True)
            top += row.height()
        self._paint_ticks(painter, call, QRectF(rect.left(), top + self.u(2), rect.width(), self.u(9)), ink)

    def _paint_ticks(self, painter: QPainter, call: Call, rect: QRectF, ink: QColor) -> None:
        """One tick a step: done ones full, the one in hand taller, the rest dim."""
        pitch = min(rect.width() / max(call.count, 1), self.u(10))
        left = rect.right() - pitch * call.count
        for n in range(call.count):
            colour = ink if n < call.done else (self.look.rule2 if not call.loud else self.look.madder_fill)
            high = rect.height() * (1.6 if n == call.done - 1 else 1.0)
            painter.fillRect(QRectF(left + n * pitch, rect.top(), max(pitch * 0.55, 1.5), high), colour)
