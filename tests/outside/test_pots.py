"""Volumes of pots against measured ones, worked examples and another way to the same number."""

from __future__ import annotations

from math import pi
from typing import cast

import pytest

from greenhouse_desk.domain.pots import VOID_SHARE_LOOSE, VOID_SHARE_SHAKEN, litres, litres_below
from tests.outside.published import Published

SOCIETY = "pots measured by growers, mailing list of a bulb society"
SOIL = "a worked example of the soil in a flower pot"
PACKING = "J. Mater. Sci. 38 (2003) 2019: bulk and interior packing densities of random close packing"

POTS = [Published("litres of 153 mm top, 135 base, 175 high", 2.85, SOCIETY, (153, 135, 175), .005),
        Published("litres of 120 mm top, 100 base, 80 high", .76236, SOIL, (120, 100, 80), 5e-5)]


@pytest.mark.parametrize("row", POTS, ids=str)
def test_litres_of_a_tapered_pot(row: Published) -> None:
    assert row.agrees(litres(*cast(tuple[float, float, float], row.given)))


PACKED = [Published("share filled by equal spheres shaken down", .635, PACKING, (), .006)]


@pytest.mark.parametrize("row", PACKED, ids=str)
def test_room_between_round_pellets(row: Published) -> None:
    """0.635 with an uncertainty of 0.002; ours is rounded to two places."""
    assert row.agrees(1 - VOID_SHARE_SHAKEN.value)
    assert VOID_SHARE_SHAKEN.value < VOID_SHARE_LOOSE.value


@pytest.mark.parametrize(("top", "base", "height"), [(153, 135, 175), (90, 140, 60), (200, 200, 10), (300, 1, 300)])
@pytest.mark.parametrize("part", [0.0, 0.001, 0.3, 1.0])
def test_the_pot_in_thin_slices(top: float, base: float, height: float, part: float) -> None:
    """Midpoint rule over 2,000 discs: within a millionth of the closed form."""
    level = part * height
    slices = 2000
    across = [base + (top - base) * (n + 0.5) * level / slices / height for n in range(slices)]
    summed = sum(pi * wide**2 / 4 * level / slices for wide in across) / 1e6
    assert litres_below(top, base, height, level) == pytest.approx(summed, rel=1e-6, abs=1e-12)
