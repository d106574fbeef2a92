"""The House screen: where the collection stands, the house rules, backups, and how this window looks."""

from __future__ import annotations

from datetime import UTC
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from greenhouse_desk.domain.plants import Home
from greenhouse_desk.services import backup, house
from greenhouse_desk.services.backup import Backup
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui import words
from greenhouse_desk.ui.forms import Field, FormRows, Input
from greenhouse_desk.ui.house.rules_form import RulesForm
from greenhouse_desk.ui.messages import button, heading, label
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.tasks import Tasks, as_refusal
from greenhouse_desk.ui.window_settings import LOOKS, TEXT_SIZES, WindowSettings

SHOWN = 12
NARROW = 780
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


def panel(title: str, told: str = "") -> tuple[QFrame, QVBoxLayout]:
    """A sheet with a heading, and its column."""
    made = QFrame()
    made.setProperty("ground", "sheet")
    made.setProperty("edge", "all")
    column = QVBoxLayout(made)
    column.setContentsMargins(16, 14, 16, 16)
    column.setSpacing(10)
    column.addWidget(heading(title, 19))
    if told:
        column.addWidget(label(told, "second"))
    return made, column


class HouseScreen(QWidget):
    """`window_changed(WindowSettings)` tells a new look or text size."""

    window_changed = Signal(object)

    def __init__(self, desk: Desk, signals: Signals, settings: WindowSettings) -> None:
        super().__init__()
        self.setProperty("ground", "bench")
        self._desk, self._signals = desk, signals
        self.settings = settings
        self._tasks = Tasks(self, threads=1)
        self._tasks.done.connect(self._on_backed_up)
        self._tasks.failed.connect(self._on_backup_failed)
        self.rules = RulesForm()
        self.home = FormRows(HOME)
        self.window_rows = FormRows(WINDOW, {"look": settings.look, "text_percent": settings.text_percent})
        self._not_set = label("Not set yet: the Greenwich meridian is taken, and its dusk.", "due", bold=True)
        self._backups = QVBoxLayout()
        self._folder = label("", "second", px=13)
        self._folder.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._build()

    def _build(self) -> None:
        left, right = QVBoxLayout(), QVBoxLayout()
        for column in (left, right):
            column.setSpacing(12)
        left.addWidget(self._rules_panel())
        left.addStretch(1)
        for made in (self._home_panel(), self._backup_panel(), self._window_panel()):
            right.addWidget(made)
        right.addStretch(1)
        page = QWidget()
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight, page)
        self._row.setContentsMargins(24, 4, 24, 24)
        self._row.setSpacing(12)
        self._row.addLayout(left, 3)
        self._row.addLayout(right, 2)
        area = QScrollArea()
        area.setWidget(page)
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 12, 0, 0)
        outer.setSpacing(8)
        title = heading("House", 26)
        title.setContentsMargins(24, 0, 0, 0)
        outer.addWidget(title)
        outer.addWidget(area, 1)

    def _rules_panel(self) -> QFrame:
        made, column = panel("House rules", "The figures care is worked out from. Each stands with where it comes "
                                            "from; yours outrank them all.")
        column.addWidget(self.rules)
        self.save_rules = button("Keep these rules", "main")
        self.save_rules.clicked.connect(self._on_rules)
        back = button("Back to what is kept")
        back.clicked.connect(self.show_now)
        foot = QHBoxLayout()
        foot.addStretch(1)
        foot.addWidget(back)
        foot.addWidget(self.save_rules)
        column.addLayout(foot)
        return made

    def _home_panel(self) -> QFrame:
        made, column = panel("Where the collection stands")
        column.addWidget(self._not_set)
        column.addWidget(self.home)
        self.save_home = button("Keep this place", "main")
        self.save_home.clicked.connect(self._on_home)
        column.addWidget(self.save_home, 0, Qt.AlignmentFlag.AlignRight)
        return made

    def _backup_panel(self) -> QFrame:
        made, column = panel("Backups", "The whole collection with its pictures, checked before it counts. Older ones "
                                        "are thinned.")
        column.addWidget(self._folder)
        column.addLayout(self._backups)
        self.backup_button = button("Back up now", "main")
        self.backup_button.clicked.connect(self._on_back_up)
        column.addWidget(self.backup_button, 0, Qt.AlignmentFlag.AlignRight)
        return made

    def _window_panel(self) -> QFrame:
        made, column = panel("This window")
        column.addWidget(self.window_rows)
        self.keep_window = button("Keep", "main", "Keep look and text size")
        self.keep_window.clicked.connect(self._on_window)
        column.addWidget(self.keep_window, 0, Qt.AlignmentFlag.AlignRight)
        return made

    def show_now(self) -> None:
        """Read everything anew."""
        self.rules.show_rules(self._desk.read(house.rules))
        home = self._desk.read(house.home)
        for name, value in (("latitude", home.latitude), ("longitude", home.longitude), ("zone", home.zone)):
            self.home.controls[name].put(value)
        self._not_set.setVisible(not self._desk.read(house.home_is_set))
        self._show_backups()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """In a narrow window the panels stand under each other, the home first."""
        super().resizeEvent(event)
        narrow = self.width() < NARROW
        self._row.setDirection(QBoxLayout.Direction.BottomToTop if narrow else QBoxLayout.Direction.LeftToRight)

    def close_tasks(self) -> None:
        """Wait for a backup under way."""
        self._tasks.close()

    def _show_backups(self) -> None:
        while (item := self._backups.takeAt(0)) is not None:
            gone = item.widget()
            if gone is not None:
                gone.hide()
                gone.deleteLater()
        kept = backup.list(self._desk.store.folder)
        self._folder.setText(f"In {self._desk.store.folder / 'backups'}")
        if not kept:
            self._backups.addWidget(label("No backup yet."))
        for one in kept[:SHOWN]:
            self._backups.addWidget(label(self._told(one)))
        if len(kept) > SHOWN:
            self._backups.addWidget(label(f"and {len(kept) - SHOWN} older ones", "second"))

    def _told(self, one: Backup) -> str:
        zone = self._desk.read(house.zone)
        local = one.made.astimezone(zone)
        why = f", before {one.before}" if one.before else ""
        return f"{words.weekday(local.date())} {local.year}, {words.clock(local, zone)}{why}"

    def _on_rules(self) -> None:
        self._signals.attempt(lambda: self._desk.run(house.save_rules, self.rules.rules()))

    def _on_home(self) -> None:
        given = self.home.values()
        place = Home(given["latitude"], given["longitude"], given["zone"].strip())
        self._signals.attempt(lambda: self._desk.run(house.save_home, place))

    def _on_window(self) -> None:
        given = self.window_rows.values()
        now = self.settings
        self.settings = WindowSettings(given["look"], given["text_percent"], now.dense, now.width, now.height,
                                       now.maximised)
        self.window_changed.emit(self.settings)
        if given["text_percent"] != now.text_percent:
            self._signals.noted.emit("The new text size is used from the next start on.")

    def _on_back_up(self) -> None:
        self._signals.attempt(self._start_backup)

    def _start_backup(self) -> None:
        now, folder = self._desk.clock().astimezone(UTC), self._desk.store.folder
        copy = backup.snapshot(self._desk.store, now)
        self.backup_button.setEnabled(False)
        self.backup_button.setText("Backing up…")
        self._tasks.ask(copy, lambda: backup.complete(folder, copy, now))

    def _on_backup_failed(self, _copy: Path, error: Exception) -> None:
        self._may_back_up()
        self._signals.refused.emit(as_refusal("No backup was made", error))

    def _may_back_up(self) -> None:
        self.backup_button.setEnabled(True)
        self.backup_button.setText("Back up now")
        self._show_backups()

    def _on_backed_up(self, _copy: Path, made: Backup | None) -> None:
        self._may_back_up()
        self._signals.noted.emit("Backed up." if made else "Nothing has changed since the last backup.")
