"""What to lay out for a session: every working solution with how to make it, and the things, for so many plants."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from greenhouse_desk.domain.agents import WATER, Agent, Percent, hazards_at
from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.journal import Part
from greenhouse_desk.domain.protocol_steps import Material, Protocol, ProtocolStep
from greenhouse_desk.domain.sentences import capital
from greenhouse_desk.domain.water import dilute

ROUND_ML = Constant(10.0, "ml", "what is laid out is rounded up to", "house rule")
CONTRACTION = "Alcohol and water shrink a little when mixed; that is ignored here: fill up to the mark."


@dataclass(frozen=True, slots=True)
class KitLine:
    """One line of the kit: what, how much in `unit` ("" counts pieces), and how to make or choose it."""

    what: str
    amount: float
    unit: str
    note: str


ONE_OF = {"pairs": "pair", "sheets": "sheet"}
"""Units that count things, said of one."""

Solution = tuple[str, float | None]


def materials(protocols_for_plants: Sequence[Protocol], agents: Mapping[str, Agent]) -> tuple[KitLine, ...]:
    """The kit for these plants, one protocol for each plant: solutions first, in the order they are used.

    Millilitres are summed over the plants and rounded up to 10 ml; what tools alone stand in is one jar for the
    session. Things needed once a session are counted once.
    """
    totals, sometimes = _solutions(protocols_for_plants)
    lines = [_solution_line(agents[key], strength, amount, (key, strength) in sometimes)
             for (key, strength), amount in totals.items() if key in agents]
    return (*lines, *_things(protocols_for_plants, agents))


def _solutions(protocols: Sequence[Protocol]) -> tuple[dict[Solution, float], set[Solution]]:
    """Millilitres by agent and strength, and those that are used only where pests are seen."""
    sums: dict[Solution, float] = {}
    jars: dict[Solution, float] = {}
    always: set[Solution] = set()
    for step in (step for protocol in protocols for step in protocol.steps if step.agent and step.amount_ml):
        key = (step.agent, step.strength)
        sums.setdefault(key, 0.0)
        if _one_jar(step):
            jars[key] = max(jars.get(key, 0.0), step.amount_ml)
        else:
            sums[key] += step.amount_ml
        if not step.only_if:
            always.add(key)
    return {key: amount + jars.get(key, 0.0) for key, amount in sums.items()}, set(sums) - always


def _one_jar(step: ProtocolStep) -> bool:
    return frozenset(step.on) == {Part.TOOLS}


def _solution_line(agent: Agent, strength: float | None, amount: float, sometimes: bool) -> KitLine:
    total = math.ceil(amount / ROUND_ML.value) * ROUND_ML.value
    what = agent.name if strength is None else f"{agent.name}, {strength:g} {agent.percent}"
    said = ["Only where pests are seen."] if sometimes else []
    how = making(agent, strength, total)
    said += [capital(how), _keeps(agent)]
    return KitLine(what, total, "ml", " ".join(part for part in said if part))


def making(agent: Agent, strength: float | None, volume_ml: float) -> str:
    """How to make `volume_ml` millilitres at `strength` percent: each stock made up to volume, in words."""
    if agent.percent is Percent.LABEL or strength is None:
        return agent.making or ("" if agent.family == WATER else "As its label says.")
    ways = [_way(stock, strength, volume_ml) for stock in agent.stocks if stock >= strength]
    words = "; or ".join(ways) + "." if ways else ""
    mixed = any(stock > strength for stock in agent.stocks)
    contraction = CONTRACTION if agent.family == "alcohol" and mixed else ""
    return " ".join(part for part in (words, agent.making, contraction) if part)


def _way(stock: float, strength: float, volume_ml: float) -> str:
    if stock == strength:
        return f"{stock:g} % as sold"
    mix = dilute(stock, strength, volume_ml)
    if stock == 100:
        return f"{mix.stock_ml:.0f} ml made up to {volume_ml:g} ml with water"
    return f"from {stock:g} %: {mix.stock_ml:.0f} ml made up to {volume_ml:g} ml with water"


def _keeps(agent: Agent) -> str:
    if agent.shelf_hours is None:
        return ""
    hours = agent.shelf_hours
    span = f"{hours:g} hours" if hours < 48 else f"{hours / 24:g} days"
    return f"Use within {span} of mixing ({agent.shelf_source})."


def _things(protocols: Sequence[Protocol], agents: Mapping[str, Agent]) -> tuple[KitLine, ...]:
    found: dict[tuple[str, str], KitLine] = {}
    for material in (material for protocol in protocols for material in protocol.materials):
        key = (material.what, material.unit)
        before = found.get(key)
        amount = material.amount
        if before is not None:
            amount = before.amount + amount if material.each else max(before.amount, amount)
        note = before.note if before is not None and before.note else _note(material, agents)
        found[key] = KitLine(material.what, amount, material.unit, note)
    return tuple(replace(line, unit=ONE_OF.get(line.unit, line.unit)) if line.amount == 1 else line
                 for line in found.values())


def _note(material: Material, agents: Mapping[str, Agent]) -> str:
    agent = agents.get(material.agent)
    return " ".join(part for part in (material.note, agent.making if agent else "") if part)


def cautions(protocols: Iterable[Protocol], agents: Mapping[str, Agent]) -> tuple[str, ...]:
    """Every caution of these protocols and their agents once: the protocols' own first, then each agent's hazards."""
    worked = tuple(dict.fromkeys(protocols))
    own = [caution for protocol in worked for caution in protocol.cautions]
    used = dict.fromkeys((step.agent, step.strength) for protocol in worked for step in protocol.steps)
    told = [_agent_caution(agents[key], strength) for key, strength in used if key in agents]
    return tuple(dict.fromkeys([*own, *filter(None, told)]))


def _agent_caution(agent: Agent, strength: float | None) -> str:
    said = " ".join(part for part in (agent.caution, *hazards_at(agent, strength)) if part)
    return f"{agent.name}: {said}" if said else ""
