"""Agents are read with all their faults; what must not meet is told from both sides and by strength."""

from __future__ import annotations

import itertools
import tomllib
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from greenhouse_desk.domain.agents import Agent, Clash, Percent, cancelled, clash, hazards_at, kept_away, read_agents
from greenhouse_desk.shipped import folder
from tests.domain.test_protocols import TREES

SHIPPED, SHIPPED_FAULTS = read_agents(tomllib.loads(folder("agents.toml").read_text("utf-8")), "agents.toml")
SOUND = """
[bleach]
name = "bleach"
percent = "% by mass"
family = "chlorine"
stocks = [5.0]
hazards = ["H290"]
shelf_hours = 2
shelf_source = "published: a sheet"
  [[bleach.uses]]
  on = "tools"
  low = 0.5
  high = 0.6
  least_min = 10
  most_min = 30
  source = "published: a sheet"
  [[bleach.clashes]]
  other = "acid"
  why = "chlorine"
  source = "published: a list"
  [[bleach.strong_hazards]]
  code = "H314"
  from_strength = 5

[vinegar]
name = "vinegar"
percent = "% by mass"
family = "acid"
cancelled_by = ["bleach"]
"""
USE, RULE, STRONG = "bleach.uses[1]", "bleach.clashes[1]", "bleach.strong_hazards[1]"

BROKEN: list[tuple[str, str, str, list[tuple[str, str]]]] = [
    ("unknown key", 'stocks = [5.0]', 'stokcs = [5.0]', [("bleach.stokcs", "unknown key")]),
    ("unknown key in a use", 'least_min = 10', 'last_min = 10', [(f"{USE}.last_min", "unknown key")]),
    ("name missing", 'name = "bleach"\n', '', [("bleach.name", "missing")]),
    ("percent missing", 'percent = "% by mass"\nfamily = "chl', 'family = "chl', [
        ("bleach.percent", "missing"), (f"{USE}.low", "no strength was expected")]),
    ("percent unknown", 'percent = "% by mass"\nfamily = "ac', 'percent = "proof"\nfamily = "ac', [
        ("vinegar.percent", "not 'proof'")]),
    ("stock of nothing", 'stocks = [5.0]', 'stocks = [0, 120]', [
        ("bleach.stocks[1]", "above 0"), ("bleach.stocks[2]", "up to 100")]),
    ("hazard unknown", 'hazards = ["H290"]', 'hazards = ["H999"]', [("bleach.hazards[1]", "not 'H999'")]),
    ("shelf life negative", 'shelf_hours = 2', 'shelf_hours = -2', [("bleach.shelf_hours", "a number from 0")]),
    ("shelf life without a source", 'shelf_source = "published: a sheet"', '', [("bleach.shelf_source", "missing")]),
    ("source without a mark", '  source = "published: a sheet"', '  source = "a sheet"', [
        (f"{USE}.source", "begins with its mark")]),
    ("use on an unknown thing", 'on = "tools"', 'on = "walls"', [(f"{USE}.on", "not 'walls'")]),
    ("use without a high", '  high = 0.6\n', '', [(f"{USE}.high", "missing")]),
    ("high below low", 'high = 0.6', 'high = 0.4', [(f"{USE}.high", "at least the low of 0.5")]),
    ("low is text", 'low = 0.5', 'low = "half"', [(f"{USE}.low", "a number from 0 to 100")]),
    ("most below least", 'most_min = 30', 'most_min = 3', [(f"{USE}.most_min", "at least the least of 10")]),
    ("clash with nobody", 'other = "acid"', 'other = "acids"', [(f"{RULE}.other", "not 'acids'")]),
    ("clash with itself", 'other = "acid"', 'other = "chlorine"', [(f"{RULE}.other", "cannot meet itself")]),
    ("clash without a reason", '  why = "chlorine"\n', '', [(f"{RULE}.why", "missing")]),
    ("clash strength out of range", '  why = "chlorine"', '  why = "c"\n  from_strength = 800', [
        (f"{RULE}.from_strength", "a number from 0 to 100")]),
    ("cancelled by nobody", 'cancelled_by = ["bleach"]', 'cancelled_by = ["soap"]', [
        ("vinegar.cancelled_by[1]", "not 'soap'")]),
    ("strong hazard ends before it begins", 'from_strength = 5', 'from_strength = 5\n  below_strength = 5', [
        (f"{STRONG}.below_strength", "more than the 5")]),
    ("form unknown", 'stocks = [5.0]', 'stocks = [5.0]\nform = "gas"', [("bleach.form", "one of liquid, powder")]),
    ("an agent that is a number", '[bleach]', 'soap = 3\n[bleach]', [("soap", "a table was expected, not 3")]),
    ("a key in the wrong table", '[vinegar]', 'soap = 3\n[vinegar]', [(f"{STRONG}.soap", "unknown key")]),
    ("stock in words", 'stocks = [5.0]', 'stocks = ["five", true]', [
        ("bleach.stocks[1]", "a strength"), ("bleach.stocks[2]", "a strength")]),
    ("shelf source without a mark", 'shelf_source = "published: a sheet"', 'shelf_source = "a sheet"', [
        ("bleach.shelf_source", "begins with its mark")]),
    ("a most that cannot be read is not also below the least", 'most_min = 30', 'most_min = -3', [
        (f"{USE}.most_min", "a number from 0")]),
    ("a least that cannot be read is not also above the most", 'least_min = 10', 'least_min = 9999', [
        (f"{USE}.least_min", "a number from 0")]),
    ("a strength that cannot be read is not also out of order", 'from_strength = 5', 'from_strength = 500\n  '
     'below_strength = 0', [(f"{STRONG}.from_strength", "a number from 0")]),
    ("clash with a number", 'other = "acid"', 'other = 3', [(f"{RULE}.other", "text was expected")]),
    ("clash with an empty word", 'other = "acid"', 'other = ""', [(f"{RULE}.other", "this is empty")]),
    ("several at once", 'name = "bleach"\npercent = "% by mass"', 'name = 3\npercent = "% by mass"\nvirus = true', [
        ("bleach.name", "text was expected, not 3"), ("bleach.virus", "unknown key")]),
]


