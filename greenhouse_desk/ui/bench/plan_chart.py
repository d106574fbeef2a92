"""The evening plan as a widget: it sizes itself, picks lanes by mouse and keys, and says all it shows in words."""

from __future__ import annotations

from datetime import datetime, tzinfo

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QHelpEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QToolTip, QWidget

from greenhouse_desk.domain.care_day import clock_words
from greenhouse_desk.ui.bench.evening import Evening, Lane
from greenhouse_desk.ui.bench.plan_paint import PlanPainter
from greenhouse_desk.ui.bench.plan_space import HANDS, HEAD, LABELS, RIGHT, height, lane_height, tops
from greenhouse_desk.ui.style import Palette

LEAST_PX_PER_MIN = 2.3


class PlanChart(QWidget):
    """Shows an Evening. `chosen` carries the plant of the lane picked, `moved` a plant and -1 (earlier) or 1."""

    chosen = Signal(int)
    moved = Signal(int, int)

    def __init__(self, palette: Palette, zone: tzinfo, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look, self._zone = palette, zone
        self._evening: Evening | None = None
        self._plant: int | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Plan")

    @property
    def plant(self) -> int | None:
        """The plant of the lane that is picked."""
        return self._plant

    def show_evening(self, evening: Evening) -> None:
        """Show this plan."""
        self._evening = evening
        plants = [lane.plant for lane in evening.lanes]
        if self._plant not in plants:
            self._plant = plants[0] if plants else None
        self.setMinimumSize(self.sizeHint())
        self.setAccessibleDescription(" ".join(self.words()))
        self.updateGeometry()
        self.update()

    def pick(self, plant: int) -> None:
        """Pick the lane of `plant`."""
        self._plant = plant
        self.chosen.emit(plant)
        self.update()

    def lane_place(self) -> tuple[float, float]:
        """Where the lane picked begins, in pixels from the top, and how high it is; the top when none is."""
        lanes = self._evening.lanes if self._evening else ()
        for lane, top in zip(lanes, tops(self._evening) if self._evening else (), strict=False):
            if lane.plant == self._plant:
                return top, lane_height(lane)
        return 0.0, 0.0

    def words(self) -> list[str]:
        """The plan in words, for those who do not see it."""
        if self._evening is None:
            return []
        plan = self._evening
        said = [f"From {self._time(plan.starts_at)} to {self._time(plan.ends_at)}."]
        if plan.limit is not None:
            said.append(f"{plan.limit_name} {self._time(plan.limit)}.")
        said += [f"{self._time(plan.at(bar.start))} hands on {bar.plant or 'the bench'}: {', '.join(bar.deeds)}."
                 for bar in plan.hands]
        said += [f"{lane.plant} {lane.standing}, {soak.words}: least at {self._time(plan.at(soak.least))}, most at "
                 f"{self._time(plan.at(soak.most))}." for lane in plan.lanes for soak in lane.soaks]
        said += [f"{name}: {'soaking' if bar.soaking else 'in use'} {self._time(plan.at(bar.start))} to "
                 f"{self._time(plan.at(bar.end))}." for name, bars in plan.tools for bar in bars]
        return said

    def sizeHint(self) -> QSize:
        if self._evening is None:
            return QSize(600, 300)
        plan = self._evening
        return QSize(round(LABELS + RIGHT + plan.minutes * LEAST_PX_PER_MIN), round(height(plan)))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        lane = self._lane_at(event.position().y())
        if lane is not None:
            self.pick(lane.plant)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        way = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}.get(Qt.Key(event.key()))
        if way is None or self._evening is None or self._plant is None:
            super().keyPressEvent(event)
            return
        plants = [lane.plant for lane in self._evening.lanes]
        if event.modifiers() & Qt.KeyboardModifier.AltModifier:
            self.moved.emit(self._plant, way)
        else:
            self.pick(plants[min(max(plants.index(self._plant) + way, 0), len(plants) - 1)])

    def focusInEvent(self, event: QFocusEvent) -> None:
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.update()

    def event(self, event: QEvent) -> bool:
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            QToolTip.showText(event.globalPos(), self._tip(QPointF(event.pos())), self)
            return True
        return super().event(event)

    def _tip(self, at: QPointF) -> str:
        plan = self._evening
        if plan is None:
            return ""
        if at.x() < LABELS + self._scrolled.x():
            lane = self._lane_at(at.y())
            return f"{lane.plant} {lane.name}: {lane.standing}. {lane.why}" if lane else ""
        minute = (at.x() - LABELS) / self._scale
        if HEAD < at.y() < HEAD + HANDS:
            return next((f"{self._time(plan.at(bar.start))} to {self._time(plan.at(bar.end))}, {bar.plant or 'bench'}: "
                         f"{', '.join(bar.deeds)}" for bar in plan.hands if bar.start <= minute < bar.end), "")
        lane = self._lane_at(at.y())
        return "; ".join(soak.words for soak in lane.soaks) if lane else ""

    def _lane_at(self, y: float) -> Lane | None:
        if self._evening is None:
            return None
        edges = tops(self._evening)
        return next((lane for lane, top, end in zip(self._evening.lanes, edges, edges[1:], strict=False)
                     if top <= y < end), None)

    @property
    def _scale(self) -> float:
        """Pixels a minute."""
        minutes = self._evening.minutes if self._evening else 60.0
        return (self.width() - LABELS - RIGHT) / minutes

    @property
    def _scrolled(self) -> QPointF:
        """How far the chart is scrolled, by whatever it lies in: the corner of what is seen of it."""
        return QPointF(self.visibleRegion().boundingRect().topLeft())

    def _time(self, moment: datetime) -> str:
        return clock_words(moment, self._zone)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), self._look.sheet)
        if self._evening is not None:
            PlanPainter(painter, self._look, self._zone, self._evening, self.width(), self._scale,
                        QRectF(self.visibleRegion().boundingRect())).paint(self._plant, self.hasFocus())
        painter.end()
