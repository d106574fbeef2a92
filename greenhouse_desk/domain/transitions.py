"""How long plants take to settle in a new medium, from the grower's own transitions by Kaplan and Meier's method.

A plant that has not settled yet, left or died counts as long as it was watched and no longer: the curve tells of plants
that live, not of how many do.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby
from math import erfc, exp, inf, log, sqrt
from typing import NamedTuple

from greenhouse_desk.domain.faults import OutOfRange, within
from greenhouse_desk.domain.figures import Constant, Span, Unknown

Z_95 = Constant(1.959963984540054, "standard deviations", "half width that holds 95 % of a normal distribution",
                "derived here: normal quantile of 0.975")
SETTLED_WEEKS = Constant(16, "weeks", "a plant moved to another medium is taken to be settled after",
                         "common practice: about four months; no published figure")
FEWEST_SETTLED = Constant(5, "plants", "settled plants needed before a forecast or a comparison is shown", "house rule")
FEWEST_EXPECTED = Constant(5, "plants", "settled plants to be expected in each group before groups are compared",
                           "from memory: usual advice for a chi-square test")
SOON_SHARE = Constant(0.1, "share of plants", "plants settled at the early end of a forecast", "house rule")
LATE_SHARE = Constant(0.9, "share of plants", "plants settled at the late end of a forecast", "house rule")
ROUNDING = 1e-9


class Settling(NamedTuple):
    """The share of plants not yet settled after `day`, with its 95 % band from `low` to `high`."""

    day: float
    share: float
    low: float
    high: float


class Halfway(NamedTuple):
    """The day half the plants had settled, with its 95 % interval; infinite where the record does not reach so far."""

    day: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class LogRank:
    """Two groups compared: plants that settled in each, and the settled to be expected were both alike.

    `p` is the chance of a difference at least so large between groups that are alike (chi-square, 1 degree of freedom).
    """

    observed: tuple[float, float]
    expected: tuple[float, float]
    chi_square: float
    p: float


@dataclass(frozen=True, slots=True)
class Forecast:
    """For a plant `already` so many days in: from `plants` of the record that were still unsettled then.

    `curve` is the share of those not yet settled, `half` the day half of them were. `likely` is the stretch from the
    day a tenth to the day nine tenths of them were settled, infinite where they never got so far. All days count from
    the transition.
    """

    already: float
    plants: int
    curve: tuple[Settling, ...]
    half: Halfway
    likely: Span


def settling_curve(days: Sequence[float], settled: Sequence[bool]) -> list[Settling]:
    """The share of plants not yet settled after each day on which one settled, with a 95 % band for each day.

    `days` are days under watch, any numbers from 0 up; `settled` tells whether the plant settled on that day (else the
    watch ended). At a tie the settled come before those no longer watched. Kaplan and Meier 1958; the band is the
    exponential Greenwood one (log(-log share)), so it stays within 0 and 1. Where nobody is left unsettled that formula
    gives none: there `low` is 0 and `high` the one before, or 1. Raises OutOfRange for a day below 0, NaN or infinite,
    and for lists of different lengths.
    """
    curve: list[Settling] = []
    share, spread, high = 1.0, 0.0, 1.0
    for day, at_risk, events in _steps(days, settled):
        share *= (at_risk - events) / at_risk
        if events < at_risk:
            spread += events / (at_risk * (at_risk - events))
            width = Z_95.value * sqrt(spread) / log(share)
            low, high = share ** exp(-width), share ** exp(width)
        else:
            low = 0.0
        curve.append(Settling(day, share, low, high))
    return curve


def _steps(days: Sequence[float], settled: Sequence[bool]) -> Iterable[tuple[float, int, int]]:
    """Each day on which plants settled: the day, how many were unsettled and watched until then, how many settled."""
    watched = _watched(days, settled)
    at_risk = len(watched)
    for day, group in groupby(watched, key=lambda plant: plant[0]):
        ends = [end for _, end in group]
        if any(ends):
            yield day, at_risk, sum(ends)
        at_risk -= len(ends)


def _watched(days: Sequence[float], settled: Sequence[bool]) -> list[tuple[float, bool]]:
    if len(days) != len(settled):
        raise OutOfRange("settled", len(settled), len(days), len(days))
    return sorted((within("days", day, 0.0, inf), bool(end)) for day, end in zip(days, settled, strict=True))


def halfway(curve: Sequence[Settling]) -> Halfway:
    """The first day on which the share is at or below one half; its interval is where the band crosses it.

    Brookmeyer and Crowley 1982.
    """
    return Halfway(_reached(curve, "share", 0.5), _reached(curve, "low", 0.5), _reached(curve, "high", 0.5))


def _reached(curve: Sequence[Settling], line: str, share: float) -> float:
    """The first day on which this line of the curve is at or below `share`; infinite where it never is."""
    return next((step.day for step in curve if getattr(step, line) <= share + ROUNDING), inf)


def forecast(days: Sequence[float], settled: Sequence[bool], already: float) -> Forecast | Unknown:
    """When a plant `already` so many days in will settle, from the grower's own past transitions.

    Only plants that were still unsettled and watched after `already` days tell anything: the curve among them is the
    share at a later day divided by the share at `already`. Unknown, with the reason, where fewer than FEWEST_SETTLED
    of them settled. Raises OutOfRange as `settling_curve` does, and for `already` below 0.
    """
    within("already", already, 0.0, inf)
    later = [(day, end) for day, end in _watched(days, settled) if day > already]
    ended = sum(end for _, end in later)
    if ended < FEWEST_SETTLED.value:
        return Unknown(f"Only {_plants(ended)} in your record settled after more than {already:g} days; "
                       f"a forecast needs {FEWEST_SETTLED.value:g}.")
    curve = settling_curve([day for day, _ in later], [end for _, end in later])
    soon, late = (_reached(curve, "share", 1 - share) for share in (SOON_SHARE.value, LATE_SHARE.value))
    return Forecast(already, len(later), tuple(curve), halfway(curve), Span(soon, late))


def _plants(count: int) -> str:
    return f"{count} plant" if count == 1 else f"{count} plants"


def log_rank(days_a: Sequence[float], settled_a: Sequence[bool], days_b: Sequence[float],
             settled_b: Sequence[bool]) -> LogRank:
    """Whether two groups of plants settle alike (Mantel 1966), whatever their numbers: `compared` minds those.

    For two groups only; more groups would need a chi-square of more degrees of freedom, which is not done here.
    Raises OutOfRange as `settling_curve` does.
    """
    watched = [(day, end, 0) for day, end in _watched(days_a, settled_a)]
    watched += [(day, end, 1) for day, end in _watched(days_b, settled_b)]
    expected = variance = 0.0
    left = [len(days_a), len(days_b)]
    for _, group in groupby(sorted(watched), key=lambda plant: plant[0]):
        plants = list(group)
        events, total = sum(end for _, end, _ in plants), sum(left)
        expected += events * left[0] / total
        if total > 1:
            variance += events * left[0] * left[1] * (total - events) / (total**2 * (total - 1))
        for _, _, which in plants:
            left[which] -= 1
    observed = float(sum(map(bool, settled_a))), float(sum(map(bool, settled_b)))
    chi_square = (observed[0] - expected) ** 2 / variance if variance > 0 else 0.0
    return LogRank(observed, (expected, sum(observed) - expected), chi_square, erfc(sqrt(chi_square / 2)))


def compared(days_a: Sequence[float], settled_a: Sequence[bool], days_b: Sequence[float],
             settled_b: Sequence[bool]) -> LogRank | Unknown:
    """Two groups compared where there are plants enough, else why not: see FEWEST_SETTLED and FEWEST_EXPECTED."""
    found = log_rank(days_a, settled_a, days_b, settled_b)
    fewest = min(found.observed)
    if fewest < FEWEST_SETTLED.value:
        return Unknown(f"Only {_plants(round(fewest))} settled in one of the groups; a comparison needs "
                       f"{FEWEST_SETTLED.value:g} in each.")
    if min(found.expected) < FEWEST_EXPECTED.value:
        return Unknown("One of the groups was watched too briefly beside the other to compare them.")
    return found
