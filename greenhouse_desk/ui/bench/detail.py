"""The middle pane: the longer sentence, the dial of a question, a note being made, or what stands open on leaving."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from greenhouse_desk.domain.bench import Key
from greenhouse_desk.ui import style
from greenhouse_desk.ui.bench.dial import PHRASES, Dial, Jotter
from greenhouse_desk.ui.bench.keymap import KeyMap
from greenhouse_desk.ui.bench.leaving import Leaving, LeavingPainter
from greenhouse_desk.ui.bench.lettering import Lines, draw, draw_line, fitted, sans, serif, width_of, wrapped
from greenhouse_desk.ui.bench.pane import Pane
from greenhouse_desk.ui.bench.queue import pointer
from greenhouse_desk.ui.style import Palette


@dataclass(frozen=True)
class Page:
    """The step in full, for whoever stands near."""

    text: str


TYPING = "every letter is text, those of the five keys too; Enter keeps it, Esc drops it"
FIRST = "type it: every letter is text, those of the five keys too; Space first turns to ready phrases, Esc drops it"

TIGHT, PAGED = 36.0, 44.0
"""The least height of a row of choices, in pixels of the base screen: two lines of the smallest letters; and where a
list is too long for one page, one line of the largest."""

MORE = 34.0
"""The height of the line that tells of a list's other pages."""

Detail = Page | Dial | Jotter | Leaving


def words(value: Detail) -> tuple[str, str]:
    """The pane in words."""
    match value:
        case Page():
            return "The step in full", value.text
        case Dial():
            picked = f", {value.value + 1} of {len(value.question.choices)}" if value.question.choices and (
                value.value is not None) else ""
            return f"Answer: {value.words}{picked}", value.question.prompt
        case Jotter():
            return f"Note: {value.text}", "ready phrases" if not value.typing else FIRST if value.empty else TYPING
        case Leaving():
            return value.words


def pages(dial: Dial, fit: int, less: str, more: str) -> str:
    """What is shown of a list of choices too long for one page of `fit`, and how to come to the others by the keys'
    caps `less` and `more`, or by a number."""
    count = len(dial.question.choices)
    first = (dial.value or 0) // fit * fit
    last = min(first + fit, count)
    if last < count:
        return f"{first + 1} to {last} of {count}; {count - last} more: {more}, or type {last + 1}"
    return f"{first + 1} to {last} of {count}; {first} before: {less}, or type 1"


