"""Soaks of sessions that were left or broken off: they go on, so the alarm goes on while bench mode is closed."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, tzinfo

from PySide6.QtCore import QObject

from greenhouse_desk.domain.bench import Board, Ring, Sitting, board
from greenhouse_desk.domain.bench_turns import running
from greenhouse_desk.domain.countdown import Phase
from greenhouse_desk.services import treatments
from greenhouse_desk.services.clock import Clock
from greenhouse_desk.services.desk import Changed, Desk
from greenhouse_desk.ui.bench.callings import its, overdue, who

LOUDNESS = tuple(Ring)
KINDS = {"bench", "sessions"}


class LeftSoaks(QObject):
    """Rings for them each second. `words` hears the alarm in words once it becomes loud; see BenchMode for the rest."""

    def __init__(self, desk: Desk, clock: Clock, zone: tzinfo, ring: Callable[[Ring], None],
                 awake: Callable[[bool], str], words: Callable[[str], None], parent: QObject) -> None:
        super().__init__(parent)
        self._desk, self._clock, self._zone = desk, clock, zone
        self._ring, self._awake, self._words = ring, awake, words
        self._sittings: tuple[Sitting, ...] | None = None
        self._rung, self._soaking, self._paused = Ring.SILENT, False, False

    def pause(self, on: bool) -> None:
        """Bench mode is open and rings itself (`on`), or it was closed."""
        self._paused, self._sittings = on, None
        self._rung, self._soaking = Ring.SILENT, False

    def on_changed(self, changed: Changed) -> None:
        """Something was written; what stands open is read anew when it can have been a session."""
        if KINDS.intersection(changed.kinds):
            self._sittings = None

    def on_second(self, now: datetime) -> None:
        """Look at every soak that was left running, at `now` (aware UTC)."""
        if self._paused:
            return
        if self._sittings is None:
            self._sittings = self._read(now)
        boards = [board(sitting, now, self._zone) for sitting in self._sittings]
        loudest = max((one.ring for one in boards), key=LOUDNESS.index, default=Ring.SILENT)
        if bool(boards) is not self._soaking:
            self._soaking = bool(boards)
            self._awake(self._soaking)
        if loudest is not self._rung:
            self._rung = loudest
            self._ring(loudest)
            if loudest is Ring.LOUD:
                self._words(" ".join(f"{_said(one, self._zone)} Take the session up again." for one in boards
                                     if overdue(one)))

    def missed(self) -> None:
        """The alarm rang to its limit with nobody there: every soak past its most gets an entry that says so."""
        now = self._clock.now()
        for sitting in self._read(now):
            for cell in board(sitting, now, self._zone).cells:
                if cell.view.phase is Phase.OVER:
                    self._desk.run(treatments.missed_soak, cell.soak.id)

    def _read(self, now: datetime) -> tuple[Sitting, ...]:
        found = [self._desk.read(treatments.sitting, one.id, now, self._clock.steady())
                 for one in self._desk.read(treatments.open_sittings)]
        return tuple(sitting for sitting in found if running(sitting))


def _said(of: Board, zone: tzinfo) -> str:
    """Which soaks passed their most and when, by the clock: how long ago would be another a second later."""
    return " ".join(f"{who(cell)} past {its(cell)} most since {cell.soak.most_at.astimezone(zone):%H:%M}."
                    for cell in overdue(of))
