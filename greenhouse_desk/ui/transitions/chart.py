"""The calendar of courses as a widget: rows picked by mouse and keys, a look dragged to another day, all told in words.
"""

from __future__ import annotations

from datetime import date, timedelta

from PySide6.QtCore import QEvent, QPointF, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QHelpEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QToolTip, QWidget

from greenhouse_desk.domain.care import Care
from greenhouse_desk.domain.courses_moving import due_together, earliest, shown_on
from greenhouse_desk.services.transitions import Overview, Row
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.transitions import told
from greenhouse_desk.ui.transitions.paint import CalendarPainter
from greenhouse_desk.ui.transitions.space import BAND, DOWN, HEAD, ROW, Space, height, space

LEAST_WIDTH = 590
GRASP = 14.0
KEYS = ("Up and Down choose a course, Alt with Left and Right moves its next look by a day (all looks due that day go "
        "with it), Return keeps it there, Escape leaves it; Return alone tells why.")


class CourseChart(QWidget):
    """Shows an Overview. `picked` tells that a row was chosen, `moved` carries a look and its new day, `asked` wants
    why.
    """

    picked = Signal()
    moved = Signal(object, object)
    asked = Signal()

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self._look = palette
        self._shown: Overview | None = None
        self._origin: int | None = None
        self._to: date | None = None
        self._dragging = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Calendar of courses")
        self.setMinimumWidth(LEAST_WIDTH)

    def show_courses(self, shown: Overview) -> None:
        """Show these courses; the one chosen stays chosen."""
        self._shown, self._to, self._dragging = shown, None, False
        if self._origin not in [row.course.origin for row in shown.rows]:
            self._origin = shown.rows[0].course.origin if shown.rows else None
        self.setMinimumHeight(round(height(shown.rows)))
        self._tell()
        self.update()

    @property
    def row(self) -> Row | None:
        """The row that is chosen."""
        rows = self._shown.rows if self._shown else ()
        return next((row for row in rows if row.course.origin == self._origin), None)

    @property
    def place(self) -> int | None:
        """The place of the row that is chosen, counted from the top, None where none is."""
        row = self.row
        return self._shown.rows.index(row) if row is not None and self._shown is not None else None

    def pick(self, origin: int) -> None:
        """Choose the course that began with this entry."""
        self._origin, self._to = origin, None
        self._tell()
        self.picked.emit()
        self.update()

    def words(self) -> list[str]:
        """The calendar in words, the chosen row first."""
        if self._shown is None:
            return []
        chosen = self.row
        rows = [row for row in self._shown.rows if row is not chosen]
        return [told.row_words(row, self._shown.today) for row in ([chosen] if chosen else []) + rows]

    def look_place(self, origin: int) -> QPointF | None:
        """The middle of the next look's ring in the row of that course, None where none is due."""
        if self._shown is None:
            return None
        for place, row in enumerate(self._shown.rows):
            if row.course.origin == origin and row.looks:
                day = min(shown_on(look, self._shown.today) for look in row.looks)
                return QPointF(self._space.x(day), Space.top(place) + DOWN + BAND / 2)
        return None

    def day_place(self, day: date) -> float:
        """Where a day lies, in pixels from the left."""
        return self._space.x(day)

    def sizeHint(self) -> QSize:
        rows = self._shown.rows if self._shown else ()
        return QSize(LEAST_WIDTH, round(height(rows)))

    @property
    def _space(self) -> Space:
        assert self._shown is not None
        return space(self._shown, float(self.width()))

    def _tell(self) -> None:
        said = [*self._moving(), *self.words()]
        self.setAccessibleName(f"Calendar of courses. {said[0]}" if said else "Calendar of courses, empty")
        self.setAccessibleDescription(" ".join([*said, KEYS]))

    def _moving(self) -> list[str]:
        """What is being moved, to which day, and what becomes of the look after it; nothing where nothing is."""
        row = self.row
        if row is None or self._shown is None or self._to is None:
            return []
        return told.moving(row, self._to, self._shown.today)

    def _row_at(self, y: float) -> Row | None:
        place = int((y - HEAD) // ROW)
        rows = self._shown.rows if self._shown else ()
        return rows[place] if 0 <= place < len(rows) else None

    def mousePressEvent(self, event: QMouseEvent) -> None:
        row = self._row_at(event.position().y())
        if row is None:
            return
        self.pick(row.course.origin)
        ring = self.look_place(row.course.origin)
        away = event.position() - ring if ring is not None else None
        self._dragging = away is not None and max(abs(away.x()), abs(away.y())) <= GRASP
        if self._dragging:
            self.setCursor(Qt.CursorShape.SizeHorCursor)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._dragging:
            self._aim(self._space.day_at(event.position().x()))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if self._dragging:
            self._dragging = False
            self.unsetCursor()
            self._keep()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        if self._row_at(event.position().y()) is not None:
            self.asked.emit()

    def _aim(self, day: date) -> None:
        """The look goes to this day, if it is kept there: from tomorrow on, not before it opens, nor off the axis."""
        looks = self._next_looks()
        if self._shown is None or not looks:
            return
        first = max(self._shown.today + timedelta(days=1), earliest(looks))
        self._to = min(max(day, first), self._space.last)
        self._tell()
        self.update()

    def _keep(self) -> None:
        looks, to = self._next_looks(), self._to
        self._leave()
        if self._shown is not None and looks and to is not None and to != shown_on(looks[0], self._shown.today):
            self.moved.emit(looks, to)

    def _leave(self) -> None:
        """Aim at no day any more."""
        self._to = None
        self._tell()
        self.update()

    def _next_looks(self) -> tuple[Care, ...]:
        """The looks that lie under the next ring of the row chosen."""
        row = self.row
        return due_together(row.looks, self._shown.today) if row is not None and self._shown is not None else ()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        alt = bool(event.modifiers() & Qt.KeyboardModifier.AltModifier)
        if key in (Qt.Key.Key_Up, Qt.Key.Key_Down) and self._shown is not None and self._shown.rows:
            self._step(-1 if key == Qt.Key.Key_Up else 1)
        elif alt and key in (Qt.Key.Key_Left, Qt.Key.Key_Right):
            self._nudge(-1 if key == Qt.Key.Key_Left else 1)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if self._to is not None:
                self._keep()
            else:
                self.asked.emit()
        elif key == Qt.Key.Key_Escape and self._to is not None:
            self._leave()
        else:
            super().keyPressEvent(event)

    def _step(self, way: int) -> None:
        assert self._shown is not None
        origins = [row.course.origin for row in self._shown.rows]
        place = origins.index(self._origin) if self._origin in origins else 0
        self.pick(origins[min(max(place + way, 0), len(origins) - 1)])

    def _nudge(self, days: int) -> None:
        looks = self._next_looks()
        if looks and self._shown is not None:
            start = self._to or shown_on(looks[0], self._shown.today)
            self._aim(start + timedelta(days=days))

    def focusInEvent(self, event: QFocusEvent) -> None:
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self._leave()

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            row = self._row_at(float(event.pos().y()))
            QToolTip.showText(event.globalPos(), told.row_words(row, self._shown.today) if row and self._shown else "",
                              self)
            return True
        return super().event(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), self._look.sheet)
        if self._shown is not None:
            seen = float(self.visibleRegion().boundingRect().top())
            moved = (self._origin, self._to) if self._to is not None and self._origin is not None else None
            CalendarPainter(painter, self._look, self._shown, self._space, seen, float(self.height())).paint(
                self._origin, self.hasFocus(), moved)
        painter.end()