@pytest.mark.parametrize(("name", "old", "new", "expected"), BROKEN, ids=[each[0] for each in BROKEN])
def test_a_broken_agents_file_gives_all_its_faults(name: str, old: str, new: str,
                                                   expected: list[tuple[str, str]]) -> None:
    assert old in SOUND
    agents, found = read_agents(tomllib.loads(SOUND.replace(old, new, 1)), "agents.toml")
    assert sorted(fault.path for fault in found) == sorted(path for path, _ in expected), [str(f) for f in found]
    for path, message in expected:
        assert any(fault.path == path and message in fault.message for fault in found), [str(f) for f in found]
    assert {path.split(".")[0] for path, _ in expected}.isdisjoint(agents), "an agent at fault is left out"


@pytest.mark.parametrize("given_", ["low = 1", "high = 1"])
def test_the_label_gives_the_strength_and_the_file_none(given_: str) -> None:
    text = f'[a]\nname = "a"\npercent = "as the label says"\n[[a.uses]]\non = "pot"\nsource = "from memory"\n{given_}\n'
    agents, found = read_agents(tomllib.loads(text), "agents.toml")
    assert any("the label gives it" in fault.message for fault in found)
    assert agents == {}


def test_a_least_that_is_the_most_is_no_fault() -> None:
    assert read_agents(tomllib.loads(SOUND.replace("most_min = 30", "most_min = 10")), "agents.toml")[1] == ()


def test_the_sound_file_has_no_fault_and_neither_has_the_shipped_one() -> None:
    agents, found = read_agents(tomllib.loads(SOUND), "agents.toml")
    assert found == ()
    assert set(agents) == {"bleach", "vinegar"}
    assert SHIPPED_FAULTS == ()


@given(TREES)
@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_reading_agents_never_raises(data: Any) -> None:
    agents, found = read_agents(data, "agents.toml")
    assert all(isinstance(agent, Agent) for agent in agents.values())
    assert agents or found or data == {}


@given(st.sampled_from(sorted(SHIPPED)), st.sampled_from(["name", "uses", "clashes", "stocks", "percent"]), TREES)
@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_one_odd_value_in_the_shipped_agents_never_raises(key: str, at: str, value: Any) -> None:
    data = tomllib.loads(folder("agents.toml").read_text("utf-8"))
    data[key][at] = value
    agents, found = read_agents(data, "agents.toml")
    assert (key in agents) is not any(fault.path.startswith((f"{key}.", f"{key}[")) for fault in found)


AT_A_STRENGTH = st.tuples(st.sampled_from(sorted(SHIPPED)), st.one_of(st.none(), st.floats(0, 100)))


@given(AT_A_STRENGTH, AT_A_STRENGTH)
def test_a_clash_is_the_same_from_both_sides(a: tuple[str, float | None], b: tuple[str, float | None]) -> None:
    one = clash(SHIPPED[a[0]], a[1], SHIPPED[b[0]], b[1])
    other = clash(SHIPPED[b[0]], b[1], SHIPPED[a[0]], a[1])
    assert one == other