class DetailView(Pane[Detail]):
    """Paints whichever of the four it is given, in whatever room it has."""

    def __init__(self, palette: Palette, keys: KeyMap, parent: QWidget) -> None:
        super().__init__(palette, parent)
        self._less, self._more, self._next = (keys.cap(key) for key in (Key.BACK, Key.SOAK, Key.NEXT))
        self._note = keys.cap(Key.NOTE)

    def words(self, value: Detail) -> tuple[str, str]:
        return words(value)

    def paintEvent(self, event: QPaintEvent) -> None:
        value = self.value
        if value is None:
            return
        plain = isinstance(value, Page)
        painter = self.painter(None if plain else self.look.sheet)
        lead = self.u(12) if self.width() < self.sizes.field - 1 else 0.0
        inside = self.area().adjusted(*((lead, self.u(10), -self.u(28) + lead, 0) if plain else
                                        (self.u(20), self.u(12), -self.u(20), -self.u(12))))
        match value:
            case Page():
                self._paint_page(painter, value.text, inside)
            case Dial():
                (self._paint_choices if value.question.choices else self._paint_number)(painter, value, inside)
            case Jotter():
                self._paint_note(painter, value, inside)
            case Leaving():
                LeavingPainter(painter, self.look.ink, self.sizes).paint(value, inside)
        painter.end()

    def _paint_page(self, painter: QPainter, text: str, inside: QRectF) -> None:
        lines = self.page_lines(text, inside.width(), inside.height())
        draw(painter, lines, inside.left(), inside.top(), self.look.ink)

    def page_lines(self, text: str, wide: float, high: float) -> Lines:
        """As large as it fits: at 1.5 m where there is room, at arm's length in any case. Where even that is too much,
        whole sentences are left off at the end: none is cut in its middle."""
        whole = text
        while True:
            for px in range(self.sizes.sans(8.75), self.px(15) - 1, -1):
                lines = wrapped(text, style.sans(px), wide, max(1, int(high // (px * 1.22))))
                if " ".join(lines.lines) == text:
                    return lines
            shorter = text.rstrip(".").rpartition(". ")[0]
            if not shorter:
                return wrapped(whole, style.sans(self.px(15)), wide, max(1, int(high // (self.px(15) * 1.22))))
            text = f"{shorter}."

    def _paint_number(self, painter: QPainter, dial: Dial, inside: QRectF) -> None:
        high = min(inside.height() - self.u(64), self.u(300))
        px = round(high / 0.85)
        number = dial.words.split(" ")[0]
        row = QRectF(inside.left(), inside.top(), inside.width(), high)
        font = style.sans(px, 600)
        wide = width_of(font, number)
        draw_line(painter, number, font, self.look.ink, QRectF(row.center().x() - wide / 2, row.top(), wide + 2, high))
        by = dial.question.by
        reach = min(max(wide, px * 1.2) / 2 + self.u(70), inside.width() / 2 - self.u(60))
        for cap, word, live, way in ((self._less, f"{by} less", dial.value != dial.low, -1),
                                     (self._more, f"{by} more", dial.value != dial.high, 1)):
            at = QPointF(row.center().x() + way * reach, row.center().y())
            self._paint_way(painter, cap, word, live, at, way > 0)
        says = f"{dial.question.unit}, {dial.low} to {dial.high}".lstrip(", ")
        says += ": no answer yet, type it or step" if dial.value is None else ""
        unit = fitted(says, sans(400), inside.width(), (self.px(32), self.px(24), self.px(18)), 1)
        draw(painter, unit, inside.center().x() - width_of(unit.font, unit.lines[0]) / 2, row.bottom() + self.u(8),
             self.look.ink)

    def _paint_way(self, painter: QPainter, cap: str, word: str, live: bool, edge: QPointF, right: bool) -> None:
        """A key's cap and what it does, beside the number: less at its left, more at its right."""
        ink = self.look.ink if live else self.look.ink2
        wide = max(self.u(52), width_of(style.sans(self.px(27), 600), cap) + self.u(28))
        box = QRectF(edge.x() if right else edge.x() - wide, edge.y() - self.u(46), wide, self.u(52))
        painter.setPen(QPen(ink, max(self.u(2), 1.5)))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(box, self.u(5), self.u(5))
        font = style.sans(self.px(27), 600)
        wide = width_of(font, cap)
        draw_line(painter, cap, font, ink, QRectF(box.center().x() - wide / 2, box.top(), wide + 2, box.height()))
        below = QRectF(edge.x() - (0 if right else self.u(160)), box.bottom() + self.u(4), self.u(160), self.u(34))
        draw_line(painter, word, style.sans(self.px(25)), ink, below, not right)

    def _paint_choices(self, painter: QPainter, dial: Dial, inside: QRectF) -> None:
        """The choices, below them how to take one, and what the question says of itself where it finds room."""
        choices = dial.question.choices
        foot = self.u(54 if inside.width() < self.u(600) else 32)
        room, page = self.rooms(len(choices), bool(dial.question.page), inside.adjusted(0, 0, 0, -foot))
        if page is not None:
            self._paint_page(painter, dial.question.page, page)
        rows, columns, high = self.grid(len(choices), room)
        if rows * columns < len(choices):
            strip = QRectF(room.left(), room.bottom() - self.u(MORE), room.width(), self.u(MORE))
            room = room.adjusted(0, 0, 0, -self.u(MORE))
            rows, columns, high = self.grid(len(choices), room)
            self._paint_pages(painter, dial, rows * columns, strip)
        says = f"{self._less} up, {self._more} down, {self._next} takes it; a digit goes to it"
        hint = fitted(says, sans(400), inside.width(), (self.px(22), self.px(20), self.px(18)), 2)
        draw(painter, hint, inside.left(), inside.bottom() - hint.height, self.look.ink2)
        wide, first = room.width() / columns, (dial.value or 0) // (rows * columns) * rows * columns
        for n, choice in enumerate(choices[first:first + rows * columns]):
            cell = QRectF(room.left() + (n // rows) * wide, room.top() + (n % rows) * high, wide - self.u(10), high)
            self._paint_choice(painter, f"{first + n + 1}", choice, first + n == dial.value, cell)

    def _paint_pages(self, painter: QPainter, dial: Dial, fit: int, strip: QRectF) -> None:
        """Which part of a long list is shown, and what comes to the others, as loud as a choice."""
        painter.fillRect(strip, self.look.rail)
        words = fitted(pages(dial, fit, self._less, self._more), sans(600), strip.width() - self.u(24),
                       (self.px(24), self.px(18), self.px(16)), 1)
        draw(painter, words, strip.left() + self.u(18), strip.center().y() - words.height / 2, self.look.on_rail)

    def rooms(self, count: int, page: bool, body: QRectF) -> tuple[QRectF, QRectF | None]:
        """Where the choices stand, and what a question says of itself: at their right, or below them in a column."""
        if not page:
            return body, None
        if body.width() >= self.u(600):
            left = QRectF(body.left(), body.top(), body.width() * 0.46, body.height())
            return left, body.adjusted(left.width() + self.u(16), 0, 0, 0)
        high = min(count * self.sizes.row * 1.2, body.height())
        below = body.adjusted(0, high + self.u(10), 0, 0)
        return (QRectF(body.left(), body.top(), body.width(), high), below) if below.height() > self.u(80) else (
            body, None)

    def grid(self, count: int, room: QRectF) -> tuple[int, int, float]:
        """Rows, columns and a row's height: all choices where they fit, in tighter rows if need be, else as many as
        stand in whole rows."""
        fit = max(1, int(room.height() // self.sizes.row))
        columns = max(1, min(-(-count // fit), int(room.width() // self.u(280))))
        each = -(-count // columns)
        if count <= fit:
            return count, 1, min(room.height() / count, self.sizes.row * 1.6)  # few: room for two lines each
        if fit * columns < count and each * self.u(TIGHT) <= room.height():
            return each, columns, room.height() / each
        fit = max(fit, int(room.height() // self.u(PAGED)))
        return fit, max(1, min(-(-count // fit), int(room.width() // self.u(280)))), room.height() / fit

    def _paint_choice(self, painter: QPainter, number: str, text: str, chosen: bool, cell: QRectF) -> None:
        ink: QColor = self.look.ink
        if chosen:
            painter.fillPath(pointer(cell.adjusted(0, 1, 0, -1), self.u(8)), self.look.plate)
            ink = self.look.on_plate
        left = cell.left() + self.u(18)
        draw_line(painter, number, style.sans(self.px(24), 600), ink,
                  QRectF(left, cell.top(), self.u(32), cell.height()))
        left += self.u(38)
        lines = fitted(text, sans(600 if chosen else 400), cell.right() - left - self.u(6),
                       (self.px(30), self.px(27 if cell.height() > self.u(70) else 22), self.px(18)), 2)
        draw(painter, lines, left, cell.center().y() - lines.height / 2, ink)

    def _paint_note(self, painter: QPainter, jotter: Jotter, inside: QRectF) -> None:
        who = f"Note on {jotter.plant}" if jotter.plant is not None else "Note on the session"
        head = fitted(who, serif(600), inside.width(), (self.px(27), self.px(22), self.px(20)), 1)
        top = draw(painter, head, inside.left(), inside.top(), self.look.ink) + self.u(8)
        says = (FIRST if jotter.empty else TYPING) if jotter.typing else (
            f"phrase {jotter.chosen + 1} of {len(PHRASES)}: {self._less} and {self._more} step, "
            f"{self._next} keeps, {self._note} to type")
        foot = fitted(says, sans(400), inside.width(), (self.px(22), self.px(20), self.px(18)), 3)
        field = QRectF(inside.left(), top, inside.width(), inside.bottom() - top - foot.height - self.u(10))
        painter.fillRect(field, self.look.plate)
        shown = jotter.line + "|" if jotter.typing else jotter.text
        room = field.adjusted(self.u(16), self.u(8), -self.u(16), -self.u(8))
        lines = fitted(shown, sans(600), room.width(), (self.px(40), self.px(30), self.px(22)),
                       max(1, int(room.height() // self.u(30))))
        draw(painter, lines, room.left(), room.center().y() - lines.height / 2, self.look.on_plate)
        draw(painter, foot, inside.left(), inside.bottom() - foot.height, self.look.ink2)
