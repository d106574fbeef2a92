"""What wheel, mouse and keys do with the timeline."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QHelpEvent, QKeyEvent, QMouseEvent, QWheelEvent
from PySide6.QtWidgets import QToolTip

from greenhouse_desk.domain.timeline_values import Box
from greenhouse_desk.ui.timeline import told
from greenhouse_desk.ui.timeline.chart import TimelineChart
from greenhouse_desk.ui.timeline.cursor import Cursor

STEP, PAGE = 0.12, 0.9
"""How far an arrow and a Page key go, as a share of the view."""
NEARER = 1.35
PER_DEGREE = 1.0016
"""How much nearer an eighth of a degree of the wheel brings."""
STILL = 4.0
"""A press that moves no further than this is no drag."""
Keys = Qt.Key
SHIFT = Qt.KeyboardModifier.ShiftModifier


class Timeline(TimelineChart):
    """The chart with hands on it."""

    _pressed: QPointF | None = None
    _dragged = False

    # Keys

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key, wide = Keys(event.key()), self.room.view.width
        ways = {Keys.Key_Left: -STEP, Keys.Key_Right: STEP, Keys.Key_PageUp: -PAGE, Keys.Key_PageDown: PAGE}
        nearer = {Keys.Key_Plus: NEARER, Keys.Key_Equal: NEARER, Keys.Key_Minus: 1 / NEARER}
        if key in ways:
            self.pan(ways[key] * wide)
        elif key in nearer:
            self.zoom(nearer[key])
        elif key in (Keys.Key_Up, Keys.Key_Down):
            self.step_lane(-1 if key == Keys.Key_Up else 1)
        elif key == Keys.Key_Home:
            self.to_now()
        elif key in (Keys.Key_Return, Keys.Key_Enter):
            self.open()
        elif key == Keys.Key_Escape and self.spot is not None:
            self.choose(None if self.spot.at is None else Cursor(self.spot.plant))
            self.closed.emit()
        else:
            super().keyPressEvent(event)

    def focusNextPrevChild(self, forward: bool) -> bool:
        """Tab goes through the marks of the chosen lane, and leaves after the last one in view."""
        if not len(self.lanes):
            return super().focusNextPrevChild(forward)
        here = self.spot or Cursor(self.lanes.heads[0].number)
        place = self.lanes.place_of(here.plant)
        stepped = None if place is None else here.stepped(self.row(place), 1 if forward else -1)
        if stepped is None:
            return super().focusNextPrevChild(forward)
        self.choose(stepped)
        return True

    # Wheel and mouse

    def wheelEvent(self, event: QWheelEvent) -> None:
        turned, x = event.angleDelta(), event.position().x()
        if x < self.space.heads:
            self.bar.setValue(self.bar.value() - turned.y() // 2)
        elif event.modifiers() & SHIFT or abs(turned.x()) > abs(turned.y()):
            self.pan(-(turned.x() or turned.y()))
        else:
            self.zoom(PER_DEGREE ** turned.y(), min(max(x - self.space.left, 0.0), self.space.view))
        event.accept()

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton:
            self._pressed, self._dragged = event.position(), False

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self._pressed is None:
            hit = self.hit(event.position())
            self.setCursor(Qt.CursorShape.PointingHandCursor if hit and hit[1] else Qt.CursorShape.ArrowCursor)
            return
        gone = event.position() - self._pressed
        if self._dragged or max(abs(gone.x()), abs(gone.y())) > STILL:
            self._dragged, self._pressed = True, event.position()
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
            self.bar.setValue(round(self.bar.value() - gone.y()))
            self.pan(-gone.x())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        pressed, self._pressed = self._pressed, None
        self.unsetCursor()
        if pressed is not None and not self._dragged:
            self._click(event.position())

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        hit = self.hit(event.position())
        if hit is not None and hit[1] is not None and hit[1].count > 1:
            self.enter(hit[1].start, hit[1].end)

    def _click(self, at: QPointF) -> None:
        hit = self.hit(at)
        if hit is None:
            return
        place, box = hit
        cursor = Cursor(self.lanes.heads[place].number)
        self.choose(cursor if box is None else cursor.on(box))
        if box is not None:
            self.open()
        else:
            self._beyond(place, at.x())

    def _beyond(self, place: int, x: float) -> None:
        """A press on the count at an edge brings the nearest entry that lies there."""
        space, view = self.space, self.room.view
        row = self.row(place)
        lane = self.lanes.lane(place)
        instants = sorted(item.at for side in (lane.past, lane.ahead) for item in side.items)
        if space.heads < x < space.left and row.earlier:
            self.pan(view.x(instants[row.earlier - 1]) - view.width / 2)
        elif x > space.right and row.later:
            self.pan(view.x(instants[-row.later]) - view.width / 2)

    def hit(self, at: QPointF) -> tuple[int, Box | None] | None:
        """The lane and the mark, with its picture and words, at this point."""
        space = self.space
        place = space.lane_at(at.y(), float(self.bar.value()))
        if place is None:
            return None
        x = at.x() - space.left
        inside = at.y() - space.top(place, float(self.bar.value())) <= space.marks
        row = self.row(place)
        return place, next((box for box in row.boxes if inside and box.left - 4 <= x <= box.reach + 2), None)

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            hit = self.hit(QPointF(event.pos()))
            box = hit[1] if hit is not None else None
            QToolTip.showText(event.globalPos(), told.box(box, self.lanes) if box else "", self)
            return True
        return super().event(event)
