"""The house register: every plant one tick in house order, what is on screen outlined, and its key."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFont, QHelpEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from greenhouse_desk.ui import drawing, words
from greenhouse_desk.ui.collection.model import Seat
from greenhouse_desk.ui.style import Palette, sans

TALL, MIDDLE, LOW, FLAG = 20, 13, 5, 7
TOP = 3
BASE = TOP + TALL
SPACE = 16
LEVELS = {"over": "over", "drying": "today", "today": "today", "hold": "hold"}
KEY = (("today", "today"), ("over", "over"), ("hold", "hold"), ("infested", "infested"), ("none", "nothing yet"),
       ("seen", "on screen"))
KEY_COLUMNS = (66, 92, 78)
HEIGHT, LINE, KEY_ROW, WIDE = BASE + 22, 16, 22, 700
TRIED = ((4.0, 120.0, 1), (4.0, 120.0, 2), (4.0, 84.0, 2), (3.0, 90.0, 2), (3.0, 60.0, 2), (3.0, 44.0, 2),
         (2.0, 60.0, 2), (2.0, 36.0, 2), (2.0, 0.0, 2))
"""How far apart ticks stand, how wide a name may be, and on how many lines: the first that fits is taken."""
KEY_WIDTH = sum(KEY_COLUMNS) + 10


@dataclass(frozen=True, slots=True)
class Tick:
    """One plant in the register: its number, its level (none, today, over, hold, infested)."""

    number: int
    level: str


@dataclass(frozen=True, slots=True)
class Group:
    """One place: its name, on so many lines, and its plants' ticks; where it starts and how far apart its ticks stand,
    in pixels."""

    name: str
    ticks: tuple[Tick, ...]
    x: float
    pitch: float
    room: float
    lines: int = 1


def level_of(seat: Seat) -> str:
    """How a plant stands in the register. A wet crown whose limit is still ahead is work of today, not late."""
    if seat.card.standing.word == "infested":
        return "infested"
    return LEVELS.get(seat.card.words.mark, "none") if seat.card.words else "none"


def grouped(seats: Sequence[Seat], names: Sequence[str], width: float) -> tuple[Group, ...]:
    """Seats laid out as groups on `width` pixels; `names` are the benches' names by their number."""
    runs = [(bench, tuple(Tick(seat.number, level_of(seat)) for seat in run))
            for bench, run in groupby(seats, key=lambda seat: seat.bench)]
    count = sum(len(ticks) for _, ticks in runs)
    if not count:
        return ()
    font = sans(13)
    pitch, rooms, lines = 1.0, [1.0], 1
    for pitch, cap, lines in TRIED:
        rooms = [max(len(ticks) * pitch, min(_needed(names[bench], font, lines) + 2, cap)) for bench, ticks in runs]
        if sum(rooms) + SPACE * (len(runs) - 1) <= width:
            break
    else:
        pitch = max(0.25, (width - SPACE * (len(runs) - 1)) / count)
        rooms = [len(ticks) * pitch for _, ticks in runs]
    groups, x = [], 4.0
    for (bench, ticks), room in zip(runs, rooms, strict=True):
        groups.append(Group(names[bench], ticks, x, pitch, room, lines))
        x += room + SPACE
    return tuple(groups)


def _needed(name: str, font: QFont, lines: int) -> float:
    """How wide a name is on one line, or on two, parted between words where that takes least."""
    parts = name.split()
    if lines == 1 or len(parts) < 2:
        return drawing.width_of(name, font)
    return min(max(drawing.width_of(" ".join(parts[:at]), font), drawing.width_of(" ".join(parts[at:]), font))
               for at in range(1, len(parts)))


