"""The window: navigation at the left, one screen at a time, messages in line, screens read anew when shown."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Protocol

from PySide6.QtCore import QEvent, Signal
from PySide6.QtGui import QCloseEvent, QKeySequence, QResizeEvent, QShortcut, QShowEvent
from PySide6.QtWidgets import QBoxLayout, QHBoxLayout, QMainWindow, QStackedWidget, QVBoxLayout, QWidget

from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.services import airflow, house, treatments
from greenhouse_desk.services.desk import Changed, Desk
from greenhouse_desk.ui.bell_banner import BellBanner
from greenhouse_desk.ui.daypanel import DayPanel
from greenhouse_desk.ui.keyboard import lead_into
from greenhouse_desk.ui.messages import MessageBar
from greenhouse_desk.ui.navigation import Navigation
from greenhouse_desk.ui.print_banner import PrintBanner
from greenhouse_desk.ui.session_notice import SessionNotice
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.undo_keys import UndoKeys
from greenhouse_desk.ui.undo_panel import UndoPanel
from greenhouse_desk.ui.whole_screen import screen_of
from greenhouse_desk.ui.why import ask_why

NARROW = 1000
WIDE, HIGH = 1600, 1000


class Shown(Protocol):
    """What a screen can do."""

    def show_now(self) -> None:
        """Read everything anew and show it."""


@dataclass(frozen=True, slots=True)
class Screen:
    """One screen: its title in the navigation, its widget, and the figure beside its title (empty for none).

    `session` tells whether a bench session is under way there; such a screen offers open ones itself. `tick` hears that
    a second has passed, `leave` that another screen comes to the front or the window closes.
    """

    title: str
    widget: QWidget
    count: Callable[[], str] = str
    session: Callable[[], bool] | None = None
    tick: Callable[[datetime], None] | None = None
    leave: Callable[[], None] | None = None

    def read(self) -> None:
        """Read everything anew and show it."""
        shown: Shown = self.widget  # type: ignore[assignment]
        shown.show_now()


class MainWindow(QMainWindow):
    """The window of the program. `closing()` is emitted before it goes, `label_wanted()` when a label is to be read.

    `waits_for` says what its closing waits for, "" for nothing; `close_when_free()` is to be called when that changed.
    """

    closing = Signal()
    label_wanted = Signal()

    def __init__(self, desk: Desk, signals: Signals, screens: Sequence[Screen], palette: Palette) -> None:
        super().__init__()
        self.setWindowTitle("Greenhouse Desk")
        self.setMinimumSize(600, 340)
        self._desk = desk
        self._signals = signals
        self._palette = palette
        self._screens = tuple(screens)
        self._stale = set(range(len(self._screens)))
        self._started = desk.clock()
        self._house_waits = False
        self._met = self._leaving = False
        self.waits_for: Callable[[], str] = str
        self.messages = MessageBar()
        self.banner = BellBanner()
        self.printed = PrintBanner()
        self.session = SessionNotice()
        self.day = DayPanel(palette)
        self.undo_panel = UndoPanel()
        self.navigation = Navigation([screen.title for screen in screens], palette, self.day, self.undo_panel)
        self._pages = QStackedWidget()
        for screen in screens:
            self._pages.addWidget(screen.widget)
        self._build()
        self._listen()
        self.show_screen(0)
        self._read_house()

    def _build(self) -> None:
        right = QWidget()
        column = QVBoxLayout(right)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self._bar_room = QWidget()
        room = QVBoxLayout(self._bar_room)
        room.setContentsMargins(0, 0, 0, 0)
        room.setSpacing(6)
        for part in (self.session, self.banner, self.printed, self.messages):
            part.setObjectName("told")
            framed = QHBoxLayout()
            framed.setContentsMargins(12, 0, 12, 0)
            framed.addWidget(part)
            room.addLayout(framed)
        column.addWidget(self._bar_room)
        column.addWidget(self._pages, 1)
        whole = QWidget()
        self._whole = QBoxLayout(QBoxLayout.Direction.LeftToRight, whole)
        self._whole.setContentsMargins(0, 0, 0, 0)
        self._whole.setSpacing(0)
        self._whole.addWidget(self.navigation)
        self._whole.addWidget(right, 1)
        self.setCentralWidget(whole)

    def _listen(self) -> None:
        self._signals.changed.connect(self._on_changed)
        self._signals.refused.connect(self._on_refused)
        self._signals.noted.connect(self.messages.note)
        self._signals.settled.connect(self.messages.hide)
        self._signals.to_screen.connect(self.show_titled)
        self.navigation.chosen.connect(self.show_screen)
        self.day.clicked.connect(lambda: ask_why("Light and dusk", self.day.why(), self._palette, self))
        self.navigation.read_button.clicked.connect(self.label_wanted)
        QShortcut(QKeySequence("Ctrl+L"), self, self.label_wanted.emit)
        self.undo_panel.undo.connect(self.undo)
        self.undo_panel.redo.connect(self.redo)
        UndoKeys(self)
        for keys, slot in (("Ctrl+Z", self.undo), ("Ctrl+Shift+Z", self.redo), ("Ctrl+Y", self.redo)):
            QShortcut(QKeySequence(keys), self, slot)
        for number in range(len(self._screens)):
            QShortcut(QKeySequence(f"Ctrl+{number + 1}"), self, lambda number=number: self._go(number))

    def place(self, width: int, height: int, maximised: bool) -> None:
        """Show it at this size in pixels (0: as it fits), no larger than the screen."""
        screen = screen_of(self).availableGeometry()
        width, height = width or WIDE, height or HIGH
        self.resize(min(width, screen.width()), min(height, screen.height()))
        # where it fills the screen, its title bar would push its foot off the screen
        if maximised or width >= screen.width() or height >= screen.height():
            self.showMaximized()
        else:
            self.show()

    def show_screen(self, number: int) -> None:
        """Bring screen `number` to the front; it reads anew when something changed since it was last shown."""
        if number != self._pages.currentIndex():
            self._leave()
        self.navigation.choose(number)
        self._pages.setCurrentIndex(number)
        if self.isVisible():
            self._read_house()
        self.session.want(self._screens[number].session is None)
        self._read(number)

    def _go(self, number: int) -> None:
        """Bring a screen to the front by its key: the keyboard goes there too."""
        self.show_screen(number)
        lead_into(self._screens[number].widget)

    def _leave(self) -> None:
        leave = self._screens[self._pages.currentIndex()].leave
        if leave is not None:
            leave()

    def show_titled(self, title: str) -> None:
        """Bring the screen with this title to the front."""
        self.show_screen([screen.title for screen in self._screens].index(title))

    def current_title(self) -> str:
        """The title of the screen in front."""
        return self._screens[self._pages.currentIndex()].title

    def tick(self, now: datetime) -> None:
        """A second has passed."""
        self.day.show_now(now)
        for screen in self._screens:
            if screen.tick is not None:
                screen.tick(now)
        if self.session.stale(now):
            self._read_session(now)
        self._read_what_waits()

    def undo(self) -> None:
        """Take the last deed back, if there is one."""
        self._signals.attempt(self._desk.undo)

    def redo(self) -> None:
        """Do the last undone deed again, if there is one."""
        self._signals.attempt(self._desk.redo)

    def _on_changed(self, _changed: Changed) -> None:
        self.messages.hide()
        self._stale = set(range(len(self._screens)))
        self._read(self._pages.currentIndex())
        self._read_house()

    def _on_refused(self, refusal: Refused) -> None:
        """It is to be read: a window that was about to close stays."""
        self._leaving = False
        self.messages.refuse(refusal)

    def _at_the_bench(self) -> bool:
        """Whether bench mode fills the screen; what is asked of all plants then waits until it is left."""
        return any(screen.session is not None and screen.session() for screen in self._screens)

    def _read(self, number: int) -> None:
        if number in self._stale:
            self._stale.discard(number)
            self._screens[number].read()

    def _read_house(self) -> None:
        zone, now = self._desk.read(house.zone), self._desk.clock()
        self.undo_panel.show_deeds(self._desk.next_undo(), self._desk.next_redo(), self._started, zone)
        self._house_waits = self._at_the_bench()
        self._read_session(now)
        if self._house_waits:
            return
        self.day.set_home(self._desk.read(house.home), zone, self._desk.read(house.home_is_set))
        self.day.set_air(self._desk.read(airflow.rinse_by, now), self._desk.read(airflow.air_until))
        self.day.again()
        self.day.show_now(now)
        for plate, screen in zip(self.navigation.plates, self._screens, strict=True):
            plate.set_count(screen.count())

    def _read_session(self, now: datetime) -> None:
        opened = () if self._at_the_bench() else self._desk.read(treatments.open_sittings, now)
        self.session.show_open(opened, now, self._desk.read(house.zone))

    def showEvent(self, event: QShowEvent) -> None:
        """After a start what waits is offered once."""
        super().showEvent(event)
        if not self._met:
            self._met = True
            self._offer_session()

    def changeEvent(self, event: QEvent) -> None:
        """Back from the bench: what waited is read."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.ActivationChange and self.isActiveWindow():
            self._read_what_waits()

    def _read_what_waits(self) -> None:
        if self._house_waits and not self._at_the_bench():
            self._read_house()
            self._offer_session()

    def _offer_session(self) -> None:
        """A session that waits has the keyboard, so that Space goes on with it."""
        if self.session.isVisibleTo(self):
            self.session.button.setFocus()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Below a width the navigation goes to the top."""
        super().resizeEvent(event)
        narrow = self.width() < NARROW
        self.navigation.set_flat(narrow)
        self._whole.setDirection(QBoxLayout.Direction.TopToBottom if narrow else QBoxLayout.Direction.LeftToRight)

    def close_when_free(self) -> None:
        """Go, if that was asked for and nothing is waited for any more."""
        if self._leaving and not self.waits_for():
            self._leaving = False
            self.close()

    def close_at_once(self) -> None:
        """Go; what is written or printed comes to its end meanwhile."""
        self.waits_for = str
        self.close()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Say that it goes. One who closes it while something is written or printed is told, and it goes after that."""
        waits_for = self.waits_for()
        if waits_for:
            self._leaving = True
            self.messages.note(f"Closes as soon as {waits_for}.")
            event.ignore()
            return
        self._leave()
        self.closing.emit()
        super().closeEvent(event)
