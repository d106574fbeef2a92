"""The House screen: the home's place, the house rules, a year for each genus, the backups, how this window looks."""

from __future__ import annotations

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from greenhouse_desk.domain.plants import Home
from greenhouse_desk.services import house
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui.forms import Field, Input
from greenhouse_desk.ui.house.backups import BackupPanel
from greenhouse_desk.ui.house.kept_rows import KeptFoot, KeptRows
from greenhouse_desk.ui.house.rules_form import RulesForm
from greenhouse_desk.ui.house.unkept import UnkeptBar
from greenhouse_desk.ui.house.years import YearsPanel
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.panel import panel
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.style import Palette
from greenhouse_desk.ui.window_settings import LOOKS, TEXT_SIZES, WindowSettings

NARROW = 780
WIDEST, WIDEST_OF_THREE = 1320, 1980
"""Wider two columns and three do not grow: a figure stays near its words."""
WIDE = 1800
"""From this width on the years of the genera have a column of their own."""
HOME = (
    Field("latitude", Input.DECIMAL, "Latitude", "North is positive.", unit="degrees", low=-90, high=90, decimals=4),
    Field("longitude", Input.DECIMAL, "Longitude", "East is positive.", unit="degrees", low=-180, high=180, decimals=4),
    Field("zone", Input.TEXT, "Time zone", "Such as Europe/London. Dusk and care days are told in it."),
)
WINDOW = (
    Field("look", Input.CHOICE, "Light or dark", choices=tuple((word, word) for word in LOOKS)),
    Field("text_percent", Input.CHOICE, "Text size", "Everything grows with it. It takes effect at the next start.",
          choices=tuple((f"{size} %", size) for size in TEXT_SIZES)),
)


def place_words(home: Home) -> str:
    """Where a home lies, in degrees and words."""
    north, east = "north" if home.latitude >= 0 else "south", "east" if home.longitude >= 0 else "west"
    return f"{abs(home.latitude):g} degrees {north}, {abs(home.longitude):g} {east}"