class Register(QWidget):
    """Painted; a click asks for the plant under it by `asked(number)`."""

    asked = Signal(int)

    def __init__(self, palette: Palette, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._palette = palette
        self._seats: tuple[Seat, ...] = ()
        self._names: tuple[str, ...] = ()
        self._seen: frozenset[int] = frozenset()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("House register")
        self.setMouseTracking(True)

    def sizeHint(self) -> QSize:
        """As wide as it may be."""
        return QSize(600, HEIGHT)

    def show_seats(self, seats: Sequence[Seat], names: Sequence[str]) -> None:
        """Show these plants; `names` are the benches' names by their number."""
        self._seats, self._names = tuple(seats), tuple(names)
        levels = [level_of(seat) for seat in seats]
        told = [f"{levels.count(level)} {word}" for level, word in KEY[:4] if levels.count(level)]
        self.setAccessibleDescription(", ".join([words.counted(len(seats), "plant"), *told]))
        self._take_height()
        self.update()

    def show_seen(self, numbers: frozenset[int]) -> None:
        """Outline these plants."""
        if numbers != self._seen:
            self._seen = numbers
            self.update()

    def _key_width(self) -> int:
        """What the key takes of the width: nothing where it stands in a row of its own below."""
        return KEY_WIDTH if self.width() > WIDE else 0

    def resizeEvent(self, event: QResizeEvent) -> None:
        """In a narrow window the key stands below."""
        super().resizeEvent(event)
        self._take_height()

    def _take_height(self) -> None:
        self.setFixedHeight(self._names_end() + (0 if self._key_width() else KEY_ROW))

    def _names_end(self) -> int:
        """Where the names end: they are on as many lines as they need."""
        return HEIGHT + LINE * (max((group.lines for group in self._groups()), default=1) - 1)

    def _groups(self) -> tuple[Group, ...]:
        return grouped(self._seats, self._names, self.width() - self._key_width() - 12)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the ticks and the key."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        for group in self._groups():
            self._paint_group(painter, group)
        if self._seats:
            self._paint_key(painter)
        painter.end()

    def _paint_group(self, painter: QPainter, group: Group) -> None:
        colours = self._palette
        painter.fillRect(QRectF(group.x - 2, BASE, len(group.ticks) * group.pitch + 4, 2.5), colours.rail)
        for place, tick in enumerate(group.ticks):
            paint_tick(painter, tick.level, group.x + (place + 0.5) * group.pitch, group.pitch, colours)
        seen = [place for place, tick in enumerate(group.ticks) if tick.number in self._seen]
        if seen:
            painter.setPen(QPen(colours.water, 2))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(group.x + seen[0] * group.pitch - 3, 1,
                                    (seen[-1] - seen[0] + 1) * group.pitch + 6, BASE + 3))
        if group.room >= 24:
            room = QRectF(group.x - 3, BASE + 5, group.room + SPACE - 4, 2 + LINE * group.lines)
            drawing.text_block(painter, room, group.name, sans(13), colours.ink2, group.lines)

    def _paint_key(self, painter: QPainter) -> None:
        """Each tick as it is drawn, smaller, with its word: two rows of three at the right, or one row below."""
        left, colours = float(self.width() - KEY_WIDTH + 10), self._palette
        below, along, under = not self._key_width(), 4.0, self._names_end() - 2.0
        for place, (level, word) in enumerate(KEY):
            x = along if below else left + sum(KEY_COLUMNS[:place // 2])
            y = under if below else 22.0 * (place % 2)
            along += drawing.width_of(word, sans(13)) + 28
            painter.save()
            painter.translate(x, y + 1)
            painter.scale(0.75, 0.75)
            if level == "seen":
                painter.setPen(QPen(colours.water, 2.4))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRect(QRectF(0, 6, 12, BASE - 5))
            else:
                paint_tick(painter, level, 6, 5, colours)
                painter.fillRect(QRectF(0, BASE, 12, 2.4), colours.rail)
            painter.restore()
            drawing.text(painter, QRectF(x + 14, y + 2, 80, 18), word, sans(13), colours.ink2)

    def _at(self, x: float) -> Tick | None:
        for group in self._groups():
            place = int((x - group.x) // group.pitch)
            if 0 <= place < len(group.ticks):
                return group.ticks[place]
        return None

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Ask for the plant under the pointer."""
        tick = self._at(event.position().x())
        if tick is not None:
            self.asked.emit(tick.number)

    def event(self, event: QHelpEvent) -> bool:  # type: ignore[override]
        """Say whose tick it is."""
        if event.type() == QHelpEvent.Type.ToolTip:
            tick = self._at(event.pos().x())
            QToolTip.showText(event.globalPos(), f"{tick.number}, {dict(KEY)[tick.level]}" if tick else "", self)
            return True
        return super().event(event)


def paint_tick(painter: QPainter, level: str, x: float, pitch: float, palette: Palette) -> None:
    """One tick about `x`: low, middle, tall, or the infested triangle."""
    wide = max(1.0, min(2.4, pitch * 0.55))
    if level == "infested":
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(palette.madder)
        painter.drawPolygon(QPolygonF([QPointF(x, TOP + 3), QPointF(x + 4.5, BASE), QPointF(x - 4.5, BASE)]))
        return
    if level == "over":
        _paint_pennant(painter, x, pitch, palette)
        return
    tall, ink = {"hold": (TALL, palette.hold), "today": (MIDDLE, palette.due)}.get(level, (LOW, palette.ink2))
    wide = wide if level == "none" else max(wide, min(3.0, pitch))
    painter.fillRect(QRectF(x - wide / 2, BASE - tall, wide, tall), ink)


def _paint_pennant(painter: QPainter, x: float, pitch: float, palette: Palette) -> None:
    """A pole with a flag, within the tick's own room, so that late neighbours stand apart."""
    room = max(1.0, min(6.0, pitch - 1.0) // 1)
    pole = min(1.6, room)
    left, top = (x - room / 2) // 1, BASE - MIDDLE - 4
    painter.fillRect(QRectF(left, top, pole, BASE - top), palette.madder)
    painter.fillRect(QRectF(left, top, room, FLAG), palette.madder)
