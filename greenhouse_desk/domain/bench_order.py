"""From the cleanest plant to the most suspect: what may carry something is not begun beside cleaner plants.

Working from the cleanest plant to the most suspect is common practice. That hands wait for a soak rather than begin a
suspect plant meanwhile follows from it: they would come back from it to the cleaner one. A find at the bench counts at
once: a plant that was only looked at goes behind the cleaner ones. One that is opened already, by a find or because the
grower put it first, is finished before a cleaner one is begun: so hands pass from it to cleaner ones once, and told so.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from greenhouse_desk.domain.bench_values import Run, Sitting, State
from greenhouse_desk.domain.protocols import Deed

PEST_RANKS = {"clear": 0, "exposed": 1, "newcomer": 2, "suspect": 3, "under treatment": 4, "under watch": 4,
              "infested": 5}
PEST_STANDINGS = ("suspect", "infested", "under treatment", "under watch")
"""The standings of a plant that carries something, or may."""
LOOKS = (Deed.PREPARE, Deed.HYGIENE, Deed.SOAK_TOOLS, Deed.INSPECT)
"""What leaves a plant as it stood: from here it can still go behind others."""

AFTER_APART = "it stands apart: after it wash your hands, soak its tools and wipe the bench before the next plant"
"""What must be done after a plant in isolation was picked up; house custom."""


def told_apart(why: str) -> str:
    """Why a plant stands as it does, with what must be done after it because it is in isolation."""
    return f"{why}; {AFTER_APART}"


def apart(run: Run) -> bool:
    """Whether the plant stands in an isolation place, or did as hands came to it, as its row in the queue tells."""
    return AFTER_APART in run.standing_why


def begun(run: Run) -> bool:
    """Whether hands were on this run; a step left out needs none."""
    return any(step.asking or step.state in (State.SOAKING, State.DONE) for step in run.steps)


def opened(run: Run) -> bool:
    """Whether more was done with its plant than to get ready and to look at it."""
    return any(((step.asking and not step.leaving) or step.state in (State.SOAKING, State.DONE))
               and step.step.deed not in LOOKS for step in run.steps)


def before_it(sitting: Sitting, run: Run) -> tuple[Run, ...]:
    """The runs of other plants to be finished before `run` is begun, or goes on after no more than a look.

    Where its plant may carry something: cleaner ones before it in the queue, and those begun. One that the grower put
    in front of cleaner ones waits for none of them; once it is opened they wait for it instead. For any plant: a
    dirtier one that is opened, whether it was known before or something was found on it here.
    """
    if opened(run) or (begun(run) and run.plant not in sitting.found):
        return ()
    first = [other.id for other in sitting.runs].index(run.id)
    carries = run.standing in PEST_STANDINGS
    return tuple(other for place, other in enumerate(sitting.runs) if other is not run and (
        _first_to_finish(sitting, other, run)
        or (carries and rank(other) < rank(run) and (place < first or begun(other)))))


def _first_to_finish(sitting: Sitting, other: Run, run: Run) -> bool:
    """Whether `other` carries something, or may, and is opened already: hands would go from it to a cleaner `run` and
    back to it, whoever set the order."""
    carries = other.plant in sitting.found or other.standing in PEST_STANDINGS
    return carries and opened(other) and rank(run) < rank(other)


def held_lead(sitting: Sitting, dirtier: Mapping[int, str]) -> str:
    """Why plants wait: by the rule, or for `dirtier` ones that are opened, with their standings by number."""
    finds = sorted(plant for plant in dirtier if plant in sitting.found)
    if finds:
        return f"Found on {' and '.join(map(str, finds))}"
    if not dirtier:
        return "Cleanest first"
    who = [f"{plant} ({word})" for plant, word in sorted(dirtier.items())]
    return f"{' and '.join(who)} {'is' if len(who) == 1 else 'are'} begun already"


def rank(run: Run) -> int:
    """How suspect the plant is, from 0 (clear)."""
    return PEST_RANKS.get(run.standing, 0)


@dataclass(frozen=True, slots=True)
class Stands:
    """How a plant stands now: the word, why, and whether in an isolation place."""

    word: str
    why: str
    isolated: bool


def reranked(sitting: Sitting, now: Mapping[int, Stands]) -> tuple[Run, ...]:
    """The runs with their plants' standings as they are `now`, and what can still move set anew, the cleanest first.

    What is opened keeps its place, and so does everything where the grower had set an order of their own. A plant that
    hands came to in isolation is told as such to the end, wherever it was put since.
    """
    by_rule = all(rank(one) <= rank(two) for one, two in pairwise(run for run in sitting.runs if not begun(run)))
    runs = [_standing(run, now[run.plant]) if run.plant in now else run for run in sitting.runs]
    movable = [run for run in runs if not opened(run) and (not begun(run) or run.plant in sitting.found)]
    if not by_rule or not movable:
        return tuple(runs)
    places = sorted(run.order for run in movable)
    order = {run.id: place for run, place in zip(sorted(movable, key=rank), places, strict=True)}
    return tuple(sorted((replace(run, order=order.get(run.id, run.order)) for run in runs),
                        key=lambda run: (run.order, run.id)))


def _standing(run: Run, now: Stands) -> Run:
    isolated = now.isolated or (begun(run) and apart(run))
    return replace(run, standing=now.word, standing_why=told_apart(now.why) if isolated else now.why)


def told_anew(before: Sequence[Run], after: Sequence[Run]) -> str:
    """What a find changed in the queue, in words; "" where nothing did."""
    was = {run.plant: rank(run) for run in before}
    changed = [run for run in after if rank(run) != was[run.plant]]
    told = ", ".join(_standing_now([run for run in changed if run.standing == word])
                     for word in dict.fromkeys(run.standing for run in changed))
    if [run.plant for run in before] == [run.plant for run in after]:
        return f"{told}." if told else ""
    queue = ", ".join(str(run.plant) for run in after if not all(step.closed for step in run.steps))
    return f"{told}: the queue goes {queue}, cleanest first."


def _standing_now(runs: Sequence[Run]) -> str:
    """ "102 and 103 are exposed now"."""
    plants = [str(run.plant) for run in runs]
    who = plants[0] if len(plants) == 1 else f"{', '.join(plants[:-1])} and {plants[-1]}"
    return f"{who} {'is' if len(plants) == 1 else 'are'} {runs[0].standing} now"


def found_words(sitting: Sitting) -> tuple[str, ...]:
    """What a find of this session means for the plants still to come, for each plant with work left."""
    words = []
    for run in sitting.runs:
        others = any(other is not run and not begun(other) and rank(other) < rank(run) for other in sitting.runs)
        if run.plant not in sitting.found or not others or all(step.closed for step in run.steps):
            continue
        words.append(f"Found on {run.plant}: it is finished before a cleaner plant is begun." if opened(run) else
                     f"Found on {run.plant}, only looked at so far: cleaner plants go first.")
    return tuple(words)
