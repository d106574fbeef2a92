"""Facts of the trade as check values. Each is common practice: growers agree on it, no publication is known to us."""

from __future__ import annotations

from dataclasses import Field, fields
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest

from greenhouse_desk.domain.care import CareKind
from greenhouse_desk.domain.journal import Aired, Dry, Facts, Part, Potted, Wetted
from greenhouse_desk.domain.protocols import Deed, ProtocolStep
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.services.shelf import shelf
from tests.builders import ago
from tests.domain.care_asking import PEROXIDE, owed, told

STEPS = [(protocol.id, step) for protocol in shelf(None).protocols for step in protocol.steps]


def steps(deed: Deed, on: Part | None = None) -> list[ProtocolStep]:
    """The shipped protocols' steps of this deed, on that part when one is named."""
    return [step for _, step in STEPS if step.deed is deed and (on is None or on in step.on)]


def test_tools_stand_in_70_percent_alcohol_and_no_plant_does() -> None:
    """Common practice for the 70 %; the 70 % are for tools, never for leaves."""
    tools = [step for step in steps(Deed.SOAK_TOOLS) if step.agent == "ethanol"]
    assert len(tools) >= 3
    assert {step.strength for step in tools} == {70.0}
    on_plants = [step for deed in (Deed.TREAT, Deed.WASH) for step in steps(deed)]
    assert not [step for step in on_plants if step.agent == "ethanol"]


def test_what_is_put_on_roots_and_leaves_acts_for_10_minutes() -> None:
    """Common practice for the 10 minutes of contact."""
    soaks = [step for deed in (Deed.TREAT, Deed.WASH) for step in steps(deed)]
    assert len(soaks) >= 2
    assert {step.least_min for step in soaks} == {10.0}
    assert all(step.most_min > step.least_min for step in soaks)


def test_plain_water_for_two_weeks_after_a_root_disinfection() -> None:
    """Common practice for the two weeks."""
    (hold,) = owed(told((ago(), PEROXIDE)), CareKind.PLAIN_WATER)
    assert isinstance(hold.opens, date)
    assert isinstance(hold.due, date)
    assert hold.due - hold.opens == timedelta(weeks=2)
    (feed,) = owed(told((ago(), PEROXIDE)), CareKind.HALF_FEED)
    assert feed.due == hold.due
    assert "common practice" in next(reason.source for reason in hold.why if "14 days" in reason.text)


def test_about_four_months_to_settle() -> None:
    """Common practice for the four months: the last look at the roots falls near it."""
    *_, last = owed(told((ago(), Potted("expanded clay", transition=True))), CareKind.ROOT_CHECK)
    assert isinstance(last.due, date)
    assert 105 <= (last.due - ago().date()).days <= 130


def test_a_spike_is_cut_just_above_a_node() -> None:
    """Common practice; the page says that genera differ."""
    cuts = steps(Deed.CUT, Part.SPIKE)
    assert len(cuts) >= 2
    for step in cuts:
        assert "above a node" in step.say
        assert "differ" in step.page


def test_pellets_up_to_the_drainage_holes_below_the_plant() -> None:
    """Common practice."""
    pots = [step for step in steps(Deed.POT) if "pellet" in step.page]
    assert len(pots) >= 2
    assert all("drainage holes" in step.page for step in pots)


def test_fan_on_after_a_rinse_until_the_crown_is_dry() -> None:
    """Common practice: every shipped protocol that wets a crown puts air on it later, and only "dry" ends that care."""
    for protocol in shelf(None).protocols:
        wet = [place for place, step in enumerate(protocol.steps) if {Part.CROWN, Part.PLANT} & set(step.wets)]
        fans = [place for place, step in enumerate(protocol.steps) if step.deed is Deed.AIR]
        assert not wet or fans, protocol.id
        assert not wet or max(fans) > max(wet), protocol.id
    noon = datetime(2026, 11, 18, 12, 0, tzinfo=UTC)
    rinsed: list[tuple[datetime, Facts]] = [(noon, Wetted((Part.CROWN, Part.LEAVES))),
                                            (noon + timedelta(minutes=5), Aired())]
    assert owed(told(*rinsed), CareKind.AIR)
    assert owed(told(*rinsed, (noon + timedelta(hours=2), Dry())), CareKind.AIR) == ()


@pytest.mark.parametrize("rule", fields(HouseRules), ids=lambda rule: rule.name)
def test_every_house_figure_carries_its_mark(rule: Field[Any]) -> None:
    """A figure without a mark would look like a fact."""
    source = rule.metadata["source"]
    assert any(mark in source for mark in ("published", "common practice", "from memory", "house rule"))
