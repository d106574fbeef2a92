"""The shipped protocols: no fault, the trade's order, every caution, every mark, and words that fit the wall."""

from __future__ import annotations

import tomllib

import pytest

from greenhouse_desk.domain.agents import WATER, read_agents
from greenhouse_desk.domain.bench_board import soak_title
from greenhouse_desk.domain.bench_choice import TOOL_AGENT, TOOL_SOAK_TITLE, TOOL_SOAK_WHY
from greenhouse_desk.domain.care import CareKind
from greenhouse_desk.domain.datafile import MARKS
from greenhouse_desk.domain.journal import Part
from greenhouse_desk.domain.protocols import (
    Asks,
    Deed,
    Protocol,
    ProtocolStep,
    Work,
    causes,
    cautions,
    faults,
    mixing_faults,
    read_protocol,
)
from greenhouse_desk.shipped import folder

AGENTS, _ = read_agents(tomllib.loads(folder("agents.toml").read_text("utf-8")), "agents.toml")
IDS = ("arrival-check", "pest-wash", "root-trim-and-repot", "spike-cut", "tools-and-pots", "transition-repot")


def load(id: str) -> Protocol:
    file = folder("protocols") / f"{id}.toml"
    protocol, found = read_protocol(tomllib.loads(file.read_text("utf-8")), file.name, AGENTS)
    assert found == ()
    assert protocol is not None
    return protocol


SHIPPED = {id: load(id) for id in IDS}
STEPS = [(id, step) for id, protocol in SHIPPED.items() for step in protocol.steps]
TRIM = {step.id: step for step in SHIPPED["root-trim-and-repot"].steps}


def test_the_six_are_there_and_nothing_else() -> None:
    assert sorted(path.stem for path in folder("protocols").glob("*.toml")) == sorted(IDS)


@pytest.mark.parametrize("id", IDS)
def test_a_shipped_protocol_has_no_fault(id: str) -> None:
    assert faults(SHIPPED[id], AGENTS) == ()
    assert SHIPPED[id].cautions


@pytest.mark.parametrize(("id", "step"), STEPS, ids=[f"{id}/{step.id}" for id, step in STEPS])
def test_a_step_fits_the_wall_tells_its_reason_and_its_source(id: str, step: ProtocolStep) -> None:
    assert len(step.say) <= 44
    assert len(step.caution) <= 60, "one line on the wall"
    assert len(step.page) > 60, "the page tells why and what can go wrong"
    assert step.source.startswith(MARKS)
    assert set(step.owes) == causes(step), "the page lists what the step leaves"


def test_the_trim_keeps_the_order_of_the_trade() -> None:
    order = list(TRIM)
    trade = ["lay-out", "clean-bench", "soak-tools", "unpot", "sort-roots", "cut-dead", "cut-spike", "clean-down",
             "wash-leaves", "treat-roots", "scrub-pot", "soak-pot", "rinse-leaves", "rinse-roots",
             "dress-roots", "repot", "dress-cuts", "fill-reservoir", "blot", "fan-on"]
    assert [order.index(id) for id in trade] == sorted(order.index(id) for id in trade)


@pytest.mark.parametrize("id", ["treat-roots", "wash-leaves"])
def test_the_two_treatments_act_ten_to_twelve_minutes(id: str) -> None:
    """Common practice for the least, house rule for the most."""
    step = TRIM[id]
    assert (step.work, step.least_min, step.most_min) == (Work.SOAK, 10, 12)


def test_the_trim_treats_roots_always_and_leaves_only_where_pests_were_seen() -> None:
    assert (TRIM["treat-roots"].agent, TRIM["treat-roots"].strength) == ("hydrogen-peroxide", 3)
    assert TRIM["treat-roots"].only_if == ""
    assert (TRIM["wash-leaves"].agent, TRIM["wash-leaves"].only_if) == ("alcohol-soap-wash", "pests")
    assert CareKind.PLAIN_WATER.value in TRIM["treat-roots"].owes


def test_the_plant_is_never_rinsed_before_both_treatments_are_over() -> None:
    assert set(TRIM["rinse-roots"].after) >= {"treat-roots", "wash-leaves"}
    assert TRIM["rinse-leaves"].after == ("wash-leaves",)
    assert {TRIM[id].agent for id in ("rinse-leaves", "rinse-roots")} == {"low-salt-water"}


def test_the_crown_gets_wet_only_where_a_wash_has_to_come_off() -> None:
    wets = {step.id for step in TRIM.values() if {Part.CROWN, Part.LEAVES, Part.PLANT} & set(step.wets)}
    assert wets == {"wash-leaves", "rinse-leaves"}
    assert {TRIM[id].only_if for id in wets} == {"pests"}


def test_root_ends_are_powdered_before_the_pellets_lie_on_them_and_the_spike_after() -> None:
    """Common practice: no brush reaches a cut under pellets, and powder is kept off living roots."""
    assert {"cut-dead", "rinse-roots"} == set(TRIM["dress-roots"].after)
    assert "dress-roots" in TRIM["repot"].after
    assert {"repot", "cut-spike"} == set(TRIM["dress-cuts"].after)
    move = [step.id for step in SHIPPED["transition-repot"].steps]
    assert move.index("dress-cuts") < move.index("repot")


