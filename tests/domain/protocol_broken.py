"""A sound little protocol, the ways to break it, and every fault that each break must give."""

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


READING = (
    Broken("unknown key at the top", {"titel": "Trim"}, one("titel", "unknown key")),
    Broken("unknown key in a step", {f"{TREAT}.strenght": 3}, one(f"{TREAT}.strenght", "unknown key")),
    Broken("unknown key in a check", {f"{AIR}.check[1].day": 3}, one(f"{AIR}.check[1].day", "unknown key")),
    Broken("unknown key in a material", {"material[1].price": 3}, one("material[1].price", "unknown key")),
    Broken("title missing", {"title": GONE}, one("title", "missing")),
    Broken("title on two lines", {"title": "Trim\nit"}, one("title", "at most 1 line")),
    Broken("purpose is a number", {"purpose": 7}, one("purpose", "text was expected, not 7")),
    Broken("no steps", {"step": GONE, "material": GONE}, one("step", "at least one [[step]]")),
    Broken("an empty list of steps", {"step": [], "material": GONE}, one("step", "at least one [[step]]")),
    Broken("steps are a word", {"step": "many"}, one("step", "a list was expected, not 'many'")),
    Broken("a step is a number", {UNPOT: 3}, one(UNPOT, "a table was expected, not 3")),
    Broken("id missing", {f"{BLOT}.id": GONE}, one(f"{BLOT}.id", "missing")),
    Broken("id with a space", {f"{AIR}.id": "fan on"}, one(f"{AIR}.id", "small letters, digits and hyphens")),
    Broken("say too long for the wall", {f"{POT}.say": "x" * 45}, one(f"{POT}.say", "at most 44 characters")),
    Broken("say empty", {f"{POT}.say": "  "}, one(f"{POT}.say", "this is empty")),
    Broken("page missing", {f"{POT}.page": GONE}, one(f"{POT}.page", "missing")),
    Broken("deed unknown", {f"{DRESS}.deed": "bandage"}, one(f"{DRESS}.deed", "not 'bandage'")),
    Broken("work unknown", {f"{TREAT}.work": "dip"}, one(f"{TREAT}.work", "one of hands, soak")),
    Broken("target unknown", {f"{CUT}.on": ["root"]}, one(f"{CUT}.on[1]", "not 'root'")),
    Broken("targets not in a list", {f"{CUT}.on": "roots"}, one(f"{CUT}.on", "a list was expected")),
    Broken("strength is text", {f"{TREAT}.strength": "3 %"}, one(f"{TREAT}.strength", "a number from 0 to 100")),
    Broken("strength above 100", {f"{TREAT}.strength": 300}, one(f"{TREAT}.strength", "a number from 0 to 100")),
    Broken("minutes negative", {f"{CUT}.minutes": -3}, one(f"{CUT}.minutes", "a number from 0 to 1440")),
    Broken("least negative", {f"{TREAT}.least_min": -10}, one(f"{TREAT}.least_min", "not -10")),
    Broken("most is not a number", {f"{TREAT}.most_min": float("nan")}, one(f"{TREAT}.most_min", "not nan")),
    Broken("most is endless", {f"{TREAT}.most_min": float("inf")}, one(f"{TREAT}.most_min", "not inf")),
    Broken("amount is true", {f"{RINSE}.amount_ml": True}, one(f"{RINSE}.amount_ml", "not True")),
    Broken("amount of very many digits", {f"{RINSE}.amount_ml": 10 ** 5000},
           one(f"{RINSE}.amount_ml", "very many digits")),
    Broken("tool is a word", {f"{CUT}.tool": "knife"}, one(f"{CUT}.tool", "true or false")),
    Broken("asks unknown", {f"{CUT}.asks": ["weight"]}, one(f"{CUT}.asks[1]", "not 'weight'")),
    Broken("only_if unknown", {f"{TREAT}.only_if": "rain"}, one(f"{TREAT}.only_if", "pests was expected, not 'rain'")),
    Broken("owes an unknown care", {f"{POT}.owes": ["sun"]}, one(f"{POT}.owes[1]", "not 'sun'")),
    Broken("source without a mark", {f"{TREAT}.source": "a friend"}, one(f"{TREAT}.source", "begins with its mark")),
    Broken("check without days", {f"{AIR}.check[1].days": []}, one(f"{AIR}.check[1].days", "at least one day")),
    Broken("check on half a day", {f"{AIR}.check[1].days": [0.5]}, one(f"{AIR}.check[1].days[1]", "a whole day")),
    Broken("check days out of order", {f"{AIR}.check[1].days": [3, 1]}, one(f"{AIR}.check[1].days", "go up")),
    Broken("check without a list of days", {f"{AIR}.check[1].days": GONE}, one(f"{AIR}.check[1].days", "missing")),
    Broken("check on no day of the calendar", {f"{AIR}.check[1].days": [0, 1, True, 400]},
           tuple((f"{AIR}.check[1].days[{n}]", "a whole day from 1 to 366", False) for n in (1, 3, 4))),
    Broken("id far too long", {f"{AIR}.id": "X" * 50}, one(f"{AIR}.id", "at most 40 characters")),
    Broken("too many steps", {}, one("step", "at most 60 steps were expected, not 61"),
           added={0: tuple(step(f"s{n}", "prepare") for n in range(52))}),
    Broken("misread words hide no fault of the work", {f"{TREAT}.say": GONE, f"{TREAT}.most_min": 5},
           (*one(f"{TREAT}.say", "missing"), *one(f"{TREAT}.most_min", "at least the least of 10"))),
    Broken("a misread care is not also a missing one", {f"{TREAT}.owes": ["sun"]},
           one(f"{TREAT}.owes[1]", "not 'sun'")),
    Broken("misread wetness is not also a wrong care", {f"{RINSE}.wets": ["skin"]},
           one(f"{RINSE}.wets[1]", "not 'skin'")),
    Broken("a misread strength is not also a burn", {},
           (*one("step[5].strength", "a number from 0"), *one("step[5].on[1]", "ethanol for tools is not for leaves")),
           added={4: (step("burn", "wash", on=["leaves"], agent="ethanol", strength="70", amount_ml=50,
                           wets=["leaves"]),)}),
    Broken("material without an amount", {"material[1].amount": GONE}, one("material[1].amount", "missing")),
    Broken("material of an unknown agent", {"material[1].agent": "pixie-dust"},
           (("material[1].agent", "a key of agents.toml", False),)),
    Broken("cautions not texts", {"cautions": [1, ""]},
           (("cautions[1]", "text was expected", False), ("cautions[2]", "text was expected", False))),
    Broken("many faults at once, none hides another",
           {"title": GONE, f"{UNPOT}.say": "y" * 60, f"{CUT}.on": ["root"], f"{TREAT}.most_min": 9,
            f"{RINSE}.after": ["treet"], "material[1].amount": -1},
           (("title", "missing", False), (f"{UNPOT}.say", "at most 44", False), (f"{CUT}.on[1]", "not 'root'", False),
            (f"{TREAT}.most_min", "at least the least of 10", False), (f"{RINSE}.after[1]", "not 'treet'", False),
            ("material[1].amount", "a number from", False))),
)

