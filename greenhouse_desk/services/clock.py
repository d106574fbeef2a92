"""Clocks: the machine's own, one that starts at a named instant and runs on, and one that only moves when told."""

from __future__ import annotations

import sys
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Protocol

BOOT_ID = Path("/proc/sys/kernel/random/boot_id")


class Clock(Protocol):
    """Gives the wall time, and a steady time that no one can set and that runs on while the machine is suspended."""

    def now(self) -> datetime:
        """The wall time, aware UTC."""

    def steady(self) -> tuple[str, float]:
        """The id of the machine's boot ("" when unknown) and seconds on a clock that nobody sets."""


class SystemClock:
    """The machine's own wall clock and its boot-time clock (on Linux it counts suspend too)."""

    def __init__(self) -> None:
        self._boot = BOOT_ID.read_text("ascii").strip() if BOOT_ID.exists() else ""

    def now(self) -> datetime:
        """The wall time, aware UTC."""
        return datetime.now(UTC)

    def steady(self) -> tuple[str, float]:
        """The boot id ("" where the system tells none) and seconds since boot."""
        return self._boot, _since_boot()


class StartedClock:
    """Starts at `start` (aware) when made and runs on, `pace` seconds for each real one.

    Its steady seconds count from the same instant as its wall time, so that two starts never look like a set clock.
    """

    def __init__(self, start: datetime, pace: float = 1.0) -> None:
        self._start = start.astimezone(UTC)
        self._pace = pace
        self._made = _since_boot()

    def now(self) -> datetime:
        """The simulated wall time, aware UTC."""
        return self._start + timedelta(seconds=self._run())

    def steady(self) -> tuple[str, float]:
        """The word "started" and seconds of simulated time."""
        return "started", self._start.timestamp() + self._run()

    def _run(self) -> float:
        return (_since_boot() - self._made) * self._pace


class SteppedClock:
    """Stands still at `start` (aware) until it is advanced. For tests, for playing a session, and for pictures."""

    def __init__(self, start: datetime) -> None:
        self._now = start.astimezone(UTC)
        self._steady = self._now.timestamp()

    def now(self) -> datetime:
        """The wall time it was last moved to, aware UTC."""
        return self._now

    def steady(self) -> tuple[str, float]:
        """The word "stepped" and seconds that only `advance` moves."""
        return "stepped", self._steady

    def advance(self, seconds: float) -> None:
        """Let `seconds` pass, by the wall and by the steady clock."""
        self._now += timedelta(seconds=seconds)
        self._steady += seconds

    def set_wall(self, seconds: float) -> None:
        """Move only the wall clock, as a hand-set clock does; no time passes."""
        self._now += timedelta(seconds=seconds)


def _since_boot() -> float:
    """Seconds on the steadiest clock there is; elsewhere than on Linux the monotonic one runs on in suspend too."""
    if sys.platform == "linux":
        return time.clock_gettime(time.CLOCK_BOOTTIME)
    return time.monotonic()
