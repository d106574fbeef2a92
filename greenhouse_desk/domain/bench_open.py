"""What stands open at the bench: soaks, agents not rinsed off, bare roots, cuts, wet plants; where work was stopped."""

from __future__ import annotations

from dataclasses import replace

from greenhouse_desk.domain.bench_questions import answers
from greenhouse_desk.domain.bench_rinse import unrinsed
from greenhouse_desk.domain.bench_turns import ALL_TOOLS, Blocked, bath, needed, plant_of, running, turn, whose
from greenhouse_desk.domain.bench_values import LooseEnd, LooseKind, Run, Sitting, State
from greenhouse_desk.domain.countdown import Soak


def loose_ends(sitting: Sitting) -> tuple[LooseEnd, ...]:
    """What must not be left quietly: soaks, agents still on, bare plants, undressed cuts, wet plants without air; one
    way out each. A plant with an agent on is not to be dried: it is rinsed first."""
    ends = [_running_end(sitting, soak) for soak in running(sitting)]
    agents_on = frozenset(run.plant for run in sitting.runs if unrinsed(run))
    for kind, plants, words, way_out in (
            (LooseKind.AGENT, agents_on, "{} has its agent still on, not rinsed off", "Rinse {} before it dries"),
            (LooseKind.UNPOTTED, sitting.unpotted, "{} is out of its pot, its roots bare", "Pot {} up"),
            (LooseKind.CUT, sitting.cuts_open, "{} has an undressed cut", "Dress the cuts of {}"),
            (LooseKind.WET, sitting.wet - sitting.aired - agents_on, "{} is wet without moving air",
             "Put moving air on {}")):
        ends += [LooseEnd(kind, plant, words.format(plant), way_out.format(plant)) for plant in sorted(plants)]
    over = {run.plant for run in sitting.runs if stopped(sitting, run)}
    return tuple(replace(end, way_out=f"{end.way_out} for now") if end.kind is LooseKind.UNPOTTED and end.plant in over
                 else end for end in ends)


def left_open(sitting: Sitting, run: Run) -> tuple[LooseEnd, ...]:
    """What stands open on the plant of this run, running soaks aside: an agent still on comes first, and the cuts of
    bare roots before the pot."""
    mine = [end for end in loose_ends(sitting) if end.plant == run.plant and end.kind is not LooseKind.SOAK]
    first = (LooseKind.AGENT, LooseKind.CUT)
    return tuple(sorted(mine, key=lambda end: first.index(end.kind) if end.kind in first else len(first)))


def left_on(sitting: Sitting, run: Run) -> frozenset[LooseKind]:
    """The kinds of what stands open on the plant of this run, running soaks aside."""
    return frozenset(end.kind for end in left_open(sitting, run))


def still_open(sitting: Sitting) -> tuple[str, ...]:
    """What a session that ends now leaves open, each with its way out, in words."""
    words = [f"{loose.words}. {loose.way_out}." for loose in loose_ends(sitting)]
    for run in sitting.runs:
        if turn(sitting, run).blocked is not Blocked.DONE:
            count = sum(not step.closed for step in needed(sitting, run))
            words.append(f"{run.plant}: {count} step{'s' if count > 1 else ''} not done. Leave and take it up later.")
    return tuple(words)


def stopped(sitting: Sitting, run: Run) -> bool:
    """Whether the work on this plant was stopped at one of its steps."""
    return any(answers(step, sitting.choices).stops for step in run.steps if step.state is State.DONE)


def sees_to(sitting: Sitting, run: Run) -> bool:
    """Whether the work on this plant was stopped and what stands open on it is to be seen to now."""
    return stopped(sitting, run) and not any(
        answers(step, sitting.choices).leaves_open for step in run.steps if step.state is State.DONE)


def knowingly_open(sitting: Sitting, run: Run) -> bool:
    """Whether the work on this plant was stopped and what stands open on it left so knowingly."""
    return stopped(sitting, run) and not sees_to(sitting, run)


def _running_end(sitting: Sitting, soak: Soak) -> LooseEnd:
    plant, who = None if soak.tool else plant_of(sitting, soak.run), whose(sitting, soak)
    stands = "are still in their" if soak.tool == ALL_TOOLS else "is still in its"
    return LooseEnd(LooseKind.SOAK, plant, f"{who} {stands} soak: {bath(sitting, soak)}", f"End the soak of {who}",
                    soak.id)
