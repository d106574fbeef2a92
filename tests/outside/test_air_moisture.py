"""Dew point and wet bulb against handbooks' examples, psychrometer readings and other programs' printed results."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.air import dew_point, saturation_vapour_pressure, wet_bulb
from tests.outside.published import Published
from tests.outside.test_air_pressure import ASHRAE, FAO, numbers

WMO = "WMO-No. 8 psychrometer formula, results printed in the documentation of the MetPy library"
MAGNUS = "Magnus dew point formula after Bolton 1980, result printed in the documentation of the MetPy library"
STULL = "Stull 2011, J. Appl. Meteorol. Climatol. 50:2267, results printed on calculators' pages"
ARMY = "US Army TM 5-3610-285-14, psychrometer table"
EXAM = "NCEES FE reference psychrometric chart, practice problem 307"
CLIMATE = "Climate and humidity table of a German instrument handbook, whole degrees"


def wet(temp_c: float, rh: float, bulb: float, source: str, within: float, kpa: float = 101.325,
        where: str = "") -> Published:
    what = f"wet bulb at {temp_c:g} C, {rh * 100:.3g} %, {kpa:g} kPa, C"
    return Published(what, bulb, source, (temp_c, rh, kpa), within, where)


def dew(temp_c: float, rh: float, point: float, source: str, within: float, where: str = "") -> Published:
    return Published(f"dew point at {temp_c:.3g} C, {rh * 100:g} %, C", point, source, (temp_c, rh), within, where)


WET = [
    wet(40, 0.14, 20, ASHRAE, 0.25, where="Example 1"),
    wet(25.6, 1.91 / saturation_vapour_pressure(25.6), 19.5, FAO, 0.12, 87.9, "Example 4, 1200 m"),
    wet(20, 0.71, 62 / 1.8 - 32 / 1.8, ARMY, 0.15, where="68 F dry, 62 F wet: 71 %"),
    wet(21.5, 0.50, 15, EXAM, 0.15),
    wet(19, 0.304334, 10, WMO, 0.2, 100.0), wet(25, 0.62752 / saturation_vapour_pressure(25), 12, WMO, 0.2, 95.8),
    wet(25, 0.50, 18.0, STULL, 0.3), wet(30, 0.70, 25.6, STULL, 0.3), wet(30, 0.50, 21.92, STULL, 0.3)]
"""RH in whole percent is worth 0.15 to 0.25 C of wet bulb here. A psychrometer's wet bulb (FAO, WMO: its own
constant for the instrument) lies up to 0.2 C under the thermodynamic one in dry air. Stull gives 0.3 C as the mean
error of his formula. ASHRAE's example reads from a chart."""

DEW = [dew(40, 0.14, 7, ASHRAE, 0.5, "Example 1, whole degrees"), dew(10, 0.50, 0.047900916, MAGNUS, 0.02)] + [
    dew(temp_c, rh, point, CLIMATE, 0.95) for temp_c, rh, point in (
        (15, 0.70, 9), (20, 0.50, 9), (20, 0.60, 12), (20, 0.80, 16), (25, 0.50, 13), (25, 0.60, 16), (30, 0.60, 21))]
"""The climate table cuts off to whole degrees, so that the true value lies up to a degree above the printed one."""


@pytest.mark.parametrize("row", WET, ids=str)
def test_wet_bulb(row: Published) -> None:
    temp_c, rh, kpa = numbers(row)
    assert row.agrees(wet_bulb(temp_c, rh, kpa))


@pytest.mark.parametrize("row", DEW, ids=str)
def test_dew_point(row: Published) -> None:
    temp_c, rh = numbers(row)
    assert row.agrees(dew_point(temp_c, rh))


def test_values_computed_by_two_libraries() -> None:
    """psychrolib and CoolProp give these within 0.02 C of dew point and 0.007 C of wet bulb: computed, not printed."""
    assert dew_point(25, 0.60) == pytest.approx(16.70, abs=0.01)
    assert dew_point(20, 0.50) == pytest.approx(9.27, abs=0.01)
    assert wet_bulb(20, 0.50) == pytest.approx(13.78, abs=0.01)
    assert wet_bulb(25, 0.60) == pytest.approx(19.47, abs=0.01)
