"""The kit: millilitres for all plants, how each solution is made, and what is needed once."""

from __future__ import annotations

import tomllib
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.agents import read_agents
from greenhouse_desk.domain.journal import Part
from greenhouse_desk.domain.protocols import (
    Deed,
    KitLine,
    Material,
    Protocol,
    ProtocolStep,
    cautions,
    making,
    materials,
)
from greenhouse_desk.shipped import folder

AGENTS, _ = read_agents(tomllib.loads(folder("agents.toml").read_text("utf-8")), "agents.toml")
SPRAY = ProtocolStep("spray", "Spray", "Why", Deed.TREAT, on=(Part.ROOTS,), agent="hydrogen-peroxide", strength=3.0,
                     amount_ml=60)
JAR = ProtocolStep("jar", "Soak", "Why", Deed.SOAK_TOOLS, on=(Part.TOOLS,), agent="ethanol", strength=70.0,
                   amount_ml=250)
WASH = ProtocolStep("wash", "Wash", "Why", Deed.WASH, on=(Part.LEAVES,), agent="alcohol-soap-wash", strength=20.0,
                    amount_ml=100, only_if="pests")


def protocol(*steps: ProtocolStep, things: tuple[Material, ...] = ()) -> Protocol:
    return Protocol("kit", "Kit", "Why", steps, things)


def line(lines: tuple[KitLine, ...], start: str) -> KitLine:
    found = [each for each in lines if each.what.startswith(start)]
    assert len(found) == 1, lines
    return found[0]


@pytest.mark.parametrize(("plants", "ml"), [(1, 60), (3, 180), (4, 240)])
def test_a_solution_is_summed_over_the_plants(plants: int, ml: float) -> None:
    found = line(materials([protocol(SPRAY)] * plants, AGENTS), "hydrogen peroxide")
    assert (found.what, found.amount, found.unit) == ("hydrogen peroxide, 3 % by mass", ml, "ml")
    assert found.note.startswith("3 % as sold")


def test_millilitres_are_rounded_up_never_down() -> None:
    assert line(materials([protocol(replace(SPRAY, amount_ml=61))], AGENTS), "hydrogen").amount == 70


def test_the_tool_jar_is_filled_once_a_session() -> None:
    assert line(materials([protocol(JAR, JAR), protocol(JAR)], AGENTS), "ethanol").amount == 250


def test_a_wash_of_uncertain_need_says_so() -> None:
    assert line(materials([protocol(WASH)], AGENTS), "alcohol").note.startswith("Only where pests are seen. From 70 %")
    sure = line(materials([protocol(WASH, replace(WASH, only_if=""))], AGENTS), "alcohol")
    assert sure.amount == 200
    assert "Only where" not in sure.note


def test_two_strengths_of_one_agent_are_two_bottles() -> None:
    lines = materials([protocol(SPRAY, replace(SPRAY, strength=1.5))], AGENTS)
    assert [each.what for each in lines] == ["hydrogen peroxide, 3 % by mass", "hydrogen peroxide, 1.5 % by mass"]


def test_a_dilution_is_made_up_to_volume_in_words() -> None:
    assert making(AGENTS["ethanol"], 70.0, 1000).startswith("70 % as sold; or from 96 %: 729 ml made up to 1000 ml")
    assert "from 6 %: 100 ml made up to 1000 ml" in making(AGENTS["bleach"], 0.6, 1000)
    assert making(AGENTS["milk"], 20.0, 500).startswith("100 ml made up to 500 ml with water")


def test_the_contraction_of_alcohol_is_named_and_not_for_bottles_used_as_sold() -> None:
    assert "shrink" in making(AGENTS["alcohol-soap-wash"], 20.0, 100)
    assert "shrink" not in making(AGENTS["bleach"], 0.5, 100)


def test_the_label_makes_what_the_label_makes() -> None:
    assert "label" in making(AGENTS["quaternary-ammonium"], None, 100)
    assert "label" in making(AGENTS["horticultural-oil"], None, 100)


