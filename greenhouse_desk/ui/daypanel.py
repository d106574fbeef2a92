"""The day at the lower left: date, clock, light and dark hours, and how long work may go on that must dry."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo
from zoneinfo import ZoneInfo

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QSizePolicy

from greenhouse_desk.domain import airflow
from greenhouse_desk.domain.care import Reason
from greenhouse_desk.domain.plants import Home
from greenhouse_desk.domain.sun import RIM_DEGREES
from greenhouse_desk.ui import drawing, words
from greenhouse_desk.ui.drawing import Align
from greenhouse_desk.ui.style import Palette, hatch, sans, serif

TOO_LATE = "too late to rinse"
LINES = 3


@dataclass(frozen=True, slots=True)
class Day:
    """The local day: now, sunrise and sunset in the home's zone (None where the sun does not rise or set).

    `known` is False while the grower has not set the home; `rinse_by` is until when plants may be rinsed and be dry in
    time with a fan on (None: not known, or not at all); until `air_until` some bench's air reading holds.
    """

    now: datetime
    rise: datetime | None
    set: datetime | None
    known: bool = True
    rinse_by: datetime | None = None
    air_until: datetime | None = None

    @property
    def light(self) -> str:
        """ "light 7:40 to dusk 16:18"."""
        if self.rise is None or self.set is None:
            return "the sun does not set" if self.rise is None and self.set is not None else "no dusk today"
        zone = self.now.tzinfo
        assert zone is not None
        return f"light {words.clock(self.rise, zone)}, dusk {words.clock(self.set, zone)}"

    @property
    def left(self) -> str:
        """How long is left for work that must dry before dusk."""
        if not self.known:
            return "Home not set: dusk is only assumed."
        if self.set is None:
            return ""
        if self.now >= self.set:
            return "It is dark: roots only, keep crowns dry."
        if self.rinse == TOO_LATE:
            return "Roots only: a wet crown would not dry in time."
        if self.rinse and self.rinse_by is not None:
            return f"{words.stretch(self.rinse_by - self.now)} left for work that must dry"
        to_dusk = f"{words.stretch(self.set - self.now)} to dusk."
        if not self._air_read:
            return f"{to_dusk} Read the air before you rinse."
        return f"{to_dusk} Not every bench dries by then." if self.rinse_by is None else to_dusk

    @property
    def _air_read(self) -> bool:
        """Whether a reading of the air still holds; without one nobody can say how long drying takes."""
        return self.air_until is not None and self.now <= self.air_until

    @property
    def rinse(self) -> str:
        """Until when a rinse dries in time, "" when that is not known for this day."""
        zone = self.now.tzinfo
        assert zone is not None
        if not self._air_read or self.rinse_by is None or self.rinse_by.astimezone(zone).date() != self.now.date():
            return ""
        return f"rinse by {words.clock(self.rinse_by, zone)}" if self.now < self.rinse_by else TOO_LATE


def day_at(now: datetime, home: Home, zone: ZoneInfo, known: bool = True, rinse_by: datetime | None = None,
           air_until: datetime | None = None) -> Day:
    """The local day at `now` (aware) where the collection stands; `known` and what follows as in `Day`."""
    local = now.astimezone(zone)
    return Day(local, airflow.sunrise(local.date(), home.latitude, home.longitude, zone),
               airflow.sunset(local.date(), home.latitude, home.longitude, zone), known, rinse_by, air_until)


def day_why(day: Day, home: Home) -> tuple[Reason, ...]:
    """Where the day's light and dusk come from, step by step."""
    zone = day.now.tzinfo
    assert zone is not None
    stands = "stands" if day.known else "is taken to stand"
    where = (f"The collection {stands} at {abs(home.latitude):.2f} {'N' if home.latitude >= 0 else 'S'}, "
             f"{abs(home.longitude):.2f} {'E' if home.longitude >= 0 else 'W'}, time zone {home.zone}.")
    sets = (f"The sun's upper rim goes under the horizon at {words.clock(day.set, zone)}." if day.set else
            "The sun does not set on this date.")
    told = "set on the House page" if day.known else "assumed: nobody set the home yet, under House"
    return (Reason(where, told),
            Reason(f"{words.weekday(day.now.date())}: {sets} Hills and walls are not counted.",
                   f"position of the sun at that place and date; {RIM_DEGREES.of}, {RIM_DEGREES.source}"),
            Reason("A crown that is wet at dusk or lights-out stays wet through the night: it should be dry by then.",
                   "common practice"),
            *_rinse_why(day, zone),
            Reason(day.left or "No dusk to work towards today.", "worked out from the steps above"))


def _rinse_why(day: Day, zone: tzinfo) -> tuple[Reason, ...]:
    """Where the last moment for a rinse comes from."""
    if not day.rinse or day.rinse_by is None:
        return ()
    return (Reason(f"With a fan on at once, what is rinsed by {words.clock(day.rinse_by, zone)} is dry in time on "
                   "every bench whose air is known. A bench's menu tells it step by step.",
                   "the drying model on each bench's newest air reading"),)


