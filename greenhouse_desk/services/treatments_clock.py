"""Clock changes at the bench: running soaks keep their true time, and the journal says what happened."""

from __future__ import annotations

from datetime import datetime, timedelta

from greenhouse_desk.domain.countdown import CLOCKS_AGREE_S, elapsed
from greenhouse_desk.domain.journal import ClockChanged
from greenhouse_desk.services.desk import Done
from greenhouse_desk.services.treatments_sitting import Steady
from greenhouse_desk.store import bench, journal
from greenhouse_desk.store.engine import Session

MENDS = frozenset({"bench", "clock"})


def mend(session: Session, now: datetime, steady: Steady) -> bool:
    """Shift running soaks of this boot where wall and steady clock differ by more than 2 s; True when any was.

    One entry tells the change. Doing it again changes nothing.
    """
    found = [(soak, elapsed(soak, now, *steady)) for soak in bench.soaks(session)] if steady[0] else []
    changed = [(soak, told) for soak, told in found if told.used == "steady clock"]
    for soak, told in changed:
        bench.shift_soak(session, soak.id, now - timedelta(seconds=told.seconds))
    if changed:
        _tell(session, now, changed[0][1].differs_s)
    return bool(changed)


def mend_clock(session: Session, now: datetime, jumped_s: float, steady: Steady = ("", 0.0)) -> Done[bool]:
    """The wall clock jumped by `jumped_s` seconds: running soaks' starts move with it, so that elapsed stays true.

    With `steady` (boot id, seconds) soaks of this boot are put right by that clock itself, so that what a press put
    right already is neither moved nor told twice. A jump of 2 s or less changes nothing. Returns whether it jumped.
    """
    if abs(jumped_s) <= CLOCKS_AGREE_S.value:
        return Done("", MENDS, False)
    told = mend(session, now, steady)
    soaks = bench.soaks(session)
    strange = [soak for soak in soaks if not steady[0] or soak.boot != steady[0]]
    for soak in strange:
        bench.shift_soak(session, soak.id, soak.started_at + timedelta(seconds=jumped_s))
    if not told and (strange or not soaks):
        _tell(session, now, jumped_s)
    return Done(f"Clock changed by {jumped_s:+.0f} s", MENDS, True)


def _tell(session: Session, now: datetime, by_s: float) -> None:
    """One entry on the change, and the open sessions' own past moved with the clock."""
    bench.shift_kept(session, timedelta(seconds=by_s))
    journal.add(session, now, ClockChanged(round(by_s, 1), "steady clock"))
