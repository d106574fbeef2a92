"""The agents' figures against what was published; each check names its source beside it."""

from __future__ import annotations

import pytest

from greenhouse_desk.domain.agents import Agent, cancelled, clash, named
from greenhouse_desk.domain.faults import OutOfRange
from greenhouse_desk.domain.hazards import PHRASES
from greenhouse_desk.domain.pests import Repeat
from greenhouse_desk.domain.water import dilute
from greenhouse_desk.services.shelf import shelf

SHELF = shelf(None)
AGENTS = SHELF.agents

CLP = {
    # Regulation (EC) No 1272/2008 (CLP), annex III part 1, consolidated text of 1 September 2025
    "H225": "Highly flammable liquid and vapour.",
    "H226": "Flammable liquid and vapour.",
    "H271": "May cause fire or explosion; strong oxidiser.",
    "H272": "May intensify fire; oxidiser.",
    "H290": "May be corrosive to metals.",
    "H302": "Harmful if swallowed.",
    "H304": "May be fatal if swallowed and enters airways.",
    "H312": "Harmful in contact with skin.",
    "H314": "Causes severe skin burns and eye damage.",
    "H315": "Causes skin irritation.",
    "H317": "May cause an allergic skin reaction.",
    "H318": "Causes serious eye damage.",
    "H319": "Causes serious eye irritation.",
    "H332": "Harmful if inhaled.",
    "H335": "May cause respiratory irritation.",
    "H336": "May cause drowsiness or dizziness.",
    "H400": "Very toxic to aquatic life.",
    "H410": "Very toxic to aquatic life with long lasting effects.",
    "H411": "Toxic to aquatic life with long lasting effects.",
    "H412": "Harmful to aquatic life with long lasting effects.",
    # the same regulation, annex II
    "EUH031": "Contact with acids liberates toxic gas.",
    "EUH206": "Warning! Do not use together with other products. May release dangerous gases (chlorine).",
}


@pytest.mark.parametrize(("code", "words"), CLP.items(), ids=CLP.keys())
def test_hazard_phrases_are_word_for_word(code: str, words: str) -> None:
    assert PHRASES[code] == words


def test_no_other_phrase_is_used() -> None:
    assert set(PHRASES) == set(CLP)


@pytest.mark.parametrize("key", ["ethanol", "isopropanol"])
def test_alcohols_are_labelled_as_their_harmonised_entries(key: str) -> None:
    """CLP annex VI: ethanol H225, propan-2-ol H225, H319, H336; H319 for ethanol from memory."""
    codes = {words.split()[0] for words in AGENTS[key].hazards}
    assert codes == ({"H225", "H319", "H336"} if key == "isopropanol" else {"H225", "H319"})


@pytest.mark.parametrize("key", ["ethanol", "isopropanol"])
@pytest.mark.parametrize("on", ["tools", "bench"])
def test_alcohol_on_surfaces_70_to_80_percent_at_least_3_minutes(key: str, on: str) -> None:
    """University of Iowa Environmental Health and Safety 8.2.1: 70 to 80 % by volume, at least 3 min; not spores."""
    use = AGENTS[key].use(on)
    assert use is not None
    assert use.least_min == 3
    assert use.low <= 70
    assert use.high >= 80
    assert "spores" in AGENTS[key].note


def test_bleach_one_and_nine_ten_minutes_within_two_hours_after_cleaning() -> None:
    """Iowa State University Extension: 1 + 9, clean first, at least 10 min, use within 2 h."""
    bleach = AGENTS["bleach"]
    assert bleach.shelf_hours == 2
    assert "Clean the thing first" in bleach.making
    for on in ("tools", "pot"):
        use = bleach.use(on)
        assert use is not None
        assert use.least_min == 10
        assert use.low == pytest.approx(5.0 / 10)
        assert use.high == pytest.approx(6.0 / 10)


