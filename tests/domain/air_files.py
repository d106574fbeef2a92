"""Small logger's files for tests: lines as a logger would write them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from greenhouse_desk.domain.air_log import Columns, Heard
from greenhouse_desk.domain.air_log_read import heard

MADRID = ZoneInfo("Europe/Madrid")
NOW = datetime(2026, 11, 18, 15, 30, tzinfo=UTC)
PLAIN = Columns(",", 0, 1, 2)


def read(rows: Sequence[str], columns: Columns = PLAIN, **changes: Any) -> Heard:
    """These rows under a line of names, read by PLAIN with `changes`, in Madrid."""
    return heard([f"{line}\n" for line in ("time,temp,rh", *rows)], replace(columns, **changes), MADRID, NOW)


def every(minutes: int, rows: int, start: datetime, temp: str = "20.0", rh: str = "60") -> list[str]:
    """Rows at even steps."""
    return [f"{start + timedelta(minutes=minutes * nth):%Y-%m-%d %H:%M},{temp},{rh}" for nth in range(rows)]


def instants(found: Heard) -> list[str]:
    """When the readings were taken, in UTC."""
    return [f"{datetime.fromtimestamp(at, UTC):%Y-%m-%d %H:%M}" for at in found.log.at]
