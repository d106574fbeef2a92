"""Dilution, feed, conductivity, hardness, alkalinity, blending and salt build-up against published values."""

from __future__ import annotations

from typing import Any, cast

import pytest

from greenhouse_desk.domain.agents import Percent
from greenhouse_desk.domain.water import Strength, dilute, dilute_by_mass, ec_at_25, elements, feed_grams
from greenhouse_desk.domain.water_lime import (
    Alkalinity,
    Hardness,
    blend,
    convert_alkalinity,
    convert_hardness,
    hardness,
)
from greenhouse_desk.domain.water_reservoir import Pour, salt_build_up
from tests.outside.published import How, Published

OUNCE_G, HUNDRED_GALLONS_L = 28.349523125, 378.5411784

WHO = "WHO 2010, Guide to Local Production: WHO-recommended Handrub Formulations"
PHARMACY = "a Belgian pharmacists' quality institute: converting alcohol percentages"
UMASS = "University of Massachusetts Extension, Fertilizer Calculations for Greenhouse Crops"
TEXAS = "Texas A&M University, ornamental IPM guide, nutrient calculations"
VIRGINIA = "Virginia Tech, SPES-201"
PENN = "Penn State, How Much Phosphorus and Potassium are Really in Your Fertilizer?"
OIML = "OIML R 56, 0.01 mol/L KCl, as reprinted in conductivity meter tables"
NIST = "CRC Handbook of Chemistry and Physics, 0.01 mol/kg KCl after Wu, Koch and Pratt 1991, J. Res. NIST 96:191"
BRUSSELS = "the Brussels water supplier, Water hardness and composition"
FAO = "FAO aquaponics glossary, hardness"
UTILITY = "a US utility's sheet on water hardness"
GEORGIA = "University of Georgia, Know Your Water Source (greenhouse slides)"
IRRIGATION = "Ali 2011, Practices of Irrigation and On-farm Water Management 2, chapter 8"
VINES = "White 2003, Soils for Fine Wines, box 7.3"


def numbers(row: Published) -> tuple[Any, ...]:
    return cast(tuple[Any, ...], row.given)


DILUTIONS = [
    # The guide rounds to whole millilitres.
    Published("ethanol 96 % in 10 L at 80 %, mL", 8333, WHO, (96.0, 80.0, 10_000.0), .5),
    Published("peroxide 3 % in 10 L at 0.125 %, mL", 417, WHO, (3.0, .125, 10_000.0), .5),
    Published("peroxide 3 % in 1 L at 0.125 %, mL", 41.7, WHO, (3.0, .125, 1000.0), .05, how=How.FROM_MEMORY),
    Published("isopropanol 99.8 % in 10 L at 75 %, mL", 7515, WHO, (99.8, 75.0, 10_000.0), .5,
              how=How.FROM_MEMORY),
]


@pytest.mark.parametrize("row", DILUTIONS, ids=str)
def test_stock_made_up_to_volume(row: Published) -> None:
    assert row.agrees(dilute(*numbers(row)).stock_ml)


WEIGHED = [Published("94.10 % alcohol by mass in 100 g at 33.27 %, g", 35.36, PHARMACY, (94.10, 33.27, 100.0), .005)]


@pytest.mark.parametrize("row", WEIGHED, ids=str)
def test_stock_weighed_out(row: Published) -> None:
    stock, target, mass = numbers(row)
    found = dilute_by_mass(Strength(stock, Percent.BY_MASS), Strength(target, Percent.BY_MASS), mass)
    assert row.agrees(found.stock_g)


FEEDS = [
    # Printed to half an ounce, worked out with 75 in place of the exact 74.89.
    Published("oz of 20 % N in 100 US gal for 200 mg/L", 13.5, UMASS, (20.0, 200.0), .25),
    Published("oz of 15 % N in 100 US gal for 200 mg/L", 18, UMASS, (15.0, 200.0), .25),
    Published("oz of 15 % N in 100 US gal for 250 mg/L", 22, TEXAS, (15.0, 250.0), .5),
]


