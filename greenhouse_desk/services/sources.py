"""Every figure the program works with, beside its source or its mark: constants, house rules, and the shelf's data."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator, Mapping
from dataclasses import fields

from greenhouse_desk import domain
from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.settings import HouseRules, said
from greenhouse_desk.services.shelf import shelf, shipped_years
from greenhouse_desk.services.sources_shelf import Figure, of_agent, of_pest, of_protocol, of_year


def figures() -> tuple[Figure, ...]:
    """The rules' constants, the house rules as they start, and what is shipped: agents, pests, protocols, years."""
    shipped = shelf(None)
    return (*(_told(one) for one in constants()), *_rules(),
            *(figure for agent in shipped.agents.values() for figure in of_agent(agent)),
            *(figure for pest in shipped.pests.values() for figure in of_pest(pest)),
            *(figure for protocol in shipped.protocols for figure in of_protocol(protocol)),
            *(of_year(year) for year in shipped_years()[0].values()))


def constants() -> tuple[Constant, ...]:
    """Every `Constant` that a module of the domain holds, each once, in the order of modules and lines."""
    names = sorted(found.name for found in pkgutil.iter_modules(domain.__path__))
    modules = [importlib.import_module(f"{domain.__name__}.{name}") for name in names]
    return tuple(dict.fromkeys(one for module in modules for one in _inside(list(vars(module).values()))))


def _inside(value: object) -> Iterator[Constant]:
    """Constants in a value: itself, or what it holds."""
    if isinstance(value, Constant):
        yield value
    elif isinstance(value, Mapping):
        for inner in value.values():
            yield from _inside(inner)
    elif isinstance(value, tuple | list | frozenset | set):
        for inner in value:
            yield from _inside(inner)


def _told(one: Constant) -> Figure:
    return Figure(one.of, f"{one.value:.6g} {one.unit}".strip(), one.source)


def _rules() -> Iterator[Figure]:
    for item in fields(HouseRules):
        yield Figure(f"house rule: {item.metadata['label']}", said(item.default, item.metadata["unit"]),
                     item.metadata["source"])
