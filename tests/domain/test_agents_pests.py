"""Pests and diseases as read from their file: all faults, every published span with its source."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from greenhouse_desk.domain.datafile import MARKS
from greenhouse_desk.domain.figures import Span
from greenhouse_desk.domain.pests import Covers, PestKind, read_pests
from greenhouse_desk.shipped import folder
from tests.domain.test_protocols import TREES

SHIPPED, SHIPPED_FAULTS = read_pests(tomllib.loads(folder("pests.toml").read_text("utf-8")), "pests.toml")
SOUND = """
[mite]
name = "mite"
kind = "pest"
stages = ["egg"]
hides = "Below."
looks = "With a lens."
spreads = "Walks."
source = "common practice"
  [[mite.repeat]]
  days = [4, 5]
  times = [3, 4]
  source = "published: a sheet"
  [[mite.days]]
  what = "egg"
  low = 3
  high = 5
  source = "published: a sheet"
  [[mite.thermal]]
  stage = "egg"
  covers = "egg"
  degree_days = 63.35
  above_c = 12.87
  measured_c = [26, 30]
  source = "published: one study"
"""
THERMAL = "mite.thermal[1]"
REPEAT = "mite.repeat[1]"


def test_all_of_the_trade_are_there() -> None:
    assert SHIPPED_FAULTS == ()
    pests = {key for key, pest in SHIPPED.items() if pest.kind is PestKind.PEST}
    assert pests == {"two-spotted-mite", "flat-mite", "thrips", "mealybug", "long-tailed-mealybug", "soft-brown-scale",
                     "boisduval-scale", "aphid", "fungus-gnat", "bush-snail"}
    assert set(SHIPPED) - pests == {"soft-rot", "brown-rot", "black-rot", "leaf-spot", "virus-signs"}


def test_every_span_and_repeat_carries_its_mark() -> None:
    for pest in SHIPPED.values():
        marks = [pest.source, *(days.source for days in pest.days), *([pest.repeat.source] if pest.repeat else []),
                 *(one.source for one in pest.thermal)]
        assert all(mark.startswith(MARKS) for mark in marks), pest.key
        assert all(days.source.startswith(("published: ", "common practice: range")) or "secondary page" in days.source
                   for days in pest.days), pest.key
        assert all(one.source.startswith("published: ") for one in pest.thermal), pest.key


@pytest.mark.parametrize(("old", "new", "path", "message"), [
    ('kind = "pest"', 'kind = "bug"', "mite.kind", "one of pest, disease"),
    ('name = "mite"', '', "mite.name", "missing"),
    ('name = "mite"', 'name = "mite\\nand more"', "mite.name", "at most 1 line of text"),
    *((f'{key} = "{text}"', '', f"mite.{key}", "missing") for key, text in (
        ("hides", "Below."), ("looks", "With a lens."), ("spreads", "Walks."))),
    ('stages = ["egg"]', '', "mite.stages", "missing"),
    ('above_c = 12.87', '', f"{THERMAL}.above_c", "missing"),
    ('above_c = 12.87', 'above_c = -10.1', f"{THERMAL}.above_c", "a number from -10 to 50"),
    ('stages = ["egg"]', 'stages = [3]', "mite.stages[1]", "text was expected"),
    ('source = "common practice"', 'source = "hearsay"', "mite.source", "begins with its mark"),
    ('days = [4, 5]', 'days = [5, 4]', f"{REPEAT}.days", "lowest first"),
    ('days = [4, 5]', 'days = [4]', f"{REPEAT}.days", "two numbers"),
    ('days = [4, 5]', 'days = [4.5, 5]', f"{REPEAT}.days", "whole numbers"),
    ('days = [4, 5]', 'days = [4, 5, "or six"]', f"{REPEAT}.days", "two numbers"),
    ('days = [4, 5]', 'days = [true, 5]', f"{REPEAT}.days", "two numbers"),
    ('[[mite.days]]', '[[mite.repeat]]\n  days = [1, 2]\n  times = [1, 2]\n  source = "from memory"\n  [[mite.days]]',
     "mite.repeat", "one [[repeat]] at most"),
    ('  [[mite.repeat]]\n  days = [4, 5]\n  times = [3, 4]\n  source = "published: a sheet"', '  repeat = "often"',
     "mite.repeat", "a list was expected"),
    ('  low = 3', '  low = 999', "mite.days[1].low", "a number from 0"),
    ('times = [3, 4]', '', f"{REPEAT}.times", "missing"),
    ('times = [3, 4]', 'times = [0, 4]', f"{REPEAT}.times", "two numbers from 1"),
    ('times = [3, 4]', 'times = [3, 4]\n  often = true', f"{REPEAT}.often", "unknown key"),
    ('  low = 3', '  low = -3', "mite.days[1].low", "a number from 0"),
    ('  high = 5', '  high = 2', "mite.days[1].high", "at least the low of 3"),
    ('degree_days = 63.35', '', f"{THERMAL}.degree_days", "missing"),
    ('degree_days = 63.35', 'degree_days = -1', f"{THERMAL}.degree_days", "a number from 1"),
    ('above_c = 12.87', 'above_c = nan', f"{THERMAL}.above_c", "a number from"),
    ('above_c = 12.87', 'above_c = 26', f"{THERMAL}.above_c", "below the coldest measured 26 C"),
    ('measured_c = [26, 30]', '', f"{THERMAL}.measured_c", "missing"),
    ('measured_c = [26, 30]', 'measured_c = [30, 26]', f"{THERMAL}.measured_c", "lowest first"),
    ('covers = "egg"', 'covers = "yolk"', f"{THERMAL}.covers", "one of egg, hatch to adult"),
    ('covers = "egg"', '', f"{THERMAL}.covers", "missing"),
    ('source = "published: one study"', 'source = "one study"', f"{THERMAL}.source", "begins with its mark"),
    ('source = "published: one study"', '', f"{THERMAL}.source", "missing"),
    ('  stage = "egg"', '', f"{THERMAL}.stage", "missing"),
    ('hides = "Below."', 'hides = "Below."\ncomes_out = "yes"', "mite.comes_out", "true or false"),
    ('hides = "Below."', 'hides = "Below."\nbears_young = 1', "mite.bears_young", "true or false"),
])
def test_a_broken_pest_names_its_fault_and_is_left_out(old: str, new: str, path: str, message: str) -> None:
    assert old in SOUND
    pests, found = read_pests(tomllib.loads(SOUND.replace(old, new, 1)), "pests.toml")
    assert [fault.path for fault in found] == [path]
    assert message in found[0].message
    assert pests == {}


def test_what_is_read_is_kept_with_its_threshold_range_and_source() -> None:
    pests, found = read_pests(tomllib.loads(SOUND), "pests.toml")
    assert found == ()
    (one,) = pests["mite"].thermal
    assert (one.stage, one.covers, one.degree_days, one.above_c) == ("egg", Covers.EGG, 63.35, 12.87)
    assert (one.measured, one.source) == (Span(26.0, 30.0), "published: one study")
    assert (pests["mite"].comes_out, pests["mite"].bears_young) == (False, False)


def test_a_disease_has_no_repeat_of_a_wash() -> None:
    ill = SOUND.replace('kind = "pest"', 'kind = "disease"').split("  [[mite.thermal]]")[0]
    pests, found = read_pests(tomllib.loads(ill), "pests.toml")
    assert [(fault.path, "does not cure a disease" in fault.message) for fault in found] == [("mite.repeat", True)]
    assert pests == {}


def test_a_disease_has_no_thermal_constants() -> None:
    ill = SOUND.replace('kind = "pest"', 'kind = "disease"').replace("mite.repeat", "other.repeat")
    _, found = read_pests({"mite": tomllib.loads(ill)["mite"]}, "pests.toml")
    assert [(fault.path, "animals" in fault.message) for fault in found] == [("mite.thermal", True)]


def test_a_pest_that_is_no_table_is_left_out() -> None:
    pests, found = read_pests({"mite": 3}, "pests.toml")
    assert pests == {}
    assert [fault.path for fault in found] == ["mite"]


@given(TREES)
@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_reading_pests_never_raises(data: Any) -> None:
    read_pests(data, "pests.toml")
    read_pests({"mite": data}, "pests.toml")
