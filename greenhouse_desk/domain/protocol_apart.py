"""What must stay days apart on one plant (oil and sulfur), told from what its journal says it was given.

A rinse does not part such a pair, and neither does another session: the journal is asked. A product of the grower's own
words counts as what those words name: "white oil" is an oil. A name that says neither is not known, and not warned of.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from greenhouse_desk.domain.agents import Agent, Clash, clash
from greenhouse_desk.domain.care_day import day_words
from greenhouse_desk.domain.faults import Fault
from greenhouse_desk.domain.journal import Dressed, Entry, Treated
from greenhouse_desk.domain.protocol_steps import Protocol

Agents = Mapping[str, Agent]


@dataclass(frozen=True, slots=True)
class Given:
    """An agent a plant was given: the name it was written under, the agent it counts as, the care day, the entry."""

    name: str
    agent: Agent
    day: date
    entry: int


@dataclass(frozen=True, slots=True)
class TooClose:
    """A pair too close together: what was given, what goes with it only `rule.apart_days` days apart, and from when."""

    given: Given
    other: Agent
    rule: Clash

    @property
    def free(self) -> date:
        """The first day on which the other may be given."""
        return self.given.day + timedelta(days=math.ceil(self.rule.apart_days))

    @property
    def last(self) -> date:
        """The last day before it was given on which the other may have been."""
        return self.given.day - timedelta(days=math.ceil(self.rule.apart_days))

    def words(self, today: date) -> str:
        """The warning in two sentences, with the source; of something given after `today`, what may not be before."""
        until = (f"before {day_words(self.free, today)}" if self.given.day <= today else
                 f"after {day_words(self.last, today)} until then")
        return (f"{self.given.name} was given on {day_words(self.given.day, today)}: no {self.other.name} {until}, "
                f"{self.rule.apart_days:g} days must lie between. {self.rule.why} ({self.rule.source})")


def counts_as(name: str, agents: Agents) -> Agent | None:
    """The agent a name stands for: its key, or a family named in the grower's own words; None where neither is."""
    known = agents.get(name.strip())
    if known is not None:
        return known
    said = set(re.findall("[a-z]+", name.casefold().replace("sulph", "sulf")))
    return next((agent for agent in agents.values() if agent.family in said and _apart(agent, agents)), None)


def _apart(agent: Agent, agents: Agents) -> bool:
    """Whether it has to stay days apart from anything."""
    return any(_rule(agent, other) is not None for other in agents.values())


def _rule(agent: Agent, other: Agent) -> Clash | None:
    rule = clash(agent, None, other, None)
    return rule if rule is not None and rule.apart_days else None


def given(entries: Iterable[Entry], agents: Agents, day: Callable[[datetime], date]) -> Iterator[Given]:
    """What a plant was given that has to stay days apart from something; `day` tells an instant's care day."""
    for entry in entries:
        if isinstance(entry.facts, Treated | Dressed):
            agent = counts_as(entry.facts.agent, agents)
            if agent is not None and _apart(agent, agents):
                name = agent.name if entry.facts.agent in agents else entry.facts.agent.strip()
                yield Given(name, agent, day(entry.at), entry.id)


def kept_from(before: Iterable[Given], agents: Agents, today: date) -> tuple[TooClose, ...]:
    """What must not be given on `today` because of what was given before, each other agent once, by the last given."""
    return kept_around((one for one in before if one.day <= today), agents, today)


def kept_around(besides: Iterable[Given], agents: Agents, today: date) -> tuple[TooClose, ...]:
    """What must not have been given on `today`, a day gone by, because of what was given before it and after."""
    found: dict[str, TooClose] = {}
    for one in sorted(besides, key=lambda one: one.day):
        for other in agents.values():
            rule = _rule(one.agent, other)
            if rule is not None and abs((today - one.day).days) < rule.apart_days:
                found[other.key] = TooClose(one, other, rule)
    return tuple(found.values())


def apart_faults(protocol: Protocol, before: Iterable[Given], agents: Agents, today: date) -> tuple[Fault, ...]:
    """Grave faults of a protocol started `today` on a plant that was given something from which an agent of its steps
    must be days apart."""
    held = {one.other.key: one for one in kept_from(before, agents, today)}
    return tuple(Fault(protocol.file, f"step[{number}].agent", f"never mix: {held[step.agent].words(today)}", True)
                 for number, step in enumerate(protocol.steps, 1) if step.agent in held)
