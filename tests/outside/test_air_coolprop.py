"""Moist air against CoolProp over a grid: its own equations of state, not ASHRAE's formulas."""

from __future__ import annotations

import itertools

import pytest
from CoolProp.HumidAirProp import HAPropsSI

from greenhouse_desk.domain import air

TEMPERATURES = (1.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 50.0)
HUMIDITIES = (0.05, 0.2, 0.4, 0.55, 0.7, 0.85, 0.95, 0.999)
GRID = list(itertools.product(TEMPERATURES, HUMIDITIES))
PRESSURES = (70.0, 90.0, 101.325)
K = 273.15


def moist(what: str, temp_c: float, rh: float, kpa: float = 101.325) -> float:
    """What CoolProp says of this air, in its SI units."""
    return float(HAPropsSI(what, "T", temp_c + K, "P", kpa * 1000, "R", rh))


@pytest.mark.parametrize("temp_c", TEMPERATURES)
def test_saturation_pressure(temp_c: float) -> None:
    """CoolProp's P_w includes the enhancement of moist air, some 0.4 to 0.6 % at 1 atm, which ours leaves out."""
    assert air.saturation_vapour_pressure(temp_c) * 1000 == pytest.approx(moist("P_w", temp_c, 1.0), rel=0.007)


@pytest.mark.parametrize(("temp_c", "rh"), GRID)
def test_dew_point(temp_c: float, rh: float) -> None:
    """0.02 C from 5 C of dew point on. Below 0.01 C both take ice, where CoolProp's enhancement moves it by 0.05 C."""
    theirs = moist("D", temp_c, rh) - K
    assert air.dew_point(temp_c, rh) == pytest.approx(theirs, abs=0.02 if theirs > 5 else 0.08)


@pytest.mark.parametrize("kpa", PRESSURES)
@pytest.mark.parametrize(("temp_c", "rh"), GRID)
def test_wet_bulb(temp_c: float, rh: float, kpa: float) -> None:
    """0.05 C of ideal gas against real. Within half a degree of freezing the bulb may carry ice or water, and the two
    libraries choose differently: up to 0.75 C."""
    theirs = moist("B", temp_c, rh, kpa) - K
    assert air.wet_bulb(temp_c, rh, kpa) == pytest.approx(theirs, abs=0.05 if abs(theirs) > 0.5 else 0.75)


@pytest.mark.parametrize(("temp_c", "rh"), GRID)
def test_humidity_ratio(temp_c: float, rh: float) -> None:
    """Water to dry air by mass from our vapour pressure, ideal gases: within 1 % of real ones."""
    vapour = rh * air.saturation_vapour_pressure(temp_c)
    ours = 0.621945 * vapour / (101.325 - vapour)
    assert ours == pytest.approx(moist("W", temp_c, rh), rel=0.01)


@pytest.mark.parametrize(("temp_c", "rh"), [one for one in GRID if one[0] >= 10.0])
def test_vapour_density_and_viscosity(temp_c: float, rh: float) -> None:
    """The density of vapour that drives drying within 1 %; viscosity of dry air within 2 %."""
    density = moist("W", temp_c, rh) / moist("Vda", temp_c, rh)
    ours = rh * air.saturation_vapour_pressure(temp_c) * 1000 / (air.VAPOUR_GAS.value * (temp_c + K))
    assert ours == pytest.approx(density, rel=0.01)
    assert air.viscosity(temp_c) == pytest.approx(moist("mu", temp_c, 0.0) * moist("Vha", temp_c, 0.0), rel=0.02)
