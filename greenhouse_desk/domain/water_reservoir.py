"""What becomes of a reservoir between fillings: how many days it lasts, and how its salts grow until it is flushed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from itertools import groupby, pairwise
from typing import NamedTuple

from greenhouse_desk.domain.faults import OutOfRange, within
from greenhouse_desk.domain.figures import Constant, Span, Unknown
from greenhouse_desk.domain.water import MOST_EC, MOST_ML

FEWEST_STRETCHES = Constant(3, "stretches", "times between refills needed before a reservoir's days are told",
                            "house rule")
RECENT_STRETCHES = Constant(6, "stretches", "latest times between refills that count: use changes with the season",
                            "house rule")


class Refill(NamedTuple):
    """Water poured in on a day, in ml: as much as had gone since the refill before."""

    day: date
    ml: float


class Pour(NamedTuple):
    """A pour of `ml` millilitres with conductivity `ec`, in the unit of every other one."""

    ml: float
    ec: float


def days_until_empty(reservoir_ml: Span, refills: Sequence[Refill]) -> Span | Unknown:
    """Days a full reservoir lasts after the latest refill, from the plant's own record.

    Each refill made good what had gone since the one before: the slowest and the fastest of the latest stretches give
    the ends of the span, with the largest and the smallest the reservoir may be. Refills of one day count as one. Water
    that ran over at a pour counts as used, so the low end errs towards looking earlier. Unknown, with the reason, with
    fewer than FEWEST_STRETCHES stretches. Raises OutOfRange for a reservoir or a refill of 0 ml or less.
    """
    _reservoir(reservoir_ml)
    rates = _ml_a_day(refills)
    if len(rates) < FEWEST_STRETCHES.value:
        return Unknown(f"Refills on {FEWEST_STRETCHES.value + 1:g} days, with their millilitres, are needed to tell; "
                       f"your record has {len({refill.day for refill in refills})}.")
    recent = rates[-int(RECENT_STRETCHES.value):]
    return Span(reservoir_ml.low / max(recent), reservoir_ml.high / min(recent))


def _ml_a_day(refills: Sequence[Refill]) -> list[float]:
    """Millilitres used a day in each stretch between refills, in the order of the days."""
    days = [Refill(day, sum(within("ml", refill.ml, 0.1, MOST_ML) for refill in same))
            for day, same in groupby(sorted(refills), key=lambda refill: refill.day)]
    return [later.ml / (later.day - earlier.day).days for earlier, later in pairwise(days)]


def _reservoir(reservoir_ml: Span) -> None:
    within("reservoir_ml", reservoir_ml.low, 0.1, MOST_ML)
    within("reservoir_ml", reservoir_ml.high, reservoir_ml.low, MOST_ML)


def salt_build_up(volume_ml: float, start_ec: float, pours: Sequence[Pour], drained_share: float = 0.0,
                  taken_share: float = 0.0) -> float:
    """Conductivity of a full reservoir after these pours, by mass balance, in the unit of `start_ec`.

    Water is drunk and evaporates, its salts stay. Before each pour the reservoir is short of what the pour makes good;
    `drained_share` of every pour runs over, mixed with what was there; `taken_share` of the salts poured is taken up by
    the plant. Conductivity stands for the salts, which holds for weak solutions. With the same pour again and again it
    nears its conductivity divided by `drained_share` (the leaching fraction), or grows without end where nothing runs
    over. Raises OutOfRange for a volume of 0, a conductivity below 0, a share outside 0 to 1, and a pour larger than
    what can have gone.
    """
    within("volume_ml", volume_ml, 0.1, MOST_ML)
    within("drained_share", drained_share, 0.0, 1.0)
    within("taken_share", taken_share, 0.0, 1.0)
    ec = within("start_ec", start_ec, 0.0, MOST_EC)
    for pour in pours:
        within("ml", pour.ml, 0.0, MOST_ML)
        if pour.ml * (1 - drained_share) > volume_ml:
            raise OutOfRange("ml", pour.ml, 0.0, volume_ml / (1 - drained_share))
        salts = ec * volume_ml + pour.ml * within("ec", pour.ec, 0.0, MOST_EC) * (1 - taken_share)
        ec = salts / (volume_ml + pour.ml * drained_share)
    return ec


def salt_span(reservoir_ml: Span, start_ec: float, pours: Sequence[Pour], drained_share: float = 0.0) -> Span:
    """`salt_build_up` as a span: how much a plant takes up is not known, nor the reservoir's volume.

    From all salts poured taken up to none of them, in the smallest and the largest reservoir; flush by `high`.
    """
    _reservoir(reservoir_ml)
    corners = [salt_build_up(volume_ml, start_ec, pours, drained_share, taken_share)
               for volume_ml in (reservoir_ml.low, reservoir_ml.high) for taken_share in (0.0, 1.0)]
    return Span(min(corners), max(corners))
