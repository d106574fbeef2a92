"""A sound little protocol, and what it takes to break it: paths to change, steps to put in, faults to expect."""

from __future__ import annotations

import copy
import re
import tomllib
from dataclasses import dataclass, field
from typing import Any

SOUND = """
title = "Trim"
purpose = "A small protocol without a fault."

[[step]]
id = "tools"
say = "Stand tools in alcohol"
page = "Covered to the hinge."
deed = "soak tools"
work = "soak"
on = ["tools"]
agent = "ethanol"
strength = 70
amount_ml = 250
least_min = 3
most_min = 60

[[step]]
id = "unpot"
say = "Unpot"
page = "Gently."
deed = "unpot"
on = ["plant"]
meanwhile = true
owes = ["pot up"]

[[step]]
id = "cut"
say = "Cut dead roots"
page = "Only dead ones."
deed = "cut"
on = ["roots"]
tool = true
meanwhile = true
after = ["tools", "unpot"]
asks = ["cuts made"]
owes = ["cut check", "dress the cut"]

[[step]]
id = "treat"
say = "Spray the roots"
page = "All around."
deed = "treat"
work = "soak"
on = ["roots"]
agent = "hydrogen-peroxide"
strength = 3
amount_ml = 60
least_min = 10
most_min = 12
after = ["cut"]
wets = ["roots"]
owes = ["plain water"]
source = "common practice"

[[step]]
id = "rinse"
say = "Rinse the plant"
page = "Lukewarm."
deed = "rinse"
on = ["plant"]
agent = "low-salt-water"
amount_ml = 1000
after = ["treat"]
wets = ["roots", "leaves", "crown"]
owes = ["air until dry"]

[[step]]
id = "pot"
say = "Pot it"
page = "Set back."
deed = "pot"
on = ["plant", "pot"]
medium = "pellets"
after = ["rinse"]
owes = ["root check"]

[[step]]
id = "dress"
say = "Powder the cuts"
page = "Not the living roots."
deed = "dress"
on = ["cuts"]
agent = "cinnamon"
after = ["pot"]

[[step]]
id = "blot"
say = "Blot the crown"
page = "With paper."
deed = "blot"
on = ["crown"]
after = ["rinse"]

[[step]]
id = "air"
say = "Fan on"
page = "Until dry."
deed = "air"
on = ["plant"]
after = ["blot"]

  [[step.check]]
  what = "crown"
  days = [1, 3]

[[material]]
what = "cinnamon powder"
amount = 2
unit = "g"
agent = "cinnamon"
"""
TOOLS, UNPOT, CUT, TREAT, RINSE, POT, DRESS, BLOT, AIR = (f"step[{n}]" for n in range(1, 10))
GONE = ...


@dataclass(frozen=True)
class Broken:
    """One way to break it: what is put at which path, steps put in after others, and all faults that must follow.

    A fault is its path, a part of its message, and whether it is grave. `whole` tells that the file is still read.
    """

    name: str
    at: dict[str, Any]
    faults: tuple[tuple[str, str, bool], ...]
    whole: bool = False
    added: dict[int, tuple[dict[str, Any], ...]] = field(default_factory=dict)

    def data(self) -> dict[str, Any]:
        data = tomllib.loads(SOUND)
        for path, value in self.at.items():
            put(data, path, copy.deepcopy(value))
        for place in sorted(self.added, reverse=True):
            data["step"][place:place] = copy.deepcopy(list(self.added[place]))
        return data


def put(data: dict[str, Any], path: str, value: Any) -> None:
    """Set (or take away) what stands at a path like `step[2].after[1]`, counted from 1."""
    keys: list[Any] = [int(part[1:-1]) - 1 if part.startswith("[") else part
                       for part in re.findall(r"\[\d+\]|[^.\[\]]+", path)]
    inner: Any = data
    for key in keys[:-1]:
        inner = inner[key]
    if value is GONE:
        del inner[keys[-1]]
    else:
        inner[keys[-1]] = value


def step(id: str, deed: str, **more: Any) -> dict[str, Any]:
    return {"id": id, "say": "Do it", "page": "For a reason.", "deed": deed, **more}


def on_tools(id: str, agent: str, **more: Any) -> dict[str, Any]:
    return step(id, "hygiene", on=["tools"], agent=agent, amount_ml=100, **more)


def one(path: str, message: str, grave: bool = False) -> tuple[tuple[str, str, bool], ...]:
    return ((path, message, grave),)
