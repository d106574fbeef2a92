"""How sure a look makes: how many plants to check, and how likely a pest still sits on one that looked clean."""

from __future__ import annotations

import math
from collections.abc import Callable
from decimal import Context, Decimal
from fractions import Fraction
from statistics import NormalDist

from greenhouse_desk.domain.faults import OutOfRange, within
from greenhouse_desk.domain.figures import Constant, Span

LARGEST_LOT = 10**9
LEAST_SHARE = Constant(1e-9, "share", "the smallest share of infested plants that is reckoned with", "house rule")
NEAREST = Constant(1e-15, "share", "the least distance of an interval's confidence from 0 and from 1",
                   "house rule: nearer ones can hardly be told apart as numbers")
DIGITS = Context(prec=80)


def sample_size(lot: int, infested: int, confidence: float = 0.95) -> int:
    """How many plants of a lot of `lot` to check, so that finding none of `infested` has a chance <= 1 - confidence.

    `infested` is a count from 1 to `lot`, `confidence` 0 to 1. Exact whole numbers throughout, never above the lot.
    Every infested plant that is checked counts as found. Raises OutOfRange.
    Source: hypergeometric sampling, ISPM 31 (FAO 2008), appendix 2.
    """
    lot = _whole("lot", lot, 1, LARGEST_LOT)
    infested = _whole("infested", infested, 1, lot)
    miss = 1 - _exact("confidence", confidence)
    healthy = lot - infested
    if miss == 0:
        return healthy + 1

    def sure(checked: int) -> bool:
        return checked > healthy or _missed(lot, infested, checked) <= miss

    return _smallest(sure, healthy + 1)


def sample_size_large(share: float, confidence: float = 0.95, efficacy: float = 1.0) -> int:
    """The same for a lot so large that taking plants out changes nothing: smallest n with (1 - share efficacy)^n
    <= 1 - confidence.

    `share` of the plants infested, above 0 to 1; `efficacy` the share of infested plants that a look finds, above 0 to
    1; `confidence` 0 to below 1 (1 only where every look finds). Raises OutOfRange.
    Source: binomial sampling, ISPM 31 (FAO 2008), appendix 3; McSorley and Littell 1993.
    """
    within("share", share, LEAST_SHARE.value, 1)
    within("efficacy", efficacy, LEAST_SHARE.value, 1)
    within("confidence", confidence, 0, 1)
    missed = 1 - Decimal(repr(float(share))) * Decimal(repr(float(efficacy)))
    allowed = 1 - Decimal(repr(float(confidence)))
    if allowed == 1:
        return 0
    if missed == 0:
        return 1
    if allowed == 0:
        raise OutOfRange("confidence", confidence, 0, math.nextafter(1, 0))
    near = math.floor(DIGITS.divide(DIGITS.ln(allowed), DIGITS.ln(missed)))
    return next(n for n in range(max(near, 1), near + 3) if DIGITS.power(missed, n) <= allowed)


def chance_infested(prior: float, sensitivity: float, clean_looks: int) -> float:
    """The chance that a plant is infested after `clean_looks` independent looks that found nothing.

    `prior` is the chance before them, `sensitivity` the chance that one look finds a pest that is there; both 0 to 1,
    and so is the result. Looks masked by a spray or too close together are not independent: do not count them here.
    A prior of 1 stays 1 whatever is seen. Raises OutOfRange. Source: Bayes' rule.
    """
    within("prior", prior, 0, 1)
    within("sensitivity", sensitivity, 0, 1)
    looks = _whole("clean_looks", clean_looks, 0, LARGEST_LOT)
    if prior == 1:
        return 1.0
    unseen = prior * (1 - sensitivity) ** looks
    return float(unseen / (unseen + 1 - prior))


def chance_words(chance: float) -> str:
    """A chance (0 to 1) in words: whole percents, and never 0 or 100, for no look proves either. Raises OutOfRange."""
    percent = 100 * within("chance", chance, 0, 1)
    if percent < 1:
        return "less than 1 %"
    return "more than 99 %" if percent > 99 else f"{percent:.0f} %"


def wilson(found: int, of: int, confidence: float = 0.95) -> Span:
    """The interval in which the true share lies when `found` of `of` were found, both ends 0 to 1.

    `of` at least 1 (with none there is no record to reckon from), `confidence` above 0 and below 1, no nearer to either
    than NEAREST. Raises OutOfRange.
    Source: Wilson 1927, J. Am. Stat. Assoc. 22:209, without continuity correction; Newcombe 1998, method 3.
    """
    of = _whole("of", of, 1, LARGEST_LOT)
    found = _whole("found", found, 0, of)
    within("confidence", confidence, NEAREST.value, 1 - NEAREST.value)
    z = -NormalDist().inv_cdf((1 - confidence) / 2)
    share, spread = found / of, z * z / of
    middle = (share + spread / 2) / (1 + spread)
    half = z * math.sqrt(share * (1 - share) / of + spread / (4 * of)) / (1 + spread)
    return Span(0.0 if found == 0 else max(0.0, middle - half), 1.0 if found == of else min(1.0, middle + half))


def _missed(lot: int, infested: int, checked: int) -> Fraction:
    """The chance that none of the `infested` is among `checked` of the `lot`; the shorter of two equal products."""
    drawn, marked = sorted((infested, checked))
    return Fraction(math.comb(lot - marked, drawn), math.comb(lot, drawn))


def _smallest(holds: Callable[[int], bool], enough: int) -> int:
    """The smallest whole number from 0 to `enough` for which `holds`; it holds for all above one for which it does."""
    low, high = -1, 1
    if holds(0):
        return 0
    while high < enough and not holds(high):
        low, high = high, 2 * high
    high = min(high, enough)
    low = max(low, 0)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if holds(middle) else (middle, high)
    return high


def _whole(argument: str, value: int, low: int, high: int) -> int:
    within(argument, value, low, high)
    if value != int(value):
        raise OutOfRange(argument, value, low, high)
    return int(value)


def _exact(argument: str, value: float) -> Fraction:
    """A share as it is written: 0.95 is 19/20, not the binary number nearest to it."""
    within(argument, value, 0, 1)
    return Fraction(repr(float(value)))
