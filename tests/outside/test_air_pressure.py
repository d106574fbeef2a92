"""Saturation pressure of water against printed tables, standards and standard formulas' printed results."""

from __future__ import annotations

import math

import pytest

from greenhouse_desk.domain.air import over_water, saturation_vapour_pressure, vapour_pressure_deficit
from tests.outside.published import Published

FAO = "Allen et al. 1998, FAO Irrigation and Drainage Paper 56"
ASHRAE = "ASHRAE Handbook Fundamentals 2017, ch. 1, as quoted in the tests of the psychrolib project"
CRC = "CRC Handbook of Chemistry and Physics, 73rd ed. 1992-93, as copied at a school's page"
IAPWS = "IAPWS industrial saturation equation, results printed in the documentation of the chemicals library"
WEXLER = "Wexler 1976, J. Res. Nat. Bur. Stand. 80A:775"
ITS90 = "ITS-90 formulation of water vapour pressure (Hardy 1998), as copied in an encyclopedia"
BOLTON = "Bolton 1980, result printed in the documentation of the MetPy library"


def row(temp_c: float, kpa: float, source: str, within: float, where: str = "") -> Published:
    return Published(f"saturation pressure at {temp_c:g} C, kPa", kpa, source, (temp_c,), within, where)


def numbers(row: Published) -> tuple[float, ...]:
    """What the value was given for, as plain numbers."""
    return tuple(value for value in row.given if isinstance(value, int | float))


FAO_ROWS = [row(temp_c, kpa, FAO, 0.0004 + 0.0011 * kpa, "Annex 2, Table 2.3") for temp_c, kpa in (
    (5, 0.872), (10, 1.228), (15, 1.705), (20, 2.338), (25, 3.168), (30, 4.243), (40, 7.376))]
"""FAO's own formula (its Eq. 11) lies up to 0.1 % under ASHRAE's, and its table has three decimals."""

ASHRAE_ROWS = [row(temp_c, kpa, ASHRAE, 0.0003 * kpa, "Table 3") for temp_c, kpa in (
    (-20, 0.10324), (-5, 0.40174), (5, 0.8726), (25, 3.1697), (50, 12.3513), (100, 101.418), (150, 476.1014))]
"""The handbook claims 300 ppm for its formula; below 0 C it is over ice."""

CRC_ROWS = [row(temp_c, kpa, CRC, 0.0006 * kpa) for temp_c, kpa in (
    (2, 0.70605), (10, 1.2281), (15, 1.7056), (20, 2.3388), (25, 3.1690), (30, 4.2455), (35, 5.6267), (45, 9.5895))]
"""Five figures, an older temperature scale: within 0.06 %."""

OTHERS = [
    row(26.85, 3.53659, IAPWS, 0.0003 * 3.53659, "300 K"), row(100, 101.418, IAPWS, 0.0003 * 101.418, "373.15 K"),
    row(0.01, 0.611657, WEXLER, 1e-5, "abstract: the triple point"),
    row(2, 0.705973, ITS90, 0.0003 * 0.706), row(0.01, 0.611657, ITS90, 1e-5),
    row(25, 3.16742944, BOLTON, 0.001 * 3.167)]
"""The standards within ASHRAE's 300 ppm; Bolton claims 0.1 % for his short formula."""


@pytest.mark.parametrize("row", FAO_ROWS + ASHRAE_ROWS + CRC_ROWS + OTHERS, ids=str)
def test_saturation_pressure(row: Published) -> None:
    (temp_c,) = numbers(row)
    assert row.agrees(saturation_vapour_pressure(temp_c))


MEAN = Published("mean saturation pressure of a day of 15 to 24.5 C, kPa", 2.39, FAO, (15.0, 24.5), 0.005, "Example 3")
OF_MEAN = Published("saturation pressure at that day's mean temperature, kPa", 2.30, FAO, (15.0, 24.5), 0.005,
                    "Example 3")


@pytest.mark.parametrize("row", [MEAN], ids=str)
def test_the_mean_of_two_pressures(row: Published) -> None:
    """Rounded to two decimals in print."""
    low, high = numbers(row)
    assert row.agrees((saturation_vapour_pressure(low) + saturation_vapour_pressure(high)) / 2)


@pytest.mark.parametrize("row", [OF_MEAN], ids=str)
def test_is_not_the_pressure_of_the_mean(row: Published) -> None:
    low, high = numbers(row)
    assert row.agrees(saturation_vapour_pressure((low + high) / 2))


def test_the_deficit_is_what_is_missing_to_saturation() -> None:
    """Arithmetic on FAO-56's table: at 25 C and 60 % the air lacks 0.4 x 3.168 kPa."""
    assert vapour_pressure_deficit(25, 0.60) == pytest.approx(0.4 * 3.168, rel=0.0012)
    assert vapour_pressure_deficit(25, 1.0) == 0.0


@pytest.mark.parametrize("temp_c", [-25.0, -15.0, -10.0, -5.0, -1.0, 0.0, 5.0, 20.0, 40.0])
def test_over_water_that_did_not_freeze(temp_c: float) -> None:
    """Murphy and Koop 2005, Q. J. R. Meteorol. Soc. 131:1539, Eq. 10, valid from 123 to 332 K; within 0.5 %. Over ice
    the pressure at -10 C would be a tenth lower."""
    kelvin = temp_c + 273.15
    ours = over_water(temp_c)
    bend = math.tanh(0.0415 * (kelvin - 218.8)) * (53.878 - 1331.22 / kelvin - 9.44523 * math.log(kelvin)
                                                   + 0.014025 * kelvin)
    theirs = math.exp(54.842763 - 6763.22 / kelvin - 4.21 * math.log(kelvin) + 0.000367 * kelvin + bend)
    assert ours == pytest.approx(theirs, rel=0.005)
