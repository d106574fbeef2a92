"""Moist air, and how fast a film of water on a leaf dries in it. The one place the psychrometric library is used."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import lru_cache

import psychrolib

from greenhouse_desk.domain.faults import OutOfRange, within
from greenhouse_desk.domain.figures import Constant, Span

TABLES = "Incropera and DeWitt, Fundamentals of Heat and Mass Transfer"
PLATE = Constant(0.664, "", "mean transfer from a flat plate in laminar flow: Sh = 0.664 Re^1/2 Sc^1/3",
                 f"published: {TABLES}, ch. 7")
TURBULENT_RE = Constant(5e5, "", "Reynolds number above which flow over a plate is no longer laminar",
                        f"from memory: {TABLES}, ch. 7")
LEAF_M = Constant(0.1, "m", "length of a leaf along the air", "derived here: the scale of the worked examples")
DIFFUSIVITY = Constant(2.634 / 101325.0, "m2/s", "water vapour in air at 298 K and 1 atm; grows with T^1.5",
                       "published: Welty, Wicks and Wilson 1984, as reprinted by Benitez, Table A.1 (2.634 m2/s Pa)")
VISCOSITY = Constant(15.89e-6, "m2/s", "kinematic viscosity of air at 300 K; grows with T^1.8",
                     f"published: {TABLES}, Table A.4")
CONDUCTIVITY = Constant(26.3e-3, "W/m K", "heat conduction of air at 300 K; grows with T^0.9",
                        f"published: {TABLES}, Table A.4")
PRANDTL = Constant(0.707, "", "viscosity of air over its thermal diffusivity, at 300 K",
                   f"published: {TABLES}, Table A.4")
LATENT = Constant(2.501e6, "J/kg", "heat taken up by water that evaporates at 0 C",
                  "published: Allen et al. 1998, FAO Irrigation and Drainage Paper 56, Eq. 3-1")
LATENT_SLOPE = Constant(-2361.0, "J/kg K", "change of that heat with the water's temperature",
                        "published: Allen et al. 1998, FAO Irrigation and Drainage Paper 56, Eq. 3-1")
VAPOUR_GAS = Constant(461.5, "J/kg K", "gas constant of water vapour", "published: ASHRAE Fundamentals 2017, ch. 1")
RADIATION = Constant(5.670374e-8, "W/m2 K4", "Stefan-Boltzmann constant", "published: CODATA 2018")
EMISSIVITY = Constant(0.97, "", "heat radiation of a leaf, as a share of a black body's",
                      "published: Lopez et al. 2012, Scientia Horticulturae 137:49: 0.973 to 0.985 for nine crops")

MAGNUS = Constant(17.62, "", "slope of the logarithm of saturation pressure over water, also below 0 C",
                  "published: WMO-No. 8, Guide to Meteorological Instruments, Annex 4.B")
MAGNUS_C = Constant(243.12, "C", "offset in the same formula",
                    "published: WMO-No. 8, Guide to Meteorological Instruments, Annex 4.B")
MOLE_RATIO = Constant(0.621945, "", "mass of a mole of water over a mole of dry air",
                      "published: ASHRAE Fundamentals 2017, ch. 1, Eq. 20")

KELVIN = 273.15
TRIPLE_C = 0.01
SEA_LEVEL_PA = 101325.0
COLDEST_C, HOTTEST_C = -100.0, 200.0
"""What the library's formulas cover."""
FILM_C = (0.0, 60.0)
FILM_MM = (0.0, 50.0)
SPEED_M_S = (0.01, 10.0)
LENGTH_M = (0.005, 1.0)
PRESSURE_KPA = (50.0, 110.0)

psychrolib.SetUnitSystem(psychrolib.SI)
psychrolib.PSYCHROLIB_TOLERANCE = 1e-6  # K; its own 0.001 would make drying near saturation jump about


def saturation_vapour_pressure(temp_c: float) -> float:
    """Pressure of water vapour over water, over ice below 0.01 C; kPa. `temp_c` from -100 to 200 C, else OutOfRange.

    Source: ASHRAE Handbook Fundamentals 2017, ch. 1, Eq. 5 and 6.
    """
    within("temp_c", temp_c, COLDEST_C, HOTTEST_C)
    return psychrolib.GetSatVapPres(temp_c) / 1000.0


