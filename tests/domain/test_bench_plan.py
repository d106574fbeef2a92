"""The plan keeps what hands and soaks can keep: one thing at a time, between least and most, cleanest first."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from greenhouse_desk.domain.bench import (
    CELLS,
    Job,
    Plan,
    PlanStep,
    Run,
    RunStep,
    Sitting,
    Soak,
    State,
    ToolUse,
    plan,
    plan_left,
)
from greenhouse_desk.domain.bench_plan import SIDE_BY_SIDE
from greenhouse_desk.domain.journal import Part
from greenhouse_desk.domain.protocols import Deed, ProtocolStep, Work
from tests.builders import NOW

TINY = 1e-6


def chain(minutes: tuple[float, ...], least: float, window: float, tool: bool, pot: float) -> tuple[ProtocolStep, ...]:
    """Unpot, cut, a soak, a pot scrubbed meanwhile, rinse, pot up: every soak is followed by its own rinse."""
    unpot, cut, mist, scrub, rinse, up = minutes
    return (
        ProtocolStep("unpot", "Unpot", "", Deed.UNPOT, minutes=unpot),
        ProtocolStep("cut", "Cut", "", Deed.CUT, minutes=cut, tool=tool, after=("unpot",)),
        ProtocolStep("mist", "Mist", "", Deed.TREAT, Work.SOAK, (Part.ROOTS,), "peroxide", 3.0, minutes=mist,
                     least_min=least, most_min=least + window, after=("cut",)),
        ProtocolStep("scrub", "Scrub", "", Deed.SCRUB, on=(Part.POT,), minutes=scrub, meanwhile=True, after=("unpot",)),
        ProtocolStep("steep", "Steep", "", Deed.SCRUB, Work.SOAK, (Part.POT,), "bleach", minutes=0.5, least_min=pot,
                     most_min=pot + 30, meanwhile=True, after=("scrub",)),
        ProtocolStep("rinse", "Rinse", "", Deed.RINSE, minutes=rinse, after=("mist",)),
        ProtocolStep("pot", "Pot up", "", Deed.POT, minutes=up, after=("rinse", "steep")),
    )


MINUTES = st.floats(0.5, 9).map(lambda value: round(value, 1))
CHAINS = st.builds(chain, st.tuples(*[MINUTES] * 6), st.sampled_from([3.0, 10.0, 20.0]),
                   st.sampled_from([0.0, 2.0, 10.0]), st.booleans(), st.sampled_from([5.0, 30.0]))
JOBS = st.lists(st.tuples(CHAINS, st.integers(0, 3)), min_size=1, max_size=9).map(
    lambda rows: [Job(101 + number, steps, rank) for number, (steps, rank) in enumerate(rows)])
TOOLS = st.sampled_from([("cutter A",), ("cutter A", "cutter B")])


def lane(made: Plan, name: str) -> list[PlanStep]:
    return [bar for bar in made.steps if bar.lane == name]


@settings(max_examples=50, deadline=None)
@given(JOBS, TOOLS)
def test_hands_do_one_thing_at_a_time_and_everything_is_done(jobs: list[Job], tools: tuple[str, ...]) -> None:
    made = plan(jobs, tools)
    hands = sorted(lane(made, "hands"), key=lambda bar: bar.start_min)
    assert all(before.end_min <= after.start_min + TINY for before, after in pairwise(hands))
    wanted = sorted((job.plant, step.id) for job in jobs for step in job.steps)
    assert sorted((bar.plant, bar.step) for bar in hands) == wanted
    assert made.makespan_minutes == max(bar.end_min for bar in made.steps)


@settings(max_examples=50, deadline=None)
@given(JOBS, TOOLS)
def test_soaks_are_kept_between_least_and_most(jobs: list[Job], tools: tuple[str, ...]) -> None:
    made = plan(jobs, tools)
    steps = {(job.plant, step.id): step for job in jobs for step in job.steps}
    assert made.overruns == ()
    for bar in lane(made, "soak"):
        step, lasts = steps[bar.plant or 0, bar.step], bar.end_min - bar.start_min
        assert step.least_min - TINY <= lasts <= step.most_min + TINY


@settings(max_examples=40, deadline=None)
@given(JOBS, TOOLS)
def test_what_must_come_before_comes_before(jobs: list[Job], tools: tuple[str, ...]) -> None:
    made = plan(jobs, tools)
    over = {(bar.plant, bar.step): bar.end_min for bar in made.steps if bar.lane != "tool soak"}
    for bar in lane(made, "soak"):
        over[bar.plant, bar.step] = bar.end_min
    starts = {(bar.plant, bar.step): bar.start_min for bar in lane(made, "hands")}
    for job in jobs:
        for step in job.steps:
            assert all(over[job.plant, before] <= starts[job.plant, step.id] + TINY for before in step.after)


@settings(max_examples=40, deadline=None)
@given(JOBS, TOOLS)
def test_a_tool_touches_the_next_plant_only_after_its_soak_and_six_soaks_run_at_most(
        jobs: list[Job], tools: tuple[str, ...]) -> None:
    made = plan(jobs, tools)
    for tool in tools:
        uses = sorted((bar for bar in lane(made, "hands") if bar.tool == tool), key=lambda bar: bar.start_min)
        for before, after in pairwise(uses):
            if before.plant != after.plant:
                assert any(soak.tool == tool and before.end_min <= soak.start_min + TINY
                           and soak.end_min <= after.start_min + TINY for soak in lane(made, "tool soak"))
    soaks = lane(made, "soak")
    assert all(sum(bar.start_min <= at.start_min + TINY and at.start_min + TINY < bar.end_min for bar in soaks) <= CELLS
               for at in soaks)


@settings(max_examples=30, deadline=None)
@given(JOBS)
def test_the_cleanest_plant_is_begun_first(jobs: list[Job]) -> None:
    begun: dict[int, float] = {}
    for bar in sorted(lane(plan(jobs), "hands"), key=lambda bar: bar.start_min):
        begun.setdefault(bar.plant or 0, bar.start_min)
    wanted = [job.plant for job in sorted(jobs, key=lambda job: (job.rank, job.plant))]
    assert sorted(begun, key=lambda plant: begun[plant]) == wanted


def test_soaks_side_by_side_save_time() -> None:
    steps = chain((3, 4, 1, 3, 2, 5), 10, 2, True, 5)
    one, three = plan([Job(101, steps)]), plan([Job(number, steps) for number in (101, 102, 103)])
    assert three.rule == SIDE_BY_SIDE
    assert three.makespan_minutes < 2.5 * one.makespan_minutes


def test_two_soaks_that_one_rinse_ends_and_that_cannot_meet_are_told() -> None:
    steps = (ProtocolStep("mist", "Mist", "", Deed.TREAT, Work.SOAK, (Part.ROOTS,), minutes=1, least_min=10,
                          most_min=12),
             ProtocolStep("wash", "Wash", "", Deed.WASH, Work.SOAK, (Part.LEAVES,), minutes=6, least_min=10,
                          most_min=12, meanwhile=True),
             ProtocolStep("rinse", "Rinse", "", Deed.RINSE, minutes=2, after=("mist", "wash")))
    made = plan([Job(101, steps)])
    assert made.overruns == ("101: Mist lasts 4 min over its most",)


def test_steps_that_wait_for_each_other_are_told_and_the_plan_still_ends() -> None:
    steps = (ProtocolStep("a", "A", "", Deed.HYGIENE, after=("b",)),
             ProtocolStep("b", "B", "", Deed.HYGIENE, after=("a",)))
    assert {bar.step for bar in plan([Job(101, steps)]).steps} == {"a", "b"}


STAND = ProtocolStep("stand", "Stand two tools in alcohol", "", Deed.SOAK_TOOLS, Work.SOAK, (Part.TOOLS,), "ethanol",
                     70.0, least_min=3, most_min=120, meanwhile=True)


def test_a_soak_of_tools_is_a_row_of_its_own() -> None:
    steps = (STAND, ProtocolStep("snip", "Snip", "", Deed.CUT, tool=True, after=("stand",)))
    made = plan([Job(101, steps)], names={"ethanol": "ethanol for tools"})
    assert lane(made, "soak") == []
    first, last = lane(made, "tool soak")
    assert (first.plant, first.tool, first.say) == (None, "cutters", "cutters in 70 % ethanol")
    assert (last.plant, last.tool, last.say) == (None, "cutter A", "cutter A in 70 % ethanol")


def test_planned_cuts_are_planned_to_be_dressed() -> None:
    steps = (ProtocolStep("snip", "Snip", "", Deed.CUT, after=()),
             ProtocolStep("dress", "Dress", "", Deed.DRESS, agent="cinnamon", minutes=3, after=("snip",)))
    assert [bar.step for bar in plan([Job(101, steps)]).steps] == ["snip", "dress"]


def begun(minutes_ago: float) -> Sitting:
    """101 in its mist since so long, 102 unpotted, the tools laid out."""
    steps = chain((3, 4, 1, 3, 2, 5), 10, 2, True, 5)
    states = {"unpot": State.DONE, "cut": State.DONE, "mist": State.SOAKING}
    first = tuple(RunStep(n, n, step, states.get(step.id, State.OPEN), NOW - timedelta(minutes=20 - n)
                          if states.get(step.id) is State.DONE else None) for n, step in enumerate(steps))
    other = tuple(RunStep(50 + n, n, step) for n, step in enumerate(steps))
    soak = Soak(1, "roots", "peroxide", NOW - timedelta(minutes=minutes_ago), 600, 720, 31, 2)
    runs = (Run(31, 101, "", "", "", first), Run(32, 102, "", "", "", other))
    return Sitting(1, NOW - timedelta(hours=1), runs, (soak,), (ToolUse("cutter A", 101, NOW - timedelta(minutes=15)),))


def test_what_is_left_is_planned_anew_from_the_sitting() -> None:
    made = plan_left(begun(4), NOW)
    hands = {(bar.plant, bar.step) for bar in lane(made, "hands")}
    assert hands == {(101, "scrub"), (101, "steep"), (101, "rinse"), (101, "pot")} | {
        (102, step) for step in ("unpot", "cut", "mist", "scrub", "steep", "rinse", "pot")}
    mist = next(bar for bar in lane(made, "soak") if bar.plant == 101 and bar.step == "mist")
    assert mist.start_min == -4
    assert 6 <= mist.end_min <= 8
    assert made.overruns == ()
    tool = lane(made, "tool soak")[0]
    assert (tool.tool, tool.start_min) == ("cutter A", 0), "the used tool goes into alcohol first"


def test_a_soak_that_is_over_its_most_is_told_in_what_is_left() -> None:
    assert plan_left(begun(15), NOW).overruns == ("101: Mist lasts 3 min over its most",)


def test_a_plan_of_nothing_left_is_empty() -> None:
    at = begun(4)
    done = replace(at, soaks=(), runs=tuple(replace(run, steps=tuple(
        replace(step, state=State.DONE, done_at=NOW) for step in run.steps)) for run in at.runs))
    assert [bar.lane for bar in plan_left(done, NOW).steps] == ["tool soak"]


def test_a_tool_kept_for_a_plant_with_virus_signs_is_not_planned_for_others() -> None:
    made = plan_left(replace(begun(4), virus=frozenset({101})), NOW)
    assert {bar.tool for bar in lane(made, "hands") if bar.plant == 102 and bar.tool} == {"cutter B"}
