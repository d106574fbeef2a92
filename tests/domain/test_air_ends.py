"""Moist air at the ends of its range: the driest air with a dew point, water just below its triple point."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain import air
from greenhouse_desk.domain.faults import OutOfRange


@pytest.mark.parametrize("temp_c", [-60.0, -50.0, 20.0, 150.0])
def test_the_driest_air_with_a_dew_point_has_it_at_the_coldest_temperature(temp_c: float) -> None:
    least = air.saturation_vapour_pressure(-100.0) / air.saturation_vapour_pressure(temp_c)
    assert air.dew_point(temp_c, least * 1.001) == pytest.approx(-100.0, abs=0.05)
    with pytest.raises(OutOfRange) as told:
        air.dew_point(temp_c, least * 0.999)
    assert told.value.argument == "rh"
    assert told.value.low == pytest.approx(least)


@pytest.mark.parametrize("temp_c", [-100.0, -20.0, 5.0, 21.5, 90.0, 200.0])
def test_saturated_air_is_its_own_dew_point(temp_c: float) -> None:
    assert air.dew_point(temp_c, 1.0) == temp_c


def test_over_water_nothing_jumps_at_the_triple_point_and_ice_holds_less() -> None:
    assert air.over_water(air.TRIPLE_C - 1e-9) == pytest.approx(air.over_water(air.TRIPLE_C), rel=1e-6)
    for temp_c in (-5.0, -20.0):
        assert air.over_water(temp_c) > 1000 * air.saturation_vapour_pressure(temp_c)
    assert air.over_water(-20.0) == pytest.approx(125.4, rel=6e-3), "from memory; the formula lies 0.5 % above tables"
