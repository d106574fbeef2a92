"""Which of the agents on this bench must never meet, in words: for the panel that stands beside the kit. No Qt."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations

from greenhouse_desk.domain.agents import Agent, clash, kept_away
from greenhouse_desk.domain.protocols import Protocol
from greenhouse_desk.services.shelf import Shelf

Used = tuple[Agent, float | None]


def used(protocols: Iterable[Protocol], shelf: Shelf) -> tuple[Used, ...]:
    """The agents these protocols use, each with each strength (percent) once, in the order of their steps."""
    steps = [step for protocol in protocols for step in protocol.steps if step.agent]
    found = dict.fromkeys((step.agent, step.strength) for step in steps)
    return tuple((shelf.agents[key], strength) for key, strength in found if key in shelf.agents)


def pairs(protocols: Iterable[Protocol], shelf: Shelf) -> tuple[tuple[str, str], ...]:
    """Pairs that both stand on this bench and must not meet: "A and B", and why."""
    return tuple({f"{one.name} and {two.name}": rule.why for (one, s_one), (two, s_two) in combinations(
        used(protocols, shelf), 2) if (rule := clash(one, s_one, two, s_two)) is not None}.items())


def others(protocols: Iterable[Protocol], shelf: Shelf) -> tuple[tuple[str, str], ...]:
    """What must not come near this bench: each such agent of the shelf, from which strength on, and those in use that
    it must never meet."""
    found: dict[str, dict[str, str]] = {}
    here = used(protocols, shelf)
    keys = {agent.key for agent, _ in here}
    for other in shelf.agents.values():
        if other.key in keys:
            continue
        for agent, strength in here:
            name, why = kept_away(other, agent, strength)
            if name:
                found.setdefault(name, {})[agent.name] = why
    return tuple((name, ". ".join([", ".join(meets), *dict.fromkeys(why.rstrip(".") for why in meets.values() if why)]))
                 for name, meets in found.items())