@pytest.mark.parametrize("row", FEEDS, ids=str)
def test_feed_for_a_nitrogen_target(row: Published) -> None:
    n_percent, target = numbers(row)
    assert row.agrees(feed_grams(n_percent, target, HUNDRED_GALLONS_L) / OUNCE_G)


ELEMENTS = [
    # 75 in place of 74.89 makes 0.02.
    Published("mg/L N from 1 oz of 15 % N in 100 US gal", 11.25, TEXAS, (15, 0, 0, OUNCE_G / HUNDRED_GALLONS_L, "n"),
              .02),
    Published("P in P2O5", .4364, VIRGINIA, (0, 100, 0, .001, "p"), 5e-5),
    Published("K in K2O", .8301, VIRGINIA, (0, 0, 100, .001, "k"), 5e-5),
    # Worked out there with 0.44 and 0.83.
    Published("% P in a feed of 20 % P2O5", 8.8, PENN, (0, 20, 0, .1, "p"), .08),
    Published("% K in a feed of 10 % K2O", 8.3, PENN, (0, 0, 10, .1, "k"), .005),
]


@pytest.mark.parametrize("row", ELEMENTS, ids=str)
def test_elements_behind_a_label(row: Published) -> None:
    *label, grams_per_litre, element = numbers(row)
    n, p2o5, k2o = label
    assert row.agrees(getattr(elements(n, p2o5, k2o, grams_per_litre), element))


# The linear rule is a rule of thumb for natural waters: 0.7 % from 15 to 35 C, 1 % at 10 C and 40 C.
CONDUCTIVITY = [Published(f"uS/cm at 25 C, read at {temp_c} C", 1413, OIML, (read, temp_c), 1413 * within)
                for temp_c, read, within in ((10, 1020, .013), (15, 1147, .007), (20, 1278, .002), (25, 1413, 0),
                                             (30, 1552, .004))]
CONDUCTIVITY += [Published(f"uS/cm at 25 C, read at {temp_c} C", 1408.23, NIST, (read, temp_c), 1408.23 * within)
                 for temp_c, read, within in ((10, 1013.95, .01), (15, 1141.45, .007), (18, 1219.93, .002),
                                              (20, 1273.03, .002), (25, 1408.23, 0), (30, 1546.63, .004),
                                              (35, 1687.79, .007), (40, 1831.27, .012))]


@pytest.mark.parametrize("row", CONDUCTIVITY, ids=str)
def test_conductivity_at_25(row: Published) -> None:
    assert row.agrees(ec_at_25(*numbers(row)))


H = Hardness
HARDNESSES = [
    Published("mg/L CaCO3 in a French degree", 10, BRUSSELS, (1, H.FRENCH, H.CACO3), 1e-9),
    Published("mmol/L in a French degree", .1, BRUSSELS, (1, H.FRENCH, H.MMOL), 5e-4),
    Published("meq/L in a French degree", .2, BRUSSELS, (1, H.FRENCH, H.MEQ), 5e-4),
    Published("German degrees in a French degree", .56, BRUSSELS, (1, H.FRENCH, H.GERMAN), 5e-3),
    # The glossary takes CaCO3 as exactly 100.
    Published("German degrees in 50 mg/L CaCO3", 2.805, FAO, (50, H.CACO3, H.GERMAN), 4e-3),
    Published("meq/L in 50 mg/L CaCO3", 1, FAO, (50, H.CACO3, H.MEQ), 1e-3),
    Published("mg/L CaCO3 in a grain per US gallon", 17.1, UTILITY, (1, H.US_GRAIN, H.CACO3), .05),
    Published("English degrees in a grain per US gallon", 1.20, UTILITY, (1, H.US_GRAIN, H.ENGLISH), 5e-3),
    Published("French degrees in a grain per US gallon", 1.71, UTILITY, (1, H.US_GRAIN, H.FRENCH), 5e-3),
    Published("German degrees in a grain per US gallon", .958, UTILITY, (1, H.US_GRAIN, H.GERMAN), 1.5e-3),
    Published("English degrees in 1 mg/L CaCO3", .07, UTILITY, (1, H.CACO3, H.ENGLISH), 5e-3),
    Published("German degrees in 1 mg/L CaCO3", .056, UTILITY, (1, H.CACO3, H.GERMAN), 5e-4),
]


