"""The backups: made now, listed with size and soundness, and one of them put in the place of the collection."""

from __future__ import annotations

from datetime import UTC
from pathlib import Path

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout, QWidget

from greenhouse_desk.services import backup, house
from greenhouse_desk.services.backup import Backup, Told
from greenhouse_desk.services.desk import Desk
from greenhouse_desk.ui import words
from greenhouse_desk.ui.forms import Form
from greenhouse_desk.ui.messages import button, label
from greenhouse_desk.ui.panel import panel
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.tasks import Tasks, as_refusal

SHOWN = 40
NONE = ("No backup yet. One is made by itself when the window has been open for five minutes, so that opening stays "
        "quick, and then every half hour in which something changed.")
WHY = {"": "as it stood", "import": "before an import", "restore": "what a restore replaced"}
LOOKING = "being looked at"
REPLACED = ("It takes the place of all you see now: plants, journal, house rules, your own protocols, label layouts "
            "and genus names. What you see now is kept as a backup first, so you can come back to it. Photos added "
            "since stay in the folder. The window closes and opens again.")


def size_words(size: int) -> str:
    """A size as a grower reads it."""
    return f"{size / 1_000_000:.1f} MB" if size >= 100_000 else f"{max(1, round(size / 1000))} kB"


class BackupRow(QFrame):
    """One backup. `wanted(Backup)` when it is to be put back."""

    wanted = Signal(object)

    def __init__(self, one: Backup, when: str) -> None:
        super().__init__()
        self.backup, self.when, self.lacks = one, when, ""
        self.setProperty("edge", "top")
        self.words = label(f"{WHY.get(one.before, f'before: {one.before}')}; {LOOKING}", "second")
        self.restore = button("Restore this one", "small", f"Restore the backup of {when}")
        self.restore.setEnabled(False)
        self.restore.clicked.connect(lambda: self.wanted.emit(self.backup))
        column = QVBoxLayout()
        column.setSpacing(1)
        column.addWidget(label(when, bold=True))
        column.addWidget(self.words)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 8, 0, 0)
        row.addLayout(column, 1)
        row.addWidget(self.restore, 0, Qt.AlignmentFlag.AlignTop)

    def tell(self, told: Told) -> None:
        """Show what was found out about it; one that lacks photos can be put back, and says so."""
        why, grave = WHY.get(self.backup.before, f"before: {self.backup.before}"), told.soundness.grave
        state = f"not sound: {grave[0].removeprefix(f'{self.backup.name}: ')}" if grave else told.lacks or "sound"
        self.words.setText(f"{why}; {size_words(told.bytes)}; {state}")
        self.lacks = told.lacks
        self.restore.setEnabled(not grave)


class BackupPanel(QObject):
    """The panel's widget is `frame`. `restore_wanted(str)` names the backup to put back, once it was confirmed."""

    restore_wanted = Signal(str)

    def __init__(self, desk: Desk, signals: Signals, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk, self._signals = desk, signals
        self._tasks = Tasks(self, threads=1)
        self._tasks.done.connect(self._on_done)
        self._tasks.failed.connect(self._on_failed)
        self.form: Form | None = None
        self.rows: dict[str, BackupRow] = {}
        self.button = button("Back up now", "main")
        self.button.clicked.connect(self._on_back_up)
        self._folder = label("", "second", px=13)
        self._folder.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._none = label(NONE)
        self._older = label("", "second")
        self._column = QVBoxLayout()
        self.frame, column = panel("Backups", "The whole collection with its pictures and your own protocols, checked "
                                              "before it counts. Older ones are thinned; those made before an import "
                                              "or a restore stay.")
        column.addWidget(self._folder)
        column.addWidget(self.button, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self._none)
        column.addLayout(self._column)
        column.addWidget(self._older)

    def show_now(self) -> None:
        """List them anew; what is known of their soundness comes when each was read."""
        folder = self._desk.store.folder
        kept = backup.list(folder)
        self._folder.setText(f"In {folder / 'backups'}")
        self._none.setVisible(not kept)
        self._older.setText(f"and {len(kept) - SHOWN} older ones")
        self._older.setVisible(len(kept) > SHOWN)
        for row in self.rows.values():
            row.hide()
            row.deleteLater()
        self.rows = {one.name: BackupRow(one, self._when(one)) for one in kept[:SHOWN]}
        for row in self.rows.values():
            row.wanted.connect(self._on_wanted)
            self._column.addWidget(row)
        key = tuple(one.name for one in kept)
        if key:
            self._tasks.ask(key, lambda: backup.told(folder))

    def close_tasks(self) -> None:
        """Wait for what is under way."""
        self._tasks.close()

    def _when(self, one: Backup) -> str:
        zone = self._desk.read(house.zone)
        local = one.made.astimezone(zone)
        return f"{words.weekday(local.date())} {local.year}, {words.clock(local, zone)}"

    def _on_back_up(self) -> None:
        self._signals.attempt(self._start)

    def _start(self) -> None:
        now, folder = self._desk.clock().astimezone(UTC), self._desk.store.folder
        copy = backup.snapshot(self._desk.store, now)
        self.button.setEnabled(False)
        self.button.setText("Backing up…")
        self._tasks.ask(copy, lambda: backup.complete(folder, copy, now))

    def _on_wanted(self, one: Backup) -> None:
        row = self.rows[one.name]
        lacks = f" Of this backup: {row.lacks}." if row.lacks else ""
        self.form = Form(f"Put back the collection of {row.when}?", (), lambda _values: None, self.frame,
                         accept="Restore this one", words=REPLACED + lacks)
        self.form.accepted.connect(lambda: self.restore_wanted.emit(one.name))
        self.form.open()

    def _on_done(self, key: object, answer: object) -> None:
        if isinstance(key, Path):
            self._ready()
            self._signals.noted.emit("Backed up." if answer else "Nothing has changed since the last backup.")
        elif isinstance(answer, tuple):
            for told in answer:
                if told.backup.name in self.rows:
                    self.rows[told.backup.name].tell(told)

    def _on_failed(self, key: object, error: Exception) -> None:
        if isinstance(key, Path):
            self._ready()
        title = "No backup was made" if isinstance(key, Path) else "The backups could not be read"
        self._signals.refused.emit(as_refusal(title, error))

    def _ready(self) -> None:
        self.button.setEnabled(True)
        self.button.setText("Back up now")
        self.show_now()
