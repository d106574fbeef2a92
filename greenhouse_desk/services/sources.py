"""Every figure the program works with, beside its source or its mark: house rules, agents, pests, protocols."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, fields

from greenhouse_desk.domain.agents import Agent
from greenhouse_desk.domain.pests import Pest
from greenhouse_desk.domain.protocols import Protocol
from greenhouse_desk.domain.settings import HouseRules
from greenhouse_desk.services.shelf import shelf


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure in words: what it is of, how much, and where it comes from."""

    of: str
    figure: str
    source: str


def figures() -> tuple[Figure, ...]:
    """The shipped figures: house rules as they start, working strengths, contact times, wash intervals, steps."""
    shipped = shelf(None)
    return (*_rules(), *_agents(shipped.agents.values()), *_pests(shipped.pests.values()), *_steps(shipped.protocols))


def _rules() -> Iterator[Figure]:
    for item in fields(HouseRules):
        unit = item.metadata["unit"]
        yield Figure(f"house rule: {item.metadata['label']}", f"{item.default} {unit}".strip(), item.metadata["source"])


def _agents(agents: Iterable[Agent]) -> Iterator[Figure]:
    for agent in agents:
        for use in agent.uses:
            strength = f"{use.low:g} to {use.high:g}" if use.low != use.high else f"{use.low:g}"
            least = f", at least {use.least_min:g} min" if use.least_min else ""
            yield Figure(f"{agent.name} on {use.on}", f"{strength} {agent.percent.value}{least}", use.source)
        for clash in agent.clashes:
            pair = f"{agent.name} and {clash.other.replace('-', ' ')}"
            yield Figure(pair, f"never together: {clash.why}", clash.source)


def _pests(pests: Iterable[Pest]) -> Iterator[Figure]:
    for pest in pests:
        if pest.repeat is not None:
            again = pest.repeat
            yield Figure(f"washes against {pest.name}", f"{again.least_times} to {again.most_times}, "
                         f"{again.low} to {again.high} days apart", again.source)
        for span in pest.days:
            yield Figure(f"{pest.name}: {span.what}", f"{span.low:g} to {span.high:g} days", span.source)


def _steps(protocols: Iterable[Protocol]) -> Iterator[Figure]:
    for protocol in protocols:
        for step in protocol.steps:
            if step.source:
                contact = f", {step.least_min:g} to {step.most_min:g} min" if step.most_min else ""
                yield Figure(f"{protocol.title}: {step.say}", f"{step.deed.value}{contact}", step.source)
