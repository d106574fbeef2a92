"""The figures of agents, pests and protocols in words, each beside its source or mark."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import isfinite

from greenhouse_desk.domain.agents import Agent, Clash, StrongHazard, Use
from greenhouse_desk.domain.pests import Pest
from greenhouse_desk.domain.protocols import Protocol, ProtocolStep
from greenhouse_desk.domain.year import GenusYear

PHRASES_SOURCE = "published: Regulation (EC) No 1272/2008, annexes II and III, for the words"
STOCKS_SOURCE = "from memory: strengths it is usually sold at"
TO_LAY_OUT = "house rule: what to lay out"


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure in words: what it is of, how much, and where it comes from."""

    of: str
    figure: str
    source: str


def of_agent(agent: Agent) -> Iterator[Figure]:
    """Strengths and contact by use, stocks, shelf life, hazard phrases, and what must not meet."""
    for use in agent.uses:
        yield Figure(f"{agent.name} on {use.on}", _use(agent, use), use.source)
    if agent.stocks:
        yield Figure(f"{agent.name}: stocks", f"{_several(agent.stocks)} {agent.percent.value}", STOCKS_SOURCE)
    if agent.shelf_hours is not None:
        yield Figure(f"{agent.name}: once mixed", f"good for {agent.shelf_hours:g} h", agent.shelf_source)
    for words in agent.hazards:
        yield Figure(f"{agent.name}: hazard", words, _hazard_source(agent))
    for strong in agent.strong_hazards:
        yield Figure(f"{agent.name}: hazard", f"{_strengths(agent, strong)}: {strong.phrase}", _hazard_source(agent))
    for clash in agent.clashes:
        yield Figure(f"{agent.name} and {clash.other.replace('-', ' ')}", _clash(clash), clash.source)


def _use(agent: Agent, use: Use) -> str:
    parts = []
    if use.high:
        parts.append(f"{_span(use.low, use.high)} {agent.percent.value}")
    else:
        parts.append("as it is" if agent.family == "water" else "as the label says")
    if use.least_min:
        parts.append(f"at least {use.least_min:g} min")
    if use.most_min:
        parts.append(f"at most {use.most_min:g} min")
    return ", ".join(parts)


def _strengths(agent: Agent, strong: StrongHazard) -> str:
    below = f" to below {strong.below_strength:g}" if isfinite(strong.below_strength) else ""
    return f"from {strong.from_strength:g}{below} {agent.percent.value}"


def _hazard_source(agent: Agent) -> str:
    return f"{agent.hazards_source}; {PHRASES_SOURCE}" if agent.hazards_source else PHRASES_SOURCE


def _clash(clash: Clash) -> str:
    parts = [f"{clash.apart_days:g} days apart" if clash.apart_days else "never together"]
    if clash.from_strength:
        parts.append(f"from {clash.from_strength:g} % on")
    if clash.other_from_strength:
        parts.append(f"the other from {clash.other_from_strength:g} % on")
    return f"{', '.join(parts)}: {clash.why}"


def of_pest(pest: Pest) -> Iterator[Figure]:
    """Washes and their interval, published day ranges, thermal constants; what is known without a figure at the end."""
    if pest.repeat is not None:
        again = pest.repeat
        yield Figure(f"washes against {pest.name}", f"{_span(again.least_times, again.most_times)} washes, "
                     f"{_span(again.low, again.high)} days apart", again.source)
    for days in pest.days:
        yield Figure(f"{pest.name}: {days.what}", f"{_span(days.low, days.high)} days", days.source)
    for one in pest.thermal:
        yield Figure(f"{pest.name}: {one.stage}, {one.covers.value}", f"{one.degree_days:g} degree-days above "
                     f"{one.above_c:g} C, measured at {_span(one.measured.low, one.measured.high)} C", one.source)
    yield Figure(f"{pest.name}: where it hides, how to look, how it spreads", "in words", pest.source)


def of_protocol(protocol: Protocol) -> Iterator[Figure]:
    """Each step with its strength, contact, amount, hands time and later looks, and what is laid out."""
    for step in protocol.steps:
        yield Figure(f"{protocol.title}: {step.say}", ", ".join(_step(step)), step.source)
        for check in step.checks:
            yield Figure(f"{protocol.title}: {check.what}", f"{_several(check.days)} days after", step.source)
    for material in protocol.materials:
        each = "for each plant" if material.each else "once"
        amount = f"{material.amount:g} {material.unit}".strip()
        yield Figure(f"{protocol.title}: {material.what}", f"{amount} {each}", TO_LAY_OUT)


def of_year(year: GenusYear) -> Figure:
    """The months of a genus, and what is said beside them."""
    return Figure(f"year of {year.genus}", ". ".join(filter(None, (year.words, year.note))), year.source)


def _step(step: ProtocolStep) -> Iterator[str]:
    yield step.deed.word
    if step.agent:
        strength = f" {step.strength:g} %" if step.strength is not None else ""
        yield f"{step.agent.replace('-', ' ')}{strength}"
    if step.amount_ml:
        yield f"{step.amount_ml:g} ml"
    if step.most_min:
        yield f"contact {step.least_min:g} to {step.most_min:g} min"
    elif step.least_min:
        yield f"contact at least {step.least_min:g} min"
    yield f"{step.minutes:g} min of hands"


def _span(low: float, high: float) -> str:
    return f"{low:g} to {high:g}" if low != high else f"{low:g}"


def _several(values: tuple[float, ...]) -> str:
    return ", ".join(f"{value:g}" for value in values)
