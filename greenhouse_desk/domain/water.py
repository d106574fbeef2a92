"""What is mixed into water: dilutions, feed by its label, and the conductivity that tells of both."""

from __future__ import annotations

from dataclasses import dataclass

from greenhouse_desk.domain.agents import Percent
from greenhouse_desk.domain.faults import OutOfRange, within
from greenhouse_desk.domain.figures import Constant

MOST_ML = 1e7
MOST_EC = 1e6

P_IN_P2O5 = Constant(0.4364, "g/g", "phosphorus in P2O5", "published: Virginia Tech SPES-201; atomic weights agree")
K_IN_K2O = Constant(0.8301, "g/g", "potassium in K2O", "published: Virginia Tech SPES-201; atomic weights agree")
EC_PER_DEGREE = Constant(
    0.0191, "share for each deg C", "rise of conductivity with warmth, of the value at 25 C",
    "from memory: Standard Methods 2510; derived here: within 0.7 % of the published values of 0.01 mol/kg KCl from 15 "
    "to 35 C")
EC_COLDEST_C = Constant(10.0, "deg C", "coldest water whose conductivity is brought to 25 C without a warning",
                        "derived here: 1 % too high at 10 C and 2.5 % at 5 C against 0.01 mol/kg KCl")
EC_WARMEST_C = Constant(35.0, "deg C", "warmest water whose conductivity is brought to 25 C without a warning",
                        "derived here: 0.6 % too high at 35 C and 2 % at 50 C against 0.01 mol/kg KCl")
PPM_500 = Constant(500.0, "ppm for each mS/cm", "a meter that counts salts as table salt",
                   "common practice: one of the two scales printed on conductivity meters")
PPM_700 = Constant(700.0, "ppm for each mS/cm", "a meter that counts salts as a mixture",
                   "common practice: one of the two scales printed on conductivity meters")
PPM_SCALES = (PPM_500.value, PPM_700.value)


class MixedStrengths(ValueError):
    """Percent by volume and percent by mass were put into one sum, or a strength only its label can tell."""


@dataclass(frozen=True, slots=True)
class Strength:
    """A strength that says what its percent means. Raises OutOfRange outside 0 to 100."""

    percent: float
    kind: Percent

    def __post_init__(self) -> None:
        within("percent", self.percent, 0.0, 100.0)

    def __str__(self) -> str:
        return f"{self.percent:g} {self.kind}"


@dataclass(frozen=True, slots=True)
class Dilution:
    """Measure `stock_ml` millilitres of the stock and make up to volume; `water_ml` is what is left for water."""

    stock_ml: float
    water_ml: float


@dataclass(frozen=True, slots=True)
class Weighing:
    """Weigh `stock_g` grams of the stock and add `water_g` grams of water."""

    stock_g: float
    water_g: float


@dataclass(frozen=True, slots=True)
class Elements:
    """Nitrogen, phosphorus and potassium as elements, mg/L."""

    n: float
    p: float
    k: float


def dilute(stock_percent: float, target_percent: float, volume_ml: float) -> Dilution:
    """The stock needed for `volume_ml` millilitres at `target_percent`, made up to volume with water.

    Both strengths in the same kind of percent. Alcohol and water contract when mixed: making up to volume allows for
    it, but `water_ml` ignores it and is a little short for alcohol. Raises OutOfRange for a strength outside 0 to 100,
    a stock of 0, a target above its stock, or a volume below 0 or above 10 million.
    """
    stock_ml = _stock(stock_percent, target_percent, within("volume_ml", volume_ml, 0.0, MOST_ML))
    return Dilution(stock_ml, volume_ml - stock_ml)


def dilute_by_volume(stock: Strength, target: Strength, volume_ml: float) -> Dilution:
    """`dilute` for strengths by volume. Raises MixedStrengths for any other kind."""
    _one_kind(Percent.BY_VOLUME, stock, target)
    return dilute(stock.percent, target.percent, volume_ml)