def test_bleach_and_milk_at_the_strengths_that_stopped_a_virus() -> None:
    """Lewandowski et al. 2010: 20 % milk with surfactant or 0.6 % hypochlorite stopped TMV on blades."""
    bleach, milk = AGENTS["bleach"].use("tools"), AGENTS["milk"].use("tools")
    assert bleach is not None
    assert milk is not None
    assert bleach.high == 0.6
    assert (milk.low, milk.high) == (20, 20)
    assert {key for key, agent in AGENTS.items() if agent.clears_virus} == {"bleach", "milk"}


NEVER_MIX = [
    ("bleach", "ethanol", "published: NFPA 2020"), ("bleach", "isopropanol", "published: NFPA 2020"),
    ("bleach", "alcohol-soap-wash", "published: NFPA 2020"), ("bleach", "ammonia", "published: NFPA 2020"),
    ("bleach", "vinegar", "published: NFPA 2020"), ("hydrogen-peroxide", "vinegar", "published: NFPA 2020"),
    ("bleach", "hydrogen-peroxide", "from memory"), ("bleach", "quaternary-ammonium", "from memory"),
]


@pytest.mark.parametrize(("a", "b", "source"), NEVER_MIX)
def test_pairs_that_must_not_meet_at_any_strength(a: str, b: str, source: str) -> None:
    """NFPA 2020 for the first six; bleach with peroxide and with a quaternary from memory, and marked so."""
    for one, other in ((a, b), (b, a)):
        rule = clash(AGENTS[one], 0.1, AGENTS[other], 0.1)
        assert rule is not None
        assert rule.source.startswith(source)


def test_strong_peroxide_and_alcohol_from_memory() -> None:
    rule = clash(AGENTS["hydrogen-peroxide"], 8, AGENTS["ethanol"], 70)
    assert rule is not None
    assert rule.source == "from memory"
    assert clash(AGENTS["hydrogen-peroxide"], 3, AGENTS["alcohol-soap-wash"], 20) is None


def test_nothing_else_clashes() -> None:
    """So that a rule that names too much is seen."""
    expected = {frozenset(pair[:2]) for pair in NEVER_MIX} | {frozenset({"horticultural-oil", "sulfur"})}
    expected |= {frozenset({"hydrogen-peroxide", key}) for key in AGENTS if named(AGENTS[key], "alcohol")}
    found = {frozenset({a, b}) for a in AGENTS for b in AGENTS if clash(AGENTS[a], None, AGENTS[b], None)}
    assert found == expected


def test_oil_and_sulfur_thirty_days_apart_and_not_above_32_degrees() -> None:
    """Washington State University Extension: 2 to 4 weeks apart; many labels 30 days: the longer figure is kept."""
    rule = clash(AGENTS["horticultural-oil"], None, AGENTS["sulfur"], None)
    assert rule is not None
    assert rule.apart_days == 30
    assert "32 C" in AGENTS["horticultural-oil"].caution


def test_soap_hard_water_and_dirt_cancel_a_quaternary() -> None:
    """University of Iowa Environmental Health and Safety 8.2.9: neutralised by organic matter, hard water, soap."""
    quaternary = AGENTS["quaternary-ammonium"]
    assert cancelled(quaternary, AGENTS["mild-soap"])
    assert "hard water" in quaternary.note


def test_the_case_against_peroxide_on_roots_is_shown() -> None:
    """Goossen and Williams 2021, HortTechnology 31(6):810: 5 to 4.13 at 3 %, to 1.13 at 12 %; 6 and 12 % for good."""
    use = AGENTS["hydrogen-peroxide"].use("roots")
    assert use is not None
    assert use.high == 3
    assert all(figure in use.why for figure in ("Goossen and Williams 2021", "4.13", "1.13", "6 and 12 %"))


