"""The canvas of benches under the hand: choosing, arrow keys, opening, dragging a card along or to another bench."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from PySide6.QtCore import (
    QItemSelection,
    QItemSelectionModel,
    QModelIndex,
    QPoint,
    QRect,
    QRectF,
    Qt,
    QVariantAnimation,
    Signal,
)
from PySide6.QtGui import QContextMenuEvent, QFocusEvent, QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QAbstractItemView, QApplication, QStyle, QWidget

from greenhouse_desk.services.collection import BenchRow
from greenhouse_desk.ui.collection import canvas
from greenhouse_desk.ui.collection.dragging import Target, by_key, stays, target_at, told
from greenhouse_desk.ui.collection.layout import nearest
from greenhouse_desk.ui.collection.model import seats_of
from greenhouse_desk.ui.collection.standing import StandingView
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.thumbnails import Thumbnails

Action = QAbstractItemView.CursorAction
Flag = QItemSelectionModel.SelectionFlag
SLIDE_MS = 160
EDGE = 40
MOVE_HINT = "Ctrl with an arrow moves it along its bench or to the next."
ARROWS = {Qt.Key.Key_Left: (-1, 0), Qt.Key.Key_Right: (1, 0), Qt.Key.Key_Up: (0, -1), Qt.Key.Key_Down: (0, 1)}
STEPS = {Action.MoveLeft: (-1, 0), Action.MovePrevious: (-1, 0), Action.MoveRight: (1, 0), Action.MoveNext: (1, 0),
         Action.MoveUp: (0, -1), Action.MoveDown: (0, 1)}


class BenchView(StandingView):
    """Cards by bench, under the hand.

    `opened(number)` asks for the drawer, `moved(numbers, place, before)` for a move, `head_pressed(place, where)` for
    what can be done with a bench, `menu_wanted(where)` for what can be done with the chosen plants; `chosen()` tells
    that the choice changed.
    """

    opened = Signal(int)
    moved = Signal(object, int, object)
    head_pressed = Signal(int, QPoint)
    menu_wanted = Signal(QPoint)
    chosen = Signal()

    def __init__(self, palette: Palette, thumbs: Thumbnails, parent: QWidget | None = None) -> None:
        super().__init__(palette, thumbs, parent)
        self._pressed: QPoint | None = None
        self._drag: QPoint | None = None
        self._target: Target | None = None
        self._moving: tuple[int, ...] = ()
        self._ways: dict[int, tuple[QRectF, QRectF]] = {}
        self._slide = QVariantAnimation(self)
        self._slide.setStartValue(0.0)
        self._slide.setEndValue(1.0)
        self._slide.setDuration(SLIDE_MS)
        self._slide.valueChanged.connect(self.viewport().update)
        self._slide.finished.connect(self._on_slid)
        self.setAccessibleName("Plants by bench")
        self.setAccessibleDescription(f"Arrow keys go from plant to plant, Enter opens one. {MOVE_HINT}")
        self.selectionModel().selectionChanged.connect(self._on_chosen)
        self.selectionModel().currentChanged.connect(self.viewport().update)

    def show_benches(self, benches: Sequence[BenchRow], now: datetime) -> None:
        """Show these benches; what was chosen stays chosen, and a plant that was moved slides to its place."""
        kept, current = self.numbers(), self.current_number()
        before = dict(zip((seat.number for seat in self.cards.seats), self._rects(), strict=True))
        self._benches, self._now = tuple(benches), now
        self.selectionModel().blockSignals(True)
        self.cards.show(seats_of(self._benches))
        self._lay()
        self._choose(kept, current)
        self.selectionModel().blockSignals(False)
        self._start_slide(before)
        if self.numbers() != kept:
            self.chosen.emit()

    def choose(self, number: int) -> None:
        """Choose one plant and bring it into sight; nothing when it is not shown."""
        row = self.cards.row_of(number)
        if row >= 0:
            self.selectionModel().setCurrentIndex(self.cards.index(row), Flag.ClearAndSelect)
            self.scrollTo(self.cards.index(row))

    def _choose(self, numbers: Sequence[int], current: int | None) -> None:
        chosen = QItemSelection()
        for row in (self.cards.row_of(number) for number in numbers):
            if row >= 0:
                chosen.select(self.cards.index(row), self.cards.index(row))
        if current is not None and self.cards.row_of(current) >= 0:
            self.selectionModel().setCurrentIndex(self.cards.index(self.cards.row_of(current)), Flag.NoUpdate)
        self.selectionModel().select(chosen, Flag.ClearAndSelect)

    def _on_chosen(self, *_: object) -> None:
        self.viewport().update()
        self.chosen.emit()

    # The slide: the one thing that moves

    def _start_slide(self, before: dict[int, QRect]) -> None:
        moving, self._moving = self._moving, ()
        if not self.style().styleHint(QStyle.StyleHint.SH_Widget_Animation_Duration):
            return
        for number in moving:
            row = self.cards.row_of(number)
            if row >= 0 and number in before and self._canvas_rect(row) != before[number]:
                self._ways[number] = (QRectF(before[number]), QRectF(self._canvas_rect(row)))
        if self._ways:
            self._slide.start()

    def _on_slid(self) -> None:
        self._ways = {}
        self.viewport().update()

    def _scene(self) -> canvas.Scene:
        scene = super()._scene()
        done = float(self._slide.currentValue() or 0.0)
        for number, (start, end) in self._ways.items():
            at = start.topLeft() + (end.topLeft() - start.topLeft()) * done
            scene.moving[number] = QRectF(at, end.size())
        if self._drag is not None:
            numbers, target = self.numbers(), self._target
            stay = target is None or stays(self._benches, numbers, target)
            scene.bar = None if stay or target is None else target.bar
            scene.ghost = canvas.Ghost(self.currentIndex().row(), self._drag, frozenset(numbers),
                                       told(self._benches, numbers, target))
        return scene

    # Keys

    def moveCursor(self, action: Action, modifiers: Qt.KeyboardModifier) -> QModelIndex:
        """The plant an arrow key goes to: along the bench, or the nearest above or below."""
        rects, row = self._rects(), self.currentIndex().row()
        if not rects:
            return QModelIndex()
        if row < 0:
            return self.cards.index(0)
        if action in STEPS:
            return self.cards.index(nearest(rects, row, *STEPS[action]))
        if action in (Action.MoveHome, Action.MoveEnd):
            return self.cards.index(0 if action == Action.MoveHome else len(rects) - 1)
        for _ in range(max(1, self.viewport().height() // (self._plan.sizes.height + 8))):
            row = nearest(rects, row, 0, -1 if action == Action.MovePageUp else 1)
        return self.cards.index(row)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter opens the drawer, Control with an arrow moves the chosen plant; the rest is the view's own."""
        control = event.modifiers() & Qt.KeyboardModifier.ControlModifier
        current = self.current_number()
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and current is not None:
            self.choose(current)
            self.opened.emit(current)
        elif event.key() == Qt.Key.Key_Escape and self._drag is not None:
            self._end_drag()
        elif control and event.key() in ARROWS and current is not None:
            self._move_by_key(current, *ARROWS[Qt.Key(event.key())])
        elif event.key() in (Qt.Key.Key_Escape, Qt.Key.Key_Slash):
            event.ignore()
        else:
            super().keyPressEvent(event)

    def step(self, along: int, across: int) -> None:
        """Move the plant under the keyboard one place along its bench, or to the next bench, as the keys do."""
        current = self.current_number()
        if current is not None:
            self._move_by_key(current, along, across)

    def _move_by_key(self, number: int, along: int, across: int) -> None:
        goal = by_key(self._benches, number, along, across)
        if goal is not None:
            self._moving = (number,)
            self.moved.emit((number,), *goal)
            self._keep_current_in_sight()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Coming in by Tab puts the keyboard on the first plant."""
        super().focusInEvent(event)
        if not self.currentIndex().isValid() and self.cards.seats:
            self.selectionModel().setCurrentIndex(self.cards.index(0), Flag.NoUpdate)

    def setSelection(self, rect: QRect, command: Flag) -> None:
        """Choose what lies in `rect` of the viewport, and everything between along the benches."""
        area = rect.normalized().translated(0, self.verticalOffset())
        rows = [row for row, card in enumerate(self._rects()) if card.intersects(area)]
        chosen = QItemSelection()
        if rows:
            chosen.select(self.cards.index(rows[0]), self.cards.index(rows[-1]))
        self.selectionModel().select(chosen, command)

    # The pointer

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A press chooses; on a bench's head it asks what to do with the bench."""
        at = event.position().toPoint()
        bench = self.bench_at(at)
        if bench is not None and bench.place.id and event.button() == Qt.MouseButton.LeftButton:
            self.head_pressed.emit(bench.place.id, event.globalPosition().toPoint())
            return
        self._pressed = at if self.indexAt(at).isValid() and event.button() == Qt.MouseButton.LeftButton else None
        super().mousePressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Past a few pixels a pressed card is in hand; the bar shows where it would go."""
        at = event.position().toPoint()
        if self._pressed is None:
            over = self.bench_at(at) is not None or self.indexAt(at).isValid()
            self.viewport().setCursor(Qt.CursorShape.PointingHandCursor if over else Qt.CursorShape.ArrowCursor)
            return
        far = (at - self._pressed).manhattanLength() >= QApplication.startDragDistance()
        if self._drag is not None or far:
            self._drag_to(at)

    def _drag_to(self, at: QPoint) -> None:
        bar, height = self.verticalScrollBar(), self.viewport().height()
        if not EDGE < at.y() < height - EDGE:
            bar.setValue(bar.value() + (bar.singleStep() if at.y() > EDGE else -bar.singleStep()) // 3)
        self._drag = at + QPoint(0, self.verticalOffset())
        self._target = target_at(self._plan, self._benches, self._drag)
        self.viewport().update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Letting go moves what was in hand; a plain click opens the plant."""
        dragged, target, pressed = self._drag is not None, self._target, self._pressed
        self._end_drag()
        if dragged:
            if target is not None and not stays(self._benches, self.numbers(), target):
                self._moving = self.numbers()
                self.moved.emit(self.numbers(), target.place, target.before)
            self.setState(QAbstractItemView.State.NoState)
            return
        super().mouseReleaseEvent(event)
        if pressed is not None and event.modifiers() == Qt.KeyboardModifier.NoModifier:
            number = self.current_number()
            if number is not None and self.numbers() == (number,):
                self.opened.emit(number)

    def _end_drag(self) -> None:
        self._drag = self._target = self._pressed = None
        self.viewport().update()

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """The right button, or the menu key, asks what can be done."""
        bench = self.bench_at(event.pos())
        if bench is not None and bench.place.id:
            self.head_pressed.emit(bench.place.id, event.globalPos())
        elif self.numbers():
            self.menu_wanted.emit(event.globalPos())
