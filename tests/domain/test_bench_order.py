"""Cleanest first: what may carry something is not begun beside a cleaner plant, on the board and in the plan."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings

from greenhouse_desk.domain.bench import Action, Job, Plan, Run, RunStep, Sitting, Soak, State, board, plan, plan_left
from greenhouse_desk.domain.bench_order import PEST_STANDINGS
from greenhouse_desk.domain.journal import Part
from greenhouse_desk.domain.protocols import Deed, ProtocolStep, Work
from tests.builders import NOW
from tests.domain.test_bench_plan import JOBS, TINY, chain

ZONE = ZoneInfo("Europe/London")
STEEP = ProtocolStep("steep", "Steep", "", Deed.SCRUB, Work.SOAK, (Part.POT,), "bleach", least_min=30, most_min=60)
POT_UP = ProtocolStep("pot", "Pot up", "", Deed.POT, minutes=3, after=("steep",))
LOOK = ProtocolStep("look", "Look", "", Deed.INSPECT, minutes=2)


def run(number: int, *steps: ProtocolStep, standing: str = "clear") -> Run:
    """A run of plant 100 + number, nothing done yet."""
    return Run(number, 100 + number, "", "p", "P", tuple(RunStep(10 * number + n, n, step)
                                                       for n, step in enumerate(steps)), standing)


def steeping(number: int) -> tuple[Run, Soak]:
    """A clear plant whose pot has been in its soak for ten minutes."""
    made = run(number, STEEP, POT_UP)
    made = replace(made, steps=(replace(made.steps[0], state=State.SOAKING), made.steps[1]))
    return made, Soak(number, "pot in bleach", "bleach", NOW - timedelta(minutes=10), 1800, 3600, number,
                      made.steps[0].id)


def sitting(*runs: Run, soaks: tuple[Soak, ...] = ()) -> Sitting:
    return Sitting(1, NOW - timedelta(hours=1), runs, soaks)


@pytest.mark.parametrize("standing", PEST_STANDINGS)
def test_hands_wait_for_the_soak_of_a_clean_plant(standing: str) -> None:
    one, soak = steeping(1)
    seen = board(sitting(one, run(2, LOOK, standing=standing), soaks=(soak,)), NOW, ZONE)
    assert (seen.instruction.action, seen.instruction.plant) == (Action.WAIT, 101)
    assert seen.instruction.caution == "Cleanest first: 102 waits until 101 is finished. Wash your hands."
    assert seen.queue[1].words == "waits until 101 is finished"


@pytest.mark.parametrize("standing", ["clear", "exposed", "newcomer"])
def test_what_carries_nothing_as_far_as_known_is_begun_meanwhile(standing: str) -> None:
    one, soak = steeping(1)
    seen = board(sitting(one, run(2, LOOK, standing=standing), soaks=(soak,)), NOW, ZONE)
    assert (seen.instruction.action, seen.instruction.plant) == (Action.HANDS, 102)


def test_several_are_told_in_one_sentence() -> None:
    (one, first), (two, second) = steeping(1), steeping(2)
    held = (run(3, LOOK, standing="suspect"), run(4, LOOK, standing="infested"))
    seen = board(sitting(one, two, *held, soaks=(first, second)), NOW, ZONE)
    assert seen.instruction.caution == (
        "Cleanest first: 103 and 104 wait until 101 and 102 are finished. Wash your hands.")
    assert seen.queue[3].words == "waits until 101, 102 and 103 are finished"


def test_one_that_is_begun_or_was_put_first_by_the_grower_goes_on() -> None:
    one, soak = steeping(1)
    dirty = run(2, LOOK, replace(LOOK, id="again"), standing="infested")
    begun = replace(dirty, steps=(replace(dirty.steps[0], state=State.DONE, done_at=NOW), dirty.steps[1]))
    assert board(sitting(one, begun, soaks=(soak,)), NOW, ZONE).instruction.plant == 102
    assert board(sitting(dirty, run(1, LOOK)), NOW, ZONE).instruction.plant == 102


def overruled() -> tuple[Sitting, Run]:
    """The grower put an infested plant first: its pot is in its soak, two clear ones stand behind it."""
    dirty, soak = steeping(1)
    dirty = replace(dirty, standing="infested")
    return sitting(dirty, run(2, LOOK), run(3, LOOK), soaks=(soak,)), dirty


def test_cleaner_plants_wait_for_a_dirtier_one_that_the_grower_put_first() -> None:
    at, _dirty = overruled()
    seen = board(at, NOW, ZONE)
    assert (seen.instruction.action, seen.instruction.plant) == (Action.WAIT, 101)
    assert seen.instruction.caution == (
        "101 (infested) is begun already: 102 and 103 wait until 101 is finished. Wash your hands.")
    assert [row.words for row in seen.queue[1:]] == ["waits until 101 is finished"] * 2


def test_after_it_hands_pass_to_the_cleaner_ones_once_and_are_told_so() -> None:
    at, dirty = overruled()
    done = replace(dirty, steps=tuple(replace(step, state=State.DONE, done_at=NOW) for step in dirty.steps))
    seen = board(replace(at, runs=(done, *at.runs[1:]), soaks=()), NOW, ZONE).instruction
    assert (seen.action, seen.plant) == (Action.HANDS, 102)
    assert seen.caution.startswith("Coming from 101 (infested): fresh gloves first.")


def test_one_put_first_that_hands_were_not_on_yet_keeps_nobody_waiting() -> None:
    at, dirty = overruled()
    fresh = replace(dirty, steps=tuple(replace(step, state=State.OPEN) for step in dirty.steps))
    assert [row.words for row in board(replace(at, runs=(fresh, *at.runs[1:]), soaks=()), NOW, ZONE).queue[1:]] == [
        "next: inspect"] * 2


def test_in_the_plan_hands_are_done_with_one_put_first_before_they_take_up_cleaner_ones() -> None:
    steps = chain((3, 4, 1, 3, 2, 5), 10, 2, True, 5)
    made = plan([Job(101, steps, 1), Job(102, steps, 0, standing="infested"), Job(103, steps, 2)])
    order = [bar.plant for bar in made.steps if bar.lane == "hands"]
    assert order[0] == 102
    assert 102 not in order[order.index(101):]
    assert 102 not in order[order.index(103):]
    assert made.overruns == ()


def test_an_open_cut_of_a_clean_plant_is_seen_to_before_a_suspect_one_is_begun() -> None:
    cut = run(1, LOOK)
    cut = replace(cut, steps=(replace(cut.steps[0], state=State.DONE, done_at=NOW),))
    at = replace(sitting(cut, run(2, LOOK, standing="suspect")), cuts_open=frozenset({101}))
    seen = board(at, NOW, ZONE).instruction
    assert (seen.action, seen.plant, seen.say) == (Action.LOOSE_END, 101, "Dress the cuts of 101")


def test_what_is_seen_to_after_a_dirtier_plant_wants_fresh_gloves() -> None:
    done = run(2, LOOK, standing="infested")
    done = replace(done, steps=(replace(done.steps[0], state=State.DONE, done_at=NOW),))
    clean = run(1, LOOK)
    clean = replace(clean, steps=(replace(clean.steps[0], state=State.SKIPPED),))
    at = replace(sitting(clean, done), unpotted=frozenset({101}))
    seen = board(at, NOW, ZONE).instruction
    assert (seen.action, seen.caution) == (Action.LOOSE_END, "Coming from 102 (infested): fresh gloves first.")


def apart(made: Plan, dirty: set[int]) -> bool:
    """Whether hands are done with all others before they take up one of the dirty."""
    hands = [bar for bar in made.steps if bar.lane == "hands"]
    return max((bar.end_min for bar in hands if bar.plant not in dirty), default=0.0) <= TINY + min(
        (bar.start_min for bar in hands if bar.plant in dirty), default=0.0)


@settings(max_examples=40, deadline=None)
@given(JOBS)
def test_in_the_plan_hands_do_not_come_back_from_a_suspect_plant(jobs: list[Job]) -> None:
    jobs = [replace(job, standing="infested" if job.rank == 3 else "clear") for job in jobs]
    dirty = {job.plant for job in jobs if job.rank == 3}
    made = plan(jobs)
    assert len(dirty) == len(jobs) or not dirty or apart(made, dirty)
    assert made.overruns == ()


def test_the_plan_of_what_is_left_waits_too() -> None:
    one, soak = steeping(1)
    made = plan_left(sitting(one, run(2, LOOK, standing="under watch"), soaks=(soak,)), NOW)
    assert [(bar.plant, bar.start_min) for bar in made.steps if bar.lane == "hands"] == [(101, 20), (102, 23)]


def test_the_grower_may_put_a_suspect_plant_first_in_the_plan() -> None:
    steps = chain((3, 4, 1, 3, 2, 5), 10, 2, True, 5)
    made = plan([Job(101, steps, 1), Job(102, steps, 0, standing="infested")])
    assert next(bar.plant for bar in made.steps if bar.lane == "hands") == 102
    assert made.overruns == ()
