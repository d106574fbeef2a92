"""Questions at the bench: one at a time, each answer kept, sightings in a loop."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from greenhouse_desk.domain.bench import PestChoice, RunStep
from greenhouse_desk.domain.bench_questions import WHERE, accepted, answers, dialled, question
from greenhouse_desk.domain.faults import OutOfRange
from greenhouse_desk.domain.journal import Sighted
from greenhouse_desk.domain.protocols import Asks, Deed, ProtocolStep

PESTS = (PestChoice("mealybug", "mealybugs", ("crawler", "adult")), PestChoice("soft-rot", "soft rot"))


def asking(*asks: Asks, found: tuple[int, ...] = ()) -> RunStep:
    return RunStep(1, 1, ProtocolStep("s", "Say", "", Deed.INSPECT, asks=asks), found=found)


def test_the_first_step_of_the_share_removed_is_the_share_dead_in_steps_of_five() -> None:
    asked = question(asking(Asks.LIVING, Asks.DEAD, Asks.REMOVED, found=(7, 3)), PESTS)
    assert asked is not None
    assert (asked.start, asked.by, asked.unit, asked.high) == (None, 5, "%", 100)
    assert [dialled(asked, None, steps) for steps in (1, -1)] == [30, 30]
    assert dialled(asked, 30, 1) == 35


def test_sightings_ask_what_stage_where_and_how_many_until_nothing_more() -> None:
    step, prompts = asking(Asks.SIGHTINGS), []
    for answer in (2, 2, 1, 4, 2, 0, 3, 1, 0):
        asked = question(step, PESTS)
        assert asked is not None
        prompts.append(asked.prompt)
        step = replace(step, found=(*step.found, answer))
    assert question(step, PESTS) is None
    assert prompts[:4] == ["Pests or diseases seen?", "mealybugs: which stage?", "mealybugs: where?",
                           "mealybugs: how many?"]
    assert answers(step, PESTS).sighted == (
        Sighted("mealybug", "adult", WHERE[1], 4), Sighted("soft-rot", "", WHERE[3], 1))


def test_questions_after_the_sightings_still_come() -> None:
    step = asking(Asks.SIGHTINGS, Asks.POOL, found=(2, 0, 0, 1, 0))
    asked = question(step, PESTS)
    assert asked is not None
    assert asked.choices == ("no", "yes")
    assert answers(replace(step, found=(*step.found, 1)), PESTS).numbers == {Asks.POOL: 1}


@pytest.mark.parametrize(("answer", "looked"), [(0, False), (1, True)])
def test_only_who_looked_has_looked(answer: int, looked: bool) -> None:
    asked = question(asking(Asks.SIGHTINGS), PESTS)
    assert asked is not None
    assert (asked.start, asked.choices[:2]) == (0, ("not looked at now", "looked: nothing seen"))
    told = answers(asking(Asks.SIGHTINGS, found=(answer,)), PESTS)
    assert (told.looked, told.sighted) == (looked, ())
    assert question(asking(Asks.SIGHTINGS, found=(answer,)), PESTS) is None


def test_an_answer_out_of_range_is_refused_and_none_is_no_answer() -> None:
    asked = question(asking(Asks.CUTS), PESTS)
    assert asked is not None
    assert accepted(asked, None) is None
    assert accepted(replace(asked, start=3), None) == 3
    for value in (-1, 21):
        with pytest.raises(OutOfRange):
            accepted(asked, value)


@given(st.lists(st.sampled_from(Asks), max_size=5, unique=True), st.data())
def test_every_walk_through_the_questions_ends_and_uses_every_answer(asks: list[Asks], data: st.DataObject) -> None:
    step, seen = asking(*asks), 0
    while (asked := question(step, PESTS)) is not None:
        stop = asked.prompt == "Pests or diseases seen?" and seen >= 2
        seen += asked.prompt == "Pests or diseases seen?"
        value = 0 if stop else data.draw(st.integers(asked.low, asked.high))
        assert dialled(asked, value, 1000) == asked.high
        assert dialled(asked, value, -1000) == asked.low
        assert accepted(asked, value) == value
        step = replace(step, found=(*step.found, value))
    told = answers(step, PESTS)
    used = len(told.numbers) + 4 * len(told.sighted) + (Asks.SIGHTINGS in asks)
    assert used == len(step.found)
