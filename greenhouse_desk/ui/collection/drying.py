"""The drying countdown: time left to dusk or lights-out, the span it takes to dry, what to do first."""

from __future__ import annotations

import math
from datetime import datetime, timedelta, tzinfo
from typing import NamedTuple

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from greenhouse_desk.domain.airflow_reasons import hours
from greenhouse_desk.domain.care import Care, Drying
from greenhouse_desk.domain.names import BotanicalName
from greenhouse_desk.ui import drawing, marks, words
from greenhouse_desk.ui.drawing import Align
from greenhouse_desk.ui.style import Palette, hatch, sans, serif

HEIGHT = 216
BAR_TOP, BAR = 128, 16
COMPACT = 104
DIGITS, ROOMY = (46, 34, 28), 236
LOOK_BACK = timedelta(hours=8)
LOOK_ON = timedelta(hours=10)
TELLING_HOURS = 0.1
"""A gain smaller than this is not told."""


class Said(NamedTuple):
    """The countdown in words: the big digits, two lines beside them, the estimate, what to do now, lateness."""

    digits: str
    until: str
    limit: str
    estimate: str
    now_do: str
    late: bool


def said(drying: Drying, now: datetime, zone: tzinfo) -> Said:
    """What the box says at `now` (aware)."""
    late = drying.limit is not None and now >= drying.limit
    return Said(_digits(drying, now), *_limit(drying, now, zone), _estimate(drying, now, zone), _now_do(drying), late)


def _digits(drying: Drying, now: datetime) -> str:
    if drying.limit is None:
        return words.countdown(now - drying.wet_since)
    return words.countdown(drying.limit - now)


def _limit(drying: Drying, now: datetime, zone: tzinfo) -> tuple[str, str]:
    if drying.limit is None:
        return "wet since", words.moment(drying.wet_since, now, zone)
    past = now >= drying.limit
    return "past" if past else "to", f"{drying.limit_name} {words.moment(drying.limit, now, zone)}"


def _estimate(drying: Drying, now: datetime, zone: tzinfo) -> str:
    if drying.pool:
        return "a pool does not dry by itself"
    if drying.earliest is None:
        return "does not dry in this air"
    low = words.moment(drying.earliest, now, zone)
    return f"likely dry {low} or later" if drying.latest is None else (
        f"likely dry {low} to {words.moment(drying.latest, now, zone)}")


def _now_do(drying: Drying) -> str:
    """What the hands can do, with the hours it gains at the slow end."""
    if not drying.pool and drying.aired:
        return "air is on: feel the crown"
    do = "blot first" if drying.pool else "put the fan on"
    if drying.gain_hours < TELLING_HOURS or math.isinf(drying.gain_hours):
        return do
    return f"{do}: {hours(drying.gain_hours)} h sooner"


