"""Means of a logger's air against a published example: the mean pressure of a day is not that of its mean air."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.air_log import Log
from greenhouse_desk.domain.air_slots import by_hour, slots
from tests.outside.published import Published
from tests.outside.test_air_pressure import MEAN


@pytest.mark.parametrize("row", [MEAN], ids=str)
def test_mean_vpd_of_dry_air_is_the_mean_of_its_saturation_pressures(row: Published) -> None:
    """FAO-56 takes the mean of the pressures at the day's lowest and highest temperature: 2.39, where that at the mean
    temperature is 2.30."""
    hundredths = [round(100 * float(str(temp))) for temp in row.given]
    (hour,) = by_hour(slots(Log([0, 600], hundredths, [0, 0], [-1, -1])))
    assert row.agrees(hour.vpd_kpa)