WORK = (
    Broken("id used twice", {f"{BLOT}.id": "dress", f"{AIR}.after": ["dress"]},
           one(f"{BLOT}.id", "step 7 is called 'dress'"), whole=True),
    Broken("after an unknown step", {f"{POT}.after": ["rinsing"]}, one(f"{POT}.after[1]", "not 'rinsing'"), whole=True),
    Broken("after a later step", {f"{POT}.after": ["rinse", "blot"]},
           one(f"{POT}.after[2]", "'blot' comes later"), whole=True),
    Broken("after itself", {f"{POT}.after": ["pot"]}, one(f"{POT}.after[1]", "cannot wait for itself"), whole=True),
    Broken("a cycle of two", {f"{RINSE}.after": ["treat", "pot"]},
           one(f"{RINSE}.after[2]", "a cycle: 'rinse' and 'pot'"), whole=True),
    Broken("a cycle of three", {f"{RINSE}.after": ["dress"]},
           one(f"{RINSE}.after[1]", "a cycle: 'rinse' and 'dress'"), whole=True),
    Broken("most below least", {f"{TREAT}.most_min": 5}, one(f"{TREAT}.most_min", "at least the least of 10 min"),
           whole=True),
    Broken("soak without a most", {f"{TREAT}.most_min": GONE}, one(f"{TREAT}.most_min", "a soak needs a most"),
           whole=True),
    Broken("soak without a least", {f"{TREAT}.least_min": GONE}, one(f"{TREAT}.least_min", "a soak needs a least"),
           whole=True),
    Broken("contact time without a soak", {f"{TREAT}.work": "hands"},
           (*one(f"{TREAT}.least_min", "only a soak"), *one(f"{TREAT}.most_min", "only a soak")), whole=True),
    Broken("soak on nothing", {f"{TOOLS}.on": []}, one(f"{TOOLS}.on", "a soak names what it acts on"), whole=True),
    Broken("treatment on nothing", {f"{TREAT}.on": []}, (*one(f"{TREAT}.on", "a soak names what it acts on"),
           *one(f"{TREAT}.owes[1]", "\"plain water\" does not follow")), whole=True),
    Broken("an agent used twice and never measured out is one fault", {f"{RINSE}.amount_ml": GONE},
           one(f"{RINSE}.amount_ml", "low-salt water"), whole=True,
           added={9: (step("fill", "pour", on=["pot"], agent="low-salt-water"),)}),
    Broken("tools too short in alcohol", {f"{TOOLS}.least_min": 1}, one(f"{TOOLS}.least_min", "at least 3 min"),
           whole=True),
    Broken("roots too long in peroxide", {f"{TREAT}.most_min": 30}, one(f"{TREAT}.most_min", "at most 12 min"),
           whole=True),
    Broken("peroxide too strong", {f"{TREAT}.strength": 6}, one(f"{TREAT}.strength", "1 to 3 % by mass"), whole=True),
    Broken("alcohol too weak for tools", {f"{TOOLS}.strength": 40}, one(f"{TOOLS}.strength", "60 to 90 % by volume"),
           whole=True),
    Broken("strength missing", {f"{TREAT}.strength": GONE}, one(f"{TREAT}.strength", "missing: the strength"),
           whole=True),
    Broken("strength where the label gives it", {f"{RINSE}.strength": 5}, one(f"{RINSE}.strength", "as its label says"),
           whole=True),
    Broken("strength of nothing", {f"{BLOT}.strength": 5}, one(f"{BLOT}.strength", "needs an agent"), whole=True),
    Broken("agent unknown", {f"{TREAT}.agent": "magic-water"}, one(f"{TREAT}.agent", "not 'magic-water'"), whole=True),
    Broken("treatment without an agent", {f"{TREAT}.agent": GONE, f"{TREAT}.strength": GONE},
           one(f"{TREAT}.agent", "names its agent"), whole=True),
    Broken("agent on a part it is not for", {f"{DRESS}.on": ["roots"]},
           one(f"{DRESS}.on[1]", "cinnamon powder is not for roots; it is for cuts"), whole=True),
    Broken("a cut on nothing", {f"{CUT}.on": []}, one(f"{CUT}.on", "names what it acts on"), whole=True),
    Broken("agent not measured out", {f"{TREAT}.amount_ml": GONE}, one(f"{TREAT}.amount_ml", "hydrogen peroxide"),
           whole=True),
    Broken("powder not laid out", {"material": GONE}, one(f"{DRESS}.amount_ml", "agent = \"cinnamon\""), whole=True),
    Broken("unpotted and never potted", {f"{POT}.deed": "prepare", f"{POT}.owes": [], f"{POT}.medium": GONE},
           one(f"{UNPOT}.deed", "no later step pots it"), whole=True),
    Broken("cut and never dressed", {f"{DRESS}.deed": "prepare"}, one(f"{CUT}.deed", "no later step dresses it"),
           whole=True),
    Broken("dressed only where pests were seen", {f"{DRESS}.only_if": "pests"},
           one(f"{CUT}.deed", "no later step dresses it"), whole=True),
    Broken("wet and neither aired nor owed", {f"{RINSE}.owes": [], f"{AIR}.deed": "prepare"},
           one(f"{RINSE}.wets", "crown, leaves stay wet unnoticed"), whole=True),
    Broken("wet and neither blotted nor owed", {f"{RINSE}.owes": [], f"{BLOT}.deed": "prepare"},
           one(f"{RINSE}.wets", "stay wet unnoticed"), whole=True),
    Broken("wets the crown and does not say so", {f"{RINSE}.wets": ["roots", "leaves"]},
           one(f"{RINSE}.wets", "makes crown wet"), whole=True),
    Broken("owes what does not follow", {f"{BLOT}.owes": ["root check"]},
           one(f"{BLOT}.owes[1]", "\"root check\" does not follow"), whole=True),
    Broken("roots disinfected and feed not held", {f"{TREAT}.owes": []}, one(f"{TREAT}.owes", "\"plain water\""),
           whole=True),
    Broken("transition without potting", {f"{UNPOT}.transition": True}, one(f"{UNPOT}.transition", "only a step that "
           "pots"), whole=True),
    Broken("medium without potting", {f"{UNPOT}.medium": "bark"}, one(f"{UNPOT}.medium", "only a step that pots"),
           whole=True),
    Broken("tool taken out of its soak", {f"{CUT}.after": ["unpot"]},
           one(f"{CUT}.after", "'tools' was expected here"), whole=True),
    Broken("hands on roots that soak", {}, one("step[5].after", "'treat' was expected here: roots"), whole=True,
           added={4: (step("count", "count roots", on=["roots"], meanwhile=True),)}),
)

