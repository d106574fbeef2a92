"""Pests and diseases as read from their file: all faults, every published span with its source."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from greenhouse_desk.domain.datafile import MARKS
from greenhouse_desk.domain.pests import PestKind, read_pests
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
"""
REPEAT = "mite.repeat[1]"


def test_all_of_the_trade_are_there() -> None:
    assert SHIPPED_FAULTS == ()
    pests = {key for key, pest in SHIPPED.items() if pest.kind is PestKind.PEST}
    assert pests == {"two-spotted-mite", "flat-mite", "thrips", "mealybug", "long-tailed-mealybug", "soft-brown-scale",
                     "boisduval-scale", "aphid", "fungus-gnat", "bush-snail"}
    assert set(SHIPPED) - pests == {"soft-rot", "brown-rot", "black-rot", "leaf-spot", "virus-signs"}


def test_every_span_and_repeat_carries_its_mark() -> None:
    for pest in SHIPPED.values():
        marks = [pest.source, *(days.source for days in pest.days), *([pest.repeat.source] if pest.repeat else [])]
        assert all(mark.startswith(MARKS) for mark in marks), pest.key
        assert all(days.source.startswith("published: ") for days in pest.days), pest.key


@pytest.mark.parametrize(("old", "new", "path", "message"), [
    ('kind = "pest"', 'kind = "bug"', "mite.kind", "one of pest, disease"),
    ('name = "mite"', '', "mite.name", "missing"),
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
    ('kind = "pest"', 'kind = "disease"', "mite.repeat", "does not cure a disease"),
    ('  low = 3', '  low = -3', "mite.days[1].low", "a number from 0"),
    ('  high = 5', '  high = 2', "mite.days[1].high", "at least the low of 3"),
])
def test_a_broken_pest_names_its_fault_and_is_left_out(old: str, new: str, path: str, message: str) -> None:
    assert old in SOUND
    pests, found = read_pests(tomllib.loads(SOUND.replace(old, new, 1)), "pests.toml")
    assert [fault.path for fault in found] == [path]
    assert message in found[0].message
    assert pests == {}


def test_a_pest_that_is_no_table_is_left_out() -> None:
    pests, found = read_pests({"mite": 3}, "pests.toml")
    assert pests == {}
    assert [fault.path for fault in found] == ["mite"]


@given(TREES)
@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_reading_pests_never_raises(data: Any) -> None:
    read_pests(data, "pests.toml")
    read_pests({"mite": data}, "pests.toml")