def test_some_pairs_clash_and_an_agent_never_clashes_with_itself() -> None:
    pairs = [(a, b) for a, b in itertools.combinations(sorted(SHIPPED), 2)
             if clash(SHIPPED[a], None, SHIPPED[b], None)]
    assert ("ammonia", "bleach") in pairs
    assert ("hydrogen-peroxide", "vinegar") in pairs
    assert ("cinnamon", "low-salt-water") not in pairs
    assert all(clash(agent, None, agent, None) is None for agent in SHIPPED.values())


@pytest.mark.parametrize(("strength", "clashes"), [(3.0, False), (7.9, False), (8.0, True), (12.0, True), (None, True)])
def test_peroxide_and_alcohol_clash_from_eight_percent(strength: float | None, clashes: bool) -> None:
    rule = clash(SHIPPED["hydrogen-peroxide"], strength, SHIPPED["alcohol-soap-wash"], 20.0)
    assert (rule is not None) is clashes


@pytest.mark.parametrize(("strength_a", "strength_b", "clashes"),
                         [(5.0, 2.0, True), (4.9, 2.0, False), (5.0, 1.9, False), (None, None, True)])
def test_both_sides_of_a_rule_have_a_strength(strength_a: float, strength_b: float, clashes: bool) -> None:
    rule = Clash("b", "why", "from memory", from_strength=5.0, other_from_strength=2.0)
    a, b = Agent("a", "a", Percent.BY_MASS, (), clashes=(rule,)), Agent("b", "b", Percent.BY_MASS, ())
    assert (clash(a, strength_a, b, strength_b) is rule) is clashes
    assert (clash(b, strength_b, a, strength_a) is rule) is clashes


def test_soap_cancels_a_quaternary_and_not_the_other_way_round() -> None:
    quaternary = SHIPPED["quaternary-ammonium"]
    assert cancelled(quaternary, SHIPPED["mild-soap"])
    assert cancelled(quaternary, SHIPPED["alcohol-soap-wash"])
    assert not cancelled(SHIPPED["mild-soap"], quaternary)
    assert not cancelled(quaternary, SHIPPED["ethanol"])


@pytest.mark.parametrize(("strength", "codes"), [(3.0, []), (6.0, ["H319"]), (8.0, ["H318"]), (12.0, ["H318"])])
def test_the_hazards_of_peroxide_depend_on_its_strength(strength: float, codes: list[str]) -> None:
    assert [phrase.split()[0] for phrase in hazards_at(SHIPPED["hydrogen-peroxide"], strength)] == codes


def test_an_unknown_strength_shows_every_hazard_it_can_have() -> None:
    assert {phrase.split()[0] for phrase in hazards_at(SHIPPED["hydrogen-peroxide"], None)} >= {"H314", "H318", "H319"}


def test_every_shipped_use_and_rule_carries_its_mark_and_hazards_a_source() -> None:
    for agent in SHIPPED.values():
        assert all(use.source for use in agent.uses)
        assert all(rule.source for rule in agent.clashes)
        assert agent.hazards_source or not (agent.hazards or agent.strong_hazards), agent.key
        assert agent.caution, agent.key


def test_no_agent_for_tools_may_be_put_on_a_plant() -> None:
    plant = {"roots", "leaves", "crown", "spike", "plant"}
    for key in ("ethanol", "isopropanol", "bleach", "quaternary-ammonium", "milk"):
        assert not {use.on for use in SHIPPED[key].uses} & plant


def test_a_pesticide_gets_no_dose_from_the_program() -> None:
    for key in ("horticultural-oil", "sulfur"):
        assert SHIPPED[key].percent is Percent.LABEL
        assert SHIPPED[key].stocks == ()
        assert "label" in SHIPPED[key].making


def test_what_is_kept_away_names_the_strength_from_which_it_is() -> None:
    peroxide, wash, bleach = (SHIPPED[key] for key in ("hydrogen-peroxide", "alcohol-soap-wash", "bleach"))
    name, why = kept_away(peroxide, wash, 20.0)
    assert name == "hydrogen peroxide of 8 % or more"
    assert "only from separate bottles" in why
    assert kept_away(bleach, wash, 20.0) == ("sodium hypochlorite bleach", "")
    assert kept_away(SHIPPED["mild-soap"], wash, 20.0) == ("", "")
    assert kept_away(wash, peroxide, 3.0) == ("", ""), "3 % on roots beside a wash on leaves is allowed"