MIXING = (
    Broken("tool alcohol on leaves", {}, (*one("step[5].agent", "is for tools, never for leaves", True),
           *one("step[5].on[1]", "ethanol for tools is not for leaves")), whole=True,
           added={4: (step("burn", "wash", on=["leaves"], agent="ethanol", strength=70, amount_ml=50,
                           wets=["leaves"]),)}),
    Broken("strong peroxide on roots, alcohol wash on leaves", {f"{TREAT}.strength": 12},
           (*one(f"{TREAT}.strength", "1 to 3 % by mass"), *one("step[5].agent", "never mix: alcohol-and-soap wash "
           "meets hydrogen peroxide", True)), whole=True,
           added={4: (step("wash", "wash", on=["leaves"], agent="alcohol-soap-wash", strength=20, amount_ml=100,
                           wets=["leaves"]),)}),
    Broken("bleach after alcohol on tools", {}, one("step[2].agent", "never mix: sodium hypochlorite bleach meets "
           "ethanol for tools of step 'tools'", True), whole=True, added={1: (on_tools("b", "bleach", strength=0.5),)}),
    Broken("alcohol after bleach on tools", {}, one("step[2].agent", "ethanol for tools meets sodium", True),
           whole=True, added={0: (on_tools("b", "bleach", strength=0.5),)}),
    Broken("vinegar and bleach on the pot", {}, one("step[2].agent", "chlorine gas", True), whole=True,
           added={0: (step("v", "scrub", on=["pot"], agent="vinegar", strength=5, amount_ml=100),
                      step("b", "scrub", on=["pot"], agent="bleach", strength=0.5, amount_ml=100))}),
    Broken("bleach after a quaternary on tools", {}, one("step[3].agent", "bleach meets quaternary", True), whole=True,
           added={0: (on_tools("q", "quaternary-ammonium"), step("r", "rinse", on=["pot"]),
                      on_tools("b", "bleach", strength=0.5), step("r2", "rinse", on=["tools"]))}),
    Broken("bleach rinsed off only where pests were seen", {}, one("step[3].agent", "ethanol for tools meets", True),
           whole=True, added={0: (on_tools("b", "bleach", strength=0.5),
                                  step("r", "rinse", on=["tools"], only_if="pests"))}),
    Broken("bleach wiped, not rinsed, with water", {}, one("step[3].agent", "ethanol for tools meets", True),
           whole=True, added={0: (on_tools("b", "bleach", strength=0.5), on_tools("w", "tap-water"))}),
    Broken("bleach rinsed with soap is not rinsed", {}, one("step[3].agent", "ethanol for tools meets", True),
           whole=True, added={0: (on_tools("b", "bleach", strength=0.5),
                                  step("r", "rinse", on=["tools"], agent="mild-soap", strength=1, amount_ml=10))}),
    Broken("soap before a quaternary", {}, one("step[2].agent", "cancels it: rinse between"), whole=True,
           added={0: (step("s", "scrub", on=["pot"], agent="mild-soap", strength=1, amount_ml=100),
                      step("q", "scrub", on=["pot"], agent="quaternary-ammonium", amount_ml=100))}),
    Broken("oil and sulfur, a rinse does not part them", {}, one("step[3].agent", "30 days apart", True), whole=True,
           added={0: (step("o", "wash", on=["leaves"], agent="horticultural-oil", amount_ml=50, wets=["leaves"]),
                      step("r", "rinse", on=["leaves"], wets=["leaves"]),
                      step("s", "treat", on=["leaves"], agent="sulfur", amount_ml=50))}),
)
BROKEN = READING + WORK + MIXING