@pytest.mark.parametrize("row", HARDNESSES, ids=str)
def test_hardness_in_another_unit(row: Published) -> None:
    assert row.agrees(convert_hardness(*numbers(row)))


METALS = [
    Published("mg/L CaCO3 from 1 mg/L of calcium", 2.497, UTILITY, (1, 0), 5e-4),
    Published("mg/L CaCO3 from 1 mg/L of magnesium", 4.115, UTILITY, (0, 1), 5e-3),
    # Printed to whole milligrams of calcium and two places of magnesium.
    Published("mg/L CaCO3 from 4 mg/L of calcium", 10, BRUSSELS, (4, 0), .02),
    Published("mg/L CaCO3 from 2.43 mg/L of magnesium", 10, BRUSSELS, (0, 2.43), .02),
]


@pytest.mark.parametrize("row", METALS, ids=str)
def test_hardness_from_calcium_and_magnesium(row: Published) -> None:
    assert row.agrees(hardness(*numbers(row)))


# The slides round to whole milligrams, with 50 and 61 for 1 meq/L; their first bicarbonate, 60, is left out.
ALKALINITIES = [Published(f"mg/L CaCO3 in {meq} meq/L", mg, GEORGIA, (meq, Alkalinity.CACO3), .05 * meq)
                for meq, mg in ((1, 50), (2, 100), (3, 150), (4, 200), (5, 250))]
ALKALINITIES += [Published(f"mg/L bicarbonate in {meq} meq/L", mg, GEORGIA, (meq, Alkalinity.HCO3), .05 * meq)
                 for meq, mg in ((2, 122), (3, 183), (4, 244), (5, 305))]


@pytest.mark.parametrize("row", ALKALINITIES, ids=str)
def test_alkalinity_in_another_unit(row: Published) -> None:
    meq, wanted = numbers(row)
    assert row.agrees(convert_alkalinity(meq, Alkalinity.MEQ, wanted))


BLENDS = [Published("share of EC 2 with EC 15 for EC 8", .53, IRRIGATION, (2, 15, 8), .01, "example 8.3"),
          Published("share of 10 with 50 mg/L for 22 mg/L", .7, IRRIGATION, (10, 50, 22), 1e-9, "example 8.4")]


@pytest.mark.parametrize("row", BLENDS, ids=str)
def test_two_waters_blended(row: Published) -> None:
    """Example 8.3 cuts 0.538 to 0.53."""
    assert row.agrees(blend(*numbers(row)).share_a)


STEADY = [
    Published("EC of what runs over, EC 0.111 in, leaching fraction 0.074", 1.5, IRRIGATION, (.111, .074), .001,
              "example 8.5"),
    # 5 x 2.5 - 1, with the unrounded fraction of 1 in 11.5.
    Published("EC of what runs over, EC 1 in, leaching fraction 0.087", 11.5, VINES, (1.0, 1 / 11.5), .001, "B7.3.5"),
]


@pytest.mark.parametrize("row", STEADY, ids=str)
def test_salts_near_what_the_leaching_fraction_says(row: Published) -> None:
    """The same pour 2,000 times over: salts in equal salts out."""
    ec, drained_share = numbers(row)
    assert row.agrees(salt_build_up(1000.0, ec, [Pour(500.0, ec)] * 2000, drained_share))
