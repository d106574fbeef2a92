"""Drying asked before anything is wet: what a rinse now would come to at a place, and until when one may begin."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from greenhouse_desk.domain import airflow
from greenhouse_desk.domain.airflow import Verdict
from greenhouse_desk.services import care
from greenhouse_desk.store import plants
from greenhouse_desk.store.engine import Session


@dataclass(frozen=True, slots=True)
class Rinse:
    """Until when plants of a place may be wetted to be dry in time with a fan on.

    `start_by` (aware UTC) is None where no rinse of that day is sure to dry; `limit` and its name are what it must be
    dry by. `place` is None for plants that stand nowhere yet; `read` is whether its air is known from a reading that
    still holds.
    """

    place: int | None
    start_by: datetime | None
    limit: datetime | None
    limit_name: str
    verdict: Verdict
    read: bool


def outlook(session: Session, now: datetime, place: int | None) -> Verdict:
    """What a rinse at `now` (aware) would come to at a place; None: a plant that stands nowhere yet."""
    around = care.surroundings(session)
    return airflow.can_dry(around.around(place), now, around.rules)


def rinses(session: Session, now: datetime) -> tuple[Rinse, ...]:
    """Each place with growing plants and until when they may be rinsed today, the most pressing first."""
    around = care.surroundings(session)
    stand = {plant.place for plant in plants.plants(session, around.zone) if plant.left is None}
    found = []
    for place in sorted(stand, key=lambda one: -1 if one is None else one):
        here = around.around(place)
        by, name = airflow.limit(here, now, around.rules)
        verdict = airflow.can_dry(here, now, around.rules)
        read = airflow.fresh(here.air, now, around.rules) is not None
        found.append(Rinse(place, verdict.start_by, by, name, verdict, read))
    return tuple(sorted(found, key=lambda one: (one.start_by is not None, one.start_by or now)))


def rinse_by(session: Session, now: datetime) -> datetime | None:
    """The moment (aware UTC) until which plants may be rinsed today and be dry in time with a fan on, wherever the air
    is known; None where one of these places dries nothing in time, or where no air is known."""
    return _earliest(one for one in rinses(session, now) if one.read)


def air_until(session: Session) -> datetime | None:
    """Until when (aware UTC) the newest reading of the air where plants grow holds; None where nobody took one."""
    around = care.surroundings(session)
    stand = {plant.place for plant in plants.plants(session, around.zone) if plant.left is None}
    read = [air.at for air in (around.around(place).air for place in stand) if air is not None]
    return max(read) + timedelta(hours=around.rules.air_reading_hours) if read else None


def _earliest(found: Iterable[Rinse]) -> datetime | None:
    starts = [one.start_by for one in found]
    known = [start for start in starts if start is not None]
    return min(known) if known and len(known) == len(starts) else None