class DryingBox(QWidget):
    """One airing as a large countdown. `tick(now)` repaints the digits and nothing else."""

    def __init__(self, palette: Palette, zone: tzinfo, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._palette = palette
        self._zone = zone
        self._care: Care | None = None
        self._name: BotanicalName | None = None
        self._now: datetime | None = None
        self._compact = False
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        """As wide as the strip."""
        return QSize(260, COMPACT if self._compact else HEIGHT)

    def set_compact(self, compact: bool) -> None:
        """Without the bar and the estimate, where the window is low."""
        if compact != self._compact:
            self._compact = compact
            self.updateGeometry()
            self.update()

    def show_care(self, care: Care, name: BotanicalName, now: datetime, zone: tzinfo) -> None:
        """Show this airing."""
        self._care, self._name, self._now, self._zone = care, name, now, zone
        assert care.drying is not None
        told = said(care.drying, now, zone)
        self.setAccessibleName(f"{care.plant} {name.plain}: {told.digits} {told.until} {told.limit}, {told.estimate}, "
                               f"{told.now_do}")
        self.update()

    def tick(self, now: datetime) -> None:
        """A second has passed."""
        old, self._now = self._now, now
        minute = old is None or old.minute != now.minute
        self.update() if minute else self.update(12, 52, self.width() - 24, 50)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the box."""
        if self._care is None or self._care.drying is None or self._now is None or self._name is None:
            return
        painter = QPainter(self)
        told = said(self._care.drying, self._now, self._zone)
        ink = self._palette.madder if told.late else self._palette.ink
        width = self.width()
        number = str(self._care.plant)
        drawing.text(painter, QRectF(12, 8, 70, 38), number, serif(28, 600), self._palette.ink)
        left = 22 + drawing.width_of(number, serif(28, 600))
        drawing.name_block(painter, QRectF(left, 9, width - left - 8, 40), self._name, self._palette, 15, 2, 18)
        digits, beside = _beside(told, width)
        drawing.text(painter, QRectF(12, 52, width - 24, 48), told.digits, digits, ink)
        until = QRectF(beside, 57, width - beside - 6, 40)
        drawing.text_block(painter, until, f"{told.until} {told.limit}", sans(14, 600), ink, 2)
        if not self._compact:
            self._paint_below(painter, told, self._care.drying, self._now)
        painter.end()

    def _paint_below(self, painter: QPainter, told: Said, drying: Drying, now: datetime) -> None:
        width = self.width()
        self._paint_bar(painter, QRectF(14, BAR_TOP, width - 28, BAR), drying, now)
        drawing.text(painter, QRectF(12, 171, width - 20, 20), told.estimate, sans(14, 600), self._palette.ink)
        mark = "over" if told.late else "drying"
        drawing.marked(painter, QRectF(12, 192, width - 20, 20), mark, told.now_do, self._palette, 14,
                       marks.colour(mark, self._palette))

    def _paint_bar(self, painter: QPainter, bar: QRectF, drying: Drying, now: datetime) -> None:
        start, end = _span(drying, now)

        def x(at: datetime) -> float:
            return bar.left() + min(max((at - start) / (end - start), 0.0), 1.0) * bar.width()

        colours = self._palette
        likely, latest = x(drying.earliest or end), x(drying.latest or end)
        dusk = drying.limit if drying.limit is not None and drying.limit >= start else None
        if dusk is not None:
            painter.fillRect(QRectF(x(dusk), bar.top() - 5, bar.right() - x(dusk), BAR + 10),
                             colours.dusk_fill)
        painter.fillRect(bar, colours.dry_root)
        painter.fillRect(QRectF(bar.left(), bar.top(), likely - bar.left(), BAR), colours.wet_root)
        painter.fillRect(QRectF(likely, bar.top(), latest - likely, BAR), hatch(colours.wet_root, 4, 4))
        painter.setPen(QPen(colours.rule2, 1))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(bar.adjusted(0.5, 0.5, -0.5, -0.5))
        self._paint_hours(painter, bar, start, end, x)
        if dusk is not None:
            self._paint_dusk(painter, bar, x(dusk), drying.limit_name)
        painter.setPen(QPen(colours.ink, 2.5))
        painter.drawLine(QPointF(x(now), bar.top() - 6), QPointF(x(now), bar.bottom() + 5))

    def _paint_dusk(self, painter: QPainter, bar: QRectF, at: float, name: str) -> None:
        night = QRectF(at, bar.top() - 5, bar.right() - at, BAR + 10)
        lines = QColor(self._palette.duskink)
        lines.setAlphaF(0.55)
        painter.fillRect(night, hatch(lines, 1, 6))
        painter.setPen(QPen(self._palette.duskink, 2))
        painter.drawLine(QPointF(at, bar.top() - 8), QPointF(at, bar.bottom() + 6))
        width = drawing.width_of(name, sans(13, 600)) + 4
        left = max(bar.left(), min(at - width / 2, bar.right() - width))
        drawing.text(painter, QRectF(left, bar.top() - 25, width, 17), name, sans(13, 600), self._palette.duskink)

    def _paint_hours(self, painter: QPainter, bar: QRectF, start: datetime, end: datetime, x: object) -> None:
        local = start.astimezone(self._zone).replace(minute=0, second=0, microsecond=0) + timedelta(hours=1)
        step = max(1, round((end - start) / timedelta(hours=5)))
        while local < end:
            at = bar.left() + (local - start) / (end - start) * bar.width()
            if local.hour % step == 0 and bar.left() + 6 < at < bar.right() - 6:
                painter.setPen(QPen(self._palette.rule2, 1))
                painter.drawLine(QPointF(at, bar.bottom()), QPointF(at, bar.bottom() + 5))
                drawing.text(painter, QRectF(at - 14, bar.bottom() + 6, 28, 17), str(local.hour), sans(13),
                             self._palette.ink2, Align.AlignCenter)
            local += timedelta(hours=1)


def _beside(told: Said, width: float) -> tuple[QFont, float]:
    """The largest digits beside which the words after them stand whole, and where these begin."""
    words_after = f"{told.until} {told.limit}"
    for px in DIGITS if width > ROOMY else DIGITS[1:]:
        digits = sans(px, 600)
        beside = 22 + drawing.width_of(told.digits, digits)
        if " ".join(drawing.wrapped(words_after, sans(14, 600), width - beside - 6, 2)) == words_after:
            break
    return digits, beside


def _span(drying: Drying, now: datetime) -> tuple[datetime, datetime]:
    """The stretch the bar shows: from the wetting to past the limit and the latest estimate, within reason."""
    start = max(drying.wet_since, now - LOOK_BACK)
    ends = [at for at in (drying.latest, drying.limit, now) if at is not None]
    end = min(max(ends), now + LOOK_ON) + timedelta(minutes=40)
    return start, max(end, start + timedelta(hours=2))
