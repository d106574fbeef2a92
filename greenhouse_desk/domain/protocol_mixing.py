"""What meets what: follows every agent from step to step, until a rinse takes it off, and names pairs that clash."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from greenhouse_desk.domain.agents import WATER, Agent, cancelled, clash
from greenhouse_desk.domain.faults import Fault
from greenhouse_desk.domain.journal import Part
from greenhouse_desk.domain.protocol_contact import LIVING, parts_of
from greenhouse_desk.domain.protocol_steps import Deed, Protocol, ProtocolStep

PLANT, POT = "the plant", "the pot"
GROUPS = {part: PLANT for part in LIVING} | {Part.POT: POT, Part.MEDIUM: POT}


@dataclass(frozen=True, slots=True)
class Trace:
    """An agent left somewhere: on which parts, by which step at what strength, and whether a rinse took it off."""

    agent: Agent
    parts: frozenset[Part]
    step: ProtocolStep
    rinsed: bool = False


@dataclass
class Traces:
    """What lies on one plant or thing as the steps go on; parts of one plant drip on each other and count as one."""

    left: dict[str, list[Trace]] = field(default_factory=dict)

    def on(self, parts: frozenset[Part]) -> list[Trace]:
        groups = dict.fromkeys(GROUPS.get(part, str(part)) for part in sorted(parts))
        return [trace for group in groups for trace in self.left.get(group, [])]

    def put(self, step: ProtocolStep, agent: Agent) -> None:
        for group, parts in _grouped(parts_of(step.on)).items():
            self.left.setdefault(group, []).append(Trace(agent, parts, step))

    def rinse(self, step: ProtocolStep) -> None:
        for group, rinsed in _grouped(parts_of(step.on)).items():
            self.left[group] = [_rinsed(trace, rinsed, step) for trace in self.left.get(group, [])]

    def next_plant(self) -> None:
        """Another plant with its own pot; tools, bench and hands keep what is on them."""
        self.left = {group: traces for group, traces in self.left.items() if group not in (PLANT, POT)}


def _grouped(parts: Iterable[Part]) -> dict[str, frozenset[Part]]:
    groups: dict[str, frozenset[Part]] = {}
    for part in parts:
        group = GROUPS.get(part, str(part))
        groups[group] = groups.get(group, frozenset()) | {part}
    return groups


def _rinsed(trace: Trace, rinsed: frozenset[Part], step: ProtocolStep) -> Trace:
    """The trace after a rinse; a rinse done only in some cases takes off only what came in the same cases."""
    if step.only_if and step.only_if != trace.step.only_if:
        return trace
    left = trace.parts - rinsed
    return Trace(trace.agent, left or trace.parts, trace.step, trace.rinsed or not left)


def mixing_faults(protocols: Iterable[Protocol], agents: Mapping[str, Agent]) -> tuple[Fault, ...]:
    """Do-not-mix pairs (grave) and cancelled disinfectants in protocols worked one after the other.

    Two agents meet when they come onto the same plant, pot, tools, bench or hands without a rinse between. One
    protocol checks itself; several check a session, where tools and bench go from plant to plant.
    """
    found: list[Fault] = []
    traces = Traces()
    for protocol in protocols:
        traces.next_plant()
        for number, step in enumerate(protocol.steps, 1):
            met = _meet(traces, step, agents)
            found += [Fault(protocol.file, f"step[{number}].agent", message, grave) for message, grave in met]
    return tuple(dict.fromkeys(found))


def _meet(traces: Traces, step: ProtocolStep, agents: Mapping[str, Agent]) -> list[tuple[str, bool]]:
    agent = agents.get(step.agent)
    parts = parts_of(step.on)
    if step.deed is Deed.RINSE and (agent is None or agent.family == WATER):
        traces.rinse(step)
        return []
    if agent is None or agent.family == WATER:
        return []
    met = [told for trace in traces.on(parts) for told in _pair(trace, step, agent)]
    traces.put(step, agent)
    return list(dict.fromkeys(met))


def _pair(trace: Trace, step: ProtocolStep, agent: Agent) -> Iterator[tuple[str, bool]]:
    rule = clash(trace.agent, trace.step.strength, agent, step.strength)
    pair = f"{agent.name} meets {trace.agent.name} of step '{trace.step.id}'"
    if rule and rule.apart_days:
        yield f"never mix: {pair}: keep them {rule.apart_days:g} days apart. {rule.why} ({rule.source})", True
    elif rule and not trace.rinsed:
        yield f"never mix: {pair} without a rinse between. {rule.why} ({rule.source})", True
    if not trace.rinsed and cancelled(agent, trace.agent):
        yield f"{pair}, which cancels it: rinse between", False
