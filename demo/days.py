"""When things happened: instants counted back from the evening the demo is built for."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from greenhouse_desk.domain.journal import Facts

DAY_ENDS = timedelta(hours=4)


@dataclass(frozen=True, slots=True)
class Told:
    """Something that happened: when (aware UTC), what, and the words the grower added."""

    at: datetime
    facts: Facts
    note: str = ""


@dataclass(frozen=True, slots=True)
class Days:
    """Instants counted back from `now` (aware); the care day ends at four in the morning of `zone`."""

    now: datetime
    zone: ZoneInfo

    @property
    def today(self) -> date:
        return (self.now.astimezone(self.zone) - DAY_ENDS).date()

    def day(self, days_ago: int) -> date:
        return self.today - timedelta(days=days_ago)

    def at(self, days_ago: int, hour: int = 17, minute: int = 0) -> datetime:
        """That local clock time, so many care days ago; never later than five minutes before now."""
        local = datetime.combine(self.day(days_ago), time(hour, minute), self.zone)
        return min(local.astimezone(UTC), self.ago(5))

    def ago(self, minutes: int) -> datetime:
        """So many minutes before now."""
        return self.now.astimezone(UTC) - timedelta(minutes=minutes)