def test_the_pot_is_scrubbed_while_the_roots_soak() -> None:
    """Nothing the pot waits for is a soak of the plant, so that hands may go on meanwhile."""
    for id in ("scrub-pot", "soak-pot", "rinse-pot"):
        assert TRIM[id].meanwhile
        assert not {"treat-roots", "wash-leaves"} & set(TRIM[id].after)


def test_a_pot_soak_never_keeps_the_plant_from_its_rinse() -> None:
    """The peroxide has a most; a step that waited for the pot would let it run over."""
    order = list(TRIM)
    assert TRIM["rinse-roots"].meanwhile
    assert order.index("rinse-roots") < order.index("rinse-pot")


def test_the_trim_asks_for_every_finding() -> None:
    asked = {question for step in TRIM.values() for question in step.asks}
    assert asked == set(Asks)


def test_slipper_orchids_are_judged_by_firmness_and_gripped_pellets_stay() -> None:
    assert "firmness only" in TRIM["sort-roots"].page
    assert "pellet" in TRIM["unpot"].page


def test_no_water_is_feed_and_none_is_softened() -> None:
    assert AGENTS[TRIM["fill-reservoir"].agent].family == WATER
    assert "softened" in TRIM["rinse-roots"].page


def test_both_sides_of_what_is_disputed_are_shown() -> None:
    assert "4.13" in TRIM["treat-roots"].page
    assert "disagree" in TRIM["dress-cuts"].page
    assert "disagree" in TRIM["dress-roots"].page


def test_a_transition_leaves_the_roots_alone_and_marks_the_move() -> None:
    steps = SHIPPED["transition-repot"].steps
    assert not [step for step in steps if step.deed in (Deed.TREAT, Deed.WASH)]
    assert [step.transition for step in steps if step.deed is Deed.POT] == [True]


def test_a_spike_cut_wets_nothing() -> None:
    assert not [step for step in SHIPPED["spike-cut"].steps if step.wets]


def test_a_newcomer_is_looked_at_weekly_for_six_weeks() -> None:
    """House rule to start from, from memory: 42 days."""
    checks = [check for step in SHIPPED["arrival-check"].steps for check in step.checks]
    assert [check.days for check in checks] == [(7, 14, 21, 28, 35, 42)]


def test_virus_tools_get_another_agent_than_alcohol() -> None:
    agents = {step.agent for step in SHIPPED["tools-and-pots"].steps if step.work is Work.SOAK}
    assert agents == {"bleach"}
    assert AGENTS["bleach"].clears_virus
    assert not AGENTS["ethanol"].clears_virus


def test_what_tools_stand_in_has_one_name_on_screen() -> None:
    """The agent's own; "alcohol" is left to the wash that is called so and to what must not be mixed."""
    assert soak_title(next(step for _, step in STEPS if step.agent == TOOL_AGENT),
                      {key: agent.name for key, agent in AGENTS.items()}) == TOOL_SOAK_TITLE == "70 % ethanol"
    for _, step in STEPS:
        if step.agent != "alcohol-soap-wash":
            assert "alcohol" not in f"{step.say} {step.page} {step.caution}".lower(), step.say
    assert "alcohol" not in f"{TOOL_SOAK_WHY} {AGENTS[TOOL_AGENT].making} {AGENTS[TOOL_AGENT].caution}"


HURTS = {
    "flame": "no flame", "blade near alcohol": "lighter-sterilised", "air": "air the room", "acid": "acid",
    "ammonia": "ammonia", "peroxide and vinegar": "peroxide with vinegar", "rinse between": "between any two agents",
    "soap and quaternary": "cancels a quaternary", "strong peroxide": "from 8 %", "vented cap": "vented cap",
    "strong peroxide and alcohol": "peroxide of 8 % or more with alcohol",
    "peroxide beside a wash": "only from separate bottles",
    "own bottles": "labelled bottle", "eyes": "goggles", "gloves": "gloves", "children and pets": "children and pets",
    "label is law": "label is law", "no dose": "no dose", "oil and heat": "32 c",
    "oil and sulfur": "30 days of sulfur",
    "mains": "residual-current", "dry hands": "dry hands", "old media": "old media", "dust": "no dust",
    "slips": "underfoot", "blades": "blades away from wet gloves", "baits": "bait",
    "feed concentrate": "feed concentrate",
    "licensed advice": "licensed advice", "local rules": "local rules", "border": "phytosanitary",
}


@pytest.mark.parametrize("words", HURTS.values(), ids=HURTS.keys())
def test_what_can_hurt_someone_is_said(words: str) -> None:
    said = [*cautions(SHIPPED.values(), AGENTS), *(step.caution for _, step in STEPS),
            *(agent.caution for agent in AGENTS.values())]
    assert any(words in each.lower() for each in said)


@pytest.mark.parametrize("first", IDS)
@pytest.mark.parametrize("second", IDS)
def test_any_two_shipped_protocols_may_follow_each_other(first: str, second: str) -> None:
    """Each one rinses tools and bench before another agent comes onto them."""
    grave = [fault for fault in mixing_faults((SHIPPED[first], SHIPPED[second]), AGENTS) if fault.grave]
    assert grave == []