def dilute_by_mass(stock: Strength, target: Strength, mass_g: float) -> Weighing:
    """The stock and water to weigh out for `mass_g` grams at a strength by mass.

    Exact on a balance; by the measuring jug a heavy stock comes out too strong. Raises MixedStrengths for any other
    kind, OutOfRange as `dilute` does.
    """
    _one_kind(Percent.BY_MASS, stock, target)
    stock_g = _stock(stock.percent, target.percent, within("mass_g", mass_g, 0.0, MOST_ML))
    return Weighing(stock_g, mass_g - stock_g)


def _stock(stock_percent: float, target_percent: float, amount: float) -> float:
    within("stock_percent", stock_percent, 0.0, 100.0)
    if stock_percent == 0:
        raise OutOfRange("stock_percent", stock_percent, 0.0, 100.0)
    return amount * (within("target_percent", target_percent, 0.0, stock_percent) / stock_percent)


def _one_kind(kind: Percent, *strengths: Strength) -> None:
    for strength in strengths:
        if strength.kind is not kind:
            raise MixedStrengths(f"{strength} is not {kind}: the two are different strengths and are not mixed up here")


def feed_grams(n_percent: float, target_n_mg_l: float, litres: float) -> float:
    """Grams of a feed with `n_percent` of nitrogen by mass that bring `litres` to `target_n_mg_l` mg/L of nitrogen.

    Raises OutOfRange for a nitrogen share below 0.01 or above 100 percent, a target below 0 or above 100 g/L, or a
    volume below 0 or above 10,000 L.
    """
    within("n_percent", n_percent, 0.01, 100.0)
    within("target_n_mg_l", target_n_mg_l, 0.0, 1e5)
    return target_n_mg_l * within("litres", litres, 0.0, 1e4) / (10.0 * n_percent)


def elements(n: float, p2o5: float, k2o: float, grams_per_litre: float) -> Elements:
    """The elements in mg/L that a feed labelled N-P2O5-K2O (percent by mass) gives at `grams_per_litre`.

    Raises OutOfRange for a label figure outside 0 to 100, or for more than 1000 g/L.
    """
    within("n", n, 0.0, 100.0)
    within("p2o5", p2o5, 0.0, 100.0)
    within("k2o", k2o, 0.0, 100.0)
    mg_l_each = 10.0 * within("grams_per_litre", grams_per_litre, 0.0, 1000.0)
    return Elements(n * mg_l_each, p2o5 * P_IN_P2O5.value * mg_l_each, k2o * K_IN_K2O.value * mg_l_each)


def ec_at_25(ec: float, temp_c: float) -> float:
    """Conductivity read at `temp_c` brought to 25 deg C, in the unit of `ec`: k / (1 + 0.0191 (t - 25)).

    For a meter that does not do so itself. See `ec_doubt` for the temperatures where it is rough. Raises OutOfRange
    for water below 0 or above 50 deg C, and for a reading below 0.
    """
    within("ec", ec, 0.0, MOST_EC)
    return ec / (1 + EC_PER_DEGREE.value * (within("temp_c", temp_c, 0.0, 50.0) - 25.0))


def ec_doubt(temp_c: float) -> str:
    """What to tell the grower about `ec_at_25` at this temperature: "" where it holds."""
    within("temp_c", temp_c, 0.0, 50.0)
    if EC_COLDEST_C.value <= temp_c <= EC_WARMEST_C.value:
        return ""
    cold = temp_c < EC_COLDEST_C.value
    side, edge = ("below", EC_COLDEST_C) if cold else ("above", EC_WARMEST_C)
    return (f"Read {side} {edge.value:g} C: the value at 25 C comes out too high. "
            f"Let the water {'warm up' if cold else 'cool'} and read again.")


def ec_from_ppm(ppm: float, scale: float) -> float:
    """mS/cm behind a meter's "ppm". `scale` is 500 or 700, as the meter's leaflet says.

    Raises OutOfRange for any other scale: without it a ppm says nothing.
    """
    if scale not in PPM_SCALES:
        raise OutOfRange("scale", scale, min(PPM_SCALES), max(PPM_SCALES))
    return within("ppm", ppm, 0.0, MOST_EC) / scale
