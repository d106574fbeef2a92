"""Hardness and alkalinity of water in the units of test kits and water reports, and two waters blended to a target."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from greenhouse_desk.domain.faults import Refused, within
from greenhouse_desk.domain.figures import Constant

MOST = 1e6
EXACT = "derived here: from atomic weights"
FAO = "FAO aquaponics glossary, hardness"
GEORGIA = "University of Georgia, Know Your Water Source, greenhouse slides"

PER_GERMAN_DEGREE = Constant(17.848, "mg/L CaCO3", "one German degree (10 mg/L CaO)",
                             f"{EXACT}; published: {FAO}: 2.805 for 50 mg/L")
PER_FRENCH_DEGREE = Constant(10.0, "mg/L CaCO3", "one French degree", "derived here: by its definition")
PER_ENGLISH_DEGREE = Constant(14.254, "mg/L CaCO3", "one English (Clark) degree",
                              "derived here: by its definition, one grain in an imperial gallon")
PER_US_GRAIN = Constant(17.118, "mg/L CaCO3", "one grain in a US gallon", "derived here: by its definition")
PER_MMOL = Constant(100.087, "mg/L CaCO3", "one mmol/L of calcium and magnesium", EXACT)
PER_MEQ = Constant(50.043, "mg/L CaCO3", "one meq/L", f"{EXACT}; published: {FAO}: 50")
PER_HCO3 = Constant(0.8202, "mg/L CaCO3", "one mg/L of bicarbonate", f"{EXACT}; published: {GEORGIA}: 61 mg/L is 50")
PER_CALCIUM = Constant(2.497, "mg/L CaCO3", "one mg/L of calcium", EXACT)
PER_MAGNESIUM = Constant(4.118, "mg/L CaCO3", "one mg/L of magnesium", EXACT)


class Hardness(StrEnum):
    """Units of hardness: calcium and magnesium."""

    CACO3 = "mg/L CaCO3"
    GERMAN = "German degrees"
    FRENCH = "French degrees"
    ENGLISH = "English degrees"
    US_GRAIN = "grains per US gallon"
    MMOL = "mmol/L"
    MEQ = "meq/L"


class Alkalinity(StrEnum):
    """Units of alkalinity: what holds the pH up. Not the same as hardness, though often told in its units."""

    CACO3 = "mg/L CaCO3"
    HCO3 = "mg/L bicarbonate"
    MEQ = "meq/L"
    GERMAN = "German degrees"


HARDNESS_CACO3: Mapping[Hardness, float] = {
    Hardness.CACO3: 1.0, Hardness.GERMAN: PER_GERMAN_DEGREE.value, Hardness.FRENCH: PER_FRENCH_DEGREE.value,
    Hardness.ENGLISH: PER_ENGLISH_DEGREE.value, Hardness.US_GRAIN: PER_US_GRAIN.value, Hardness.MMOL: PER_MMOL.value,
    Hardness.MEQ: PER_MEQ.value}
ALKALINITY_CACO3: Mapping[Alkalinity, float] = {
    Alkalinity.CACO3: 1.0, Alkalinity.HCO3: PER_HCO3.value, Alkalinity.MEQ: PER_MEQ.value,
    Alkalinity.GERMAN: PER_GERMAN_DEGREE.value}


@dataclass(frozen=True, slots=True)
class Blend:
    """The share of each of two waters, together 1."""

    share_a: float
    share_b: float


def hardness(calcium_mg_l: float, magnesium_mg_l: float) -> float:
    """Total hardness, mg/L CaCO3, from calcium and magnesium in mg/L. Raises OutOfRange below 0."""
    return (PER_CALCIUM.value * within("calcium_mg_l", calcium_mg_l, 0.0, MOST)
            + PER_MAGNESIUM.value * within("magnesium_mg_l", magnesium_mg_l, 0.0, MOST))


def convert_hardness(value: float, given: Hardness, wanted: Hardness) -> float:
    """A hardness in another unit. Raises OutOfRange below 0."""
    return within("value", value, 0.0, MOST) * HARDNESS_CACO3[given] / HARDNESS_CACO3[wanted]


def convert_alkalinity(value: float, given: Alkalinity, wanted: Alkalinity) -> float:
    """An alkalinity in another unit; all of it is taken as bicarbonate, as below pH 8.3. Raises OutOfRange below 0."""
    return within("value", value, 0.0, MOST) * ALKALINITY_CACO3[given] / ALKALINITY_CACO3[wanted]


def blend(a: float, b: float, target: float) -> Blend:
    """The share of each of two waters that gives `target`; all three the same measure in the same unit.

    Holds for hardness, alkalinity and anything else counted by mass; nearly for conductivity, which falls a little
    short of it in strong solutions; never for pH. Two waters that both are the target are blended from the first alone.
    Raises OutOfRange below 0, and Refused where the target does not lie between the two.
    """
    within("a", a, 0.0, MOST)
    within("b", b, 0.0, MOST)
    low, high = min(a, b), max(a, b)
    if not low <= within("target", target, 0.0, MOST) <= high:
        raise Refused("These two waters cannot give that.",
                      f"Blended they lie between {low:g} and {high:g}; {target:g} was wanted.",
                      "Take a softer or a harder water as one of the two." if high > low else
                      "Take another water as one of the two.")
    share_a = 1.0 if a == b else (target - b) / (a - b)
    return Blend(share_a, 1.0 - share_a)
