"""How long a pest's stages take through the temperatures of a place, counted day by day by each study's constants."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta, tzinfo

from greenhouse_desk.domain.degree_days import degree_days
from greenhouse_desk.domain.figures import Constant, Span
from greenhouse_desk.domain.pests_climate import Climate, DayTemps
from greenhouse_desk.domain.pests_thermal import Covers, Thermal, studies

LONGEST = Constant(400, "days", "a pest's stage that is not complete counts as never after", "house rule")


@dataclass(frozen=True, slots=True)
class Beyond:
    """A day on the way lay outside the temperatures a study measured: nothing is told from its constants."""

    stage: Thermal
    day: date
    temps: DayTemps


@dataclass(frozen=True, slots=True)
class Stretch:
    """How long a stretch of life takes by each study: days with the study's stages, and studies that do not reach."""

    covers: Covers
    taken: tuple[tuple[float, tuple[Thermal, ...]], ...]
    beyond: tuple[Beyond, ...]

    @property
    def span(self) -> Span | None:
        """From the fastest to the slowest study, days; None when no study reaches."""
        days = [each for each, _ in self.taken]
        return Span(min(days), max(days)) if days else None


def stretch(thermal: tuple[Thermal, ...], covers: Covers, start: datetime, climate: Climate, zone: tzinfo,
            then: Covers | None = None) -> Stretch:
    """A stretch of life from the aware instant `start` on, by every study of it.

    With `then` a study's stages of that later stretch follow at once, where the same study has them.
    """
    later = {} if then is None else {stages[0].source: stages for stages in studies(thermal, then)}
    taken, beyond = [], []
    for first in studies(thermal, covers):
        stages = (*first, *later.get(first[0].source, ()))
        found = stage_days(stages, start, climate, zone)
        if isinstance(found, Beyond):
            beyond.append(found)
        else:
            taken.append((found, stages))
    return Stretch(covers, tuple(taken), tuple(beyond))


def stage_days(stages: Sequence[Thermal], start: datetime, climate: Climate, zone: tzinfo) -> float | Beyond:
    """Days from the aware instant `start` until these stages, one after another, are complete; inf: not in a year.

    Each local day adds its degree-days above the stage's threshold evenly over the day, so that at a steady
    temperature this is days_to_complete.
    """
    days = _days(start, zone)
    day, share = next(days)
    passed, room = 0.0, share
    for stage in stages:
        left = stage.degree_days
        while True:
            temps = climate.on(day)
            if temps.low_c < stage.measured.low or temps.high_c > stage.measured.high:
                return Beyond(stage, day, temps)
            a_day = degree_days(temps.low_c, temps.high_c, stage.above_c)
            if a_day * room >= left:
                passed, room = passed + left / a_day, room - left / a_day
                break
            left, passed = left - a_day * room, passed + room
            if passed > LONGEST.value:
                return math.inf
            day, room = next(days)
    return passed


def _days(start: datetime, zone: tzinfo) -> Iterator[tuple[date, float]]:
    """Local days from `start` on with the share of each that is left."""
    local = start.astimezone(zone)
    gone = (local - datetime.combine(local.date(), time(), zone)) / timedelta(days=1)
    yield local.date(), max(0.0, 1.0 - gone)
    day = local.date()
    while True:
        day += timedelta(days=1)
        yield day, 1.0
