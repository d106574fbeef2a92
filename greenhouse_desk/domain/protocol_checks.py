"""Everything that can be wrong with the work a protocol asks for: order, contact, wetness, cuts, what it owes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from greenhouse_desk.domain.agents import Agent, Form
from greenhouse_desk.domain.care import CareKind
from greenhouse_desk.domain.faults import Fault
from greenhouse_desk.domain.journal import Part
from greenhouse_desk.domain.protocol_contact import GREEN, parts_of, strength_faults
from greenhouse_desk.domain.protocol_mixing import mixing_faults
from greenhouse_desk.domain.protocol_order import order_faults
from greenhouse_desk.domain.protocol_steps import SAY_LENGTH, Deed, Protocol, ProtocolStep, Work

AGENT_DEEDS = (Deed.TREAT, Deed.WASH, Deed.DRESS)
TARGET_DEEDS = (Deed.TREAT, Deed.WASH, Deed.CUT, Deed.RINSE, Deed.SCRUB)
WETTING = (Deed.RINSE, Deed.WASH, Deed.TREAT)
Found = Iterator[tuple[str, str]]


def faults(protocol: Protocol, agents: Mapping[str, Agent]) -> tuple[Fault, ...]:
    """All faults of the work itself, in the order of the steps; the grave ones must keep it from being started."""
    found: list[Fault] = []
    for number, step in enumerate(protocol.steps, 1):
        path = f"step[{number}]"
        for key, message in (*_words(step), *_contact(step), *_owes(step), *_wets(step, agents), *_sense(step)):
            found.append(Fault(protocol.file, f"{path}.{key}", message))
        found += [Fault(protocol.file, f"{path}.{key}", message, grave)
                  for key, message, grave in strength_faults(step, agents)]
    for check in (order_faults, _ends, _dries):
        found += [Fault(protocol.file, path, message) for path, message in check(protocol)]
    found += [Fault(protocol.file, path, message) for path, message in _materials(protocol, agents)]
    found += mixing_faults((protocol,), agents)
    return tuple(found)


def _words(step: ProtocolStep) -> Found:
    if len(step.say) > SAY_LENGTH:
        yield "say", f"at most {SAY_LENGTH} characters can be read from the bench, this has {len(step.say)}"
    if step.transition and step.deed is not Deed.POT:
        yield "transition", "only a step that pots can be a move to another medium"
    if step.medium and step.deed is not Deed.POT:
        yield "medium", "only a step that pots names a medium"


def _contact(step: ProtocolStep) -> Found:
    """The contact window: a soak has a least and a most, a hands step has neither."""
    if step.work is Work.HANDS:
        for key, minutes in (("least_min", step.least_min), ("most_min", step.most_min)):
            if minutes:
                yield key, "only a soak has a contact time: write work = \"soak\""
        return
    if step.least_min <= 0:
        yield "least_min", "a soak needs a least contact, in minutes above 0"
    if step.most_min <= 0:
        yield "most_min", "a soak needs a most contact, in minutes above 0"
    elif step.most_min < step.least_min:
        yield "most_min", f"at least the least of {step.least_min:g} min was expected, not {step.most_min:g}"
    if not step.on:
        yield "on", "a soak names what it acts on"


def causes(step: ProtocolStep) -> frozenset[str]:
    """The kinds of care (words) that follow from what a step does."""
    wet = parts_of(step.wets)
    told = {
        CareKind.AIR: bool(wet & GREEN), CareKind.CROWN_CHECK: Part.CROWN in wet,
        CareKind.PLAIN_WATER: _disinfects_roots(step), CareKind.HALF_FEED: _disinfects_roots(step),
        CareKind.CUT_CHECK: step.deed is Deed.CUT, CareKind.DRESS_CUT: step.deed is Deed.CUT,
        CareKind.POT_UP: step.deed is Deed.UNPOT, CareKind.ROOT_CHECK: step.deed is Deed.POT,
        CareKind.WASH_REPEAT: step.deed is Deed.WASH, CareKind.PEST_LOOK: step.deed is Deed.WASH,
        CareKind.CHECK: bool(step.checks),
    }
    return frozenset(kind.value for kind, follows in told.items() if follows)


def _disinfects_roots(step: ProtocolStep) -> bool:
    return step.deed is Deed.TREAT and Part.ROOTS in parts_of(step.on)


def _owes(step: ProtocolStep) -> Found:
    follows = causes(step)
    for number, word in enumerate(step.owes, 1):
        if word not in follows:
            yield f"owes[{number}]", f"\"{word}\" does not follow from a step that does \"{step.deed}\" and wets " \
                f"{', '.join(step.wets) or 'nothing'}"
    if CareKind.PLAIN_WATER in follows and CareKind.PLAIN_WATER not in step.owes:
        yield "owes", f"roots are disinfected here: \"{CareKind.PLAIN_WATER}\" was expected"


def _wets(step: ProtocolStep, agents: Mapping[str, Agent]) -> Found:
    """Water that a step puts on leaves or crown without saying so would leave the plant wet unnoticed."""
    dry = step.agent in agents and agents[step.agent].form is Form.POWDER
    if step.deed not in WETTING or dry:
        return
    hidden = (parts_of(step.on) & GREEN) - parts_of(step.wets)
    if hidden:
        yield "wets", f"a step that does \"{step.deed}\" here makes {', '.join(sorted(hidden))} wet: say so in wets"


def _sense(step: ProtocolStep) -> Found:
    if step.deed in AGENT_DEEDS and not step.agent:
        yield "agent", f"a step that does \"{step.deed}\" names its agent"
    if step.deed in TARGET_DEEDS and not step.on and step.work is not Work.SOAK:
        yield "on", f"a step that does \"{step.deed}\" names what it acts on"


def _ends(protocol: Protocol) -> Found:
    """What is opened must be closed again: a bare plant potted, a cut dressed."""
    pairs = ((Deed.UNPOT, Deed.POT, "the plant is taken out and no later step pots it"),
             (Deed.CUT, Deed.DRESS, "a cut is made and no later step dresses it"))
    for number, step in enumerate(protocol.steps, 1):
        later = {each.deed for each in protocol.steps[number:] if not each.only_if or each.only_if == step.only_if}
        for opens, closes, message in pairs:
            if step.deed is opens and closes not in later:
                yield f"step[{number}].deed", message


def _dries(protocol: Protocol) -> Found:
    """A wetted leaf or crown needs blotting and air later on, or a care that says so until it is dry."""
    for number, step in enumerate(protocol.steps, 1):
        wet = parts_of(step.wets) & GREEN
        rest = [each for each in protocol.steps[number - 1:] if not each.only_if or each.only_if == step.only_if]
        deeds = {each.deed for each in rest[1:]}
        owed = any(CareKind.AIR in each.owes for each in rest)
        if wet and not owed and not {Deed.BLOT, Deed.AIR} <= deeds:
            yield f"step[{number}].wets", f"{', '.join(sorted(wet))} stay wet unnoticed: blot and air later, or owe " \
                f"\"{CareKind.AIR}\""


def _materials(protocol: Protocol, agents: Mapping[str, Agent]) -> Found:
    """Every agent used must be measured out: in millilitres by a step, or as a material that names it."""
    measured = {step.agent for step in protocol.steps if step.amount_ml > 0}
    measured |= {material.agent for material in protocol.materials}
    told: set[str] = set()
    for number, step in enumerate(protocol.steps, 1):
        if step.agent in agents and step.agent not in measured | told:
            told.add(step.agent)
            yield f"step[{number}].amount_ml", f"how much {agents[step.agent].name} one plant takes was expected, " \
                f"or a [[material]] with agent = \"{step.agent}\""
