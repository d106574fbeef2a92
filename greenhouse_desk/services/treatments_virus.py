"""What a session lays out besides for plants held back by a virus: a blade of their own, and what clears it after."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime

from greenhouse_desk.domain.agents import Agent, clash
from greenhouse_desk.domain.contacts import is_virus
from greenhouse_desk.domain.figures import Constant
from greenhouse_desk.domain.journal import Kind, Part, found_in
from greenhouse_desk.domain.own_words import OwnWords
from greenhouse_desk.domain.protocol_materials import making
from greenhouse_desk.domain.protocols import KitLine, Protocol
from greenhouse_desk.domain.quarantine import CLEAR, Standing
from greenhouse_desk.services import quarantine
from greenhouse_desk.services.records_words import listed
from greenhouse_desk.store import contacts, journal
from greenhouse_desk.store.engine import Session

RESTS_ON = (Kind.SIGHTED, Kind.TESTED, Kind.RELEASED, Kind.SHARED)
"""What tells of a virus in the journal; besides, tools carry it, and a soak of one counts for the next that it is taken
to."""
JAR_ML = Constant(250.0, "ml", "a jar for one blade is made up to", "house rule")


def held_by_virus(standing: Standing, protocol: Protocol, own: OwnWords) -> bool:
    """Whether a blade is taken to a plant that carries a virus, is suspected of one or was exposed to one."""
    return any(step.tool for step in protocol.steps) and _held(standing, own)


def _held(standing: Standing, own: OwnWords) -> bool:
    return any(is_virus(status.what, own) and status.rank > CLEAR for status in standing.statuses)


def own_blades(session: Session, numbers: Iterable[int], now: datetime) -> frozenset[int]:
    """Which of these plants a virus holds back at `now` (aware) and by all that is written down; nothing is
    worked out where none was ever found, nor anew while all that it rests on is the same: it is asked at each press."""
    told = journal.of_kinds(session, RESTS_ON)
    by = quarantine.counting(session)
    if not any(by.is_virus(found_in(entry.facts)) for entry in told):
        return frozenset()
    uses, last = contacts.touched(session)
    then = max(now, told[-1].at, now if last is None else last.at)  # what is written down has happened
    kept, rests = journal.kept(session), (told, by, by.day(then), uses, last)
    if kept.virus_held is None or kept.virus_held[0] != rests:
        standing = quarantine.status(session, then)
        kept.virus_held = rests, frozenset(number for number, one in standing.items() if _held(one, by.own))
    return kept.virus_held[1] & frozenset(numbers)


def kit(held: Sequence[int], protocols: Iterable[Protocol], agents: Mapping[str, Agent]) -> tuple[KitLine, ...]:
    """A blade for each of the plants `held`, and a jar for it after the cut, of an agent that clears viruses from
    blades and may stand beside all that these protocols use; () where none is held."""
    if not held:
        return ()
    used = {step.agent for protocol in protocols for step in protocol.steps if step.agent in agents}
    fit = [agent for agent in agents.values() if agent.clears_virus and agent.use(Part.TOOLS)
           and not any(clash(agent, None, agents[key], None) for key in used)]
    blades = KitLine("blade of its own", float(len(held)), "", f"For {_numbers(held)} alone, as the plan says: "
                     "ethanol clears no virus. Afterwards into a closed bag, until it is cleared of it.")
    return (blades, *(_jar(agent) for agent in fit[:1]))


def note(number: int, standing: Standing, own: OwnWords) -> str:
    """What the plan says of a plant held by a virus."""
    why = next(status.why for status in standing.statuses if is_virus(status.what, own) and status.rank > CLEAR)
    return (f"{number}: {why}. Its own blade for every cut, as in the plan; for no other plant until that was "
            "in an agent against viruses.")


def _jar(agent: Agent) -> KitLine:
    use = agent.use(Part.TOOLS)
    assert use is not None
    how = making(agent, use.low or None, JAR_ML.value)
    strength = f", {use.low:g} {agent.percent}" if use.low else ""
    return KitLine(f"{agent.name}{strength}", JAR_ML.value, "ml",
                   f"For the blades of their own after the cut, at least {use.least_min:g} minutes. {how} {agent.note}")


def _numbers(held: Sequence[int]) -> str:
    return listed([str(number) for number in held])
