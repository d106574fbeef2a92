"""Which backups to keep: all of two days, then 12 daily, 10 weekly and 9 monthly ones."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import datetime, timedelta

ALL_FOR = timedelta(days=2)
APART = timedelta(minutes=30)


def _day(made: datetime) -> tuple[int, ...]:
    return made.year, made.month, made.day


def _week(made: datetime) -> tuple[int, ...]:
    return made.isocalendar()[:2]


def _month(made: datetime) -> tuple[int, ...]:
    return made.year, made.month


STAGES: tuple[tuple[int, Callable[[datetime], tuple[int, ...]]], ...] = ((12, _day), (10, _week), (9, _month))


def too_many(made: Iterable[datetime], now: datetime) -> set[datetime]:
    """Of backups made at these instants (aware UTC) those that may go.

    Counted are backups, not calendar days: each stage keeps the newest of each day (week, month) until it has its
    number, and hands the older ones on, so a program opened once a month does not lose its past.
    """
    waiting = sorted((one for one in made if now - one > ALL_FOR), reverse=True)
    going = set()
    for number, bucket in STAGES:
        kept: dict[tuple[int, ...], datetime] = {}
        while waiting and (bucket(waiting[0]) in kept or len(kept) < number):
            one = waiting.pop(0)
            if kept.setdefault(bucket(one), one) is not one:
                going.add(one)
    return going.union(waiting)
