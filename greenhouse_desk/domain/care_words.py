"""Care in the few words a card has room for; the date is never cut off."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta, tzinfo

from greenhouse_desk.domain.care_day import clock_words, day_of, day_words
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
        return _drying(care, now, zone, today, rules)
    due = day_of(care.due, zone, rules)
    if care.hold:
        return CareWords("hold", _fit(care.short, f"until {day_words(due, today)}"))
    latest = due if care.latest is None else day_of(care.latest, zone, rules)
    if latest < today:
        return CareWords("over", _fit(care.short, f"since {day_words(due, today)}"))
    if due <= today:
        return CareWords("today", _fit(care.short, "today" if latest == today else f"by {day_words(latest, today)}"))
    if due == today + timedelta(days=1):
        return CareWords("tomorrow", _fit(care.short, "tomorrow"))
    return CareWords("later", _fit(care.short, day_words(due, today)))


def _drying(care: Care, now: datetime, zone: tzinfo, today: date, rules: HouseRules) -> CareWords:
    drying = care.drying
    assert drying is not None
    if drying.limit is None:
        return CareWords("drying", "blot the crown first" if drying.pool else f"{care.short}?")
    by = clock_words(drying.limit, zone)
    if drying.wet_since >= drying.limit or now >= drying.limit:
        day = day_of(drying.limit, zone, rules)
        past = f"past {drying.limit_name} {by}" if day == today else f"since {day_words(day, today)}"
        return CareWords("over", f"wet {past}")
    return CareWords("drying", f"blot first, by {by}" if drying.pool else f"{care.short} by {by}")


def _fit(short: str, day: str) -> str:
    """The words with the date after them; what does not fit loses first "since", then the end of its words."""
    if len(short) + 1 + len(day) > ROOM and day.startswith("since "):
        day = day.removeprefix("since ")
    room = ROOM - len(day) - 1
    return f"{short if len(short) <= room else short[:room - 1].rstrip() + '…'} {day}"
