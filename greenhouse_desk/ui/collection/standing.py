"""The benches as an item view lays them out: which card is where, what is in sight, and the canvas painted."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime

from PySide6.QtCore import (
    QEvent,
    QItemSelection,
    QModelIndex,
    QPersistentModelIndex,
    QPoint,
    QRect,
    Qt,
    Signal,
    SignalInstance,
)
from PySide6.QtGui import QHelpEvent, QPainter, QPaintEvent, QPixmap, QRegion, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QListView, QPushButton, QToolTip, QWidget

from greenhouse_desk.services.collection import BenchRow
from greenhouse_desk.ui.collection import bench_head, canvas, card
from greenhouse_desk.ui.collection.card import Look
from greenhouse_desk.ui.collection.layout import Plan, lay
from greenhouse_desk.ui.collection.model import CardModel, Seat
from greenhouse_desk.ui.messages import button
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.thumbnails import Thumbnails

Index = QModelIndex | QPersistentModelIndex
ScrollHint = QAbstractItemView.ScrollHint


class StandingView(QListView):
    """Cards by bench. `filling(place)` asks for a plant on an empty bench, `air_wanted(place)` for a reading there,
    `scrolled()` tells that other plants are in sight.

    A list view in all but its layout, so that screen readers meet a list of plants. What is shown and how it is handled
    is the business of the class built on this.
    """

    filling = Signal(int)
    air_wanted = Signal(int)
    scrolled = Signal()

    def __init__(self, palette: Palette, thumbs: Thumbnails, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._palette = palette
        self._thumbs = thumbs
        self.cards = CardModel()
        self._benches: tuple[BenchRow, ...] = ()
        self._now = datetime.min.replace(tzinfo=UTC)
        self._plan: Plan = lay((), 800, False)
        self._dense = False
        self._found: frozenset[int] | None = None
        self._fillers: list[tuple[QPushButton, int, bool]] = []
        self.setModel(self.cards)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        thumbs.ready.connect(self.viewport().update)
        self.verticalScrollBar().valueChanged.connect(self._on_scrolled)

    def set_dense(self, dense: bool) -> None:
        """Show cards whole, or many to a screen without photos."""
        self._dense = dense
        self._lay()
        self._keep_current_in_sight()

    def mark_found(self, numbers: frozenset[int] | None) -> None:
        """Dim every plant but these; None dims nothing."""
        self._found = numbers
        self.viewport().update()

    def numbers(self) -> tuple[int, ...]:
        """The chosen plants, in house order."""
        return tuple(self.cards.seats[row].number for row in sorted(i.row() for i in self.selectedIndexes()))

    def current_number(self) -> int | None:
        """The plant under the keyboard."""
        row = self.currentIndex().row()
        return self.cards.seats[row].number if 0 <= row < len(self.cards.seats) else None

    def numbers_in_sight(self) -> frozenset[int]:
        """The plants on screen."""
        seen = self._seen()
        return frozenset(seat.number for seat, rect in zip(self.cards.seats, self._rects(), strict=True)
                         if rect.intersects(seen))

    def benches(self) -> Sequence[BenchRow]:
        """The benches shown."""
        return self._benches

    def _rects(self) -> list[QRect]:
        return [rect for strip in self._plan.strips for rect in strip.cards]

    def _canvas_rect(self, row: int) -> QRect:
        for strip in self._plan.strips:
            if row < len(strip.cards):
                return strip.cards[row]
            row -= len(strip.cards)
        return QRect()

    def _seen(self) -> QRect:
        return self.viewport().rect().translated(0, self.verticalOffset())

    def _lay(self) -> None:
        self._plan = lay([len(bench.cards) for bench in self._benches], self.viewport().width(), self._dense)
        bar = self.verticalScrollBar()
        bar.setRange(0, max(0, self._plan.height - self.viewport().height()))
        bar.setPageStep(self.viewport().height())
        bar.setSingleStep(64)
        bar.setEnabled(bar.maximum() > 0)
        self._place_fillers()
        self._on_scrolled()

    def updateGeometries(self) -> None:
        """The scroll bar follows our own layout, not the list's."""

    def doItemsLayout(self) -> None:
        """Ours is done when benches or width change."""

    def _place_fillers(self) -> None:
        """Real buttons where something is missing: a plant on an empty bench, an air reading at a bench's head."""
        for filler, _, _ in self._fillers:
            filler.hide()
            filler.deleteLater()
        self._fillers = []
        for number, strip in enumerate(self._plan.strips):
            place = self._benches[strip.bench].place
            if strip.empty is not None and place.id:
                self._add_filler("Place a plant", f"Place a plant on {place.name}", self.filling, number, False)
            if bench_head.wants_air(self._benches[strip.bench]) and not self._dense:
                last = bench_head.air_words(self._benches[strip.bench], self._now)
                name = f"Enter an air reading of {place.name}{f': {last}' if last else ''}"
                self._add_filler("Enter air…", name, self.air_wanted, number, True)

    def _add_filler(self, word: str, name: str, signal: SignalInstance, strip: int, at_head: bool) -> None:
        place = self._benches[self._plan.strips[strip].bench].place.id
        filler = button(word, "small", name)
        filler.setParent(self.viewport())
        filler.clicked.connect(lambda: signal.emit(place))
        filler.show()
        self._fillers.append((filler, strip, at_head))

    def _on_scrolled(self) -> None:
        top = self.verticalOffset()
        for filler, number, at_head in self._fillers:
            strip = self._plan.strips[number]
            if at_head:
                head, bench = canvas.head_rect(strip, top), self._benches[strip.bench]
                filler.move(head.x(), head.y() - top + bench_head.button_below(bench, head.width()))
            elif strip.empty is not None:
                below = 32 if self._dense else self._plan.sizes.photo + 24
                filler.move(strip.empty.x() + 4, strip.empty.y() + below - top)
        self.viewport().update()
        self.scrolled.emit()

    def visualRect(self, index: Index) -> QRect:
        """Where a plant's card is in the viewport."""
        return self._canvas_rect(index.row()).translated(0, -self.verticalOffset()) if index.isValid() else QRect()

    def indexAt(self, point: QPoint) -> QModelIndex:
        """The plant whose card lies under `point` of the viewport."""
        at = point + QPoint(0, self.verticalOffset())
        row = next((row for row, rect in enumerate(self._rects()) if rect.contains(at)), -1)
        return self.cards.index(row) if row >= 0 else QModelIndex()

    def bench_at(self, point: QPoint) -> BenchRow | None:
        """The bench whose head lies under `point` of the viewport."""
        top = self.verticalOffset()
        at = point + QPoint(0, top)
        for strip in self._plan.strips:
            head = canvas.head_rect(strip, top)
            head.setHeight(min(head.height(), canvas.HEAD_ROOM))
            if head.contains(at):
                return self._benches[strip.bench]
        return None

    def scrollTo(self, index: Index, hint: ScrollHint = ScrollHint.EnsureVisible) -> None:
        """Bring a plant's card into sight."""
        if not index.isValid():
            return
        rect, seen = self._canvas_rect(index.row()), self._seen()
        if rect.top() < seen.top() + 6:
            self.verticalScrollBar().setValue(rect.top() - 8)
        elif rect.bottom() > seen.bottom() - 6:
            self.verticalScrollBar().setValue(rect.bottom() - seen.height() + 10)

    def bring(self, number: int) -> None:
        """Bring a plant's card into sight, with what stands around it."""
        row = self.cards.row_of(number)
        if row >= 0 and not self._seen().contains(self._canvas_rect(row)):
            middle = self._canvas_rect(row).center().y() - self.viewport().height() // 2
            self.verticalScrollBar().setValue(middle)

    def _keep_current_in_sight(self) -> None:
        if self.currentIndex().isValid():
            self.scrollTo(self.currentIndex())

    def horizontalOffset(self) -> int:
        """Nothing lies to the side."""
        return 0

    def verticalOffset(self) -> int:
        """How far the canvas is scrolled."""
        return self.verticalScrollBar().value()

    def isIndexHidden(self, index: Index) -> bool:
        """No plant is hidden."""
        return False

    def visualRegionForSelection(self, selection: QItemSelection) -> QRegion:
        """Where the chosen cards are."""
        region = QRegion()
        for index in selection.indexes():
            region += self.visualRect(index)
        return region

    def viewportEvent(self, event: QEvent) -> bool:
        """Over a bench's head, say what a click there offers."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            bench = self.bench_at(event.pos())
            if bench is not None:
                air = bench_head.air_words(bench, self._now)
                ways = "Press to enter air, bring in a logger's file, ask why, place a plant, or edit"
                told = f"{bench.path}{f', air {air}' if air else ''}\n{ways}"
                QToolTip.showText(event.globalPos(), told, self.viewport())
                return True
        return super().viewportEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the benches anew for the new width."""
        super().resizeEvent(event)
        self._lay()
        self._keep_current_in_sight()

    def _look(self, row: int) -> Look:
        index = self.cards.index(row)
        found = None if self._found is None else self.cards.seats[row].number in self._found
        current = self.hasFocus() and index == self.currentIndex()
        return Look(self.selectionModel().isSelected(index), current, found)

    def _photo(self, seat: Seat) -> QPixmap | None:
        sha256 = seat.card.plant.photo
        if sha256 is None or self._dense:
            return None
        return self._thumbs.pixmap(sha256, card.photo_size(self._plan.sizes), self.devicePixelRatioF())

    def _scene(self) -> canvas.Scene:
        return canvas.Scene(self._plan, self._benches, self.cards.seats, self._now, self._palette, self._look,
                            self._photo)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint what is in sight."""
        painter = QPainter(self.viewport())
        painter.setRenderHint(QPainter.RenderHint.TextAntialiasing)
        painter.fillRect(event.rect(), self._palette.bench)
        painter.translate(0, -self.verticalOffset())
        canvas.paint(painter, self._scene(), self._seen())
        painter.end()
