"""The calendar of courses painted: months, lanes with their plants, bands, the now-line, looks and verdicts."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QPainter, QPen

from greenhouse_desk.domain.courses_values import End, Verdict
from greenhouse_desk.services.transitions import Overview, Row
from greenhouse_desk.ui import drawing, words
from greenhouse_desk.ui.drawing import Align
from greenhouse_desk.ui.style import Palette, sans, serif
from greenhouse_desk.ui.transitions import told
from greenhouse_desk.ui.transitions.bands import BandPainter
from greenhouse_desk.ui.transitions.space import FLAG, HEAD, ROW, Space

MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
          "December")
COLOURS = {Verdict.STAY: "clean", Verdict.AGAIN: "due", Verdict.STEP_IN: "madder", Verdict.SETTLED: "clean",
           Verdict.UNSEEN: "ink2"}


class CalendarPainter:
    """Paints one Overview into `space`. `scrolled` is the y of what is seen first: the head stays there."""

    def __init__(self, painter: QPainter, look: Palette, shown: Overview, space: Space, scrolled: float,
                 floor: float) -> None:
        self._painter, self._look, self._shown, self._space = painter, look, shown, space
        self._scrolled, self._floor = scrolled, floor

    def paint(self, picked: int | None, focused: bool, moved: tuple[int, date] | None) -> None:
        """Paint everything; the row of the course `picked` (its origin) is outlined, dashed with the keyboard's focus.

        `moved` is a look being moved: the origin of its course, and the day it would go to.
        """
        self._grid()
        bands = BandPainter(self._painter, self._look, self._space, self._shown.today)
        for place, row in enumerate(self._shown.rows):
            bands.course(row, self._space.top(place))
        self._now_line()
        for place, row in enumerate(self._shown.rows):
            top = self._space.top(place)
            bands.words(row, top)
            bands.looks(row, top, moved[1] if moved and moved[0] == row.course.origin else None)
            self._plant(row, top)
            self._verdict(row, top)
            if row.course.origin == picked:
                drawing.outline(self._painter, QRectF(2, top + 3, self._space.width - 4, ROW - 5), self._look, focused)
        if not self._shown.rows:
            self._empty()
        self._head()

    def _grid(self) -> None:
        look, space = self._look, self._space
        for month, left, _right in space.months():
            ink = look.rule2 if month.month == 1 else look.rule
            self._painter.fillRect(QRectF(left, HEAD, 1, self._floor - HEAD), ink)
        rows = max(len(self._shown.rows), 3)
        for place in range(rows + 1):
            self._painter.fillRect(QRectF(0, space.top(place), space.width, 1), look.rule)
        for x in (space.labels, space.verdicts):
            self._painter.fillRect(QRectF(x, HEAD, 1, self._floor - HEAD), look.rule2)

    def _now_line(self) -> None:
        x = self._space.x(self._shown.today)
        self._painter.fillRect(QRectF(x - 1.25, HEAD, 2.5, self._floor - HEAD), self._look.ink)

    def _plant(self, row: Row, top: float) -> None:
        space, look = self._space, self._look
        number = 48.0
        drawing.text(self._painter, QRectF(10, top, number, ROW), str(row.course.plant), serif(23, 600), look.ink)
        room = QRectF(14 + number, top + 5, space.labels - number - 20, 20)
        drawing.name_block(self._painter, room, row.name, look, 15, 1, 20)
        drawing.text(self._painter, room.translated(0, 19), told.media(row), sans(13), look.ink2)

    def _verdict(self, row: Row, top: float) -> None:
        space, look = self._space, self._look
        left, width = space.verdicts + 12, space.width - space.verdicts - 18
        ended = row.course.end not in (End.RUNNING, End.SETTLED)
        ink = look.ink2 if ended else look.named(COLOURS[row.course.verdict])
        drawing.marked(self._painter, QRectF(left, top + 5, width, 20), told.mark(row), told.verdict(row), look, 15,
                       ink)
        drawing.text(self._painter, QRectF(left, top + 24, width, 20), told.evidence(row, self._shown.today), sans(13),
                     look.ink)

    def _empty(self) -> None:
        room = QRectF(self._space.labels, HEAD, self._space.verdicts - self._space.labels, ROW)
        at = QRectF(self._space.labels + 16, room.top(), room.width() - 32, ROW)
        drawing.text(self._painter, at, "No plant is in transition.", sans(15), self._look.ink)

    def _head(self) -> None:
        painter, look, space = self._painter, self._look, self._space
        painter.save()
        painter.translate(0, self._scrolled)
        painter.fillRect(QRectF(0, 0, space.width, HEAD), look.sheet)
        painter.fillRect(QRectF(0, HEAD - 1, space.width, 1), look.rule2)
        low = QRectF(0, FLAG, 0, HEAD - FLAG - 1)
        drawing.text(painter, QRectF(12, FLAG, space.labels - 20, low.height()), "Plant and course", sans(14, 600),
                     look.ink)
        drawing.text(painter, QRectF(space.verdicts + 12, FLAG, space.width - space.verdicts - 16, low.height()),
                     "Verdict at the last look", sans(14, 600), look.ink)
        self._months(low.height())
        self._flag()
        painter.restore()

    def _months(self, high: float) -> None:
        """The months' names; where a month is too narrow for three letters, its name runs on and the next keeps silent.
        """
        free = self._space.labels
        for month, left, right in self._space.months():
            self._painter.fillRect(QRectF(left, FLAG, 1, high), self._look.rule)
            said, font = _month(month, right - left - 10), sans(14, 600 if month.month == 1 else 400)
            width = drawing.width_of(said, font) + 3
            if left + 7 >= free and left + 7 + width < self._space.verdicts:
                drawing.text(self._painter, QRectF(left + 7, FLAG, width, high), said, font, self._look.ink)
                free = left + 7 + width

    def _flag(self) -> None:
        look, x = self._look, self._space.x(self._shown.today)
        said = f"now, {words.day(self._shown.today)}"
        width = drawing.width_of(said, sans(13, 600)) + 18
        left = min(max(x - width / 2, self._space.labels), self._space.verdicts - width)
        flag = QRectF(left, 1, width, FLAG - 1)
        self._painter.fillRect(flag, look.ink)
        drawing.text(self._painter, flag, said, sans(13, 600), look.sheet, Align.AlignCenter)
        self._painter.setPen(QPen(look.ink, 2.5, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
        self._painter.drawLine(QPointF(x, HEAD - 6), QPointF(x, HEAD))


def _month(month: date, room: float) -> str:
    """The month's name as long as there is room, with the year in January; three letters where there is none."""
    name = MONTHS[month.month - 1]
    year = f" {month.year}" if month.month == 1 else ""
    wordings = (f"{name}{year}", f"{name[:3]}{year}")
    return next((said for said in wordings if drawing.width_of(said, sans(14, 600)) <= room), name[:3])


LEGEND = (("potting", "potting"), ("solid", "confirmed by a look"), ("running", "since the last look"),
          ("off", "off the course"), ("due", "next look"), ("forecast", "forecast: earliest, likely, latest"))
