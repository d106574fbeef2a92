"""Days, times and stretches in the window's words: 9 Dec, 14:36, 1 h 42."""

from __future__ import annotations

from datetime import date, datetime, timedelta, tzinfo

from greenhouse_desk.domain.figures import counted as counted

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day(of: date, today: date | None = None) -> str:
    """ "9 Dec"; with the year when it is not the year of `today`."""
    short = f"{of.day} {MONTHS[of.month - 1]}"
    return short if today is None or of.year == today.year else f"{short} {of.year}"


def weekday(of: date) -> str:
    """ "Tue 24 Nov"."""
    return f"{DAYS[of.weekday()]} {day(of)}"


def clock(moment: datetime, zone: tzinfo) -> str:
    """ "14:36" in `zone`."""
    local = moment.astimezone(zone)
    return f"{local.hour}:{local.minute:02d}"


def moment(of: date | datetime, now: datetime, zone: tzinfo) -> str:
    """A care day as "9 Dec", an instant as "17:02", with its day in front when that is not today."""
    today = now.astimezone(zone).date()
    if not isinstance(of, datetime):
        return day(of, today)
    when = of.astimezone(zone).date()
    return clock(of, zone) if when == today else f"{day(when, today)} {clock(of, zone)}"


def stretch(of: timedelta) -> str:
    """ "1 h 42", "8 min", "3 days": a length of time, rounded down."""
    minutes = int(abs(of.total_seconds())) // 60
    if minutes >= 48 * 60:
        return f"{minutes // 1440} days"
    return f"{minutes // 60} h {minutes % 60:02d}" if minutes >= 60 else f"{minutes} min"


def countdown(of: timedelta) -> str:
    """ "1:42:07": hours, minutes, seconds to go; "+0:12:30" once it is over."""
    seconds = int(of.total_seconds())
    sign = "+" if seconds < 0 else ""
    seconds = abs(seconds)
    return f"{sign}{seconds // 3600}:{seconds // 60 % 60:02d}:{seconds % 60:02d}"


def measured(amount: float, unit: str) -> str:
    """ "250 ml", "4 sheets", "1 pair": how much of something; a counted unit loses its s where there is one."""
    single = amount == 1 and len(unit) > 2 and unit.endswith("s")
    return f"{amount:g} {unit[:-1] if single else unit}".strip()
