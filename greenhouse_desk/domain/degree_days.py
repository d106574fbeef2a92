"""Degree-days of one day from its lowest and highest temperature, on a sine between the two; and days to a constant.

Source of the method: Zalom, Goodell, Wilson, Barnett and Bentley 1983, Degree-days: the calculation and use of heat
units in pest management; the sine is Baskerville and Emin's of 1969. Any scale does, if all temperatures share it.
"""

from __future__ import annotations

import math
from typing import Literal

from greenhouse_desk.domain.faults import OutOfRange, within

Cutoff = Literal["horizontal", "vertical", "intermediate"]
"""Above the upper threshold development goes on as fast as at it, stops, or slows down."""
CUTOFFS = ("horizontal", "vertical", "intermediate")


def degree_days(low_c: float, high_c: float, lower: float, upper: float | None = None,
                cutoff: Cutoff = "horizontal") -> float:
    """Degree-days of a day that runs on one sine from `low_c` to `high_c`, above `lower` and cut off at `upper`.

    In whichever one scale the four share. Raises OutOfRange for NaN or an infinity, a high below the low or an upper
    threshold below the lower one, and ValueError for a cutoff not named in CUTOFFS.
    """
    for argument, value in (("low_c", low_c), ("high_c", high_c), ("lower", lower)):
        within(argument, value, -math.inf, math.inf)
    if high_c < low_c:
        raise OutOfRange("high_c", high_c, low_c, math.inf)
    if cutoff not in CUTOFFS:
        raise ValueError(f"cutoff is {cutoff!r}, one of {', '.join(CUTOFFS)} was expected")
    warm = _area_above(low_c, high_c, lower)
    if upper is None:
        return warm
    within("upper", upper, lower, math.inf)
    hot = _area_above(low_c, high_c, upper)
    if cutoff == "horizontal":
        return max(0.0, warm - hot)
    vertical = max(0.0, warm - hot - (upper - lower) * _share_above(low_c, high_c, upper))
    return vertical if cutoff == "vertical" else max(warm - 2 * hot, vertical)


def days_to_complete(constant_dd: float, lower: float, temp_c: float) -> float:
    """Days at a steady `temp_c` until `constant_dd` degree-days above `lower` are full; inf at or below `lower`.

    Raises OutOfRange for NaN, an infinity or a negative constant.
    """
    within("constant_dd", constant_dd, 0.0, math.inf)
    within("lower", lower, -math.inf, math.inf)
    within("temp_c", temp_c, -math.inf, math.inf)
    return math.inf if temp_c <= lower else constant_dd / (temp_c - lower)


def _area_above(low: float, high: float, threshold: float) -> float:
    """The mean over the day of what the sine lies above `threshold`."""
    mean, swing = low / 2 + high / 2, high / 2 - low / 2
    if high <= threshold:
        return 0.0
    if low >= threshold:
        return mean - threshold
    rising = _angle(mean, swing, threshold)
    return ((mean - threshold) * (math.pi / 2 - rising) + swing * math.cos(rising)) / math.pi


def _share_above(low: float, high: float, threshold: float) -> float:
    """The share of the day, 0 to 1, in which the sine lies above `threshold`."""
    if high <= threshold:
        return 0.0
    if low >= threshold:
        return 1.0
    return 0.5 - _angle(low / 2 + high / 2, high / 2 - low / 2, threshold) / math.pi


def _angle(mean: float, swing: float, threshold: float) -> float:
    """Where the sine crosses `threshold` on its way up, radians from its mean; it must cross it."""
    return math.asin(max(-1.0, min(1.0, (threshold - mean) / swing)))