@pytest.mark.parametrize(("stock", "target", "volume", "stock_ml"), [
    (96.0, 80.0, 10_000, 8333.0),  # WHO Guide to Local Production 2010: ethanol 96 %, 8333 mL made up to 10 L
    (3.0, 0.125, 10_000, 417.0),   # the same: hydrogen peroxide 3 %, 417 mL in 10 L
    (30.0, 3.0, 10, 1.0),          # arithmetic: 1 part and 9
    (99.0, 70.0, 1000, 707.07),    # arithmetic: 707.07 mL made up to 1 L
])
def test_dilutions_made_up_to_volume(stock: float, target: float, volume: float, stock_ml: float) -> None:
    mix = dilute(stock, target, volume)
    assert mix.stock_ml == pytest.approx(stock_ml, rel=1e-3)
    assert mix.stock_ml + mix.water_ml == pytest.approx(volume)


@pytest.mark.parametrize(("stock", "target", "volume", "argument"), [
    (0.0, 0.0, 100, "stock_percent"), (101.0, 3.0, 100, "stock_percent"), (3.0, 3.1, 100, "target_percent"),
    (3.0, -1.0, 100, "target_percent"), (3.0, 1.0, -1, "volume_ml"), (float("nan"), 1.0, 100, "stock_percent"),
    (3.0, 1.0, float("inf"), "volume_ml"),
])
def test_a_dilution_that_cannot_be_made_names_the_argument(stock: float, target: float, volume: float,
                                                           argument: str) -> None:
    with pytest.raises(OutOfRange) as raised:
        dilute(stock, target, volume)
    assert raised.value.argument == argument


def _repeat(key: str) -> Repeat:
    repeat = SHELF.pests[key].repeat
    assert repeat is not None
    return repeat


@pytest.mark.parametrize("key", ["mealybug", "long-tailed-mealybug", "soft-brown-scale", "boisduval-scale"])
def test_mealybug_and_scale_are_washed_2_to_3_times_at_10_to_14_days(key: str) -> None:
    """UF/IFAS and MSU Extension."""
    repeat = _repeat(key)
    assert (repeat.low, repeat.high, repeat.least_times, repeat.most_times) == (10, 14, 2, 3)


def test_thrips_3_to_5_times_in_10_days() -> None:
    """UF/IFAS and MSU Extension."""
    repeat = _repeat("thrips")
    assert (repeat.least_times, repeat.most_times) == (3, 5)
    assert (repeat.least_times - 1) * repeat.high == 10
    assert repeat.low <= 10 / (repeat.least_times - 1)


def test_mites_three_at_four_days_in_warmth() -> None:
    """Read on a secondary page: three applications, four days apart."""
    repeat = _repeat("two-spotted-mite")
    assert (repeat.low, repeat.high, repeat.least_times, repeat.most_times) == (4, 4, 3, 3)


@pytest.mark.parametrize(("key", "spans"), [
    ("boisduval-scale", {(5, 7), (33, 50)}),   # UF/IFAS EENY467: egg 5 to 7, adult 33 (m) 50 (f)
    ("long-tailed-mealybug", {(30, 120)}),     # Landcare Research 2019 and others
    ("flat-mite", {(28, 42), (60, 90)}),       # extension and survey sheets
    ("bush-snail", {(90, 90)}),                # a nursery sheet: about 90
    ("fungus-gnat", {(17, 17)}),               # 3 + 10 + 4 at 24 C, secondary page
])
def test_published_day_ranges(key: str, spans: set[tuple[float, float]]) -> None:
    assert {(days.low, days.high) for days in SHELF.pests[key].days} == spans


def test_the_wash_at_the_strengths_remembered() -> None:
    """From memory: alcohol 15 to 25 % by volume with 0.5 to 1 % soap, tried on one leaf 48 h before."""
    wash: Agent = AGENTS["alcohol-soap-wash"]
    use = wash.use("leaves")
    assert use is not None
    assert (use.low, use.high) == (15, 25)
    assert wash.use("crown") is None
    assert "5 to 10 ml of mild soap for each litre" in wash.making
    assert "48 h" in wash.caution
