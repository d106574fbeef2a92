"""The bell: care that falls due while the program runs rings until dismissed; after a sleep it is one quiet list."""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Callable, Collection, Iterable, Mapping
from datetime import datetime, time, timedelta, tzinfo
from itertools import islice

from PySide6.QtCore import QObject, Signal

from greenhouse_desk.domain.bench_values import Ring
from greenhouse_desk.domain.care import CALM, Care, CareKind, Moment, soonest
from greenhouse_desk.domain.settings import HouseRules

Name = tuple[int, CareKind, int, int]
SLEEP_S = 120.0
"""A gap between two looks longer than this was a sleep or a set clock: what fell due in it is listed, not rung."""

STALE_AFTER = timedelta(minutes=10)
"""What is owed changes as time passes: every plant is read anew within this."""
SLICE = 64
"""So many plants are read at a time as time passes: what is owed to a large collection is not worked out in one go."""
Owed = Mapping[int, tuple[Care, ...]]
Reader = Callable[[Collection[int] | None], Owed]
"""Reads what each of these plants (None: of all) is owed; one that no longer grows is left out."""


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
    """Of `cares`, those that fell due after `since` and not after `now`; a hold asks for nothing and never rings, nor
    does what may be done on any day of months."""
    return tuple(care for care in cares if not care.hold and care.kind not in CALM
                 and since < rings_at(care.due, zone, day_rings_at) <= now)


class Bell(QObject):
    """Watches what is owed. Give it each second; it reads again the plants that changed, and each within ten minutes.

    `rang(cares)` carries everything ringing now, soonest first, () when nothing rings any more. `listed(cares)` is the
    one quiet list after a sleep. `missed(care)` is said for each care that rang to the limit without an answer.
    """

    rang = Signal(object)
    listed = Signal(object)
    missed = Signal(object)

    def __init__(self, read: Reader, ring: Callable[[Ring], None], zone: Callable[[], tzinfo],
                 rules: Callable[[], HouseRules], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._read = read
        self._ring = ring
        self._zone = zone
        self._rules = rules
        self._cares: dict[int, tuple[Care, ...]] = {}
        self._turns: deque[int] = deque()
        self._changed: set[int] = set()
        self._read_at: datetime | None = None
        self._last: datetime | None = None
        self._ringing: dict[Name, tuple[Care, datetime]] = {}

    @property
    def ringing(self) -> tuple[Care, ...]:
        """What rings now, in the order it began."""
        return tuple(care for care, _ in self._ringing.values())

    def on_changed(self, plants: frozenset[int] | None = None) -> None:
        """The store changed what concerns these plants (None: any): read them again at the next second."""
        if plants is None:
            self._read_at = None
        else:
            self._changed |= plants

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
        """Read what is owed where it may have changed; True when something stopped ringing because it was answered."""
        if self._read_at is None or not timedelta(0) <= now - self._read_at < STALE_AFTER:
            self._cares = dict(self._read(None))
            self._turns, self._read_at = deque(self._cares), now
        elif (numbers := self._changed | self._turn(now)):
            self._take_in(numbers)
        else:
            return False
        self._changed.clear()
        owed = {name(care) for cares in self._cares.values() for care in cares}
        answered = self._ringing.keys() - owed
        for gone in answered:
            del self._ringing[gone]
        return bool(answered)

    def _turn(self, now: datetime) -> set[int]:
        """The plants whose turn it is to be read as time passes: the next slice of all, once that much time is over."""
        assert self._read_at is not None
        many = math.ceil(len(self._turns) * ((now - self._read_at) / STALE_AFTER))
        if many < SLICE:
            return set()
        self._read_at = now
        taken = set(islice(self._turns, many))
        self._turns.rotate(-many)
        return taken

    def _take_in(self, numbers: set[int]) -> None:
        fresh = self._read(numbers)
        for number in numbers - fresh.keys():
            if self._cares.pop(number, None) is not None:
                self._turns.remove(number)
        self._turns.extend(number for number in fresh if number not in self._cares)
        self._cares.update(fresh)

    def _new(self, last: datetime, now: datetime) -> tuple[Care, ...]:
        every = (care for cares in self._cares.values() for care in cares)
        zone, rules = self._zone(), self._rules()
        return soonest(fell_due(every, last, now, zone, rules.day_rings_at), zone, rules)

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
