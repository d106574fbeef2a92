"""What a logger wrote at a place, taken out again from one day to another: what was read by hand stays."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

from greenhouse_desk.domain.air_log import Log
from greenhouse_desk.domain.air_slots import DAY_S
from greenhouse_desk.domain.care_day import dated
from greenhouse_desk.domain.faults import Refused
from greenhouse_desk.domain.figures import counted
from greenhouse_desk.services import house
from greenhouse_desk.services.desk import Done
from greenhouse_desk.store import air, air_blocks, plants
from greenhouse_desk.store.air import Block
from greenhouse_desk.store.engine import Session

KINDS = frozenset({"air", "house"})
Span = tuple[datetime, datetime]


@dataclass(frozen=True, slots=True)
class Cut:
    """The days of a place that lose readings, as they are afterwards (None: nothing is left), and how many go."""

    days: Mapping[date, Block | None]
    readings: int


def packed_day(day: date, log: Log) -> Block:
    """A day's readings as they are kept."""
    return Block(day, len(log.at), air_blocks.packed(air.seconds_of(day), log), air_blocks.halves(log))


def without(known: Mapping[date, Block], spans: Collection[Span]) -> Cut:
    """What a place is left with where the readings of these spans go, both ends of each included. A damaged day goes
    where a span holds it whole, else it stays."""
    days: dict[date, Block | None] = {}
    gone = 0
    for day, block in known.items():
        start = air.seconds_of(day)
        near = [(one.timestamp(), end.timestamp()) for one, end in spans if one.date() <= day <= end.date()]
        if not near:
            continue
        log = air.readable(day, block.packed)
        if log is None:
            if any(one <= start and start + DAY_S <= end + 1 for one, end in near):
                gone, days[day] = gone + block.readings, None
            continue
        stay = [nth for nth, at in enumerate(log.at) if not any(one <= at <= end for one, end in near)]
        if len(stay) < len(log.at):
            gone += len(log.at) - len(stay)
            left = Log(*([column[nth] for nth in stay] for column in (log.at, log.temp, log.rh, log.speed)))
            days[day] = packed_day(day, left) if stay else None
    return Cut(days, gone)


def last_file(session: Session, place: int) -> Span | None:
    """When the file last taken in there begins and ends; None where no file was."""
    told = air.imports(session, place)
    return (told[0].first, told[0].last) if told else None


def take_out(session: Session, _now: datetime, place: int, first: date, last: date) -> Done[int]:
    """Take out what a logger wrote at a place from `first` to `last`, local days, both included; how many readings.

    Raises Refused where there is none, or the place is gone.
    """
    there = next((one for one in plants.places(session) if one.id == place), None)
    if there is None:
        raise Refused("There is no such place", "It was removed meanwhile.", "Choose a place from the list.")
    if last < first:
        raise Refused("The last day lies before the first", f"{dated(first)} to {dated(last)}.", "Turn them round.")
    zone = house.zone(session)
    start = datetime.combine(first, time(), zone)
    end = datetime.combine(last + timedelta(days=1), time(), zone) - timedelta(seconds=1)
    span = (start.astimezone(UTC), end.astimezone(UTC))
    cut = without(air.blocks(session, place), [span])
    if not cut.readings:
        raise Refused("No logger wrote in those days", f"{there.name}, {dated(first)} to {dated(last)}.",
                      "Choose other days.")
    air.put(session, place, cut.days)
    _forget(session, place, span)
    return Done(f"Take out {counted(cut.readings, 'reading')} of a logger at {there.name}", KINDS, cut.readings)


def _forget(session: Session, place: int, span: Span) -> None:
    """The files of which nothing is left any more."""
    air.forget(session, place, [one for one in air.imports(session, place)
                                if span[0] <= one.first and one.last <= span[1]])
