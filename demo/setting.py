"""The invented house: its rooms and benches, where plants came from, and the air that was read on the benches."""

from __future__ import annotations

import csv
import math
import random
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import time
from pathlib import Path

from greenhouse_desk.domain.journal import Reading
from greenhouse_desk.domain.plants import Habit, Home

from .days import Days, Told

HOME = Home(43.3, -8.2, "Europe/Madrid")
FIRST_NUMBER = 101


@dataclass(frozen=True, slots=True)
class Bench:
    """A bench of the house with its usual air: mean deg C, day swing, mean relative humidity, air speed m/s."""

    room: str
    name: str
    temp_c: float
    swing_c: float
    rh: float
    air_m_s: float
    scene: str
    isolation: bool = False
    lights_out: time | None = None


BENCHES = (
    Bench("Lean-to", "South staging", 19.5, 5.5, 0.62, 0.35, "glasshouse"),
    Bench("Lean-to", "Low shelf", 17.5, 3.5, 0.71, 0.2, "glasshouse"),
    Bench("Lean-to", "Hanging bar", 21.0, 6.0, 0.58, 0.45, "glasshouse"),
    Bench("Landing", "East sill", 20.0, 2.5, 0.54, 0.12, "window"),
    Bench("Landing", "Stair ledge", 18.5, 2.0, 0.57, 0.1, "window"),
    Bench("Cellar", "Lamp rack, upper", 22.5, 2.5, 0.74, 0.3, "cellar", lights_out=time(21, 30)),
    Bench("Cellar", "Lamp rack, lower", 16.5, 2.0, 0.83, 0.25, "cellar", lights_out=time(21, 30)),
    Bench("Wash house", "Apart tray", 18.0, 3.0, 0.6, 0.15, "whitewash", isolation=True),
)
ROOMS = ("Lean-to", "Landing", "Cellar", "Wash house")


@dataclass(frozen=True, slots=True)
class Given:
    """One invented plant: what the list says of it. `stories` are (name, arguments) read from "name:argument"."""

    number: int
    name: str
    habit: Habit
    form: str
    bloom: str
    bench: str
    medium: str
    pot: str
    source: str
    arrived: int
    stories: tuple[tuple[str, tuple[str, ...]], ...]

    def days_of(self, story: str) -> int | None:
        """The last argument of the named story as days ago, None when the plant has no such story."""
        found = next((args for name, args in self.stories if name == story), None)
        return int(found[-1]) if found else None


def plants() -> tuple[Given, ...]:
    """The plants of the list beside this file, numbered without a gap."""
    with (Path(__file__).parent / "plants.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file, delimiter=";"))
    return tuple(
        Given(FIRST_NUMBER + n, row["name"], Habit(row["habit"]), row["form"], row["bloom"], row["place"],
              row["medium"], row["pot"], row["source"], int(row["arrived"]), _stories(row["story"]))
        for n, row in enumerate(rows))


def air(bench: Bench, days: Days, dice: random.Random) -> Iterator[Told]:
    """Readings on a bench: hourly over the last 26 hours, twice a day over the fortnight before."""
    minutes = [60 * hour + 7 for hour in range(26, -1, -1)]
    for minute in [1440 * day + half for day in range(15, 1, -1) for half in (720, 0)] + minutes:
        at = days.ago(minute)
        local = at.astimezone(days.zone)
        sun = math.sin((local.hour + local.minute / 60 - 9) / 24 * math.tau)
        temp = bench.temp_c + bench.swing_c * sun + dice.gauss(0, 0.25)
        rh = min(0.97, max(0.3, bench.rh - 0.025 * bench.swing_c * sun + dice.gauss(0, 0.012)))
        speed = max(0.02, bench.air_m_s + dice.gauss(0, 0.03))
        yield Told(at, Reading(round(temp, 1), round(rh, 2), round(speed, 2)))




def _stories(text: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    told = [word.split(":") for word in text.split()]
    return tuple((name, tuple(args)) for name, *args in told)
