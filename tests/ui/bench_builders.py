"""Bench sittings built in code, for the bench screen's tests: steps, runs, soaks that began so long ago."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

from greenhouse_desk.domain.bench import PestChoice, Run, RunStep, Sitting, Soak, State
from greenhouse_desk.domain.journal import Part
from greenhouse_desk.domain.protocols import Asks, Deed, ProtocolStep, Work
from tests.builders import NOW

PESTS = (PestChoice("spider-mite", "two-spotted mite", ("egg", "mite")), PestChoice("mealybug", "mealybug"),
         PestChoice("thrips", "thrips"), PestChoice("scale", "armoured scale"), PestChoice("aphid", "aphids"),
         PestChoice("flat-mite", "flat mites"), PestChoice("soft-rot", "soft rot"),
         PestChoice("black-rot", "black rot"),
         PestChoice("leaf-spot", "leaf spot"), PestChoice("virus", "virus signs"))

STEPS = (
    ProtocolStep("unpot", "Unpot, free the pellets",
                 "Unpot the plant and free the pellets. A pellet that living roots grip stays on: pulling it strips "
                 "the root tip.", Deed.UNPOT, on=(Part.PLANT,)),
    ProtocolStep("count", "Sort the roots, cut the dead ones",
                 "Alive is firm, whatever the colour. Dead is hollow, flat, papery or squashy. Remove the dead ones.",
                 Deed.COUNT_ROOTS, on=(Part.ROOTS,), after=("unpot",), tool=True,
                 asks=(Asks.LIVING, Asks.DEAD, Asks.SIGHTINGS)),
    ProtocolStep("mist", "Mist all roots with 3 % peroxide",
                 "Spray every root until it drips; do not dip. Let it act, then rinse with plain water.",
                 Deed.TREAT, Work.SOAK, on=(Part.ROOTS,), agent="peroxide", strength=3.0, least_min=10.0, most_min=12.0,
                 after=("count",), caution="Eyes and gloves: peroxide bleaches skin. Keep it out of the crown."),
    ProtocolStep("rinse", "Rinse leaves and roots with plain water", "Rinse the whole plant with plain water.",
                 Deed.RINSE, on=(Part.PLANT,), after=("mist",)),
)


def run(plant: int, done: int = 0, soaking: bool = False, standing: str = "clear", **changes: Any) -> Run:
    """A run with its first `done` steps done, the next one soaking when asked."""
    def state(n: int) -> State:
        return State.DONE if n < done else State.SOAKING if soaking and n == done else State.OPEN

    steps = tuple(RunStep(plant * 10 + n, n, step, state(n), NOW - timedelta(minutes=30 - n) if n < done else None)
                  for n, step in enumerate(STEPS))
    return replace(Run(plant, plant, "Phalaenopsis amabilis", "root-trim", "Root trim", steps, standing), **changes)


def soak(plant: int, minutes_ago: float, least: float = 10, most: float = 12, what: str = "roots in peroxide",
         now: datetime = NOW) -> Soak:
    """A soak on `plant` that began so many minutes before `now`."""
    return Soak(plant, what, "peroxide", now - timedelta(minutes=minutes_ago), least * 60, most * 60, plant,
                plant * 10 + 2)


def asking(item: Run, found: tuple[int, ...] = ()) -> Run:
    """The run in the middle of the questions of its second step."""
    steps = list(item.steps)
    steps[1] = replace(steps[1], done_at=NOW, found=found)
    return replace(item, steps=tuple(steps))


def sitting(*runs: Run, **fields: Any) -> Sitting:
    """A sitting that began half an hour ago, dusk in half an hour."""
    return Sitting(**{"id": 1, "started_at": NOW - timedelta(minutes=30), "runs": runs, "choices": PESTS,
                      "limit": NOW + timedelta(minutes=31), "limit_name": "dusk", "undo_label": "rinse 104", **fields})
