"""Plants and places as the grower knows them: what is read from the store and shown."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time
from enum import StrEnum

from greenhouse_desk.domain.journal import Entry, Leaving, Moving


class Habit(StrEnum):
    """Growth habit: one stem that goes on growing, or a row of growths along a rhizome."""

    MONOPODIAL = "monopodial"
    SYMPODIAL = "sympodial"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Plant:
    """A plant as it stands now, derived from its journal; `number` is the grower's own, never reused.

    `name` is kept as typed. `place`, `order`, `medium`, `pot`, `potted_on` and `photo` (SHA-256) come from the newest
    entries of their kind; `left` and `left_on` are set once it is traded, given away or dead.
    """

    number: int
    name: str
    habit: Habit = Habit.UNKNOWN
    place: int | None = None
    order: float = 0.0
    medium: str = ""
    pot: str = ""
    potted_on: date | None = None
    transition: bool = False
    source: int | None = None
    acquired_on: date | None = None
    notes: str = ""
    photo: str | None = None
    left: Leaving | None = None
    left_on: date | None = None
    left_reason: str = ""


@dataclass(frozen=True, slots=True)
class Place:
    """A room, shelf or spot; nested by `parent`. `lights_out` is the local time its lamps go off, None without lamps.

    `isolation` marks a place where newcomers and sick plants stand apart; plants themselves stand only on benches
    (`bench` true), in the order of `position`.
    """

    id: int
    name: str
    parent: int | None = None
    position: float = 0.0
    isolation: bool = False
    bench: bool = True
    lights_out: time | None = None


@dataclass(frozen=True, slots=True)
class Source:
    """Where plants came from."""

    id: int
    name: str
    notes: str = ""


@dataclass(frozen=True, slots=True)
class Air:
    """An air reading at a place: deg C, relative humidity 0 to 1 (None: not measured), air speed m/s or how it moves,
    when it was taken (aware UTC); `logged` when a logger wrote it."""

    at: datetime
    temp_c: float
    rh: float | None
    air_speed_m_s: float | None = None
    moving: Moving | None = None
    logged: bool = False

    @property
    def moisture(self) -> float:
        """Its humidity, 0 to 1, for what is asked only of readings that have one."""
        assert self.rh is not None, "no humidity was measured"
        return self.rh


@dataclass(frozen=True, slots=True)
class Home:
    """Where the collection stands: latitude and longitude in degrees (north and east positive), IANA time zone."""

    latitude: float
    longitude: float
    zone: str


@dataclass(frozen=True, slots=True)
class History:
    """One plant with its whole journal, oldest first: what the rules read."""

    plant: Plant
    entries: tuple[Entry, ...]
