"""The order of a protocol's steps: what must come before, rings of steps that wait for each other, soaks under way."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from greenhouse_desk.domain.journal import Part
from greenhouse_desk.domain.protocol_contact import parts_of
from greenhouse_desk.domain.protocol_steps import Protocol, ProtocolStep, Work

Found = Iterator[tuple[str, str]]


def order_faults(protocol: Protocol) -> Found:
    """(path, message) for ids used twice, `after` that cannot be kept, and hands on what still soaks."""
    yield from _twice(protocol)
    place = {step.id: number for number, step in reversed(list(enumerate(protocol.steps, 1)))}
    waits = {step.id: step.after for step in protocol.steps}
    for number, step in enumerate(protocol.steps, 1):
        for nth, before in enumerate(step.after, 1):
            message = _wrong_before(step, number, before, place, waits)
            if message:
                yield f"step[{number}].after[{nth}]", message
    yield from _too_soon(protocol)


def _twice(protocol: Protocol) -> Found:
    first: dict[str, int] = {}
    for number, step in enumerate(protocol.steps, 1):
        if step.id and step.id in first:
            yield f"step[{number}].id", f"an id of its own was expected: step {first[step.id]} is called '{step.id}'"
        first.setdefault(step.id, number)


def _wrong_before(step: ProtocolStep, number: int, before: str, place: Mapping[str, int],
                  waits: Mapping[str, tuple[str, ...]]) -> str:
    if before not in place:
        return f"the id of an earlier step was expected, not '{before}'"
    if before == step.id:
        return "a step cannot wait for itself"
    if place[before] < number:
        return ""
    if step.id in _all_before(before, waits):
        return f"a cycle: '{step.id}' and '{before}' wait for each other"
    return f"an earlier step was expected: '{before}' comes later in the file"


def _all_before(step_id: str, waits: Mapping[str, tuple[str, ...]]) -> set[str]:
    """Every step that must be over before `step_id`, near and far."""
    found: set[str] = set()
    ahead = list(waits.get(step_id, ()))
    while ahead:
        each = ahead.pop()
        if each not in found:
            found.add(each)
            ahead += waits.get(each, ())
    return found


def _too_soon(protocol: Protocol) -> Found:
    """Steps that may be done meanwhile, on the very thing that still soaks."""
    waits = {step.id: step.after for step in protocol.steps}
    for number, step in enumerate(protocol.steps, 1):
        if not step.meanwhile:
            continue
        over = _all_before(step.id, waits)
        touched = parts_of(step.on) | (frozenset({Part.TOOLS}) if step.tool else frozenset())
        for soak in protocol.steps[:number - 1]:
            both = parts_of(soak.on) & touched
            if soak.work is Work.SOAK and both and soak.id not in over:
                yield f"step[{number}].after", f"'{soak.id}' was expected here: {', '.join(sorted(both))} would " \
                    "still be soaking"
