"""A soak as a countdown: a state with instants, never a counter; and which of two clocks tells its time."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from greenhouse_desk.domain.figures import Constant

CLOCKS_AGREE_S = Constant(2.0, "s", "how far two clocks may differ before it is said and the steady one is used",
                          "house rule")
WARN_SHARE = Constant(0.2, "share", "the end of the way from least to most in which a soak warns", "house rule")
WARN_AT_LEAST_S = Constant(30.0, "s", "the shortest warning before a soak's most", "house rule")
LONGEST_IN_MINUTES_S = 6000.0


@dataclass(frozen=True, slots=True)
class Soak:
    """A contact time that never pauses. Instants aware UTC, `least_s` and `most_s` seconds; `run` None for tools.

    `boot` and `boot_s` name the machine's boot and its steady clock at the start ("" and 0 when unknown): they tell
    a changed wall clock from time that really passed.
    """

    id: int
    what: str
    agent: str
    started_at: datetime
    least_s: float
    most_s: float
    run: int | None = None
    step: int | None = None
    tool: str = ""
    ended_at: datetime | None = None
    early: bool = False
    boot: str = ""
    boot_s: float = 0.0

    @property
    def least_at(self) -> datetime:
        """The instant from which it may end."""
        return self.started_at + timedelta(seconds=self.least_s)

    @property
    def most_at(self) -> datetime:
        """The instant by which it must end."""
        return self.started_at + timedelta(seconds=self.most_s)


class Phase(StrEnum):
    """Where a running soak stands."""

    LEAVE = "leave"
    MAY_END = "may end"
    WARN = "warn"
    OVER = "over"


@dataclass(frozen=True, slots=True)
class CountdownView:
    """What a cell shows. `digits` go down to least, then down to most, then up with "+"; `sub` says what to do and what
    the digits are the time to: "may end, most in" before "1 h 55".

    `elapsed_s`, `to_least_s` and `to_most_s` are seconds (negative once passed); `share` is the part of the whole
    contact that has passed (0 to 1) and `least_share` where on it the least lies.
    """

    phase: Phase
    digits: str
    sub: str
    elapsed_s: float
    to_least_s: float
    to_most_s: float
    share: float
    least_share: float

    @property
    def told(self) -> str:
        """The digits with what they are the time to: "least in 9:00"."""
        return f"{self.sub.rpartition(', ')[2]} {self.digits}"


@dataclass(frozen=True, slots=True)
class Elapsed:
    """Seconds a soak has really run, which clock told it, by how much the wall clock differs (s), and words on it."""

    seconds: float
    used: str
    differs_s: float
    words: str


def view(soak: Soak, now: datetime) -> CountdownView:
    """How `soak` stands at `now` (aware). Before its start it shows the whole least."""
    elapsed = max(0.0, (now - soak.started_at).total_seconds())
    to_least, to_most = soak.least_s - elapsed, soak.most_s - elapsed
    phase = _phase(soak, to_least, to_most)
    digits = {Phase.LEAVE: digits_of(to_least), Phase.OVER: "+" + digits_of(-to_most, up=True)}.get(
        phase, digits_of(to_most))
    share = min(1.0, elapsed / soak.most_s) if soak.most_s else 1.0
    least_share = soak.least_s / soak.most_s if soak.most_s else 1.0
    return CountdownView(phase, digits, _sub(phase, bool(soak.tool)), elapsed, to_least, to_most, share, least_share)


def next_said(soak: Soak, now: datetime) -> datetime:
    """When words on a running soak are next other ones: at its least, at its most, and each minute past either."""
    passed = [at for at in (soak.least_at, soak.most_at) if at <= now]
    coming = [at for at in (soak.least_at, soak.most_at) if at > now]
    if passed:
        minutes = math.floor((now - passed[-1]).total_seconds() / 60) + 1
        coming.append(passed[-1] + timedelta(minutes=minutes))
    return min(coming)


def digits_of(seconds: float, up: bool = False) -> str:
    """Seconds as "9:40": whole ones still to go (rounded up) or gone (`up`, rounded down); long ones as "2 h 05"."""
    whole = max(0, math.floor(seconds) if up else math.ceil(seconds))
    if whole >= LONGEST_IN_MINUTES_S:
        return f"{whole // 3600} h {whole // 60 % 60:02}"
    return f"{whole // 60}:{whole % 60:02}"


def spoken(seconds: float) -> str:
    """A length of time as one says it, whole seconds rounded down: "35 s", "2 min 18 s", "6 min", "2 h 5 min"."""
    whole = max(0, math.floor(seconds))
    hours, minutes, rest = whole // 3600, whole // 60 % 60, whole % 60
    parts = [f"{hours} h" if hours else "", f"{minutes} min" if minutes else "", f"{rest} s" if not hours else ""]
    said = [part for part in parts if part and (part != "0 s" or not minutes)]
    return " ".join(said)


def elapsed(soak: Soak, now: datetime, boot: str = "", boot_s: float = 0.0) -> Elapsed:
    """How long `soak` has run by the wall clock `now` and, in the same boot, by the steady clock (`boot_s` seconds).

    Where they differ by more than 2 s the steady clock is used and the words say so; another boot, or none known,
    leaves only the wall clock.
    """
    wall = (now - soak.started_at).total_seconds()
    if not boot or boot != soak.boot:
        return Elapsed(wall, "wall clock", 0.0, "" if not soak.boot else
                       "The machine was restarted since this soak began: only the wall clock tells its time.")
    steady = boot_s - soak.boot_s
    differs = wall - steady
    if abs(differs) <= CLOCKS_AGREE_S.value:
        return Elapsed(wall, "wall clock", differs, "")
    way, by = "ahead" if differs > 0 else "back", spoken(round(abs(differs)))
    return Elapsed(steady, "steady clock", differs,
                   f"The wall clock went {way} by {by} during this soak: the steady clock is used.")


def _phase(soak: Soak, to_least: float, to_most: float) -> Phase:
    if to_least > 0:
        return Phase.LEAVE
    if to_most <= 0:
        return Phase.OVER
    warn_s = max(WARN_AT_LEAST_S.value, WARN_SHARE.value * (soak.most_s - soak.least_s))
    return Phase.WARN if to_most <= warn_s else Phase.MAY_END


def _sub(phase: Phase, tool: bool) -> str:
    may, out = ("may come out", "take out") if tool else ("may end", "end it")
    return {Phase.LEAVE: "leave it, least in", Phase.MAY_END: f"{may}, most in",
            Phase.WARN: f"{out} now, most in", Phase.OVER: f"{out} now, over most by"}[phase]