def over_water(temp_c: float) -> float:
    """Saturation pressure over water, Pa, from -30 C up; below the triple point the meteorologists' formula carries it
    on where ice would begin. Source: WMO-No. 8, Annex 4.B."""
    if temp_c >= TRIPLE_C:
        return saturation_vapour_pressure(temp_c) * 1000.0
    rise = MAGNUS.value * (temp_c / (MAGNUS_C.value + temp_c) - TRIPLE_C / (MAGNUS_C.value + TRIPLE_C))
    return saturation_vapour_pressure(TRIPLE_C) * 1000.0 * math.exp(rise)


def vapour_pressure_deficit(temp_c: float, rh: float) -> float:
    """How much vapour the air could still take up, kPa, at `temp_c` (-100 to 200 C) and `rh` (0 to 1)."""
    within("rh", rh, 0.0, 1.0)
    return saturation_vapour_pressure(temp_c) * (1.0 - rh)


def dew_point(temp_c: float, rh: float) -> float:
    """Temperature at which this air becomes saturated, C. `temp_c` from -100 to 200 C, `rh` above 0 and up to 1.

    Raises OutOfRange: also for air so dry that its dew point would lie below -100 C. Source: as the pressure's.
    """
    least = saturation_vapour_pressure(COLDEST_C) / saturation_vapour_pressure(temp_c)
    within("rh", rh, least, 1.0)
    if rh == 1.0:
        return float(temp_c)
    return _asked(lambda: psychrolib.GetTDewPointFromRelHum(temp_c, rh), temp_c)


def wet_bulb(temp_c: float, rh: float, pressure_kpa: float = 101.325) -> float:
    """Thermodynamic wet-bulb temperature, C, of air from -100 to 200 C, `rh` 0 to 1, 50 to 110 kPa; else OutOfRange.

    Air so hot and damp that its vapour alone exceeds the pressure is out of range too. Source: ASHRAE Handbook
    Fundamentals 2017, ch. 1, Eq. 33 and 35.
    """
    within("rh", rh, 0.0, 1.0)
    within("pressure_kpa", pressure_kpa, *PRESSURE_KPA)
    if rh * saturation_vapour_pressure(temp_c) >= pressure_kpa:
        raise OutOfRange("temp_c", temp_c, COLDEST_C, 100.0)
    if rh == 1.0:
        return float(temp_c)
    return _asked(lambda: psychrolib.GetTWetBulbFromRelHum(temp_c, rh, pressure_kpa * 1000.0), temp_c)


def drying_hours(film_mm: float, temp_c: float, rh: float, air_speed_m_s: float,
                 length_m: float = LEAF_M.value) -> Span:
    """Hours until a film of water `film_mm` thick is gone from a leaf `length_m` long, for exactly this film and air.

    `high`: an isolated film, at wet-bulb temperature. `low`: a leaf that is wet on one face and is also warmed through
    the dry one and by a room as warm as the air. Both `inf` where the air cannot take up water. Laminar flow along a
    flat plate, vapour and heat alike; water 1 kg/m2 for each mm; sea level. Left out: beads, sun, and the drift of
    air that a cold leaf makes itself, which would help in air slower than about 0.1 m/s.

    OutOfRange: film 0 to 50 mm, air 0 to 60 C, `rh` 0 to 1, air 0.01 to 10 m/s (less where the leaf is so long that
    the flow is no longer laminar), leaf 0.005 to 1 m. Source: derived here from the constants of this module.
    """
    for name, value, (low, high) in (("film_mm", film_mm, FILM_MM), ("temp_c", temp_c, FILM_C), ("rh", rh, (0.0, 1.0)),
                                     ("length_m", length_m, LENGTH_M), ("air_speed_m_s", air_speed_m_s, SPEED_M_S)):
        within(name, value, low, high)
    laminar = TURBULENT_RE.value * viscosity(temp_c) / length_m
    within("air_speed_m_s", air_speed_m_s, SPEED_M_S[0], min(SPEED_M_S[1], laminar))
    if rh == 1.0:
        return Span(math.inf, math.inf)
    return Span(*(film_mm / 3600.0 / rate for rate in _rates(temp_c, rh, air_speed_m_s, length_m)))


@lru_cache(maxsize=1024)
def _rates(temp_c: float, rh: float, air_speed_m_s: float, length_m: float) -> tuple[float, float]:
    """Evaporation from the warmed leaf and from the isolated film, kg/m2 s. Kept, because every plant of a place asks
    for the same air again at each change."""
    warmed, isolated = leaf_temperature(temp_c, rh, air_speed_m_s, length_m), film_temperature(temp_c, rh)
    return (evaporation(warmed, temp_c, rh, air_speed_m_s, length_m),
            evaporation(isolated, temp_c, rh, air_speed_m_s, length_m))