def test_what_keeps_has_no_word_of_keeping() -> None:
    water = ProtocolStep("w", "W", "Why", Deed.RINSE, on=(Part.PLANT,), agent="low-salt-water", amount_ml=100)
    soap = replace(water, deed=Deed.SCRUB, on=(Part.POT,), agent="mild-soap", strength=100.0)
    rinse, washed = materials([protocol(water, soap)], AGENTS)
    assert rinse.note == AGENTS["low-salt-water"].making
    assert washed.note.startswith("100 % as sold. ")
    assert "Use within" not in rinse.note + washed.note


def test_an_agent_nobody_tells_how_to_make_is_made_as_its_label_says() -> None:
    bare = replace(AGENTS["quaternary-ammonium"], making="")
    assert making(bare, None, 100) == "As its label says."
    assert making(replace(AGENTS["tap-water"], making=""), None, 100) == ""
    assert making(AGENTS["bleach"], None, 100) == AGENTS["bleach"].making


def test_alcohol_used_as_sold_does_not_shrink() -> None:
    assert "shrink" not in making(replace(AGENTS["ethanol"], stocks=(70.0,)), 70.0, 100)


@pytest.mark.parametrize(("hours", "words"), [(47.0, "47 hours"), (48.0, "2 days"), (168.0, "7 days")])
def test_keeping_is_told_in_hours_or_days(hours: float, words: str) -> None:
    agents = {"bleach": replace(AGENTS["bleach"], shelf_hours=hours)}
    step = ProtocolStep("b", "B", "Why", Deed.SCRUB, on=(Part.POT,), agent="bleach", strength=0.5, amount_ml=100)
    assert f"Use within {words} of" in line(materials([protocol(step)], agents), "sodium").note


def test_the_first_note_of_a_thing_stays() -> None:
    things = (Material("pot", 1), Material("pot", 1, note="Clean."), Material("pot", 1, note="New."))
    assert materials([protocol(things=things)], AGENTS) == (KitLine("pot", 3, "", "Clean."),)


def test_shelf_life_and_its_source_stand_beside_the_solution() -> None:
    bleach = ProtocolStep("b", "B", "Why", Deed.SCRUB, on=(Part.POT,), agent="bleach", strength=0.5, amount_ml=100)
    assert "Use within 2 hours of mixing (published: Iowa" in line(materials([protocol(bleach)], AGENTS), "sodium").note


def test_things_are_counted_for_each_plant_or_once() -> None:
    things = (Material("pot", 1, note="Clean."), Material("cutting tool", 2, each=False), Material("pellets", 1.5, "L"))
    lines = materials([protocol(things=things)] * 3, AGENTS)
    assert lines == (KitLine("pot", 3, "", "Clean."), KitLine("cutting tool", 2, "", ""),
                     KitLine("pellets", 4.5, "L", ""))


def test_one_pair_is_no_pairs() -> None:
    things = (Material("gloves", 1, "pairs"), Material("paper", 6, "sheets"))
    one, two = materials([protocol(things=things)], AGENTS), materials([protocol(things=things)] * 2, AGENTS)
    assert [line.unit for line in (*one, *two)] == ["pair", "sheets", "pairs", "sheets"]


def test_nothing_is_needed_for_no_plants() -> None:
    assert materials([], AGENTS) == ()


@given(st.lists(st.sampled_from([protocol(SPRAY), protocol(WASH, JAR), protocol(SPRAY, JAR)]), max_size=8))
def test_the_order_of_the_plants_changes_no_amount(plants: list[Protocol]) -> None:
    amounts = {each.what: each.amount for each in materials(plants, AGENTS)}
    assert amounts == {each.what: each.amount for each in materials(plants[::-1], AGENTS)}


def test_cautions_of_agents_used_come_once_with_their_hazards() -> None:
    told = cautions([replace(protocol(JAR, JAR), cautions=("Mind the step.",))] * 2, AGENTS)
    assert told[0] == "Mind the step."
    assert len(told) == 2
    assert "H225 Highly flammable liquid and vapour." in told[1]
