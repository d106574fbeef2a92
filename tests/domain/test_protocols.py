"""Protocols are read whole: every fault is named with its path, none hides another, nothing raises."""

from __future__ import annotations

import copy
import tomllib
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from greenhouse_desk.domain.agents import read_agents
from greenhouse_desk.domain.faults import Fault
from greenhouse_desk.domain.protocols import Protocol, faults, mixing_faults, read_protocol
from greenhouse_desk.shipped import folder
from tests.domain.protocol_broken import BROKEN
from tests.domain.protocol_sound import SOUND, Broken, on_tools, put, step

AGENTS, AGENT_FAULTS = read_agents(tomllib.loads(folder("agents.toml").read_text("utf-8")), "agents.toml")


def read(data: Any) -> tuple[Protocol | None, tuple[Fault, ...]]:
    return read_protocol(data, "trim.toml", AGENTS)


def sound() -> dict[str, Any]:
    return tomllib.loads(SOUND)


def whole(data: dict[str, Any], file: str = "trim.toml") -> Protocol:
    protocol, found = read_protocol(data, file, AGENTS)
    assert protocol is not None, found
    return protocol


def test_the_sound_protocol_has_no_fault() -> None:
    protocol, found = read(sound())
    assert found == ()
    assert protocol is not None
    assert protocol.id == "trim"
    assert [each.id for each in protocol.steps][:3] == ["tools", "unpot", "cut"]
    assert protocol.steps[8].checks[0].days == (1, 3)


def test_the_table_is_as_long_as_asked_and_names_each_break_once() -> None:
    assert len(BROKEN) >= 40
    assert len({each.name for each in BROKEN}) == len(BROKEN)


@pytest.mark.parametrize("broken", BROKEN, ids=lambda broken: broken.name)
def test_a_broken_protocol_gives_all_its_faults(broken: Broken) -> None:
    protocol, found = read(broken.data())
    left = list(found)
    for path, message, grave in broken.faults:
        fitting = [fault for fault in left if fault.path == path and message in fault.message and fault.grave is grave]
        assert len(fitting) == 1, f"{path}: {message!r} was expected once in {[str(fault) for fault in found]}"
        left.remove(fitting[0])
    assert left == [], "no other fault was expected"
    assert (protocol is not None) is broken.whole
    assert all(fault.file == "trim.toml" for fault in found)


@pytest.mark.parametrize("broken", [each for each in BROKEN if each.whole], ids=lambda broken: broken.name)
def test_the_work_is_checked_again_before_a_start(broken: Broken) -> None:
    protocol, found = read(broken.data())
    assert protocol is not None
    assert faults(protocol, AGENTS) == found


def test_a_protocol_that_is_not_a_table_is_one_fault() -> None:
    protocol, found = read([1, 2])
    assert protocol is None
    assert [(fault.path, fault.message) for fault in found] == [("file", "a table was expected, not a list of 2")]


def test_a_file_name_that_cannot_be_an_id_is_a_fault() -> None:
    _, found = read_protocol(sound(), "My Trim.toml", AGENTS)
    assert [fault.path for fault in found] == ["file"]


def test_mild_peroxide_on_roots_beside_a_wash_on_leaves_is_allowed() -> None:
    data = sound()
    data["step"].insert(4, step("wash", "wash", on=["leaves"], agent="alcohol-soap-wash", strength=20, amount_ml=100,
                                wets=["leaves"]))
    assert read(data)[1] == ()


@pytest.mark.parametrize("agent", ["quaternary-ammonium", "bleach"])
def test_a_rinse_between_parts_two_agents(agent: str) -> None:
    data = sound()
    more = {"strength": 0.5} if agent == "bleach" else {}
    first = on_tools("first", "mild-soap", strength=1)
    rinse = step("r", "rinse", on=["tools"], agent="tap-water", amount_ml=100)
    data["step"][0:0] = [first, rinse, on_tools("second", agent, **more), step("r2", "rinse", on=["tools"])]
    assert read(data)[1] == ()


def test_a_rinse_of_leaves_does_not_take_off_what_is_on_the_roots() -> None:
    data = sound()
    put(data, "step[4].strength", 12)
    data["step"][4:4] = [step("r", "rinse", on=["leaves"], wets=["leaves"]),
                         step("wash", "wash", on=["leaves"], agent="alcohol-soap-wash", strength=20, amount_ml=100,
                              wets=["leaves"])]
    assert any(fault.grave for fault in read(data)[1])


def test_bleach_on_the_pot_does_not_meet_alcohol_on_tools() -> None:
    data = sound()
    data["step"].insert(1, step("b", "scrub", on=["pot"], agent="bleach", strength=0.5, amount_ml=100))
    assert read(data)[1] == ()


def test_between_two_plants_tools_carry_what_is_on_them_and_pots_do_not() -> None:
    bleached = whole({"title": "a", "purpose": "b", "step": [on_tools("b", "bleach", strength=0.5)]}, "a.toml")
    potted = whole({"title": "a", "purpose": "b", "step": [
        step("v", "scrub", on=["pot"], agent="vinegar", strength=5, amount_ml=10)]}, "v.toml")
    pot_bleached = whole({"title": "a", "purpose": "b", "step": [
        step("b", "scrub", on=["pot"], agent="bleach", strength=0.5, amount_ml=10)]}, "p.toml")
    trim = whole(sound())
    assert [fault.grave for fault in mixing_faults((bleached, trim), AGENTS)] == [True]
    assert mixing_faults((potted, pot_bleached), AGENTS) == ()


def test_an_owed_airing_at_a_later_step_is_enough() -> None:
    data = sound()
    put(data, "step[9].deed", "prepare")
    put(data, "step[8].deed", "rinse")
    put(data, "step[8].wets", ["crown"])
    put(data, "step[8].owes", ["air until dry"])
    put(data, "step[5].owes", [])
    assert read(data)[1] == ()


