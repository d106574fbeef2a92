"""What goes on in the background of the window: the bell for care, the desktop's word, backups now and then."""

from __future__ import annotations

from collections.abc import Collection
from datetime import UTC, datetime, timedelta, tzinfo
from pathlib import Path

from PySide6.QtCore import QObject

from greenhouse_desk.domain.bench import Ring
from greenhouse_desk.domain.care import Care
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.services import backup, house
from greenhouse_desk.services import care as care_service
from greenhouse_desk.services.desk import Changed, Desk
from greenhouse_desk.ui import desktop
from greenhouse_desk.ui.alarm import Alarm
from greenhouse_desk.ui.awake import HELD, Awake, keep_awake
from greenhouse_desk.ui.bell import Bell, Owed
from greenhouse_desk.ui.main_window import MainWindow
from greenhouse_desk.ui.signals import Signals
from greenhouse_desk.ui.tasks import Tasks, as_refusal

BACKUP_LOOK = timedelta(minutes=5)


class Wakefulness:
    """Keeps screen and machine awake while it is asked to; answers "" when that worked, else what to do, in words."""

    def __init__(self) -> None:
        self._awake: Awake | None = None

    def __call__(self, wanted: bool) -> str:
        if wanted and self._awake is None:
            self._awake = keep_awake()
        elif not wanted and self._awake is not None:
            self._awake.release()
            self._awake = None
        return "" if self._awake is None or self._awake.words == HELD else self._awake.words


class Watch(QObject):
    """Give it each second."""

    def __init__(self, desk: Desk, signals: Signals, alarm: Alarm, window: MainWindow) -> None:
        super().__init__(window)
        self._desk, self._signals, self._alarm, self._window = desk, signals, alarm, window
        self._tasks = Tasks(self, threads=1)
        self._tasks.failed.connect(self._on_failed)
        self._next_backup: datetime | None = None
        self.bell = Bell(self._due, self._ring, self._zone, self._rules, self)
        self.bell.rang.connect(self._on_rang)
        self.bell.listed.connect(self._on_listed)
        self.bell.missed.connect(self._on_missed)
        window.banner.dismissed.connect(self.bell.dismiss)
        signals.changed.connect(self._on_changed)
        self._limit_alarm()

    def tick(self, now: datetime) -> None:
        """A second has passed."""
        self.bell.on_second(now)
        if self._next_backup is None or now >= self._next_backup:
            first, self._next_backup = self._next_backup is None, now + BACKUP_LOOK
            if not first:
                self._back_up(now)

    @property
    def ringing(self) -> tuple[str, ...]:
        """What rings now, each in words."""
        return tuple(f"{care.plant} {care.what}" for care in self.bell.ringing)

    def close(self) -> None:
        """Wait for what is under way."""
        self._tasks.close()

    def _due(self, plants: Collection[int] | None) -> Owed:
        return self._desk.read(care_service.by_plant, self._desk.clock(), plants)

    def _ring(self, ring: Ring) -> None:
        self._alarm.ring(ring, "care")

    def _zone(self) -> tzinfo:
        return self._desk.read(house.zone)

    def _rules(self) -> HouseRules:
        return self._desk.read(house.rules)

    def _limit_alarm(self) -> None:
        self._alarm.limit_s = 60.0 * self._rules().missed_after_minutes

    def _on_changed(self, changed: Changed) -> None:
        self._limit_alarm()
        self.bell.on_changed(changed.plants)

    def _on_rang(self, cares: tuple[Care, ...]) -> None:
        self._window.banner.ring(cares, self._desk.clock(), self._zone())
        if cares:
            text = "\n".join(f"{care.plant} {care.what}" for care in cares[:5])
            self._tasks.ask(("word", cares), lambda: desktop.notify("Due now", text, True))

    def _on_listed(self, cares: tuple[Care, ...]) -> None:
        self._window.banner.list_quietly(cares, self._desk.clock(), self._zone())

    def _on_missed(self, care: Care) -> None:
        if self._desk.store.read_only is None:
            self._signals.attempt(lambda: self._desk.run(care_service.missed, care))

    def _on_failed(self, key: object, error: Exception) -> None:
        if isinstance(key, Path):
            self._signals.refused.emit(as_refusal("No backup was made", error))

    def _back_up(self, now: datetime) -> None:
        folder, at = self._desk.store.folder, now.astimezone(UTC)
        if self._desk.store.read_only is not None or not backup.due(folder, at):
            return
        try:
            copy = backup.snapshot(self._desk.store, at)
        except Refused as refusal:
            self._signals.refused.emit(refusal)
            return
        self._tasks.ask(copy, lambda: backup.complete(folder, copy, at))
