"""The plan to the minute where a tool or a soak is under way: when it is free again, and what that leaves to hands."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from greenhouse_desk.domain.bench import CELLS, Job, Plan, PlanStep, Run, RunStep, Sitting, Soak, State, plan, plan_left
from greenhouse_desk.domain.bench_choice import TOOL_SOAK_LEAST_MIN
from greenhouse_desk.domain.journal import Part
from greenhouse_desk.domain.protocols import Deed, ProtocolStep, Work
from tests.builders import NOW

SOAK = TOOL_SOAK_LEAST_MIN.value
SNIP = ProtocolStep("snip", "Snip", "", Deed.CUT, minutes=5, tool=True)
DRESS = ProtocolStep("dress", "Dress", "", Deed.DRESS, agent="cinnamon", minutes=1, after=("snip",))
WIPE = ProtocolStep("wipe", "Wipe", "", Deed.HYGIENE, minutes=2)


def hands(made: Plan) -> list[tuple[int | None, str, float, float]]:
    """What hands do: plant, step, from and to (minutes)."""
    return [(bar.plant, bar.step, bar.start_min, bar.end_min) for bar in made.steps if bar.lane == "hands"]


def tool_soaks(made: Plan) -> list[tuple[str, float, float]]:
    """Which tool soaks from when to when (minutes)."""
    return [(bar.tool, bar.start_min, bar.end_min) for bar in made.steps if bar.lane == "tool soak"]


def test_one_tool_is_waited_for_until_its_soak_is_over() -> None:
    made = plan([Job(101, (SNIP,)), Job(102, (SNIP,))], ("cutter A",))
    assert hands(made) == [(101, "snip", 0, 5), (102, "snip", 5 + SOAK, 10 + SOAK)]
    assert tool_soaks(made) == [("cutter A", 5, 5 + SOAK), ("cutter A", 10 + SOAK, 10 + 2 * SOAK)]
    assert made.makespan_minutes == 10 + 2 * SOAK


def test_a_second_tool_is_not_waited_for() -> None:
    made = plan([Job(101, (SNIP,)), Job(102, (SNIP,))], ("cutter A", "cutter B"))
    assert hands(made) == [(101, "snip", 0, 5), (102, "snip", 5, 10)]


def test_a_tool_that_is_clean_at_that_very_minute_is_taken() -> None:
    wait = replace(WIPE, minutes=SOAK)
    made = plan([Job(101, (SNIP,)), Job(102, (wait, replace(SNIP, after=("wipe",))))], ("cutter A",))
    assert hands(made) == [(101, "snip", 0, 5), (102, "wipe", 5, 5 + SOAK), (102, "snip", 5 + SOAK, 10 + SOAK)]


def at_the_bench(soaked_s: float) -> Sitting:
    """Both cutters went into ethanol so many seconds ago; 101 is to be cut."""
    runs = (Run(31, 101, "", "", "", (RunStep(1, 0, SNIP),)),)
    soaks = tuple(Soak(number, f"{tool} in 70 % ethanol", "ethanol", NOW - timedelta(seconds=soaked_s), 60 * SOAK, 7200,
                       tool=tool) for number, tool in enumerate(("cutter A", "cutter B"), 1))
    return Sitting(1, NOW - timedelta(hours=1), runs, soaks)


@pytest.mark.parametrize("soaked_s", [0, 60, 90])
def test_what_is_left_waits_for_tools_already_in_their_soak(soaked_s: float) -> None:
    free = SOAK - soaked_s / 60
    assert hands(plan_left(at_the_bench(soaked_s), NOW)) == [(101, "snip", free, free + 5)]


def test_a_tool_whose_soak_is_over_is_free_at_once() -> None:
    assert hands(plan_left(at_the_bench(60 * SOAK + 30), NOW))[0] == (101, "snip", 0, 5)


def test_a_cut_is_dressed_in_the_plan_and_only_a_cut_is() -> None:
    made = plan([Job(101, (SNIP, DRESS, replace(WIPE, after=("dress",))))], ("cutter A",))
    assert [step for _plant, step, _start, _end in hands(made)] == ["snip", "dress", "wipe"]


def misted(number: int, minutes_in: float) -> tuple[Run, Soak]:
    """A plant in a mist of 10 to 20 minutes since so long, with its rinse and a wipe of the pot meanwhile to come."""
    mist = ProtocolStep("mist", "Mist", "", Deed.TREAT, Work.SOAK, (Part.ROOTS,), "peroxide", 3.0, least_min=10,
                        most_min=20)
    rinse = ProtocolStep("rinse", "Rinse", "", Deed.RINSE, minutes=1, after=("mist",))
    meanwhile = replace(WIPE, on=(Part.POT,), meanwhile=True)
    steps = (RunStep(10 * number, 0, mist, State.SOAKING), RunStep(10 * number + 1, 1, meanwhile),
             RunStep(10 * number + 2, 2, rinse))
    run = Run(number, 70 + number, "", "", "", steps)
    return run, Soak(number, "roots", "peroxide", NOW - timedelta(minutes=minutes_in), 600, 1200, number, 10 * number)


def test_hands_work_on_while_every_cell_is_taken_by_a_soak() -> None:
    full = [misted(number, 1) for number in range(1, CELLS + 1)]
    runs, soaks = tuple(run for run, _ in full), tuple(soak for _, soak in full)
    made = plan_left(Sitting(1, NOW - timedelta(hours=1), runs, soaks), NOW)
    wiped = [(start, end) for _plant, step, start, end in hands(made) if step == "wipe"]
    assert wiped[0] == (0, 2), "what is no soak needs no cell"
    assert made.overruns == ()


def test_no_soak_is_begun_while_every_cell_is_taken() -> None:
    full = [misted(number, 1) for number in range(1, CELLS + 1)]
    more = ProtocolStep("dip", "Dip", "", Deed.TREAT, Work.SOAK, (Part.ROOTS,), "peroxide", 3.0, minutes=1, least_min=3,
                        most_min=30)
    runs = (*(run for run, _ in full), Run(99, 199, "", "", "", (RunStep(990, 0, more),)))
    made = plan_left(Sitting(1, NOW - timedelta(hours=1), runs, tuple(soak for _, soak in full)), NOW)
    (dip,) = [bar for bar in made.steps if bar.lane == "hands" and bar.step == "dip"]
    ends: list[PlanStep] = [bar for bar in made.steps if bar.lane == "soak" and bar.step == "mist"]
    assert dip.start_min >= min(bar.end_min for bar in ends) >= 9