SOUND_TOO: dict[str, tuple[dict[str, Any], dict[int, list[dict[str, Any]]]]] = {
    "a say that just fits the wall": ({"step[6].say": "x" * 44}, {}),
    "a least that is the most": ({"step[4].least_min": 12}, {}),
    "blotted and aired later, nothing owed": ({"step[5].owes": []}, {}),
    "a wash at the strongest a leaf bears": ({}, {4: [step(
        "wash", "wash", on=["leaves"], agent="alcohol-soap-wash", strength=25, amount_ml=9, wets=["leaves"])]}),
    "cut and dressed only where pests were seen": ({"step[3].only_if": "pests", "step[7].only_if": "pests"}, {}),
    "cut only where pests were seen, dressed always": ({"step[3].only_if": "pests"}, {}),
    "washed only where pests were seen, dried always": ({}, {4: [step(
        "wash", "wash", on=["leaves"], agent="alcohol-soap-wash", strength=20, amount_ml=9, wets=["leaves"],
        only_if="pests")]}),
    "as many steps as may be": ({}, {0: [step(f"s{n}", "prepare") for n in range(51)]}),
}


@pytest.mark.parametrize("name", SOUND_TOO)
def test_what_is_just_allowed_is_no_fault(name: str) -> None:
    data, (at, added) = sound(), SOUND_TOO[name]
    for path, value in at.items():
        put(data, path, value)
    for place, steps in added.items():
        data["step"][place:place] = steps
    assert read(data)[1] == ()


def wash_then(*between: dict[str, Any]) -> tuple[bool, ...]:
    """Whether bleach on the roots gravely meets a pests-only wash of leaves and roots, with steps between."""
    wash = step("wash", "wash", on=["leaves", "roots"], agent="alcohol-soap-wash", strength=20, only_if="pests")
    bleach = step("bleach", "treat", on=["roots"], agent="bleach", strength=0.5)
    wet = ("roots", "leaves", "crown")
    steps = [{**each, "wets": [part for part in wet if part in each["on"] or each["on"] == ["plant"]]}
             for each in (wash, *between, bleach)]
    protocol = whole({"title": "a", "purpose": "b", "step": steps})
    return tuple(fault.grave for fault in mixing_faults((protocol,), AGENTS))


@pytest.mark.parametrize(("between", "meets"), [
    ([], (True,)),
    ([step("r", "rinse", on=["plant"])], ()),
    ([step("r", "rinse", on=["plant"], only_if="pests")], ()),
    ([step("r", "rinse", on=["leaves"])], (True,)),
    ([step("r", "rinse", on=["leaves"]), step("s", "rinse", on=["roots"])], ()),
    ([step("r", "rinse", on=["plant"]), step("s", "rinse", on=["leaves"])], ()),
], ids=["none", "whole", "in the same case", "in part", "part by part", "again"])
def test_a_rinse_takes_off_what_it_reaches(between: list[dict[str, Any]], meets: tuple[bool, ...]) -> None:
    assert wash_then(*between) == meets


@pytest.mark.parametrize(("deed", "known"), [("rinse", True), ("soak tools", True), ("Rinse", False), ("", False)])
def test_words_are_taken_exactly(deed: str, known: bool) -> None:
    data = {"title": "a", "purpose": "b", "step": [step("s", deed, on=["tools"])]}
    assert (read(data)[0] is not None) is known


SCALARS = st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=60), st.dates(), st.times(),
                    st.just(10 ** 400), st.sampled_from(["roots", "soak", "treat", "tools", "hydrogen-peroxide"]))
KEYS = st.one_of(st.text(max_size=12), st.sampled_from([
    "title", "purpose", "step", "material", "cautions", "id", "say", "page", "deed", "work", "on", "agent", "strength",
    "after", "wets", "owes", "asks", "check", "days", "what", "amount", "least_min", "most_min", "only_if", "source"]))
TREES = st.recursive(
    SCALARS, lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(KEYS, inner, max_size=6)),
    max_leaves=30)


@given(TREES)
@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_reading_never_raises_whatever_stands_in_the_file(data: Any) -> None:
    protocol, found = read(data)
    assert found or protocol is not None
    assert all(fault.path and fault.message and fault.file == "trim.toml" for fault in found)


@given(st.integers(0, 8), KEYS, TREES)
@settings(max_examples=400, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_one_odd_value_in_a_sound_protocol_never_raises(place: int, key: str, value: Any) -> None:
    data = sound()
    data["step"][place][key] = value
    protocol, found = read(data)
    assert protocol is not None or found
    if protocol is not None:
        assert faults(protocol, AGENTS) == found


@given(st.permutations(range(9)))
@settings(max_examples=60, deadline=None)
def test_steps_in_any_order_are_checked_without_stopping(order: list[int]) -> None:
    data = sound()
    data["step"] = [copy.deepcopy(data["step"][n]) for n in order]
    protocol, found = read(data)
    assert protocol is not None
    later = sum(1 for number, each in enumerate(protocol.steps) for before in each.after
                if before in {after.id for after in protocol.steps[number:]})
    assert sum(1 for fault in found if ".after[" in fault.path) == later


@pytest.mark.parametrize(("length", "faulty"), [(44, False), (45, True)])
def test_a_step_built_by_hand_must_fit_the_wall_too(length: int, faulty: bool) -> None:
    steps = whole(sound()).steps
    built = Protocol("built", "Built", "Why", (*steps[:8], replace(steps[8], say="x" * length)),
                     whole(sound()).materials)
    assert [fault.path for fault in faults(built, AGENTS)] == (["step[9].say"] if faulty else [])
