"""The demo's plants through the year: on any day some plant has stood in its medium long enough for its window."""

from __future__ import annotations

from datetime import datetime

import pytest

from greenhouse_desk.domain.care import CareKind
from greenhouse_desk.services import care
from tests.demo_built import Built

DAYS = ("2026-11-18T15:30:00+00:00", "2026-12-02T09:00:00+00:00", "2027-01-20T09:00:00+00:00",
        "2026-02-25T09:00:00+00:00", "2026-06-30T09:00:00+00:00", "2026-08-20T09:00:00+00:00")
"""Days on which few genera have their window, or none has: it is told some weeks before."""


@pytest.mark.parametrize("day", DAYS)
def test_a_repotting_window_is_owed_whenever_it_is_built(day: str, built: Built) -> None:
    now = datetime.fromisoformat(day)
    with built(now) as desk:
        windows = [one for one in desk.read(care.ahead, now, 60) if one.kind is CareKind.REPOT_WINDOW]
        assert windows
        assert all("stands in" in " ".join(reason.text for reason in one.why) for one in windows)
