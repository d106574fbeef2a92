"""Two invented loggers' files, as such a device would write them, and how the invented grower takes them in."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

from greenhouse_desk.domain.air_log import Clock
from greenhouse_desk.services import air_import
from greenhouse_desk.store.engine import Session

from .days import Days
from .setting import BENCHES, Bench

LOGGED = ("Hanging bar", "Lamp rack, lower")
"""Benches with a logger."""
WINTER_MIN = 60
"""The loggers were set in winter, and keep that time all year."""
STEP_MIN = 10
FROM_DAYS, READ_OUT_HOURS = 23, 5
"""The file runs over so many days, to when the grower last took the logger down."""
FLAT_DAYS, FLAT_HOURS = 9, 14
"""So many days ago the battery was flat for so many hours."""
DAMP_EVERY, DAMP_SHARE = 5, 0.085
"""Every so many nights the air is moister by so much: rain, and the flap left open."""


def take_in(session: Session, days: Days, places: Mapping[str, int], folder: Path, seed: str) -> None:
    """Write each logger's file into `folder`, and take it in at its bench."""
    for bench in BENCHES:
        if bench.name in LOGGED:
            path = folder / f"{bench.name.replace(', ', '-').replace(' ', '-').lower()}.csv"
            path.write_text("\n".join(lines(bench, days, random.Random(f"{seed}, {bench.name}, logger"))) + "\n",
                            encoding="utf-8")
            looked = air_import.look(session, path)
            kept = replace(looked.columns, clock=Clock.FIXED, offset_minutes=WINTER_MIN)
            made = air_import.prepare(replace(looked, columns=kept), places[bench.name], days.zone, days.now, {})
            air_import.take_in(session, days.now, made)


def lines(bench: Bench, days: Days, dice: random.Random) -> Iterator[str]:
    """A file's lines: two of the device's own, the names of the columns, then the readings."""
    yield f"Device;{len(bench.name):04d};;"
    yield "Day;Time;Temperature (C);Relative humidity (%)"
    end = days.ago(60 * READ_OUT_HOURS).replace(second=0, microsecond=0)
    end -= timedelta(minutes=end.minute % STEP_MIN)
    for nth in range(FROM_DAYS * 24 * 60 // STEP_MIN, -1, -1):
        at = end - timedelta(minutes=STEP_MIN * nth)
        if not FLAT_DAYS * 24 - FLAT_HOURS < (days.now - at) / timedelta(hours=1) < FLAT_DAYS * 24:
            yield _line(bench, at, days, dice)


def _line(bench: Bench, at: datetime, days: Days, dice: random.Random) -> str:
    local = at.astimezone(days.zone)
    sun = math.sin((local.hour + local.minute / 60 - 9) / 24 * math.tau)
    night = (local - timedelta(hours=9)).toordinal()
    damp = DAMP_SHARE if sun < 0 and night % DAMP_EVERY == 0 else 0.0
    temp = bench.temp_c + bench.swing_c * sun + dice.gauss(0, 0.15)
    rh = min(0.99, max(0.3, bench.rh - 0.025 * bench.swing_c * sun + damp + dice.gauss(0, 0.006)))
    shown = at.astimezone(UTC) + timedelta(minutes=WINTER_MIN)
    return f"{shown:%d.%m.%Y;%H:%M};{temp:.1f};{100 * rh:.1f}"
