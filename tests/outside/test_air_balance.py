"""The drying model worked out a second time, with numbers typed in from the same tables and a library's root finder."""

from __future__ import annotations

import math

import psychrolib
import pytest
from scipy.optimize import brentq

from greenhouse_desk.domain import air
from greenhouse_desk.domain.figures import Constant

AIRS = [(22.0, 0.55, 0.1, 0.1), (22.0, 0.75, 0.6, 0.1), (18.0, 0.85, 0.1, 0.25), (30.0, 0.3, 1.5, 0.05),
        (12.0, 0.6, 0.3, 0.1)]


def again(film_mm: float, temp_c: float, rh: float, speed: float, length: float) -> tuple[float, float]:
    """Hours until a film is gone from a leaf warmed through its dry face and by the room, and from an isolated film."""
    def properties(mean: float) -> tuple[float, float, float]:
        kelvin = mean + 273.15
        spread, thick = 2.634 / 101325 * math.pow(kelvin / 298, 1.5), 15.89e-6 * math.pow(kelvin / 300, 1.8)
        return spread, thick, 0.0263 * math.pow(kelvin / 300, 0.9)

    def vapour(at: float, part: float) -> float:
        return part * psychrolib.GetSatVapPres(at) / (461.5 * (at + 273.15))

    def leaving(leaf: float) -> float:
        spread, thick, _ = properties((leaf + temp_c) / 2)
        transfer = 0.664 * math.sqrt(speed * length / thick) * math.pow(thick / spread, 1 / 3) * spread / length
        return transfer * (vapour(leaf, 1.0) - vapour(temp_c, rh))

    def surplus(leaf: float) -> float:
        _, thick, conducts = properties((leaf + temp_c) / 2)
        transfer = 0.664 * math.sqrt(speed * length / thick) * math.pow(0.707, 1 / 3) * conducts / length
        by_air = transfer * (temp_c - leaf)
        by_room = 0.97 * 5.670374e-8 * ((temp_c + 273.15) ** 4 - (leaf + 273.15) ** 4)
        return 2 * (by_air + by_room) - (2.501e6 - 2361 * leaf) * leaving(leaf)

    bulb = psychrolib.GetTWetBulbFromRelHum(temp_c, rh, 101325)
    leaf = brentq(surplus, bulb, temp_c, xtol=1e-10)
    return film_mm / leaving(leaf) / 3600, film_mm / leaving(bulb) / 3600


@pytest.mark.parametrize(("temp_c", "rh", "speed", "length"), AIRS)
def test_both_ends_of_the_hours_are_found_again(temp_c: float, rh: float, speed: float, length: float) -> None:
    """To one part in five thousand: the wet bulb of the library is found to a millionth of a kelvin."""
    low, high = again(0.2, temp_c, rh, speed, length)
    span = air.drying_hours(0.2, temp_c, rh, speed, length)
    assert span.low == pytest.approx(low, rel=2e-4)
    assert span.high == pytest.approx(high, rel=2e-4)


def test_a_leaf_that_shines_less_heat_stays_wet_longer(monkeypatch: pytest.MonkeyPatch) -> None:
    """What a hundredth of emissivity does to the hours: a few parts in a thousand, so the check above would tell."""
    before = again(0.2, 22.0, 0.55, 0.1, 0.1)[0]
    monkeypatch.setattr(air, "EMISSIVITY", Constant(0.96, "", "a leaf", "made up here"))
    air._rates.cache_clear()
    dull = air.drying_hours(0.2, 22.0, 0.55, 0.1).low
    air._rates.cache_clear()
    assert 1.001 < dull / before < 1.01
