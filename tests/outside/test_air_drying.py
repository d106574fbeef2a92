"""The drying model's parts against published properties, other formulas for evaporation, and its worked examples."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain import air
from tests.outside.published import How, Published
from tests.outside.test_air_pressure import FAO, numbers

CENGEL = "Cengel, Heat Transfer, Table A-15: properties of air at 1 atm"
FISHENDEN = "Fishenden and Saunders, An Introduction to Heat Transfer, as quoted in a unit operations textbook"
INCROPERA = "Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, Table A.4 as used in a worked solution"
MONTEITH = "Monteith and Unsworth, Principles of Environmental Physics, appendix"
MASSMAN = "Massman 1998, Atmos. Environ. 32:1111"
WELTY = "Welty, Wicks and Wilson 1984, as reprinted by Benitez, Table A.1"
CARRIER = "Carrier's formula in ASHRAE Applications, as quoted by Smith, Lof and Jones 1998"
HANDBOOK = "Evaporation from a pool, an engineering handbook's example, as quoted in a physics forum"


def prop(what: str, unit: str, temp_c: float, value: float, source: str, share: float,
         how: How = How.READ) -> Published:
    return Published(f"{what} of air at {temp_c:g} C, {unit}", value, source, (temp_c,), share * value, how=how)


VISCOSITY = [prop("kinematic viscosity", "m2/s", t, nu, CENGEL, 0.01) for t, nu in (
    (0, 1.338e-5), (10, 1.426e-5), (20, 1.516e-5), (30, 1.608e-5), (40, 1.702e-5))] + [
    prop("kinematic viscosity", "m2/s", 26.85, 15.89e-6, INCROPERA, 1e-9),
    prop("kinematic viscosity", "m2/s", 0, 1.73e-5 / 1.29, FISHENDEN, 0.01, How.WORKED_OUT)]
"""The tables lie 1 % from each other; drying goes with the sixth root of viscosity."""

CONDUCTIVITY = [prop("heat conduction", "W/m K", t, k, CENGEL, 0.03) for t, k in (
    (0, 0.02364), (10, 0.02439), (20, 0.02514), (30, 0.02588), (40, 0.02662))] + [
    prop("heat conduction", "W/m K", 26.85, 0.0263, INCROPERA, 1e-9),
    prop("heat conduction", "W/m K", 0, 0.0242, FISHENDEN, 0.01),
    prop("heat conduction", "W/m K", 38, 0.0267, FISHENDEN, 0.03)]
"""The tables lie 2 to 3 % from each other."""

DIFFUSIVITY = [prop("water vapour diffusivity", "m2/s", 24.85, 2.634 / 101325, WELTY, 1e-9),
               prop("water vapour diffusivity", "m2/s", 20, 2.42e-5, MONTEITH, 0.06, How.FROM_MEMORY),
               prop("water vapour diffusivity", "m2/s", 0, 2.178e-5, MASSMAN, 0.06, How.FROM_MEMORY)]
"""The sources lie 5 % from each other: 3 % of the drying time."""


@pytest.mark.parametrize("row", VISCOSITY, ids=str)
def test_viscosity(row: Published) -> None:
    assert row.agrees(air.viscosity(*numbers(row)))


@pytest.mark.parametrize("row", CONDUCTIVITY, ids=str)
def test_conduction(row: Published) -> None:
    assert row.agrees(air.conductivity(*numbers(row)))


@pytest.mark.parametrize("row", DIFFUSIVITY, ids=str)
def test_diffusivity(row: Published) -> None:
    assert row.agrees(air.diffusivity(*numbers(row)))


LOPEZ = "Lopez et al. 2012, Scientia Horticulturae 137:49, abstract"
EMISSIVITY = [Published(f"heat radiation of a leaf of {crop}, share", share, LOPEZ, (), 0.016) for crop, share in (
    ("aubergine", 0.973), ("tomato", 0.980), ("courgette", 0.985))]
"""The least, one in the middle, and the most of nine crops, each with a spread of 0.005 to 0.010. Ours is rounded down
to 0.97; the 0.015 between is half a percent of the hours."""


@pytest.mark.parametrize("row", EMISSIVITY, ids=str)
def test_a_leaf_radiates_nearly_as_a_black_body(row: Published) -> None:
    assert row.agrees(air.EMISSIVITY.value)


LATENT = Published("latent heat at 20 C, J/kg", 2.45e6, FAO, (20.0,), 0.005e6, "Eq. 3-1 and its rounded value")


@pytest.mark.parametrize("row", [LATENT], ids=str)
def test_latent_heat(row: Published) -> None:
    (temp_c,) = numbers(row)
    assert row.agrees(air.LATENT.value + air.LATENT_SLOPE.value * temp_c)


POOL = Published("evaporation at 25 C water and air, 0.5 m/s, 0.0198 and 0.0115 kg/kg, kg/m2 h",
                 (25 + 19 * 0.5) * (0.019826 - 0.0115), HANDBOOK, (25.0, 0.0115 / 0.019826 * 1.0125, 0.5), 0.07,
                 how=How.WORKED_OUT)


@pytest.mark.parametrize("row", [POOL], ids=str)
def test_evaporation_from_a_pool(row: Published) -> None:
    """A large basin, and a rule of thumb: within a quarter is all that can be asked. The factor 1.0125 turns a ratio of
    mixing ratios into relative humidity here."""
    temp_c, rh, speed = numbers(row)
    assert row.agrees(air.evaporation(temp_c, temp_c, rh, speed, 0.1) * 3600)


CARRIER_ROWS = [Published(f"evaporation from water at 20 C in air of 50 %, {speed:g} m/s, kg/m2 h",
                          (0.0887 + 0.07815 * speed) * 0.5 * 2338.8 / 2.45e6 * 3600, CARRIER, (speed,),
                          0.5 * (0.0887 + 0.07815 * speed) * 0.5 * 2338.8 / 2.45e6 * 3600, how=How.WORKED_OUT)
                for speed in (0.3, 0.6, 1.0)]
"""In W/m2 Pa; the inch-pound original is 95 + 0.425 V. Measured on basins, whose own warm drift makes evaporation in
slow air: the same order is what can be asked of a leaf, half to one and a half."""


@pytest.mark.parametrize("row", CARRIER_ROWS, ids=str)
def test_evaporation_is_of_the_order_of_open_water(row: Published) -> None:
    (speed,) = numbers(row)
    assert row.agrees(air.evaporation(20.0, 20.0, 0.5, speed, 0.1) * 3600)


@pytest.mark.parametrize(("film", "temp_c", "rh", "speed", "hours"), [
    (0.2, 22, 0.55, 0.1, 4.9), (0.2, 22, 0.55, 0.6, 2.0), (0.2, 22, 0.75, 0.1, 9.0), (0.2, 18, 0.85, 0.1, 17.0),
    (3.0, 22, 0.55, 0.6, 30.0)])
def test_the_worked_examples(film: float, temp_c: float, rh: float, speed: float, hours: float) -> None:
    """Derived by one model of the same kind, printed in one or two figures, with a diffusivity not said: 4 %."""
    assert air.drying_hours(film, temp_c, rh, speed).high == pytest.approx(hours, rel=0.04)


@pytest.mark.parametrize(("temp_c", "rh"), [(18, 0.85), (22, 0.55), (22, 0.75), (24, 0.6)])
@pytest.mark.parametrize("speed", [0.1, 0.6])
def test_it_is_not_isothermal(temp_c: float, rh: float, speed: float) -> None:
    """A film as warm as the air would dry two to three times too fast in rooms of 18 to 24 C; a leaf warmed by the room
    lies between."""
    isothermal = 0.2 / 3600 / air.evaporation(temp_c, temp_c, rh, speed, air.LEAF_M.value)
    span = air.drying_hours(0.2, temp_c, rh, speed)
    assert 2.0 < span.high / isothermal < 3.2
    assert isothermal < span.low < span.high
