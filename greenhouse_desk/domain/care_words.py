"""Care in the few words a card has room for; the date is never cut off."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, tzinfo

from greenhouse_desk.domain.care_day import clock_words, day_of, day_words, time_words
from greenhouse_desk.domain.care_turns import TONIGHT, Turn, last_day, turn_of
from greenhouse_desk.domain.care_values import Care
from greenhouse_desk.domain.settings import HouseRules

ROOM = 24


@dataclass(frozen=True, slots=True)
class CareWords:
    """`mark` is one of over, today, tomorrow, later, hold, drying; `text` fits a card (24 characters or so)."""

    mark: str
    text: str


def words(care: Care, now: datetime, zone: tzinfo, rules: HouseRules | None = None) -> CareWords:
    """A care seen from `now` (aware): "plain water until 9 Dec", "crown dry by 17:02", "cut check tomorrow"."""
    rules = rules or HouseRules()
    today = day_of(now, zone, rules)
    if care.drying is not None:
        return _drying(care, now, zone)
    due = day_of(care.due, zone, rules)
    if care.hold:
        return CareWords("hold", _fit(care.short, f"until {day_words(due, today)}"))
    latest = last_day(care, zone, rules)
    if latest < today:
        return CareWords("over", _fit(care.short, f"since {day_words(due, today)}"))
    turn = turn_of(care, now, zone, rules)
    mark = "today" if turn in TONIGHT else "tomorrow" if turn is Turn.TOMORROW else "later"
    return CareWords(mark, _fit(care.short, _day(due, latest, today, turn)))


def put_off_words(care: Care, now: datetime, zone: tzinfo, rules: HouseRules | None = None) -> str:
    """"put off from 27 Nov to 30 Nov"; "" for a care that was not put off."""
    if care.put_off is None:
        return ""
    today = day_of(now, zone, rules or HouseRules())
    return f"put off from {day_words(care.put_off.was, today)} to {day_words(care.put_off.until, today)}"


def _day(due: date, latest: date, today: date, turn: Turn) -> str:
    """The day to name: the day it is due, or the last day of a window that is open already."""
    if due > today:
        return "tomorrow" if turn is Turn.TOMORROW else day_words(due, today)
    if latest == today:
        return "today"
    return "by tomorrow" if turn is Turn.TOMORROW else f"by {day_words(latest, today)}"


def _drying(care: Care, now: datetime, zone: tzinfo) -> CareWords:
    """A time of another day than today carries its day, and then the words before it are fewer."""
    drying = care.drying
    assert drying is not None
    if drying.limit is None:
        return CareWords("drying", "blot the crown first" if drying.pool else f"{care.short}?")
    by = time_words(drying.limit, now, zone)
    bare = by == clock_words(drying.limit, zone)
    if drying.wet_since >= drying.limit or now >= drying.limit:
        return CareWords("over", f"wet past {drying.limit_name} {by}" if bare else f"wet since {by.rpartition(' ')[0]}")
    if drying.pool:
        return CareWords("drying", f"blot {'first, ' if bare else ''}by {by}")
    return CareWords("drying", f"{care.short if bare else 'dry'} by {by}")


def _fit(short: str, day: str) -> str:
    """The words with the date after them; what does not fit loses first "since", then the end of its words."""
    if len(short) + 1 + len(day) > ROOM and day.startswith("since "):
        day = day.removeprefix("since ")
    room = ROOM - len(day) - 1
    return f"{short if len(short) <= room else short[:room - 1].rstrip() + '…'} {day}"
