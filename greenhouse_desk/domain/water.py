"""Water and what is mixed into it: dilutions made up to volume."""

from __future__ import annotations

from dataclasses import dataclass

from greenhouse_desk.domain.faults import OutOfRange, within


@dataclass(frozen=True, slots=True)
class Dilution:
    """Measure `stock_ml` millilitres of the stock and make up to volume; `water_ml` is what is left for water."""

    stock_ml: float
    water_ml: float


def dilute(stock_percent: float, target_percent: float, volume_ml: float) -> Dilution:
    """The stock needed for `volume_ml` millilitres at `target_percent`, made up to volume with water.

    Both strengths in the same kind of percent. Alcohol and water contract when mixed: making up to volume allows for
    it, but `water_ml` ignores it and is a little short for alcohol. Raises OutOfRange for a strength outside 0 to 100,
    a stock of 0, a target above its stock, or a volume below 0 or above 10 million.
    """
    within("stock_percent", stock_percent, 0.0, 100.0)
    if stock_percent == 0:
        raise OutOfRange("stock_percent", stock_percent, 0.0, 100.0)
    within("target_percent", target_percent, 0.0, stock_percent)
    within("volume_ml", volume_ml, 0.0, 1e7)
    stock_ml = volume_ml * (target_percent / stock_percent)
    return Dilution(stock_ml, volume_ml - stock_ml)