def diffusivity(temp_c: float) -> float:
    """How readily water vapour spreads in air at 1 atm, m2/s. Sources lie within 5 % of each other."""
    return DIFFUSIVITY.value * math.pow((temp_c + KELVIN) / 298.0, 1.5)


def viscosity(temp_c: float) -> float:
    """Kinematic viscosity of air at 1 atm, m2/s. See `VISCOSITY`."""
    return VISCOSITY.value * math.pow((temp_c + KELVIN) / 300.0, 1.8)


def conductivity(temp_c: float) -> float:
    """Heat conduction of air, W/m K. See `CONDUCTIVITY`."""
    return CONDUCTIVITY.value * math.pow((temp_c + KELVIN) / 300.0, 0.9)


def evaporation(surface_c: float, temp_c: float, rh: float, air_speed_m_s: float, length_m: float) -> float:
    """Water leaving a wet face at `surface_c` for air at `temp_c`, kg/m2 s; negative where it condenses.

    Source: `PLATE`, for vapour; the air's properties at the mean of both temperatures.
    """
    mean = (surface_c + temp_c) / 2.0
    spread = diffusivity(mean)
    sherwood = _plate(air_speed_m_s, length_m, mean, viscosity(mean) / spread)
    return sherwood * spread / length_m * (_vapour(surface_c, 1.0) - _vapour(temp_c, rh))


def film_temperature(temp_c: float, rh: float) -> float:
    """Temperature of an isolated film of water, C: the wet bulb at sea level, taken as liquid below 0 C too, where a
    bulb would freeze (`wet_bulb` knows ice, and jumps there). Source: ASHRAE Fundamentals 2017, ch. 1, Eq. 33.
    """
    wanted = _mixed(rh * over_water(temp_c))
    low, high = -30.0, temp_c
    for _ in range(50):
        film = (low + high) / 2.0
        mixed = ((2501.0 - 2.326 * film) * _mixed(over_water(film)) - 1.006 * (temp_c - film)) / (
            2501.0 + 1.86 * temp_c - 4.186 * film)
        low, high = (low, film) if mixed > wanted else (film, high)
    return (low + high) / 2.0


def leaf_temperature(temp_c: float, rh: float, air_speed_m_s: float, length_m: float) -> float:
    """Where the heat a leaf with one wet face gets (by the air on both faces, and by radiation from a room at
    `temp_c`) equals what evaporation takes, C: between the wet bulb and the air, found by halving."""
    low, high = film_temperature(temp_c, rh), temp_c
    for _ in range(50):
        middle = (low + high) / 2.0
        taken = (LATENT.value + LATENT_SLOPE.value * middle) * evaporation(middle, temp_c, rh, air_speed_m_s, length_m)
        if _warming(middle, temp_c, air_speed_m_s, length_m) > taken:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0


def _warming(leaf_c: float, temp_c: float, air_speed_m_s: float, length_m: float) -> float:
    """Heat coming to both faces of a leaf, W/m2."""
    mean = (leaf_c + temp_c) / 2.0
    transfer = _plate(air_speed_m_s, length_m, mean, PRANDTL.value) * conductivity(mean) / length_m
    by_air = transfer * (temp_c - leaf_c)
    by_room = EMISSIVITY.value * RADIATION.value * ((temp_c + KELVIN) ** 4 - (leaf_c + KELVIN) ** 4)
    return 2.0 * (by_air + by_room)


def _plate(air_speed_m_s: float, length_m: float, mean_c: float, ratio: float) -> float:
    """The Sherwood number for a Schmidt number `ratio`, or the Nusselt number for a Prandtl number."""
    reynolds = air_speed_m_s * length_m / viscosity(mean_c)
    return PLATE.value * math.sqrt(reynolds) * math.pow(ratio, 1.0 / 3.0)


def _vapour(temp_c: float, rh: float) -> float:
    """Water vapour in the air, kg/m3."""
    return rh * over_water(temp_c) / (VAPOUR_GAS.value * (temp_c + KELVIN))


def _mixed(vapour_pa: float) -> float:
    """Water to dry air by mass, at sea level."""
    return MOLE_RATIO.value * vapour_pa / (SEA_LEVEL_PA - vapour_pa)


def _asked(ask: Callable[[], float], temp_c: float) -> float:
    """What the library answers; where it finds nothing, the air is out of its range."""
    try:
        return ask()
    except ValueError as error:
        raise OutOfRange("temp_c", temp_c, COLDEST_C, HOTTEST_C) from error
