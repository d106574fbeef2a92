"""An agent on a target: which parts a word stands for, and whether strength and contact are in the working range."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from greenhouse_desk.domain.agents import Agent, Percent, Use
from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.journal import Part
from greenhouse_desk.domain.protocol_steps import ProtocolStep, Work

LIVING = frozenset({Part.ROOTS, Part.LEAVES, Part.CROWN, Part.SPIKE, Part.CUTS})
GREEN = frozenset({Part.LEAVES, Part.CROWN})
ALCOHOL_ON_PLANT_MOST = Constant(25.0, "% by volume", "strongest alcohol that may touch a plant", "from memory")


def parts_of(parts: Iterable[Part]) -> frozenset[Part]:
    """The single parts that `parts` stand for: a whole plant is its roots, leaves, crown, spike and cuts."""
    found = frozenset(parts)
    return (found - {Part.PLANT}) | LIVING if Part.PLANT in found else found


def strength_faults(step: ProtocolStep, agents: Mapping[str, Agent]) -> Iterator[tuple[str, str, bool]]:
    """(key, message, grave) for an unknown agent, a use it has not, a strength or contact outside its range."""
    if not step.agent:
        if step.strength is not None:
            yield "strength", "a strength needs an agent", False
        return
    agent = agents.get(step.agent)
    if agent is None:
        yield "agent", f"a key of agents.toml was expected, not '{step.agent}'", False
        return
    yield from _burns(step, agent)
    if agent.percent is Percent.LABEL and step.strength is not None:
        yield "strength", f"no strength was expected: {agent.name} is mixed as its label says", False
    if agent.percent is not Percent.LABEL and step.strength is None:
        yield "strength", f"missing: the strength of {agent.name} in {agent.percent} was expected", False
    for number, part in enumerate(step.on, 1):
        yield from _on_part(step, agent, part, number)


def _burns(step: ProtocolStep, agent: Agent) -> Iterator[tuple[str, str, bool]]:
    """Tool-strength alcohol on a plant burns it for certain: as grave as a pair that must not meet."""
    strong = step.strength is None or step.strength > ALCOHOL_ON_PLANT_MOST.value
    burnt = parts_of(step.on) & LIVING
    if agent.family == "alcohol" and strong and burnt:
        named = ", ".join(sorted(burnt))
        yield "agent", f"alcohol above {ALCOHOL_ON_PLANT_MOST.value:g} % is for tools, never for {named}", True


def _on_part(step: ProtocolStep, agent: Agent, part: Part, number: int) -> Iterator[tuple[str, str, bool]]:
    use = agent.use(part)
    if use is None:
        known = ", ".join(each.on for each in agent.uses) or "nothing"
        yield f"on[{number}]", f"{agent.name} is not for {part}; it is for {known}", False
        return
    in_range = step.strength is None or agent.percent is Percent.LABEL or use.low <= step.strength <= use.high
    if not in_range:
        yield "strength", f"{use.low:g} to {use.high:g} {agent.percent} was expected for {agent.name} on {part}, " \
            f"not {step.strength:g} ({use.source})", False
    yield from _contact_on(step, agent, use)


def _contact_on(step: ProtocolStep, agent: Agent, use: Use) -> Iterator[tuple[str, str, bool]]:
    """On a thing too short a contact cleans nothing; on a plant shorter is allowed and longer harms."""
    if step.work is not Work.SOAK:
        return
    if use.on not in LIVING and step.least_min < use.least_min:
        yield "least_min", f"at least {use.least_min:g} min was expected for {agent.name} on {use.on}, " \
            f"not {step.least_min:g} ({use.source})", False
    if use.most_min and step.most_min > use.most_min:
        yield "most_min", f"at most {use.most_min:g} min was expected for {agent.name} on {use.on}, " \
            f"not {step.most_min:g} ({use.source})", False
