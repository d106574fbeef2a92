"""The bell: care that falls due while the program runs rings until dismissed; after a sleep it is one quiet list."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import datetime, time, timedelta, tzinfo

from PySide6.QtCore import QObject, Signal

from greenhouse_desk.domain.bench_values import Ring
from greenhouse_desk.domain.care import Care, CareKind, Moment
from greenhouse_desk.domain.settings import HouseRules

Name = tuple[int, CareKind, int, int]
SLEEP_S = 120.0
"""A gap between two looks longer than this was a sleep or a set clock: what fell due in it is listed, not rung."""

STALE_AFTER = timedelta(minutes=10)


def name(care: Care) -> Name:
    """What names a care for as long as the entry that caused it stands."""
    return care.plant, care.kind, care.origin, care.nth


def rings_at(moment: Moment, zone: tzinfo, day_rings_at: time) -> datetime:
    """The instant (aware UTC where it is one already) at which care due at `moment` rings; a day at its local time."""
    if isinstance(moment, datetime):
        return moment
    return datetime.combine(moment, day_rings_at, zone)


def fell_due(cares: Iterable[Care], since: datetime, now: datetime, zone: tzinfo,
             day_rings_at: time) -> tuple[Care, ...]:
    """Of `cares`, those that fell due after `since` and not after `now`; a hold asks for nothing and never rings."""
    return tuple(care for care in cares if not care.hold and since < rings_at(care.due, zone, day_rings_at) <= now)


class Bell(QObject):
    """Watches what is owed. Give it each second; it reads again when told of a change, and every ten minutes.

    `rang(cares)` carries everything ringing now, soonest first, () when nothing rings any more. `listed(cares)` is the
    one quiet list after a sleep. `missed(care)` is said for each care that rang to the limit without an answer.
    """

    rang = Signal(object)
    listed = Signal(object)
    missed = Signal(object)

    def __init__(self, read: Callable[[], tuple[Care, ...]], ring: Callable[[Ring], None], zone: Callable[[], tzinfo],
                 rules: Callable[[], HouseRules], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._read = read
        self._ring = ring
        self._zone = zone
        self._rules = rules
        self._cares: tuple[Care, ...] = ()
        self._read_at: datetime | None = None
        self._last: datetime | None = None
        self._ringing: dict[Name, tuple[Care, datetime]] = {}

    @property
    def ringing(self) -> tuple[Care, ...]:
        """What rings now, in the order it began."""
        return tuple(care for care, _ in self._ringing.values())

    def on_changed(self) -> None:
        """The store changed: read again at the next second."""
        self._read_at = None

    def on_second(self, now: datetime) -> None:
        """Look at what fell due since the last second. What was owed before the first look never rings."""
        last, self._last = self._last, now
        changed = self._read_when_stale(now)
        missed = self._give_up(now)
        asleep = last is not None and (now - last).total_seconds() > SLEEP_S
        new = self._new(last, now) if last is not None and now > last else ()
        if not asleep:
            changed |= self._take_up(new, now)
        if changed or missed:
            self._tell()
        if asleep and new:
            self.listed.emit(new)  # last: what stopped ringing in the sleep must not hide it
        for care in missed:
            self.missed.emit(care)

    def dismiss(self) -> None:
        """Heard: the bell falls silent. What is owed stays owed, and stays on the care strip."""
        self._ringing.clear()
        self._tell()

    def _read_when_stale(self, now: datetime) -> bool:
        """Read what is owed when it may have changed; True when something stopped ringing because it was answered."""
        if self._read_at is not None and timedelta(0) <= now - self._read_at < STALE_AFTER:
            return False
        self._cares, self._read_at = self._read(), now
        owed = {name(care) for care in self._cares}
        answered = self._ringing.keys() - owed
        for gone in answered:
            del self._ringing[gone]
        return bool(answered)

    def _new(self, last: datetime, now: datetime) -> tuple[Care, ...]:
        return fell_due(self._cares, last, now, self._zone(), self._rules().day_rings_at)

    def _give_up(self, now: datetime) -> tuple[Care, ...]:
        limit = timedelta(minutes=self._rules().missed_after_minutes)
        over = tuple(care for care, since in self._ringing.values() if now - since >= limit)
        for care in over:
            del self._ringing[name(care)]
        return over

    def _take_up(self, new: tuple[Care, ...], now: datetime) -> bool:
        self._ringing.update({name(care): (care, now) for care in new})
        return bool(new)

    def _tell(self) -> None:
        self._ring(Ring.CHIME if self._ringing else Ring.SILENT)
        self.rang.emit(self.ringing)
