"""Oil and sulfur on one plant must lie thirty days apart, whoever wrote them down and whenever."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest

from greenhouse_desk.domain.journal import Dressed, Facts, Part, Purpose, Treated
from greenhouse_desk.domain.protocol_apart import apart_faults, counts_as, given, kept_from
from greenhouse_desk.domain.protocol_steps import Deed, Protocol, ProtocolStep
from greenhouse_desk.services.shelf import shelf
from tests.builders import NOW, ago, history

AGENTS = shelf(None).agents
TODAY = NOW.date()


def sprayed(agent: str) -> Treated:
    return Treated(agent, Purpose.PEST_WASH, (Part.LEAVES,))


def held(*written: tuple[datetime, Facts], today: date = TODAY) -> list[tuple[str, date]]:
    found = kept_from(given(history(*written).entries, AGENTS, lambda at: at.date()), AGENTS, today)
    return [(one.other.key, one.free) for one in found]


@pytest.mark.parametrize(("facts", "other"), [
    (sprayed("horticultural-oil"), ["sulfur"]), (sprayed("sulfur"), ["horticultural-oil"]),
    (Dressed("sulfur"), ["horticultural-oil"]), (sprayed("My white oil"), ["sulfur"]),
    (sprayed("Lime sulphur, bottled"), ["horticultural-oil"]), (sprayed("soil drench"), []), (Dressed("cinnamon"), []),
    (sprayed("alcohol-soap-wash"), []), (Dressed(""), [])])
def test_what_was_given_keeps_the_other_away_under_any_name(facts: Facts, other: list[str]) -> None:
    assert [key for key, _ in held((ago(days=10), facts))] == other


@pytest.mark.parametrize(("days", "clear"), [(0, False), (1, False), (29, False), (30, True), (400, True)])
def test_thirty_days_lie_between(days: int, clear: bool) -> None:
    assert (held((ago(days=days), sprayed("sulfur"))) == []) is clear


def test_the_last_one_given_decides_and_what_is_to_come_does_not() -> None:
    found = held((ago(days=29), sprayed("sulfur")), (ago(days=3), Dressed("sulfur")))
    assert found == [("horticultural-oil", TODAY + timedelta(days=27))]
    assert held((ago(days=-3), sprayed("sulfur"))) == []


def test_a_protocol_is_at_fault_by_each_step_that_brings_the_other() -> None:
    steps = tuple(ProtocolStep(key, key, key, Deed.TREAT, on=(Part.LEAVES,), agent=key)
                  for key in ("alcohol-soap-wash", "horticultural-oil", "sulfur"))
    before = list(given(history((ago(days=10), sprayed("sulfur"))).entries, AGENTS, lambda at: at.date()))
    faults = apart_faults(Protocol("p", "P", "For tests.", steps, file="p.toml"), before, AGENTS, TODAY)
    assert [(fault.file, fault.path, fault.grave) for fault in faults] == [("p.toml", "step[2].agent", True)]
    assert faults[0].message.startswith(
        "never mix: sulfur was given on 8 Nov: no horticultural oil before 8 Dec, 30 days must lie between.")
    assert "Washington State University Extension" in faults[0].message


def test_a_name_that_says_neither_is_not_guessed() -> None:
    assert counts_as("a product of mine", AGENTS) is None
    assert counts_as("sulfur", AGENTS) == AGENTS["sulfur"]