class DayPanel(QAbstractButton):
    """Painted; `show_now` each second. A press asks for `why`."""

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self._palette = palette
        self._day: Day | None = None
        self._home: tuple[Home, ZoneInfo] | None = None
        self._known = True
        self._rinse_by: datetime | None = None
        self._air_until: datetime | None = None
        self._flat = False
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setToolTip("Why: where the sun sets, and when")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def set_home(self, home: Home, zone: ZoneInfo, known: bool = True) -> None:
        """Where the sun is looked up for, and whether the grower said so."""
        self._home, self._known = (home, zone), known

    def set_air(self, rinse_by: datetime | None, until: datetime | None) -> None:
        """Until when a rinse dries in time, and until when a reading of the air holds."""
        self._rinse_by, self._air_until = rinse_by, until

    def set_flat(self, flat: bool) -> None:
        """One line at the top of a narrow window, or the panel at the lower left."""
        self._flat = flat
        self.setSizePolicy(QSizePolicy.Policy.Fixed if flat else QSizePolicy.Policy.Expanding,
                           QSizePolicy.Policy.Fixed)
        self.updateGeometry()

    def sizeHint(self) -> QSize:
        """The panel, or the line."""
        return QSize(190, 38) if self._flat else QSize(152, 192)

    def show_now(self, now: datetime) -> None:
        """A second has passed: repaint when the minute has changed."""
        if self._home is None:
            return
        home, zone = self._home
        local = now.astimezone(zone)
        if self._day is not None and self._day.now.replace(second=0, microsecond=0) == local.replace(
                second=0, microsecond=0):
            return
        self._day = day_at(now, home, zone, self._known, self._rinse_by, self._air_until)
        self.setAccessibleName(f"{words.weekday(local.date())}, {words.clock(local, zone)}, {self._day.light}, "
                               f"{self._day.left}" + (f", {self._day.rinse}" if self._day.rinse else ""))
        self.update()

    def why(self) -> tuple[Reason, ...]:
        """Where light and dusk come from; empty before there is a day."""
        if self._day is None or self._home is None:
            return ()
        return day_why(self._day, self._home[0])

    def again(self) -> None:
        """The home has changed: look the sun up anew."""
        self._day = None

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the day."""
        if self._day is None or self._home is None:
            return
        painter = QPainter(self)
        zone = self._home[1]
        date_words, clock_words = words.weekday(self._day.now.date()), words.clock(self._day.now, zone)
        if self._flat:
            line = QRectF(0, 2, self.width() - 12, self.height() - 3)
            assumed = "" if self._known else "assumed "
            dusk = f", {assumed}dusk {words.clock(self._day.set, zone)}" if self._day.set else ""
            drawing.text(painter, line, f"{clock_words}{dusk}", sans(14, 600), self._palette.ink,
                         Align.AlignRight | Align.AlignVCenter)
        else:
            self._paint_panel(painter, date_words, clock_words)
        if self.hasFocus():
            drawing.outline(painter, QRectF(self.rect()).adjusted(3, 3, -5, -3), self._palette, True)
        painter.end()

    def _paint_panel(self, painter: QPainter, date_words: str, clock_words: str) -> None:
        colours, day, width = self._palette, self._day, self.width() - 34
        assert day is not None
        painter.fillRect(QRectF(18, 0, width, 1), colours.rule2)
        drawing.text(painter, QRectF(18, 8, width, 18), date_words, sans(14, 600), colours.ink)
        drawing.text(painter, QRectF(18, 26, width, 36), clock_words, serif(30, 600), colours.ink)
        self._paint_bar(painter, QRectF(18, 70, width, 12), day)
        drawing.text(painter, QRectF(18, 90, width + 14, 18), day.light, sans(13), colours.ink2)
        below = drawing.text_block(painter, QRectF(18, 110, width + 10, 60), day.left, sans(13), colours.ink2, LINES)
        drawing.text(painter, QRectF(18, below + 2, width + 14, 18), day.rinse, sans(13, 600), colours.ink)

    def _paint_bar(self, painter: QPainter, bar: QRectF, day: Day) -> None:
        colours = self._palette

        def x(at: datetime) -> float:
            start = at.replace(hour=0, minute=0, second=0, microsecond=0)
            return bar.left() + (at - start) / timedelta(hours=24) * bar.width()

        painter.fillRect(bar, colours.dusk_fill)
        painter.fillRect(bar, hatch(colours.duskink, 1, 5))
        if day.rise is not None and day.set is not None:
            painter.fillRect(QRectF(x(day.rise), bar.top(), x(day.set) - x(day.rise), bar.height()), colours.due_fill)
        painter.setPen(QPen(colours.rule2, 1))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(bar.adjusted(0.5, 0.5, -0.5, -0.5))
        painter.setPen(QPen(colours.ink, 2.5))
        painter.drawLine(QPointF(x(day.now), bar.top() - 4), QPointF(x(day.now), bar.bottom() + 4))