class HouseScreen(QWidget):
    """`window_changed(WindowSettings)` tells a new look or text size."""

    window_changed = Signal(object)

    def __init__(self, desk: Desk, signals: Signals, settings: WindowSettings, palette: Palette) -> None:
        super().__init__()
        self.setProperty("ground", "bench")
        self._desk, self._signals = desk, signals
        self.settings = settings
        self.backups = BackupPanel(desk, signals, self)
        self.years = YearsPanel(desk, signals, palette, self)
        self.rules = RulesForm()
        self.unkept = UnkeptBar()
        self.home = KeptRows(HOME)
        self.window_rows = KeptRows(WINDOW)
        self._assumed = label("", "due", bold=True)
        self._build()

    def _build(self) -> None:
        left, self._right = QVBoxLayout(), QVBoxLayout()
        for column in (left, self._right):
            column.setSpacing(12)
        left.addWidget(self._rules_panel())
        left.addStretch(1)
        self._home_frame, self._asked = self._home_panel(), self._asked_panel()
        for made in (self._home_frame, self.backups.frame, self._window_panel(), self.years.frame):
            self._right.addWidget(made)
        self._right.addStretch(1)
        page = QWidget()
        aside = QHBoxLayout(page)
        aside.setContentsMargins(24, 4, 24, 24)
        self.bound = QWidget()
        self.bound.setMaximumWidth(WIDEST)
        aside.addWidget(self.bound, WIDEST_OF_THREE)
        aside.addStretch(1)
        whole = QVBoxLayout(self.bound)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(12)
        whole.addWidget(self._asked)
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._row.setSpacing(12)
        self._row.addLayout(left, 3)
        self._row.addLayout(self._right, 2)
        self._third = QVBoxLayout()
        self._third.addStretch(1)
        self._row.addLayout(self._third)
        whole.addLayout(self._row)
        self._frame(page)

    def _frame(self, page: QWidget) -> None:
        """The title, the page under it to scroll, and the bar at the foot."""
        self._area = QScrollArea()
        self._area.setWidget(page)
        self._area.setWidgetResizable(True)
        self._area.setFrameShape(QFrame.Shape.NoFrame)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 12, 0, 0)
        outer.setSpacing(8)
        title = heading("House", 26)
        title.setContentsMargins(24, 0, 0, 0)
        outer.addWidget(title)
        outer.addWidget(self._area, 1)
        outer.addWidget(self.unkept)
        self.rules.changed.connect(self._on_changed)
        self.unkept.keep.clicked.connect(self._on_rules)
        self.unkept.back.clicked.connect(self.rules.take_back)

    def _rules_panel(self) -> QFrame:
        made, column = panel("House rules", "The figures care is worked out from. Each stands with where it comes "
                                            "from; yours outrank them all.")
        column.addWidget(self.rules)
        return made

    def _home_panel(self) -> QFrame:
        made, column = panel("Where the collection stands")
        column.addWidget(self.home)
        self.save_home = button("Keep this place", "main")
        self.save_home.clicked.connect(self._on_home)
        column.addWidget(KeptFoot(self.home, self.save_home))
        return made

    def _asked_panel(self) -> QFrame:
        """What is asked as long as no home is set: why it matters, and beside it the form, put in by `show_now`."""
        made = QFrame()
        made.setProperty("edge", "due")
        self._asked_row = QBoxLayout(QBoxLayout.Direction.LeftToRight, made)
        self._asked_row.setContentsMargins(16, 14, 16, 16)
        self._asked_row.setSpacing(24)
        said = QVBoxLayout()
        said.setSpacing(8)
        said.addWidget(heading("Set your home", 21))
        said.addWidget(self._assumed)
        said.addWidget(label("When a wet crown has to be dry, and on which day care falls, both hang on it.", "second"))
        said.addStretch(1)
        self._asked_row.addLayout(said, 1)
        return made

    def _place_home(self, asked: bool) -> None:
        """The form of the home stands on top while it is asked for, else in its column."""
        self._asked.setVisible(asked)
        if asked:
            self._asked_row.addWidget(self._home_frame, 1)
        else:
            self._right.insertWidget(0, self._home_frame)

    def _window_panel(self) -> QFrame:
        made, column = panel("This window")
        column.addWidget(self.window_rows)
        self.keep_window = button("Keep", "main", "Keep look and text size")
        self.keep_window.clicked.connect(self._on_window)
        column.addWidget(KeptFoot(self.window_rows, self.keep_window))
        return made

    def show_now(self) -> None:
        """Read everything anew."""
        self.rules.show_rules(self._desk.read(house.rules))
        home, is_set = self._desk.read(house.home), self._desk.read(house.home_is_set)
        self._show_home(home, is_set)
        self._assumed.setText(f"Dusk is computed for {place_words(home)} and the clock of {home.zone}, which nobody "
                              "has set.")
        self._place_home(not is_set)
        self._show_window()
        self.backups.show_now()
        self.years.show_now()

    def _show_home(self, home: Home, is_set: bool) -> None:
        self.home.show_kept({"latitude": home.latitude, "longitude": home.longitude, "zone": home.zone},
                            "kept" if is_set else "assumed")

    def _show_window(self) -> None:
        self.window_rows.show_kept({"look": self.settings.look, "text_percent": self.settings.text_percent})

    def resizeEvent(self, event: QResizeEvent) -> None:
        """In a narrow window the panels stand under each other, the home first; in a wide one in three columns."""
        super().resizeEvent(event)
        self._spread(self.width() >= WIDE)
        narrow = self.width() < NARROW
        self._row.setDirection(QBoxLayout.Direction.BottomToTop if narrow else QBoxLayout.Direction.LeftToRight)
        self._asked_row.setDirection(QBoxLayout.Direction.TopToBottom if narrow else QBoxLayout.Direction.LeftToRight)

    def _spread(self, wide: bool) -> None:
        if (self._third.indexOf(self.years.frame) >= 0) is wide:
            return
        self.bound.setMaximumWidth(WIDEST_OF_THREE if wide else WIDEST)
        self._row.setStretchFactor(self._third, 2 if wide else 0)
        if wide:
            self._third.insertWidget(0, self.years.frame)
        else:
            self._right.insertWidget(self._right.count() - 1, self.years.frame)

    def close_tasks(self) -> None:
        """Wait for a backup under way."""
        self.backups.close_tasks()

    def leave(self) -> None:
        """The page is left: what was changed of the rules counts, and that is said. Undo takes it back.

        A place half typed is none, and a look is not the collection's: they stay as they stand, and that is said too.
        """
        changes, told = self.rules.unkept("before"), []
        if changes:
            self._on_rules()
            told.append(f"Kept as you left House: {'; '.join(changes)}. Undo takes it back.")
        open_ones = (*self.home.unkept(), *self.window_rows.unkept())
        if open_ones:
            told.append(f"Not kept yet on House: {'; '.join(open_ones)}.")
        if told:
            self._signals.noted.emit(" ".join(told))

    def _on_changed(self) -> None:
        changes = self.rules.unkept()
        appears = bool(changes) and not self.unkept.isVisibleTo(self)
        self.unkept.show_changes(changes)
        given = self.focusWidget()
        if appears and given is not None and self._area.isAncestorOf(given):
            QTimer.singleShot(0, self._area, lambda: self._area.ensureWidgetVisible(given))

    def _on_rules(self) -> None:
        if self._signals.attempt(lambda: self._desk.run(house.save_rules, self.rules.rules())):
            self.rules.show_rules(self._desk.read(house.rules))

    def _on_home(self) -> None:
        given = self.home.values()
        place = Home(given["latitude"], given["longitude"], given["zone"].strip())
        if self._signals.attempt(lambda: self._desk.run(house.save_home, place)):
            self.home.controls["zone"].put(place.zone)
            self._show_home(place, True)

    def _on_window(self) -> None:
        given = self.window_rows.values()
        now = self.settings
        self.settings = WindowSettings(given["look"], given["text_percent"], now.dense, now.width, now.height,
                                       now.maximised)
        self._show_window()
        self.window_changed.emit(self.settings)
        if given["text_percent"] != now.text_percent:
            self._signals.noted.emit("The new text size is used from the next start on.")
