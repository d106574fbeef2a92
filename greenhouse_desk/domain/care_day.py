"""Care days: which day a moment belongs to when the grower's day ends after midnight, and days in short words."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta, tzinfo

from greenhouse_desk.domain.care_values import Moment
from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.settings import HouseRules

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
MONTH_NAMES = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
               "November", "December")
FAR_DAYS = 180
EVENING = Constant(17, "o'clock", "from this hour until the day ends, what is owed is owed tonight", "house rule")


def care_day(at: datetime, zone: tzinfo, rules: HouseRules) -> date:
    """The care day of `at` (aware): its local date, or the evening before while that day has not ended yet."""
    local = at.astimezone(zone)
    return local.date() if local.hour >= rules.day_ends_at_hour else local.date() - timedelta(days=1)


def care_second(at: datetime, zone: tzinfo, rules: HouseRules) -> int:
    """How many seconds of its care day were over at `at` (aware): instants of one care day go by these."""
    begins = datetime.combine(care_day(at, zone, rules), time(rules.day_ends_at_hour), zone)
    return max(0, int(at.timestamp() - begins.timestamp()))


def when(moment: Moment, zone: tzinfo, rules: HouseRules) -> datetime:
    """The instant (aware UTC) a moment stands for when sorting: a care day counts until it ends.

    The work of a day may be done at any hour of it, so what falls due at 17:00 comes before the day's other work.
    """
    if isinstance(moment, datetime):
        return moment.astimezone(UTC)
    return datetime.combine(moment + timedelta(days=1), time(rules.day_ends_at_hour), zone).astimezone(UTC)


def day_of(moment: Moment, zone: tzinfo, rules: HouseRules) -> date:
    """The care day of a moment, whichever kind it is."""
    return care_day(moment, zone, rules) if isinstance(moment, datetime) else moment


def day_words(day: date, today: date) -> str:
    """"9 Dec", with the year when it lies about half a year or more from `today`."""
    words = f"{day.day} {MONTHS[day.month - 1]}"
    return words if abs((day - today).days) < FAR_DAYS else f"{words} {day.year}"


def full_day(at: datetime, zone: tzinfo) -> str:
    """"15 Nov 2026", the local day of `at` (aware)."""
    return dated(at.astimezone(zone).date())


def month_name(day: date) -> str:
    """"March", whatever language the system speaks."""
    return MONTH_NAMES[day.month - 1]


def dated(day: date) -> str:
    """"15 Nov 2026"."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def moment_words(at: datetime, zone: tzinfo | None) -> str:
    """"15 Nov 2026, 14:05", the moment `at` (aware) in `zone` (None: that of this computer)."""
    local = at.astimezone(zone)
    return f"{dated(local.date())}, {local:%H:%M}"


def time_words(at: datetime, now: datetime, zone: tzinfo) -> str:
    """"17:02" of the day it is now, else with its day: "28 Nov 17:02"; by the clock on the wall, which turns at
    midnight whenever the grower's day ends."""
    day, today = at.astimezone(zone).date(), now.astimezone(zone).date()
    return clock_words(at, zone) if day == today else f"{day_words(day, today)} {clock_words(at, zone)}"


def hands_when(now: datetime, zone: tzinfo, rules: HouseRules) -> str:
    """How what is owed on this care day is told at `now`: "today", and from the evening until the day ends
    "tonight"."""
    hour = now.astimezone(zone).hour
    return "tonight" if hour >= EVENING.value or hour < rules.day_ends_at_hour else "today"


def clock_words(at: datetime, zone: tzinfo) -> str:
    """"17:02", in the zone's local time."""
    return at.astimezone(zone).strftime("%H:%M")
